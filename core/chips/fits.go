package chips

import (
	"slices"
	"strconv"
	"strings"

	"lunette/core/words"
)

// A View is how a board sees the chips that hold an image.
type View string

// The views.
const (
	X16   View = "x16"   // one chip gives sixteen bits at a time
	X8    View = "x8"    // one chip gives eight bits at a time, be it of eight lines or in byte mode
	Pair  View = "pair"  // two x8 chips, on the even and the odd byte addresses of a 16-bit bus
	Pairs View = "pairs" // four x8 chips on a 16-bit bus: a pair for the lower half of the image, a pair for the upper half
	Four  View = "four"  // four x8 chips, on the byte addresses 0 to 3 of a 32-bit bus
)

// Lanes returns how many chips share a stretch of the image byte by byte: 1, 2 or 4; 0 for a View that is none.
func (v View) Lanes() int {
	switch v {
	case X16, X8:
		return 1
	case Pair, Pairs:
		return 2
	case Four:
		return 4
	}
	return 0
}

// Banks returns how many stretches of equal size the image is cut into, one after the other, each for chips of its own: 2 for
// Pairs, else 1.
func (v View) Banks() int {
	if v == Pairs {
		return 2
	}
	return 1
}

// Chips returns how many chips hold the image: 1, 2 or 4; 0 for a View that is none.
func (v View) Chips() int { return v.Lanes() * v.Banks() }

// Known is what is known of a dump that asks for chips.
type Known struct {
	Size      int  // bytes
	Lanes     int  // 2 or 4 when the dump is one byte lane out of so many; 0 or 1 when it is a whole image
	OrderSure bool // it is known in which order the CPU sees the bytes

	// CPU is the family of the code in the dump, as "68000", and Word the size of the words in which such a CPU takes its
	// code, in bytes; empty and 0 when that is not known.
	CPU  string
	Word int
}

// A Fitting is what can hold a dump and what cannot.
type Fitting struct {
	Answer  string   `json:"answer"` // the answer as a sentence
	Fits    []Fit    `json:"fits"`   // the best first: whole, two, two pairs and four, then larger ones
	Unfit   []Unfit  `json:"unfit"`
	Remarks []string `json:"remarks"` // what to know before one is chosen
}

// A Fit is one way to hold the dump.
type Fit struct {
	Device   string `json:"device"`
	Title    string `json:"title"`
	View     View   `json:"view"`
	Chips    int    `json:"chips"`    // how many of the device this dump fills
	Copies   int    `json:"copies"`   // 1 when the chip is full, more when the dump is repeated, 0 when it must be padded
	Spare    int    `json:"spare"`    // bytes of each chip that the dump leaves, before anything is repeated
	Writable bool   `json:"writable"` // false for a mask ROM: the dump may come from it, but none can be made
	Status   Status `json:"status"`   // of the device's pin list
	Ties     []Tie  `json:"ties"`     // address lines that choose among copies or spare space
	Sentence string `json:"sentence"`

	larger int // how many times the dump goes into the chip
}

// A Tie is an address line that the board does not drive and that must not be left open.
type Tie struct {
	Line  string `json:"line"`
	Pin   int    `json:"pin"`
	Level string `json:"level"` // "either", or "low or high" by where a padded image is placed
	Why   string `json:"why"`
}

// An Unfit is a device that cannot hold the dump.
type Unfit struct {
	Device string `json:"device"`
	Why    string `json:"why"`
}

// largest is how many times larger than a dump a chip is still offered.
const largest = 16

// Fits returns which devices of the catalogue hold a dump, and why the others do not.
func Fits(known Known) Fitting {
	f := Fitting{Fits: []Fit{}, Unfit: []Unfit{}, Remarks: []string{}}
	if known.Size <= 0 {
		f.Answer = "The dump is empty; there is nothing to put into a chip."
		return f
	}
	var found []Fit
	devices := catalogue()
	for i := range devices {
		d := &devices[i]
		fits := d.fits(known)
		if len(fits) == 0 {
			f.Unfit = append(f.Unfit, Unfit{d.ID, d.whyNot(known)})
		}
		found = append(found, fits...)
	}
	for rank := range worst + 1 {
		for _, fit := range found {
			if fit.rank() == rank {
				f.Fits = append(f.Fits, fit)
			}
		}
	}
	f.Answer = answer(f.Fits, known)
	if !known.OrderSure {
		f.Remarks = append(f.Remarks, "The order in which the CPU sees the bytes is not sure. Sizes do not depend on it, the "+
			"files do: settle it before anything is burnt.")
	}
	if known.Size&1 == 1 {
		f.Remarks = append(f.Remarks, words.Fill("The dump has an odd number of bytes ({}): it cannot be dealt to two or four "+
			"chips nor into 16-bit words. Chips have even sizes, so look first whether a byte is missing or too many.",
			words.Count(known.Size)))
	}
	f.Remarks = append(f.Remarks, busRemarks(f.Fits, known)...)
	if len(f.Fits) > 0 {
		f.Remarks = append(f.Remarks, "The size alone does not tell whether a chip fits the socket: compare the pins of the old "+
			"chip and the new one first.")
	}
	return f
}

