package faults_test

import (
	"bytes"
	"math/bits"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/faults"
)

// small returns 32 KiB of the demo board's code.
func small(t testing.TB) []byte { return demo(t, 512<<10)[:32<<10] }

// A change makes a read of a master.
type change func(m []byte) []byte

// Every relation, by what was done to a master. The demo's five troubles are among them: a burn stopped at 3 %, a chip that was
// not erased, an open address line, two exchanged data lines, and (as weak bits) a burn that did not take.
func TestRelations(t *testing.T) {
	master := small(t)
	older := demo(t, 512<<10)[64<<10:][:32<<10]
	for _, c := range []struct {
		want     faults.Relation
		headline string // begins so
		blames   string // the lines of the first explanation
		made     change
	}{
		{faults.Identical, "The read is the master: all 32,768 bytes are equal.", "", bytes.Clone},
		{faults.Rearranged, "The read is the master with bytes swapped in 16-bit words.", "", reads[1].of},
		{faults.Doubled, "The read holds the master 2 times.", "", func(m []byte) []byte { return append(bytes.Clone(m), m...) }},
		{faults.Halved, "The read is 16 KiB of the master, from 004000 on.", "", func(m []byte) []byte { return m[16<<10:] }},
		{faults.Halved, "The read is 24 KiB of the master, from 000000 on.", "", func(m []byte) []byte { return m[:24<<10] }},
		{faults.Padded, "The read is the master with blank bytes after it.", "", func(m []byte) []byte {
			return append(bytes.Clone(m), bytes.Repeat([]byte{0xFF}, 32<<10)...)
		}},
		{faults.OneLane, "The read is one byte lane of the master: odd byte lane.", "", func(m []byte) (lane []byte) {
			for i := 1; i < len(m); i += 2 {
				lane = append(lane, m[i])
			}
			return lane
		}},
		{faults.Offset, "The read begins 1,234 bytes into the master, at 0004D2.", "", func(m []byte) []byte {
			return append(bytes.Clone(m[1234:]), older[:1234]...)
		}},
		{faults.Offset, "The master begins 1,234 bytes into the read, at 0004D2.", "", func(m []byte) []byte {
			return append(bytes.Clone(older[:1234]), m[:len(m)-1234]...)
		}},
		{faults.Empty, "There is nothing to compare: the read has no bytes.", "", func([]byte) []byte { return nil }},
		{faults.BlankRead, "The read is blank", "", func(m []byte) []byte { return bytes.Repeat([]byte{0xFF}, len(m)) }},
		{faults.OneValue, "The read is one value throughout, 00, where the master holds content.", "", func(m []byte) []byte {
			return make([]byte, len(m))
		}},
		{faults.Doubled, "The read holds the master and then begins again.", "", func(m []byte) []byte {
			return append(bytes.Clone(m), m[:1000]...)
		}},
		{faults.LineFault, "A6 is stuck low (x8 device).", "A6", func(m []byte) []byte {
			return append(reads[2].of(m), reads[2].of(m)...)
		}},
		{faults.LineFault, "A6 is stuck low (x8 device).", "A6", func(m []byte) []byte { return reads[2].of(m[16<<10:]) }},
		{faults.Different, "The read differs from the master in ", "", func(m []byte) []byte { // a line stuck, one half alive, and one more
			read := reads[2].of(m)
			for i := range read {
				read[i] &= 0xFE
				if i&0x80 == 0 {
					read[i] |= 0x10
				}
			}
			return read
		}},
		{faults.Stopped, "The burn stopped at 000401, after 3.1 % of the image:", "", func(m []byte) []byte {
			read := bytes.Repeat([]byte{0xFF}, len(m))
			copy(read, m[:0x401])
			return read
		}},
		{faults.LineFault, "A6 is stuck low (x8 device).", "A6", reads[2].of},
		{faults.LineFault, "D2 and D3 are exchanged (x8 device).", "D2 D3", reads[3].of},
		{faults.LineFault, "With bytes swapped in 16-bit words: A6 is stuck low (x8 device).", "A6", func(m []byte) []byte {
			return reads[2].of(reads[1].of(m))
		}},
		{faults.LineFault, "A6 is stuck low, and D7 is stuck high (x8 device).", "A6 D7", func(m []byte) []byte {
			read := reads[2].of(m)
			for i := range read {
				read[i] |= 0x80
			}
			return read
		}},
		{faults.LineFault, "D0 is right at some addresses and wrong at others (x8 device).", "D0", func(m []byte) []byte {
			read := bytes.Clone(m)
			for i := 5; i < len(read); i += 37 {
				read[i] ^= 1
			}
			return read
		}},
		{faults.Rewired, "Lines are connected in another order: the reader's A0 to A14, A1 to A13,", "", reads[5].of},
		{faults.FewHigh, "16 bits read 1 and should be 0, and none the other way: a tired chip, a weak supply, a slow read", "", reads[4].of},
		{faults.Weak, "The chip is not fully programmed: ", "", func(m []byte) []byte {
			read := bytes.Clone(m)
			for i := 77; i < len(read); i += 101 {
				read[i] |= byte(i)
			}
			return read
		}},
		{faults.Once, "The read holds all there is: the master is the same 16 KiB 2 times.", "", nil},
		{faults.Underneath, "The chip was not blank: the read is the master with older zeros in it", "", func(m []byte) []byte {
			read := bytes.Clone(m)
			for i := range read {
				read[i] &= older[i]
			}
			return read
		}},
		{faults.MustErase, "3 bits read 0 and should be 1, and none the other way: if they stay so, the chip needs erasing.", "", func(m []byte) []byte {
			read := bytes.Clone(m)
			for i, n := 1000, 0; n < 3; i += 5000 {
				if read[i] != 0 {
					read[i] &= read[i] - 1
					n++
				}
			}
			return read
		}},
		{faults.Different, "The read differs from the master in ", "", func(m []byte) []byte {
			read := bytes.Clone(m)
			for i := 0; i < len(read); i += 97 {
				read[i] ^= byte(i*7) | 1<<(i%8)
			}
			return read
		}},
		{faults.Unrelated, "The read is something else than the master: ", "", func([]byte) []byte { return older }},
	} {
		t.Run(string(c.want), func(t *testing.T) {
			master := master
			if c.made == nil { // a master that repeats itself
				master = append(bytes.Clone(older[:16<<10]), older[:16<<10]...)
				c.made = func(m []byte) []byte { return m[:16<<10] }
			}
			read := c.made(master)
			before, original := bytes.Clone(master), bytes.Clone(read)
			got := faults.Compare(master, read, faults.Options{}, nil)
			require.Equal(t, c.want, got.Relation, got.Headline)
			require.Contains(t, got.Headline, c.headline)
			if c.blames != "" {
				require.Equal(t, c.blames, names(got.Explanations[0].Lines))
			}
			require.NotEmpty(t, got.Next)
			require.Equal(t, before, master)
			require.Equal(t, original, read)
		})
	}
}

