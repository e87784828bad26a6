package faults

import "strconv"

// A LineKind tells data lines from address lines by the letter that data sheets give them.
type LineKind string

// The kinds of lines.
const (
	Data    LineKind = "D"
	Address LineKind = "A"
)

// A Line is one data or address line of the device, in the device's own numbering: A0 of a x16 device is the lowest line
// of its word address, which is bit 1 of the byte offset in a dump.
type Line struct {
	Kind   LineKind `json:"kind"`
	Number int      `json:"number"` // from 0
	Width  int      `json:"width"`  // data lines of the device: 8 or 16
}

// DataLine returns data line number (0 to width-1) of a device with width data lines.
func DataLine(number, width int) Line { return Line{Kind: Data, Number: number, Width: width} }

// AddressLine returns address line number (from 0) of a device with width data lines.
func AddressLine(number, width int) Line { return Line{Kind: Address, Number: number, Width: width} }

// String returns the line's name as data sheets write it: "A9", "D3".
func (l Line) String() string { return string(l.Kind) + strconv.Itoa(l.Number) }

// lineNames returns the names of lines.
func lineNames(lines []Line) []string {
	names := make([]string, len(lines))
	for i, l := range lines {
		names[i] = l.String()
	}
	return names
}

// A Bus says how words of a device stand in a dump.
type Bus struct {
	Width     int  `json:"width"`     // data lines: 8 or 16
	HighFirst bool `json:"highFirst"` // of a x16 device: the byte with D8 to D15 stands at the even offset
}

// The buses that a dump can come from.
var (
	X8      = Bus{Width: 8}
	X16Low  = Bus{Width: 16}
	X16High = Bus{Width: 16, HighFirst: true}
)

// Bytes returns how many bytes a word has: 1 or 2.
func (b Bus) Bytes() int { return b.Width / 8 }

// Offset returns the offset in a dump of the byte that holds data line d of the word at an address of the device.
func (b Bus) Offset(address, d int) int {
	if b.Width == 8 {
		return address
	}
	high := d >= 8
	if high != b.HighFirst {
		return 2*address + 1
	}
	return 2 * address
}

// String returns the bus in words.
func (b Bus) String() string {
	switch b {
	case X8:
		return "x8"
	case X16Low:
		return "x16, low byte first"
	}
	return "x16, high byte first"
}
