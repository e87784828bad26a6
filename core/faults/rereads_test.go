package faults_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/faults"
)

// demoROM is the demo board's system ROM: real compiled code, text, a font, tables and much blank space.
func demoROM(t testing.TB) []byte {
	image, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return image
}

// Every kind of trouble is found in the reads that it makes, on each of several images; what shows too little is "cannot
// tell", never another trouble.
func TestTroublesAreTold(t *testing.T) {
	rom := demoROM(t)
	type expect struct {
		trouble faults.Trouble
		name    string
		reads   []disturbance
		line    string // the first line named
	}
	cases := []expect{
		{faults.Leaking, "leaks in three reads", times(3, leak(20, 0, 28_000)), ""},
		{faults.Leaking, "leaks in one of three", []disturbance{steady, leak(40, 1000, 9000), steady}, ""},
		{faults.Leaking, "leaks in the second of two", []disturbance{steady, leak(40, 1000, 9000)}, ""},
		{faults.CannotTell, "three bits", []disturbance{steady, leak(3, 1000, 9000)}, ""},
		{faults.CannotTell, "leaks in both of two", times(2, leak(20, 0, 28_000)), ""},
		{faults.DataContact, "D3 of a x8 chip", times(3, dataContact(3, 10, 1, 0)), "D3"},
		{faults.DataContact, "D3 of a x8 chip, two reads", times(2, dataContact(3, 2, 1, 0)), "D3"},
		{faults.DataContact, "D13 of a x16 chip", times(3, dataContact(5, 50, 2, 1)), "D13"},
		{faults.AddrContact, "A7 now and then", times(3, addressContact(7, 40)), "A7"},
		{faults.AddrContact, "A0 in one of two", []disturbance{steady, addressContact(0, 40)}, "A0"},
		{faults.AddrContact, "A12 in one of two", []disturbance{addressContact(12, 10), steady}, "A12"},
		{faults.Slow, "the byte before", times(3, stale(1, 100)), ""},
		{faults.Slow, "the word before", []disturbance{steady, stale(2, 100)}, ""},
		{faults.Slow, "page starts", times(3, pageStart(256)), ""},
		{faults.Supply, "bursts in three reads", times(3, bursts(3, 200)), ""},
		{faults.Supply, "bursts in one of two", []disturbance{steady, bursts(4, 300)}, ""},
	}
	for name, chip := range map[string][]byte{"code": rom[:28<<10], "system part": rom[0x40000:0x50000], "swapped": arrange.Swapped.Apply(rom[:28<<10])} {
		for seed := range uint64(5) {
			for _, c := range cases {
				if name == "system part" && strings.Contains(c.name, "A12") {
					continue
				}
				t.Run(fmt.Sprintf("%s/%s/%d", name, c.name, seed), func(t *testing.T) {
					reads := readsOf(seed, chip, c.reads...)
					r := faults.Rereads(reads, nil, faults.Options{})
					require.Equal(t, faults.Unstable, r.State, r.Headline)
					require.Equal(t, c.trouble, r.Trouble, "%s %q", r.Headline, r.Reasons)
					if c.line != "" {
						require.NotEmpty(t, r.Lines)
						require.Equal(t, c.line, r.Lines[0].String())
					}
					consistent(t, reads, r)
				})
			}
		}
	}
}

// plainConsensus is the rule of faults.md, bit by bit: majority with three reads or more, 0 with two and on a tie.
func plainConsensus(reads [][]byte) []byte {
	out := make([]byte, len(reads[0]))
	for at := range out {
		for bit := range 8 {
			ones := 0
			for _, read := range reads {
				if read[at]&(1<<bit) != 0 {
					ones++
				}
			}
			if ones > len(reads)-ones {
				out[at] |= 1 << bit
			}
		}
	}
	return out
}

// consistent holds every count of r against a plain one.
func consistent(t *testing.T, reads [][]byte, r faults.Reread) {
	want := plainConsensus(reads)
	require.True(t, bytes.Equal(want, r.Consensus))
	bytesApart, bitsApart, toOne, toZero := 0, 0, 0, 0
	x8, x16, ones, odd := [8]int{}, [16]int{}, map[int]int{}, make([]int, len(reads))
	lines := strings.Split(string(r.List()), "\n")
	for at := range want {
		apart := false
		for bit := range 8 {
			n := 0
			for _, read := range reads {
				n += int(read[at] >> bit & 1)
			}
			if n == 0 || n == len(reads) {
				continue
			}
			apart = true
			bitsApart++
			x8[bit]++
			x16[bit+8*(at%2)]++
			if 2*n > len(reads) {
				toZero += len(reads) - n
			} else if 2*n < len(reads) {
				toOne += n
			}
		}
		for i, read := range reads {
			if read[at] != want[at] {
				odd[i]++
			}
		}
		if apart {
			bytesApart++
			for bit := range r.Address {
				ones[bit] += at >> bit & 1
			}
			if bytesApart <= 50 {
				require.Contains(t, strings.Join(lines, "\n"), fmt.Sprintf("\n%06X  %02X ", at, reads[0][at]))
			}
		}
	}
	require.Equal(t, []int{bytesApart, bitsApart, toOne, toZero}, []int{r.Bytes, r.Bits, r.ToOne, r.ToZero})
	for k, line := range r.X8 {
		require.Equal(t, x8[k], line.Bits)
	}
	for k, line := range r.X16 {
		require.Equal(t, x16[k], line.Bits)
	}
	for _, line := range r.Address {
		require.Equal(t, ones[line.Bit], line.Ones)
	}
	for i, read := range r.Reads {
		require.Equal(t, odd[i], read.Odd)
	}
	total := 0
	for _, n := range r.Map.Counts {
		total += n
	}
	require.Equal(t, bitsApart, total)
	require.Equal(t, min(bytesApart, faults.MaxListed), len(r.Listed))
	// The text lists every byte, however many.
	listed := 0
	for _, line := range lines {
		if len(line) > 8 && line[6:8] == "  " {
			listed++
		}
	}
	require.Equal(t, bytesApart, listed)
}