func names(lines []faults.Line) string {
	var text []string
	for _, line := range lines {
		text = append(text, line.String())
	}
	return string(bytes.Join(bytesOf(text), []byte(" ")))
}

func bytesOf(texts []string) (all [][]byte) {
	for _, text := range texts {
		all = append(all, []byte(text))
	}
	return all
}

// Counts are held against the plainest count of bits.
func TestCounts(t *testing.T) {
	master := small(t)
	read := bytes.Clone(master)
	for i := 3; i < len(read); i += 1009 {
		read[i] ^= byte(i)
	}
	c := faults.Compare(master, read, faults.Options{}, nil)
	checkCounts(t, c, master, read)
	require.Equal(t, 3, c.FirstDiffer)
	require.False(t, c.CanStillBurn)
	require.Len(t, c.Buses, 2)
}

// checkCounts counts anew, bit by bit, a comparison in which the two stand against each other as they are.
func checkCounts(t *testing.T, c faults.Comparison, master, read []byte) {
	t.Helper()
	differ, high, low, runs := 0, 0, 0, 0
	var data [8]faults.DataCount
	var sides [32][2]int
	for i, r := range read {
		m := master[i]
		if m == r {
			continue
		}
		differ++
		if i == 0 || master[i-1] == read[i-1] {
			runs++
		}
		for k := range 8 {
			switch {
			case r>>k&1 > m>>k&1:
				high++
				data[k].High++
			case r>>k&1 < m>>k&1:
				low++
				data[k].Low++
			}
		}
		for k := range sides {
			sides[k][i>>k&1]++
		}
	}
	require.Equal(t, []int{len(read), differ, len(read) - differ, high, low, 8*len(read) - high - low, runs},
		[]int{c.Compared, c.Differ, c.Equal, c.High, c.Low, c.EqualBits, c.Runs.Total})
	x8 := c.Buses[0]
	if x8.Bus.Width != 8 { // of a x16 device alone there are no counts to hold these against
		x8 = faults.BusCount{}
	}
	for k, line := range x8.Data {
		require.Equal(t, []int{data[k].High, data[k].Low}, []int{line.High, line.Low}, line.Line)
	}
	for k, line := range x8.Address {
		require.Equal(t, sides[k], [2]int{line.Zero, line.One}, line.Line)
	}
	require.Equal(t, []int{differ, high, low}, []int{sum(c.Map.Bytes), sum(c.Map.High), sum(c.Map.Low)})
	require.LessOrEqual(t, len(c.Map.Bytes), 512)
	for _, run := range c.Runs.Listed {
		for i := run.From; i < run.To; i++ {
			if master[i] == read[i] {
				t.Fatalf("byte %d is equal and stands in the run %v", i, run)
			}
		}
	}
}

