package demo

import "lunette/core/arrange"

// Sizes of the board's other chips, in bytes.
const (
	pairSize = 64 << 10 // of U7 and U8 together
	cardSize = 8 << 10  // of UX1
	romSize  = 512 << 10
)

// A part of U41 and where it stands in another ROM, offsets in the CPU's order.
type part struct{ from, to, at int }

// pairParts are what U7 and U8 hold together: start vectors, boot monitor, messages and the character generator's font.
var pairParts = []part{
	{0x00000, 0x078DC, 0x0000},
	{0x10000, 0x11ED0, 0x8000},
	{0x18000, 0x19000, 0xA000},
	{0x19800, 0x19E84, 0xB000},
}

// Board returns the board's other chips: U7 and U8, the even and the odd byte lane of the boot monitor and character
// generator, 32 KiB each, and UX1, the 8 KiB ROM of an expansion card. u41 is the demo board's ROM as stored; of an image of
// another size there are none.
func Board(u41 []byte) []Named {
	if len(u41) != romSize {
		return nil
	}
	rom := arrange.Swapped.Apply(u41)
	lanes := arrange.Split(pair(rom), 2)
	return []Named{{"halden-u7-even.bin", lanes[0]}, {"halden-u8-odd.bin", lanes[1]}, {"halden-ux1.bin", card(rom)}}
}

// pair returns what the CPU sees of U7 and U8. The last long closes the ones'-complement sum of all 32-bit big-endian words,
// as in U41.
func pair(rom []byte) []byte {
	image := erased(pairSize)
	for _, p := range pairParts {
		copy(image[p.at:], rom[p.from:p.to])
	}
	last := image[pairSize-4:]
	copy(last, []byte{0, 0, 0, 0})
	sum := uint64(0)
	for at := 0; at < len(image); at += 4 {
		sum += uint64(long(image[at:]))
	}
	for sum>>32 != 0 {
		sum = sum&0xFFFFFFFF + sum>>32
	}
	putLong(last, ^uint32(sum))
	return image
}

// FCode numbers of IEEE 1275-1994, from memory.
const (
	fcodeStart1      = 0xF1
	fcodeString      = 0x12  // followed by a length and so many bytes
	fcodeProperty    = 0x110 // takes a value and a name
	fcodeEncodeBytes = 0x115
	fcodeModel       = 0x119
	fcodeDeviceName  = 0x201
	fcodeEnd         = 0x00
)

// card returns the card's ROM: an FCode program, as IEEE 1275 has it, that gives the card its name and the font as
// properties. Its header holds the program's length and the sum of all bytes after the header.
func card(rom []byte) []byte {
	program := []byte{fcodeStart1, 8, 0, 0, 0, 0, 0, 0} // revision 8: IEEE 1275; sum and length follow below
	text := func(s string) {
		program = append(append(program, fcodeString, byte(len(s))), s...)
	}
	code := func(number int) { program = append(program, byte(number>>8), byte(number)) }
	text("halden,ux1")
	code(fcodeDeviceName)
	text("HX-16 character card")
	code(fcodeModel)
	font := rom[0x18000:0x19000]
	const chunk = 128
	for at := 0; at < len(font); at += chunk {
		text(string(font[at : at+chunk]))
		code(fcodeEncodeBytes)
		text("font-" + string(rune('a'+at/chunk/16)) + string(rune('a'+at/chunk%16)))
		code(fcodeProperty)
	}
	program = append(program, fcodeEnd)
	sum := 0
	for _, b := range program[8:] {
		sum += int(b)
	}
	program[2], program[3] = byte(sum>>8), byte(sum)
	putLong(program[4:], uint32(len(program)))
	image := erased(cardSize)
	copy(image, program)
	return image
}

func erased(n int) []byte {
	image := make([]byte, n)
	for i := range image {
		image[i] = 0xFF
	}
	return image
}

func long(b []byte) uint32 {
	return uint32(b[0])<<24 | uint32(b[1])<<16 | uint32(b[2])<<8 | uint32(b[3])
}

func putLong(b []byte, v uint32) {
	b[0], b[1], b[2], b[3] = byte(v>>24), byte(v>>16), byte(v>>8), byte(v)
}