// busRemarks says what depends on how many data lines the board has: only a look at it tells.
func busRemarks(fits []Fit, known Known) []string {
	var list []string
	bytewise, four := false, false
	for _, fit := range fits {
		bytewise = bytewise || fit.View == X8
		four = four || fit.View == Pairs || fit.View == Four && known.Lanes < 2
	}
	if bytewise && known.Word == 2 {
		list = append(list, ReadsBytes(known.CPU))
	}
	if four {
		list = append(list, "Four chips are two even/odd pairs where the board has 16 data lines (68000, 8086), and a byte lane each where it "+
			"has 32 (68020, 80386): the files differ, so look which it is.")
	}
	return list
}

// ReadsBytes says what one chip of eight data lines is for when the CPU, named as "68000", takes its code in 16-bit words.
func ReadsBytes(cpu string) string {
	return words.Fill("{} code is made of 16-bit words: one chip read 8 bits at a time suits only a board that reads bytes. A "+
		"board with 16 data lines needs a chip of sixteen bits or an even/odd pair.", cpu)
}

// fits returns the ways in which d holds the dump, a view at most once.
func (d *Device) fits(known Known) []Fit {
	views := []View{X8, Pair, Pairs, Four}
	switch {
	case known.Word == 4 && known.Lanes < 2 && !d.HasBits(16):
		views = []View{X8, Pair, Four, Pairs}
	case known.Lanes == 2:
		views = []View{Pair}
	case known.Lanes == 4:
		views = []View{Four}
	case d.HasBits(16):
		views = []View{X16}
	}
	var fits []Fit
	for _, view := range views {
		if fit, ok := d.fit(known, view); ok {
			fits = append(fits, fit)
		}
	}
	return fits
}

// fit returns how d holds the dump when the board sees it in this view.
func (d *Device) fit(known Known, view View) (fit Fit, ok bool) {
	chips := view.Chips()
	if known.Lanes > 1 {
		chips = 1 // the other lanes are other dumps
	}
	need := known.Size / chips
	switch {
	case known.Size%chips != 0, need == 0, need > d.Capacity,
		view == X16 && known.Size&1 == 1,
		view != X16 && d.HasBits(16),        // a x16 chip in byte mode is no chip for a pair, and for one chip x16 says it
		chips > 1 && d.Capacity > 2*need,    // half-empty pairs are enough
		view == Pairs && need&(need-1) != 0, // no address line changes over at half of the image
		d.Capacity/need > largest:
		return Fit{}, false
	}
	fit = Fit{
		Device: d.ID, Title: d.Title(), View: view, Chips: chips, Spare: d.Capacity - need,
		Writable: d.Kind != MaskROM, Status: d.Status, larger: d.Capacity / need,
	}
	if d.Capacity%need == 0 {
		fit.Copies = d.Capacity / need
	}
	switch view {
	case Pairs:
		fit.Title += ", two pairs on 16 bits"
	case Four:
		fit.Title += ", lanes of 32 bits"
	}
	fit.Ties = d.Ties(need)
	fit.Sentence = d.describe(fit, known)
	return fit, true
}

// Ties returns the address lines of d that an image of need bytes a chip does not use, the highest last. It has none when
// the image takes more than half of the chip.
func (d Device) Ties(need int) []Tie {
	ties := []Tie{}
	lines := 0 // bits of the byte address
	for 1<<lines < d.Capacity {
		lines++
	}
	used := 0
	for 1<<used < need {
		used++
	}
	bits := 8
	if d.HasBits(16) {
		bits = 16
	}
	for bit := used; bit < lines; bit++ {
		line := d.AddressLine(bit, bits)
		pin, ok := PinOf(d, line)
		if !ok {
			continue
		}
		tie := Tie{Line: line, Pin: pin.Number, Level: "low or high"}
		if 1<<used == need {
			tie.Level = "either"
			tie.Why = words.Fill("With the dump repeated {} may be tied to ground or to +5 V. Padded, it is tied low when the "+
				"dump stands at the bottom and high when it stands at the top.", line)
		} else {
			tie.Why = words.Fill("{} is tied low when the dump stands at the bottom and high when it stands at the top.", line)
		}
		ties = append(ties, tie)
	}
	return ties
}

// rank orders fits: full chips before half-empty ones, repeated before padded ones, fewer before more, what can be written
// before what cannot.
func (f Fit) rank() int {
	rank := 2 * (f.larger - 1)
	if f.Copies == 0 {
		rank++
	}
	rank = 3*rank + f.View.Chips()/2
	rank *= 2
	if !f.Writable {
		rank++
	}
	return rank
}