func sum(list []int) (total int) {
	for _, n := range list {
		total += n
	}
	return total
}

// What may be burnt over: every bit that must be 1 is 1. Data sheets of UV EPROMs: programming turns 1 into 0 only.
func TestCanStillBurn(t *testing.T) {
	master := []byte{0x0F, 0xF0, 0xFF, 0x00}
	for read, want := range map[string]bool{"\xFF\xFF\xFF\xFF": true, "\x0F\xF0\xFF\x00": true, "\x1F\xF1\xFF\x80": true,
		"\x0E\xF0\xFF\x00": false, "\xFF\xFF\x7F\xFF": false} {
		c := faults.Compare(master, []byte(read), faults.Options{}, nil)
		plain := true
		for i, m := range master {
			plain = plain && read[i]&m == m
		}
		require.Equal(t, want, plain)
		require.Equal(t, want, c.CanStillBurn, "%X", read)
	}
}

// With the device known, only its lines are named.
func TestKnownDevice(t *testing.T) {
	master := small(t)
	read := reads[2].of(master)
	for width, want := range map[int]string{8: "A6", 16: "A5"} {
		c := faults.Compare(master, read, faults.Options{Width: width}, nil)
		require.Len(t, c.Explanations, 1)
		require.Equal(t, want, names(c.Explanations[0].Lines))
		require.Equal(t, want+" is stuck low.", c.Headline)
		require.Len(t, c.Buses, 1)
	}
	both := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, 1, both.Causes)
	require.Len(t, both.Explanations, 2)
	require.Contains(t, both.Reasons, "The same by the names of another device: A5 is stuck low (x16 device).")
}

// A fault that leaves some bytes unexplained is named with their number.
func TestNearly(t *testing.T) {
	master := small(t)
	read := reads[2].of(master)
	for i := 100; i < len(read); i += 5000 {
		read[i] ^= 0x55
	}
	c := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, faults.LineFault, c.Relation)
	require.Equal(t, "A6", names(c.Explanations[0].Lines))
	require.Equal(t, 7, c.Explanations[0].Unexplained)
	require.Contains(t, c.Headline, "7 bytes are not explained by it")
	require.False(t, c.Explanations[0].Repairable)
}

// An address line with a poor contact: now and then the byte at the line's other level is read.
func TestUnsteadyAddressLine(t *testing.T) {
	master := small(t)
	read := bytes.Clone(master)
	for i := range read {
		if bits.OnesCount(uint(i)*2654435761>>7)%5 == 0 {
			read[i] = master[i&^0x200]
		}
	}
	c := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, faults.LineFault, c.Relation, c.Headline)
	require.Equal(t, faults.SomeContact, c.Explanations[0].Kind)
	require.Equal(t, "A9", names(c.Explanations[0].Lines))
}

// One or two differing bytes are no more a line's fault than their own, even where a fault would give just these.
func TestFewBytesMayBeTheirOwnFault(t *testing.T) {
	master := bytes.Clone(small(t))
	for i := range master {
		master[i] &= 0x7F
	}
	master[500] = 0x80
	read := bytes.Clone(master)
	read[500] = 0
	c := faults.Compare(master, read, faults.Options{Width: 8}, nil)
	kinds := []faults.ExplanationKind{}
	for _, e := range c.Explanations {
		kinds = append(kinds, e.Kind)
	}
	require.True(t, slices.Contains(kinds, faults.OneFault) && slices.Contains(kinds, faults.SingleBits), kinds)
}

