package prepare

import (
	"strconv"
	"strings"

	"lunette/core/words"
)

// card returns a text for the labels: what each file is, and the sums that the reader should show. Its lines are at most 72
// characters wide where the names allow it.
func (j *job) card(files []File, stored []byte) string {
	var b strings.Builder
	row := func(name, value string) {
		b.WriteString("  " + name + strings.Repeat(" ", max(11-len(name), 1)) + value + "\n")
	}
	b.WriteString(words.Fill("{} for {} x {}\n\n", j.stem(), strconv.Itoa(j.chips()), j.device.ID))
	b.WriteString("Dump\n")
	if name := printable(j.plan.Name); name != "" {
		row("name", name)
	}
	row("size", words.Count(len(stored))+" bytes")
	row("CRC-32", crc(stored))
	row("order", j.plan.Order.String())
	for _, f := range files {
		b.WriteString("\n" + f.Name + "\n")
		row("device", words.Fill("{}, {}", j.device.ID, j.device.Package))
		if f.Lane != "" {
			row("lane", f.Lane)
		}
		if f.Lines != "" {
			row("board", f.Lines)
		}
		row("size", words.Count(f.Size)+" bytes")
		row("byte sum", f.ByteSum+"  (sum of all bytes, 16 bits)")
		row("CRC-32", f.CRC)
	}
	b.WriteString("\nSums are of the whole chip, filled up as in the file.\n")
	return b.String()
}

// printable returns a name for one line of text, without what would break the line.
func printable(name string) string {
	const longest = 60
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7F {
			return -1
		}
		return r
	}, name)
	if runes := []rune(clean); len(runes) > longest {
		clean = string(runes[:longest])
	}
	return clean
}