// worst is the highest rank.
const worst = 2*(3*(2*(largest-1)+1)+2) + 1

// describe says in a sentence how d holds the dump.
func (d *Device) describe(fit Fit, known Known) string {
	var text string
	switch {
	case known.Lanes == 2:
		text = words.Fill("This lane fills one {} of a pair", d.ID)
	case known.Lanes == 4:
		text = words.Fill("This lane fills one {} of four", d.ID)
	case fit.Chips == 1 && fit.View == X16 && d.HasBits(8):
		text = words.Fill("The whole dump in one {}, read as 16-bit words with BYTE high or as bytes with BYTE low", d.ID)
	case fit.Chips == 1:
		text = words.Fill("The whole dump in one {}, {} bits wide", d.ID, strconv.Itoa(d.Modes[0].Bits))
	case fit.Chips == 2:
		text = words.Fill("Two {}: one for the even bytes, one for the odd", d.ID)
	case fit.View == Pairs:
		text = words.Fill("Four {} as two pairs on a 16-bit bus: even and odd bytes of the lower half, even and odd bytes of the upper half", d.ID)
	default:
		text = words.Fill("Four {}: one for each byte of a 32-bit word", d.ID)
	}
	switch {
	case fit.Copies == 1:
	case fit.Copies > 1:
		text += words.Fill("; it holds {} as much, so write the dump {} or pad it", Often(fit.Copies), Often(fit.Copies))
	case fit.Chips == 1:
		text += words.Fill("; {} stay over and are padded", words.Size(fit.Spare))
	default:
		text += words.Fill("; {} of each chip stay over and are padded", words.Size(fit.Spare))
	}
	if len(fit.Ties) > 0 {
		lines := make([]string, len(fit.Ties))
		for i, tie := range fit.Ties {
			lines[i] = tie.Line + " (pin " + strconv.Itoa(tie.Pin) + ")"
		}
		text += "; tie " + words.List(lines)
	}
	if !fit.Writable {
		text += ". The dump may come from such a chip, but none can be made: it is a mask ROM"
	}
	return text + "."
}

// whyNot says why d cannot hold the dump.
func (d *Device) whyNot(known Known) string {
	lanes, size := max(known.Lanes, 1), known.Size
	switch {
	case lanes > 1 && d.HasBits(16):
		return words.Fill("It is 16 bits wide and the dump is one lane of {}; join the lanes into one image first.", strconv.Itoa(lanes))
	case size > d.Capacity && !d.HasBits(16) && lanes == 1 && size&1 == 1:
		return words.Fill("It holds {}, the dump has {}, an odd number that cannot be dealt to several chips.",
			words.Size(d.Capacity), words.Size(size))
	case size > d.Capacity && !d.HasBits(16) && lanes == 1 && size > 4*d.Capacity:
		return words.Fill("It holds {}, the dump has {}; that is more than four of them hold.", words.Size(d.Capacity), words.Size(size))
	case size > d.Capacity && !d.HasBits(16) && lanes == 1:
		return words.Fill("It holds {}, the dump has {}, which cannot be dealt evenly to four chips.", words.Size(d.Capacity), words.Size(size))
	case size > d.Capacity:
		return words.Fill("It holds {}, the dump has {}.", words.Size(d.Capacity), words.Size(size))
	case d.HasBits(16) && size&1 == 1:
		return words.Fill("It is 16 bits wide and the dump has {}, an odd number.", words.Size(size))
	}
	return words.Fill("It holds {}, more than {} times the dump; a smaller one is enough.", words.Size(d.Capacity), strconv.Itoa(largest))
}

// answer sums up the fits that fill their chips.
func answer(fits []Fit, known Known) string {
	size := words.Size(known.Size)
	if len(fits) == 0 {
		return words.Fill("No device of the catalogue holds {}: the list of what does not fit says why.", size)
	}
	var ways []string
	for _, way := range []struct {
		chips int
		name  string
	}{{1, "one "}, {2, "two "}, {4, "four "}} {
		var devices []string
		for _, fit := range fits {
			if fit.Chips == way.chips && fit.Copies == 1 && fit.Writable && !slices.Contains(devices, fit.Device) {
				devices = append(devices, fit.Device)
			}
		}
		if len(devices) > 0 {
			ways = append(ways, way.name+orList(devices))
		}
	}
	if len(ways) == 0 {
		return words.Fill("No device that can be written has just {}; larger ones hold it with space to spare.", size)
	}
	return words.Fill("{} fill {}.", size, strings.Join(ways, "; "))
}

// orList joins items as a sentence does, with "or".
func orList(items []string) string {
	if len(items) == 1 {
		return items[0]
	}
	return strings.Join(items[:len(items)-1], ", ") + " or " + items[len(items)-1]
}

// Often returns how often, for a sentence: "twice", "4 times".
func Often(times int) string {
	switch times {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return words.Count(times) + " times"
}