// Cautions stand where the step is.
func TestCautions(t *testing.T) {
	master := small(t)
	read := bytes.Clone(master)
	for i := range read {
		read[i] &= master[len(master)-1-i]
	}
	c := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, faults.Underneath, c.Relation)
	require.Contains(t, c.Cautions, faults.CautionErase)
	require.Contains(t, c.Cautions, faults.CautionSocket)
	require.Contains(t, faults.Compare(master, reads[2].of(master), faults.Options{}, nil).Cautions, faults.CautionSocket)
	require.Empty(t, faults.Compare(master, master, faults.Options{}, nil).Cautions)
}

func TestProgress(t *testing.T) {
	master, last := small(t), 0.0
	faults.Compare(master, reads[6].of(master), faults.Options{}, func(share float64) {
		require.GreaterOrEqual(t, share, last)
		last = share
	})
	require.Equal(t, 1.0, last)
}

// What is made of a read must be made of the read that was compared, and only where nothing is lost.
func TestRepair(t *testing.T) {
	master := small(t)
	for _, n := range []int{1, 3, 5} {
		read := reads[n].of(master)
		e := faults.Compare(master, read, faults.Options{}, nil).Explanations[0]
		require.True(t, e.Repairable, e.Sentence)
		repaired, err := e.Repair(read)
		require.NoError(t, err)
		require.Equal(t, master, repaired)
	}
	wired := faults.Compare(master, reads[5].of(master), faults.Options{}, nil).Explanations[0]
	_, err := wired.Repair(master[:100])
	require.ErrorContains(t, err, "the read has 100 bytes, the wiring is that of 32 KiB; take the read that was compared")
	stuck := faults.Compare(master, reads[2].of(master), faults.Options{}, nil).Explanations[0]
	_, err = stuck.Repair(reads[2].of(master))
	require.ErrorContains(t, err, "by this explanation bytes of the master are not in the read")
}

// A part of the master with a few bits wrong is told as one, and its size is questioned before its bits are.
func TestPartWithWrongBits(t *testing.T) {
	master := small(t)
	read := bytes.Clone(master[16<<10 : 24<<10])
	read[100] |= 0x81
	read[5000] |= 0x18
	c := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, faults.FewHigh, c.Relation)
	require.Equal(t, 16<<10, c.MasterFrom)
	require.Contains(t, c.Reasons, "The read is laid over the master from 004000 on.")
	require.Contains(t, c.Next[0], "The sizes differ")
}

// Versions of one program, and single bits that are wrong here and there, are no fault of a line.
func TestVersionsAndScatteredBitsBlameNoLine(t *testing.T) {
	master := small(t)
	version := bytes.Clone(master) // four bytes more in one place, and all later ones moved
	copy(version[9000:], append([]byte{0x4E, 0x71, 0x4E, 0x71}, master[9000:len(master)-4]...))
	require.Empty(t, faults.Compare(master, version, faults.Options{}, nil).Explanations)
	for n := 1; n <= 1024; n *= 4 {
		for kind := range 3 {
			read := bytes.Clone(master)
			state := uint32(n + kind)
			for range n {
				state = state*1664525 + 1013904223
				at, bit := int(state>>8)%len(read), byte(1)<<(state>>5&7)
				switch kind {
				case 0:
					read[at] |= bit
				case 1:
					read[at] &^= bit
				default:
					read[at] ^= bit
				}
			}
			c := faults.Compare(master, read, faults.Options{}, nil)
			require.Empty(t, c.Explanations, "%d bits: %s", n, c.Headline)
		}
	}
}

// A few equal bytes at equal distances fit many stories; none is told.
func TestContentThatSaysNothingBlamesNoLine(t *testing.T) {
	master, read := make([]byte, 1<<20), make([]byte, 1<<20)
	for i := 0; i < len(master); i += 4096 {
		master[i], read[i+64] = 7, 7
	}
	require.Empty(t, faults.Compare(master, read, faults.Options{}, nil).Explanations)
}
