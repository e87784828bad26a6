package marks

import "lunette/core/arrange"

// Compilers for SuperH and Thumb keep 32-bit constants behind the functions, in the order in which the code loads them: the
// constant of a load, whose distance counts from the load itself, is as a rule the one behind that of the load before. That
// is so only where all words stand where the CPU sees them. And the halves of the constants tell which comes first: of
// addresses and offsets the upper halves are alike and the lower ones are not.

// A load is an instruction that loads a 32-bit constant: where it stands, and where the constant does.
type load struct{ at, from int }

// loads are the instructions that load constants so: the first byte under a mask. The second is the distance in longs from
// the long behind the load's own.
var loads = map[string]struct{ mask, value byte }{
	"sh":    {0xF0, 0xD0}, // MOV.L @(disp,PC),Rn
	"thumb": {0xF8, 0x48}, // LDR Rd,[PC,#imm]
}

// constants is what was counted of loads in one or more stretches of an image.
type constants struct {
	loads  int            // that follow another one
	inLine int            // of them, those of the constant behind the last one's
	apart  int            // those that would be so if every other word of the image were missing
	seen   map[uint32]int // the constants that are in line, with how often
}

const (
	leastInLine   = 16  // loads in line
	inLineShare   = 5   // one in so many must be
	inLineFactor  = 3   // times those that would be if every other word were missing: code shows 8 and more, half of it 1
	halvesAlike   = 400 // pairs of constants with the same upper half, other than 0000 and FFFF
	halvesFactor  = 16  // times those with the same lower half: linked code shows 70 and more
	mostConstants = 64  // windows that are looked at
)

// count adds the loads in view, a stretch of an image in the order of the CPU's words with the high byte of each first. It
// begins at a multiple of four of the image.
func (c *constants) count(view []byte, mask, value byte) {
	last := load{at: -1}
	for at := 0; at+1 < len(view); at += 2 {
		if view[at]&mask != value {
			continue
		}
		distance := 4 * int(view[at+1])
		here := load{at, at&^3 + 4 + distance}
		if last.at >= 0 {
			c.loads++
			if here.from == last.from+4 {
				c.inLine++
				c.note(view, last.from)
				c.note(view, here.from)
			}
			before := 4 * int(view[last.at+1])
			for first := 0; first < 4; first += 2 {
				if (2*at+first)&^3+distance == (2*last.at+first)&^3+before+4 {
					c.apart++
					break
				}
			}
		}
		last = here
	}
}

func (c *constants) note(view []byte, at int) {
	if at+4 <= len(view) {
		c.seen[uint32(view[at])<<24|uint32(view[at+1])<<16|uint32(view[at+2])<<8|uint32(view[at+3])]++
	}
}

// inPlace tells whether the loads show that every word stands where the CPU sees it.
func (c *constants) inPlace() bool {
	return c.inLine >= leastInLine && c.inLine*inLineShare >= c.loads && c.inLine >= inLineFactor*c.apart
}

// upper tells which half of the constants is the upper one: 1 the first, -1 the second, 0 when it cannot be told. Halves of
// zeros or ones are left out: small numbers have them above and round ones below.
func (c *constants) upper() int {
	var halves [2]map[uint16]int
	for h := range halves {
		halves[h] = map[uint16]int{}
	}
	for value := range c.seen {
		for h, half := range []uint16{uint16(value >> 16), uint16(value)} {
			if half != 0 && half != 0xFFFF {
				halves[h][half]++
			}
		}
	}
	var alike [2]int
	for h := range halves {
		for _, n := range halves[h] {
			alike[h] += n * (n - 1)
		}
	}
	switch {
	case alike[0] >= halvesAlike && alike[0] >= halvesFactor*alike[1]:
		return 1
	case alike[1] >= halvesAlike && alike[1] >= halvesFactor*alike[0]:
		return -1
	}
	return 0
}

// constantsIn counts the loads in the windows of data that say what c says. order is the one in which words have the high
// byte first; ok is false when in neither of those that c may mean every word is in place.
func (c *Code) constantsIn(data []byte) (found constants, order arrange.Arrangement, ok bool) {
	load, known := loads[c.Family]
	if !known || c.Shift != 0 {
		return found, c.Order, false
	}
	swapped, _ := c.Order.Then(arrange.Swapped) // never refused: no lane is added
	for _, order := range []arrange.Arrangement{c.Order, swapped} {
		found = constants{seen: map[uint32]int{}}
		left := mostConstants
		for _, w := range c.Where {
			for at := w.Start; at < w.End && left > 0; at += window {
				const reach = 1 << 10 // bytes from a load to its constant
				view := make([]byte, min(window, w.End-at)+reach)
				found.count(view[:order.Copy(view, data, at)], load.mask, load.value)
				left--
			}
		}
		if found.inPlace() {
			return found, order, true
		}
	}
	return found, c.Order, false
}

// InPlace tells whether the loads of constants show that every word of data stands where the CPU sees it, so that data is
// no half of a wider image. That they do not shows nothing: most families keep no constants in that way.
func (c Code) InPlace(data []byte) bool {
	_, _, ok := c.constantsIn(data)
	return ok
}

// wholeMargin is the margin, in nats, above which code of 16-bit words is whole. Of Debian's 68000 and S/390 libraries the
// average of a library is 210 to 330; of every other word of them, where what follows a word is not what followed it in the
// code, 30 to 60 (68000) and 100 to 135 (S/390), though nearly all windows may still read as code.
const wholeMargin = 175

// MayBeHalf tells whether data that reads as c says may be two lanes of four, every other 16-bit word of an image: that can
// only be where words of 16 bits are the instructions.
func (c Code) MayBeHalf(data []byte) bool {
	family, known := FamilyByID(c.Family)
	return known && family.word == 2 && c.Margin < wholeMargin && !c.InPlace(data)
}

// decidedByConstants settles which of two byte orders it is by the halves of constants: a CPU that keeps the low byte of a
// word first keeps the lower half of a long first too.
func (c Code) decidedByConstants(data []byte) Code {
	found, order, ok := c.constantsIn(data)
	upper := found.upper()
	if !ok || upper == 0 {
		return c
	}
	if upper < 0 {
		order, _ = order.Then(arrange.Swapped) // never refused: no lane is added
	}
	return c.settled(order)
}
