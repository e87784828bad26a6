package prepare

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/chips"
)

// What is said of reading back, plan by plan; whether a file is the dump was looked at with cmp in TestU41AgainstOtherTools.
func TestReadbackSaysWhatIsTrue(t *testing.T) {
	stored := u41(t)
	for _, c := range []struct {
		says string
		plan Plan
	}{
		{"One file for one 27C400: the dump as it stands, byte for byte. The burnt chip reads back as this file, and so as the dump.",
			Plan{Device: "27C400", View: chips.X16, Order: arrange.Swapped, CPU: Big, Buffer: LowFirst}},
		{"One file for one 27C400. The burnt chip reads back as this file, which is not the dump as it stands: it is the dump with bytes " +
			"swapped in 16-bit words (the CPU's order).",
			Plan{Device: "27C400", View: chips.X16, Order: arrange.Swapped, CPU: Big, Buffer: HighFirst}},
		{"it is the dump with bytes swapped in 16-bit words.",
			Plan{Device: "27C400", View: chips.X16, CPU: Big, Buffer: LowFirst}},
		{"One file for one 27C800. The burnt chip reads back as this file, which is not the dump as it stands: it is the dump twice.",
			Plan{Device: "27C800", View: chips.X16, Order: arrange.Swapped, CPU: Big, Buffer: LowFirst}},
		{"it is the dump with bytes swapped in 16-bit words (the CPU's order), with 00 below it.",
			Plan{Device: "27C080", View: chips.X8, Order: arrange.Swapped, Spare: Pad, End: arrange.Top}},
		{"Two files for two 27C020. Each burnt chip reads back as its own file; the two joined are not the dump as it stands but the dump " +
			"with bytes swapped in 16-bit words (the CPU's order).",
			Plan{Device: "27C020", View: chips.Pair, Order: arrange.Swapped, CPU: Big}},
		{"Two files for two 27C020. Each burnt chip reads back as its own file; the two joined are the dump as it stands, byte for byte.",
			Plan{Device: "27C020", View: chips.Pair, CPU: Big}},
		{"Four files for four 27C010, in two pairs. Each burnt chip reads back as its own file; the four joined are the dump as it stands",
			Plan{Device: "27C010", View: chips.Pairs, CPU: Big}},
		{"the four joined are not the dump as it stands but the dump with the part of each chip in it twice.",
			Plan{Device: "27C020", View: chips.Four, CPU: Big}},
		{"but the dump with the two bytes of each word of a chip exchanged, with the part of each chip in it twice.",
			Plan{Device: "27C400", View: chips.Pair, CPU: Big, Buffer: HighFirst}},
	} {
		p, err := Prepare(stored, c.plan)
		require.NoError(t, err)
		assert.Contains(t, p.Headline+" "+p.Readback, c.says)
		same := strings.Contains(c.says, "joined are the dump") || strings.Contains(c.says, ": the dump as it stands")
		assert.Equal(t, same && len(p.Files) == 1, bytes.Equal(p.Files[0].Content, stored), c.says)
		assert.Contains(t, p.Cautions[0], "Too high a programming voltage destroys a chip at once")
		assert.Contains(t, p.Next[1], "compare it with its file, not with the dump")
		assert.NotContains(t, strings.Join(p.Cautions, " "), "Load the file", "a step is no caution")
		assert.Contains(t, p.Next[0], "before anything is burnt")
		assert.Equal(t, len(p.Files) > 1, strings.Contains(p.Checked, "Joined"))
	}
}

