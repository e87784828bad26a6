package demo_test

import (
	"bytes"
	"hash/crc32"
	"math/bits"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/demo"
	"lunette/core/faults"
	"lunette/core/marks"
)

func u41(t testing.TB) []byte {
	image, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return image
}

func named(t *testing.T, name string) []byte {
	for _, d := range append(demo.Dumps(u41(t)), demo.Board(u41(t))...) {
		if d.Name == "halden-"+name+".bin" {
			return d.Bytes
		}
	}
	require.Fail(t, "no dump "+name)
	return nil
}

// The dumps are the same every time and leave u41 as it is.
func TestDumpsAreTheSameEveryTime(t *testing.T) {
	rom := u41(t)
	before := crc32.ChecksumIEEE(rom)
	first, second := demo.Dumps(rom), demo.Dumps(rom)
	require.Equal(t, before, crc32.ChecksumIEEE(rom))
	require.Len(t, first, 8)
	seen := map[string]bool{}
	for i := range first {
		require.Equal(t, first[i].Name, second[i].Name)
		require.True(t, bytes.Equal(first[i].Bytes, second[i].Bytes), first[i].Name)
		require.Len(t, first[i].Bytes, 512<<10)
		require.False(t, seen[first[i].Name])
		seen[first[i].Name] = true
	}
}

// The three rereads look like what they are, and their consensus is the ROM, with or without the good read.
func TestRereadsOfATiredChip(t *testing.T) {
	rom := u41(t)
	reads := [][]byte{named(t, "u41-reread-1"), named(t, "u41-reread-2"), named(t, "u41-reread-3")}
	for _, set := range [][][]byte{reads, append([][]byte{rom}, reads...)} {
		r := faults.Rereads(set, nil, faults.Options{})
		require.Equal(t, faults.Leaking, r.Trouble, r.Headline)
		require.Equal(t, "strong", r.Sure)
		require.Equal(t, 42, r.Bits)
		require.Zero(t, r.ToZero)
		require.True(t, bytes.Equal(rom, r.Consensus))
	}
}

// What the two checks of a new chip say of the readbacks.
func TestReadbacksOfABurn(t *testing.T) {
	rom := u41(t)
	stopped := faults.BlankCheck(named(t, "u41-burn-stopped"), rom, faults.Options{})
	require.Equal(t, faults.BurnAsIs, stopped.Burn, stopped.Headline)
	notErased := faults.BlankCheck(named(t, "u41-not-erased"), rom, faults.Options{})
	require.Equal(t, faults.EraseFirst, notErased.Burn, notErased.Headline)

	c := faults.Compare(rom, named(t, "u41-burn-stopped"), faults.Options{}, nil)
	require.Equal(t, faults.Stopped, c.Relation, c.Headline)
	require.Equal(t, 0x3D8A, c.StoppedAt)
	c = faults.Compare(rom, named(t, "u41-not-erased"), faults.Options{}, nil)
	require.Equal(t, faults.Underneath, c.Relation, c.Headline)
	require.Zero(t, c.High)
}

// The line faults are named, in the lines of a 27C400.
func TestLineFaults(t *testing.T) {
	rom := u41(t)
	for name, want := range map[string]faults.LineTrouble{
		"u41-a10-open":         {Kind: faults.StuckHigh, Lines: []faults.Line{faults.AddressLine(10, 16)}},
		"u41-d3-d11-exchanged": {Kind: faults.Exchanged, Lines: []faults.Line{faults.DataLine(3, 16), faults.DataLine(11, 16)}},
	} {
		c := faults.Compare(rom, named(t, name), faults.Options{Width: 16}, nil)
		require.Equal(t, faults.LineFault, c.Relation, c.Headline)
		found := false
		for _, e := range c.Explanations {
			require.Zero(t, e.Unexplained)
			found = found || len(e.Troubles) == 1 && e.Troubles[0].Kind == want.Kind && same(e.Troubles[0].Lines, want.Lines)
		}
		require.True(t, found, "%+v", c.Explanations)
	}
}

func same(a, b []faults.Line) bool {
	return len(a) == len(b) && a[0] == b[0] && a[len(a)-1] == b[len(b)-1]
}

// U7 and U8 together are a 68000 ROM whose sum closes; the card's ROM is an FCode program whose sum holds.
func TestBoard(t *testing.T) {
	joined, err := arrange.Join([][]byte{named(t, "u7-even"), named(t, "u8-odd")})
	require.NoError(t, err)
	m := marks.Inspect(joined, nil)
	require.Equal(t, "m68k", m.Family)
	require.Equal(t, arrange.Stored, m.Order)
	require.Condition(t, func() bool {
		for _, s := range m.Sums {
			if s.Width == 32 && s.From == 0 && s.To == len(joined) {
				return true
			}
		}
		return false
	}, "%+v", m.Sums)

	card := named(t, "ux1")
	require.Len(t, card, 8<<10)
	m = marks.Inspect(card, nil)
	require.NotEmpty(t, m.Headers)
	require.Equal(t, marks.CheckHolds, m.Headers[0].SelfCheck)
	require.True(t, m.Headers[0].Proves())
	require.Nil(t, demo.Board(make([]byte, 1000)))
}

// Any image may be given, however small.
func FuzzDumps(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{1, 2, 3})
	f.Add(bytes.Repeat([]byte{0xFF}, 5000))
	f.Fuzz(func(t *testing.T, image []byte) {
		for _, d := range demo.Dumps(image) {
			require.Len(t, d.Bytes, len(image))
		}
		reads := demo.Dumps(image)[1:4]
		for at := range image {
			ones := 0
			for _, read := range reads {
				require.Equal(t, image[at], image[at]&read.Bytes[at]) // only towards 1
				ones += bits.OnesCount8(read.Bytes[at] &^ image[at])
			}
			require.LessOrEqual(t, ones, 24)
		}
	})
}