func TestStableReadsAndTheirWorth(t *testing.T) {
	rom := demoROM(t)
	r := faults.Rereads([][]byte{rom, bytes.Clone(rom), bytes.Clone(rom)}, nil, faults.Options{})
	require.Equal(t, faults.Stable, r.State)
	require.Equal(t, "Stable over 3 reads: all 524,288 bytes are equal.", r.Headline)
	require.Contains(t, r.Doubt, "not right content")
	require.Contains(t, r.Doubt, "all but one time in 4")
	require.Nil(t, r.Consensus)
	require.Empty(t, r.List())
	blank := bytes.Repeat([]byte{0xFF}, 4096)
	require.Contains(t, faults.Rereads([][]byte{blank, blank}, nil, faults.Options{}).Doubt, "empty socket")
	require.Equal(t, faults.TooFew, faults.Rereads([][]byte{rom}, nil, faults.Options{}).State)
	require.Equal(t, faults.TooFew, faults.Rereads(nil, nil, faults.Options{}).State)
}

// Reads that are not of one chip get no consensus.
func TestStrangersGetNoConsensus(t *testing.T) {
	rom := demoROM(t)
	a, b := rom[:24<<10], rom[0x40000:0x40000+24<<10]
	r := rand.New(rand.NewPCG(9, 9))
	noise := make([]byte, len(a))
	for i := range noise {
		noise[i] = byte(r.Uint32())
	}
	for name, c := range map[string]struct {
		reads [][]byte
		say   string
	}{
		"two programs":        {[][]byte{a, b}, "not steady reads of one chip"},
		"one odd among three": {[][]byte{a, b, a}, "not steady reads of one chip"},
		"a read and noise":    {[][]byte{a, noise}, "not steady reads of one chip"},
		"a read and FF":       {[][]byte{a, bytes.Repeat([]byte{0xFF}, len(a))}, "not steady reads of one chip"},
		"other sizes":         {[][]byte{a, a[:16<<10]}, "their sizes differ"},
		"one empty":           {[][]byte{a, {}}, "There is nothing in read 2"},
		"swapped":             {[][]byte{a, arrange.Swapped.Apply(a)}, "bytes swapped in 16-bit words"},
		"reversed":            {[][]byte{a, leak(20, 0, len(a))(r, arrange.Reversed.Apply(a))}, "32-bit words reversed"},
		"halves exchanged":    {[][]byte{a[:16<<10], append(bytes.Clone(a[8<<10:16<<10]), a[:8<<10]...)}, "neighbouring parts of 8 KiB exchanged"},
		"mirrored":            {[][]byte{a, a, arrange.Mirrored.Apply(a)}, "read 3 holds the same as read 1, bits mirrored"},
	} {
		t.Run(name, func(t *testing.T) {
			got := faults.Rereads(c.reads, nil, faults.Options{})
			require.Equal(t, faults.Strangers, got.State, got.Headline)
			require.Contains(t, got.Headline, c.say)
			require.Nil(t, got.Consensus)
			require.NotEmpty(t, got.Next)
		})
	}
	odd := faults.Rereads([][]byte{a, b, a}, []string{"one.bin", "two.bin", "three.bin"}, faults.Options{})
	require.Contains(t, odd.Reasons, "one.bin and three.bin are equal")
}

// Content that repeats must not make a tired chip look like a bad address line: every byte of it stands twice.
func TestRepeatedContentIsNoAddressContact(t *testing.T) {
	chip := arrange.Repeat(demoROM(t)[:16<<10], 4)
	for seed := range uint64(10) {
		for _, d := range []disturbance{leak(40, 0, len(chip)), bursts(3, 200)} {
			r := faults.Rereads(readsOf(seed, chip, steady, d), nil, faults.Options{})
			require.NotEqual(t, faults.AddrContact, r.Trouble, r.Reasons)
			require.NotEqual(t, faults.Slow, r.Trouble, r.Reasons)
		}
	}
}