// For every arrangement of a plan: it is said that the file, or the files joined, are the dump exactly when they are, and else
// something is said of them.
func TestOnlyTheDumpIsCalledTheDump(t *testing.T) {
	noise, made, same := random(8<<10, 8), 0, 0
	for _, device := range []string{"2716", "2732", "2764", "27C512", "27C1024"} {
		for _, view := range []chips.View{chips.X16, chips.X8, chips.Pair, chips.Pairs, chips.Four} {
			for _, order := range arrange.Orders() {
				for n := range 16 {
					p, err := Prepare(noise, Plan{Device: device, View: view, Order: order, CPU: [2]Endian{Big, Little}[n&1],
						Buffer: [2]Buffer{LowFirst, HighFirst}[n>>1&1], Spare: [2]Spare{Repeat, Pad}[n>>2&1], Bits: [2]Bits{Straight, Crossed}[n>>3]})
					if err != nil {
						continue
					}
					made++
					whole := []byte{}
					lanes := view.Lanes()
					for bank := range view.Banks() {
						for i := range lanes * len(p.Files[0].Content) {
							whole = append(whole, p.Files[bank*lanes+i%lanes].Content[i/lanes])
						}
					}
					is := bytes.Equal(whole, noise)
					said := p.Headline + " " + p.Readback
					require.Equal(t, is, strings.Contains(said, "the dump as it stands, byte for byte"), said)
					require.NotContains(t, said, "the dump .")
					require.Equal(t, !is, strings.Contains(said, "not the dump as it stands"), said)
					if is {
						same++
					}
				}
			}
		}
	}
	assert.Greater(t, made, 300)
	assert.Greater(t, same, 10)
}

// Two pairs: which chip is which is in its name, on the card, in the steps and in the picture.
func TestTwoPairs(t *testing.T) {
	p, err := Prepare(u41(t), Plan{Name: "u41.bin", Device: "27C010", View: chips.Pairs, Order: arrange.Swapped, CPU: Big})
	require.NoError(t, err)
	var names, lanes, lines []string
	for _, f := range p.Files {
		names, lanes, lines = append(names, f.Name), append(lanes, f.Lane), append(lines, f.Lines)
		assert.Contains(t, p.Card, f.Name+"\n  device     27C010, DIP-32\n  lane       "+f.Lane+"\n  board      "+f.Lines)
	}
	assert.Equal(t, []string{"u41.low-even.27C010.bin", "u41.low-odd.27C010.bin", "u41.high-even.27C010.bin", "u41.high-odd.27C010.bin"}, names)
	assert.Equal(t, []string{"low-even", "low-odd", "high-even", "high-odd"}, lanes)
	assert.Equal(t, []string{"D8-D15", "D0-D7", "D8-D15", "D0-D7"}, lines, "a 68000 has no D16 to D31")
	assert.Contains(t, p.Card, "u41 for 4 x 27C010")
	assert.Contains(t, p.Steps, "Low-odd: the bytes at the addresses 1, 3, 5 and so on of the lower half of the image; this chip is the one on D0-D7 of the board.")
	assert.Contains(t, p.Steps, "High-even: the bytes at the addresses 0, 2, 4 and so on counted from 040000, where the upper half of the image begins; "+
		"this chip is the one on D8-D15 of the board.")
	var addresses []int
	for _, cell := range p.Picture.CPU {
		addresses = append(addresses, cell.Address)
	}
	assert.Equal(t, []int{0, 1, 2, 3, 0x40000, 0x40001, 0x40002, 0x40003}, addresses)
	for _, row := range p.Picture.Chips {
		assert.Len(t, row.Cells, 2)
	}
}

// One chip of eight lines for code of a CPU that takes words: said, not forbidden.
func TestOneNarrowChipForACPUOfWords(t *testing.T) {
	plan := Plan{Device: "27C040", View: chips.X8, Order: arrange.Swapped, CPU: Big, WordCPU: "68000"}
	p, err := Prepare(u41(t), plan)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(p.Cautions, " "), "68000 code is made of 16-bit words: one chip read 8 bits at a time suits only a board that reads bytes")
	for _, change := range []func(*Plan){
		func(p *Plan) { p.WordCPU = "" },
		func(p *Plan) { p.Device, p.View = "27C020", chips.Pair },
		func(p *Plan) { p.Device, p.View, p.Buffer = "27C400", chips.X16, LowFirst },
	} {
		other := plan
		change(&other)
		p, err := Prepare(u41(t), other)
		require.NoError(t, err)
		assert.NotContains(t, strings.Join(p.Cautions, " "), "8 bits at a time")
	}
}
