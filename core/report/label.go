package report

import (
	"hash/crc32"
	"strings"
	"unicode/utf8"

	"lunette/core/arrange"
	"lunette/core/words"
)

// A Label is what stands on a chip: short lines, the most telling first. A line that has nothing to say is left out.
type Label struct {
	Lines []string `json:"lines"`
	Why   string   `json:"why"` // why the window must be covered
}

// why is by the erasure characteristics in M27C1001 (STMicroelectronics, April 2006) and M27128A (SGS-Thomson, March 1995).
const why = "Cover the window: light erases the chip. Direct sunlight can do it in about a week, fluorescent room light in about 3 " +
	"years. Paper alone lets light through; foil under it does not."

// LabelOf returns the label of a chip with a name, of a device, that holds image, its bytes as burnt; a is how they were made
// of the dump, a lane included. Names are cut to what a label has room for.
func LabelOf(name, device string, a arrange.Arrangement, image []byte) Label {
	// "even byte lane, bytes swapped in 16-bit words" is too long for one line.
	return LabelWith(name, device, strings.Split(a.String(), ", "), image)
}

// LabelWith is LabelOf where how the bytes were made is said in lines.
func LabelWith(name, device string, how []string, image []byte) Label {
	sum := uint16(0)
	for _, b := range image {
		sum += uint16(b)
	}
	lines := append([]string{cut(name), cut(device)}, how...)
	lines = append(lines, "Sum "+words.Hex(uint64(sum), 4), "CRC-32 "+words.Hex(uint64(crc32.ChecksumIEEE(image)), 8))
	label := Label{Lines: []string{}, Why: why}
	for _, line := range lines {
		if line != "" {
			label.Lines = append(label.Lines, line)
		}
	}
	return label
}

// cut returns text as one line of at most 28 characters.
func cut(text string) string {
	const most = 28
	text = strings.Join(strings.Fields(oneLine(text)), " ")
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return strings.TrimRight(string([]rune(text)[:most-1]), " ") + "…"
}

// A Body is the outline of a package that a label is cut for. Lengths are millimetres.
type Body struct {
	Package string  `json:"package"`
	Pins    int     `json:"pins"`
	Pitch   float64 `json:"pitch"`  // from pin to pin along a row
	Rows    float64 `json:"rows"`   // from row to row
	Length  float64 `json:"length"` // of the body
	Width   float64 `json:"width"`  // of the body
	Window  float64 `json:"window"` // diameter of the round window in its middle
	Note    string  `json:"note"`   // how well this is known
}

const bodyNote = "Pitch and rows are the trade's grid of 0.1 and 0.6 inch (common practice, no source). Body and window are about right, " +
	"from memory: measure your chip before you cut."

// bodies are ceramic packages with a window.
var bodies = [...]struct {
	pins          int
	length, width float64 // mm, from memory
}{
	{24, 32, 14.9},
	{28, 37, 14.9},
	{32, 42, 14.9},
	{40, 52, 14.9},
	{42, 54, 14.9},
}

// Bodies returns the packages that a label may be for, all 0.6 inch wide.
func Bodies() []Body {
	var all []Body
	for _, b := range bodies {
		all = append(all, Body{"DIP-" + words.Count(b.pins), b.pins, 2.54, 15.24, b.length, b.width, 8, bodyNote})
	}
	return all
}