// Versions of one image differ in stretches as bursts do: nothing is sure about them.
func TestVersionsAreNoSureTrouble(t *testing.T) {
	rom := demoROM(t)[:28<<10]
	shifted := append(append(bytes.Clone(rom[:12<<10]), 0x4E, 0x71), rom[12<<10:]...)[:28<<10]
	patched, again := bytes.Clone(rom), bytes.Clone(rom)
	copy(patched[0x2000:], rom[0x6000:0x6080])
	copy(again[0x5000:], rom[0x6100:0x6180])
	for name, reads := range map[string][][]byte{
		"two, shifted":   {rom, shifted},
		"three, shifted": {rom, shifted, rom},
		"two, patched":   {rom, patched},
		"three, patched": {rom, patched, again},
		"four, patched":  {rom, patched, again, patched},
	} {
		r := faults.Rereads(reads, nil, faults.Options{})
		require.NotEqual(t, "strong", r.Sure, "%s: %s %q", name, r.Headline, r.Reasons)
	}
}

// Cells that waver either way have no direction, but they lie where something is programmed.
func TestWaveringCellsSpareBlankSpace(t *testing.T) {
	rom := demoROM(t)
	for seed := range uint64(10) {
		wavering := weakCells(rand.New(rand.NewPCG(seed, 2)), 400, len(rom), 0.5) // most of these bits are 1 already
		r := faults.Rereads(readsOf(seed, rom, times(3, wavering)...), nil, faults.Options{})
		require.Equal(t, faults.Leaking, r.Trouble, r.Reasons)
		require.Equal(t, "weak", r.Sure)
		require.Contains(t, r.Reasons[0], "lies in blank space")
		anywhere := dataAnywhere(rand.New(rand.NewPCG(seed, 3)), 60, len(rom))
		r = faults.Rereads(readsOf(seed, rom, times(3, anywhere)...), nil, faults.Options{})
		require.Equal(t, faults.CannotTell, r.Trouble, r.Reasons)
	}
}

// What the list says of one byte: two reads take 0, four may tie in one bit and have a majority in another.
func TestListSaysWhy(t *testing.T) {
	r := faults.Rereads([][]byte{{0x0F, 0xAA}, {0x0E, 0xAA}}, nil, faults.Options{})
	require.Equal(t, []faults.UnstableByte{{Offset: 0, Values: []string{"0F", "0E"}, Chosen: "0E", Why: "two reads, 0 taken"}}, r.Listed)
	r = faults.Rereads([][]byte{{0x81}, {0x83}, {0x83}, {0x82}}, nil, faults.Options{})
	require.Equal(t, "83", r.Listed[0].Chosen)
	require.Equal(t, "majority", r.Listed[0].Why)
	r = faults.Rereads([][]byte{{0x81}, {0x81}, {0x02}, {0x83}}, nil, faults.Options{})
	require.Equal(t, "81", r.Listed[0].Chosen)
	require.Equal(t, "majority; bit 1 tied, 0 taken", r.Listed[0].Why)
	require.Contains(t, string(r.List()), "000000  81 81 02 83  81  majority; bit 1 tied, 0 taken\n")
	require.Equal(t, 1, r.Tied)
	require.Equal(t, faults.CannotTell, r.Trouble)
}

func FuzzRereads(f *testing.F) {
	rom := demoROM(f)
	f.Add([]byte{}, []byte{}, []byte{}, 2)
	f.Add(rom[:600], rom[1:601], rom[:600], 3)
	f.Add(rom[:600], arrange.Swapped.Apply(rom[:600]), rom[:600], 2)
	f.Add(rom[:601], leak(9, 0, 600)(rand.New(rand.NewPCG(1, 1)), rom[:601]), rom[:601], 3)
	f.Fuzz(func(t *testing.T, a, b, c []byte, n int) {
		reads := [][]byte{a, b, c}[:min(max(n, 0), 3)]
		if n > 3 && len(reads) == 3 {
			reads = append(reads, a)
		}
		before := fmt.Sprint(reads)
		r := faults.Rereads(reads, []string{"a"}, faults.Options{})
		require.Equal(t, before, fmt.Sprint(reads))
		require.NotEmpty(t, r.Headline)
		require.NotEmpty(t, r.Next)
		require.NotContains(t, fmt.Sprint(r.Headline, r.Next, r.Doubt, r.Agreement, r.Reasons), "{}")
		require.NotEmpty(t, r.AppendJSON(nil))
		if r.State == faults.Unstable {
			consistent(t, reads, r)
		} else {
			require.Nil(t, r.Consensus)
		}
	})
}

func BenchmarkRereads(b *testing.B) {
	rom := demoROM(b)
	reads := readsOf(1, rom, steady, leak(40, 0, 28_000), leak(40, 0, 28_000), dataContact(3, 4, 2, 0))
	b.SetBytes(int64(len(rom)))
	for name, set := range map[string][][]byte{"leaks": reads[:3], "contact": {reads[0], reads[3]}, "equal": {rom, rom}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				faults.Rereads(set, nil, faults.Options{})
			}
		})
	}
}
