package core_test

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/faults"
)

func demoROM(t testing.TB) []byte {
	image, err := os.ReadFile("../testdata/halden/u41.bin")
	require.NoError(t, err)
	return image
}

// opened opens an image and inspects it, as the page does.
func opened(t testing.TB, b *core.Bench, source, name string, image []byte) string {
	id, err := b.OpenOne(source, name, image)
	require.NoError(t, err)
	_, err = b.Inspect(id, core.ByHand{}, nil, nil)
	require.NoError(t, err)
	return id
}

// An open A9 of a x16 chip is a bit of the byte offset; its pin is that of the data sheet's drawing (M27C400, S01 of
// core/chips: A9 is pin 39).
func TestCompareNamesThePin(t *testing.T) {
	rom := demoROM(t)
	read := make([]byte, len(rom))
	for i := range read {
		read[i] = rom[i|1<<10]
	}
	b := core.NewBench()
	r := opened(t, b, "s1", "read.bin", read)
	m := opened(t, b, "s2", "u41.bin", rom)

	pair := b.Pair("")
	require.Equal(t, m, pair.Master, "the sound one")
	require.Equal(t, r, pair.Read)
	require.Contains(t, pair.Why, "u41.bin")

	c, err := b.Compare(m, r, "27C400", nil)
	require.NoError(t, err)
	require.Equal(t, faults.LineFault, c.Result.Relation)
	require.Equal(t, []core.LinePin{{Line: "A9", Pin: 39}}, c.Chip.Pins)
	require.Equal(t, []string{""}, c.Repairs, "half of the master is not in the read")

	laid, err := b.Laid(0, 4)
	require.NoError(t, err)
	require.Equal(t, []string{"01", "00", "00", "00"}, laid.Master)
	require.Len(t, laid.Read, 4)

	c, err = b.Compare(m, r, "", nil)
	require.NoError(t, err)
	require.Equal(t, 16, c.Chip.Width, "the order of the master shows a x16 reader")
	require.NotEmpty(t, c.Chip.Pins)
	c, err = b.Compare(m, r, "none", nil)
	require.NoError(t, err)
	require.Empty(t, c.Chip.Pins)
	require.NotEmpty(t, c.Chip.Devices, "to choose from")
}

// Exchanged lines lose nothing: what is repaired is the master.
func TestRepaired(t *testing.T) {
	rom := demoROM(t)
	read := bytes.Clone(rom)
	for i := 0; i < len(read); i += 2 {
		v := read[i]
		read[i] = v&^0x28 | v&8<<2 | v&0x20>>2 // D3 and D5
	}
	b := core.NewBench()
	m, r := opened(t, b, "s1", "u41.bin", rom), opened(t, b, "s2", "folder/read.bin", read)
	c, err := b.Compare(m, r, "27C400", nil)
	require.NoError(t, err)
	require.Equal(t, "read.repaired.bin", c.Repairs[0])
	repaired, err := b.Repaired(0)
	require.NoError(t, err)
	require.True(t, bytes.Equal(rom, repaired))
	require.Len(t, c.Result.Explanations, 1, "a 68000 image that is stored swapped has D0 to D7 first")
	require.Equal(t, []core.LinePin{{Line: "D3", Pin: 19}, {Line: "D5", Pin: 24}}, c.Chip.Pins)
	_, err = b.Repaired(len(c.Repairs))
	require.Error(t, err)
	c, err = b.Compare(m, r, "27C040", nil)
	require.NoError(t, err)
	require.Equal(t, 8, c.Chip.Width, "it has eight data lines, and of these none is exchanged at every address")
	require.Empty(t, c.Chip.Pins)
	require.NotContains(t, c.Result.Headline, "exchanged")
	_, err = b.Repaired(99)
	require.Error(t, err)
}

func TestRereadsAndBlankOfTheBench(t *testing.T) {
	rom := demoROM(t)
	reads := make([]string, 3)
	b := core.NewBench()
	for i := range reads {
		read := bytes.Clone(rom)
		for k := range 20 {
			read[0x40040+97*k+i] |= 1 << (k % 8)
		}
		reads[i] = opened(t, b, "s"+string(rune('1'+i)), "read.bin", read)
	}
	result, err := b.Rereads(reads, "")
	require.NoError(t, err)
	require.Equal(t, "read.consensus.bin", result.Consensus)
	image, list, err := b.Consensus()
	require.NoError(t, err)
	require.True(t, bytes.Equal(rom, image))
	require.NotEmpty(t, list)

	blank := opened(t, b, "s9", "new.bin", bytes.Repeat([]byte{0xFF}, len(rom)))
	check, err := b.Blank(blank, reads[0], "27C400")
	require.NoError(t, err)
	require.Equal(t, faults.IsBlank, check.Result.State)
	require.Empty(t, check.Times, "nothing to erase")
	check, err = b.Blank(reads[0], blank, "27C400")
	require.NoError(t, err)
	require.Contains(t, check.Times, "20.8 min")
	for _, call := range []func() error{
		func() error { _, err := b.Compare("s1/0", "gone", "", nil); return err },
		func() error { _, err := b.Rereads([]string{"gone"}, ""); return err },
		func() error { _, err := b.Blank("gone", "", ""); return err },
	} {
		require.ErrorContains(t, call(), "no longer open")
	}
}
