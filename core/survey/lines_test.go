package survey

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The faults are those of a chip's lines as they show in its dump alone; what a stuck, bridged or open line does is
// common practice, no source.

// withDataLines returns what is read of a x16 chip's content, low byte first, when fault changes every word.
func withDataLines(content []byte, fault func(word uint16) uint16) []byte {
	read := bytes.Clone(content)
	for i := 0; i+1 < len(read); i += 2 {
		word := fault(uint16(read[i]) | uint16(read[i+1])<<8)
		read[i], read[i+1] = byte(word), byte(word>>8)
	}
	return read
}

// withAddress returns what is read of content when its address is changed on the way to the chip.
func withAddress(content []byte, fault func(address int) int) []byte {
	read := make([]byte, len(content))
	for a := range read {
		read[a] = content[fault(a)]
	}
	return read
}

func TestHealthyContentShowsNoFault(t *testing.T) {
	for _, content := range [][]byte{board(8 << 10), board(512 << 10), noise(64<<10, 1), skewed(96<<10, 2)} {
		s := Take(content, nil)
		for i, line := range s.X16 {
			assert.False(t, line.StuckHigh() || line.StuckLow(), "D%d", i)
			assert.Equal(t, -1, line.SameAs, "D%d", i)
		}
		for i, line := range s.X8 {
			assert.False(t, line.StuckHigh() || line.StuckLow(), "D%d", i)
			assert.Equal(t, -1, line.SameAs, "D%d", i)
		}
		for _, line := range s.Address {
			assert.False(t, line.NoEffect(), "address bit %d", line.Bit)
		}
		assert.Zero(t, s.Period)
		assert.False(t, s.Ramp.Found())
	}
}

func TestStuckDataLine(t *testing.T) {
	content := board(64 << 10)
	for k := range 16 {
		low := Take(withDataLines(content, func(w uint16) uint16 { return w &^ (1 << k) }), nil)
		high := Take(withDataLines(content, func(w uint16) uint16 { return w | 1<<k }), nil)
		for i := range 16 {
			assert.Equal(t, i == k, low.X16[i].StuckLow(), "D%d stuck low, D%d seen", k, i)
			assert.Equal(t, i == k, high.X16[i].StuckHigh(), "D%d stuck high, D%d seen", k, i)
			assert.False(t, low.X16[i].StuckHigh() || high.X16[i].StuckLow())
			assert.Equal(t, -1, low.X16[i].SameAs, "a line that never changes is like no other")
		}
		assert.Zero(t, low.X16[k].Ones)
		assert.Equal(t, 32<<10, high.X16[k].Ones)
		assert.Equal(t, 32<<10, high.X16[k].Of)
	}
	both := Take(bytes.Repeat([]byte{0x0F}, 100), nil)
	for i, line := range both.X8 {
		assert.Equal(t, i < 4, line.StuckHigh())
		assert.Equal(t, i >= 4, line.StuckLow())
		assert.Equal(t, -1, line.SameAs)
	}
	assert.False(t, Line{}.StuckHigh() || Line{}.StuckLow(), "a line that was never read")
}

func TestBridgedDataLines(t *testing.T) {
	content := board(64 << 10)
	for j := range 16 {
		for k := range j {
			s := Take(withDataLines(content, func(w uint16) uint16 {
				if (w>>j)&(w>>k)&1 == 0 { // wired AND
					w &^= 1<<j | 1<<k
				}
				return w
			}), nil)
			for i, line := range s.X16 {
				want := map[int]int{j: k, k: j}
				if other, bridged := want[i]; bridged {
					require.Equal(t, other, line.SameAs, "D%d and D%d bridged, D%d seen", j, k, i)
				} else {
					require.Equal(t, -1, line.SameAs, "D%d and D%d bridged, D%d seen", j, k, i)
				}
			}
		}
	}
	three := Take(withDataLines(content, func(w uint16) uint16 { return w&^0x2120 | (w>>5&1)*0x2120 }), nil)
	assert.Equal(t, []int{8, 5, 5}, []int{three.X16[5].SameAs, three.X16[8].SameAs, three.X16[13].SameAs},
		"of several the lowest")
}

// TestLateDifference holds that one word anywhere tells two lines apart.
func TestLateDifference(t *testing.T) {
	for _, at := range []int{0, 1000, 2046, 40000, 65534} {
		data := bytes.Repeat([]byte{0x55, 0xAA, 0xAA, 0x55}, 16<<10)
		data[at] ^= 1 << 4
		s := Take(data, nil)
		assert.Equal(t, 2, s.X16[0].SameAs)
		assert.Equal(t, -1, s.X16[4].SameAs, "differs from D0 and D2 at %X", at)
	}
	content := withDataLines(noise(64<<10, 1), func(w uint16) uint16 { return w&^2 | w&1<<1 })
	assert.Equal(t, 1, Take(content, nil).X16[0].SameAs)
	copy(content[4096:], bytes.Repeat([]byte{0x01}, 256))
	assert.Equal(t, -1, Take(content, nil).X16[0].SameAs, "differs from D1 in a block of one repeated byte alone")
}

func TestOddLengthHasNoHalfWord(t *testing.T) {
	s := Take([]byte{0x01, 0x00, 0xFF}, nil)
	assert.Equal(t, Line{Ones: 1, Of: 1, SameAs: -1}, s.X16[0])
	assert.Equal(t, Line{Ones: 0, Of: 1, SameAs: -1}, s.X16[7])
	assert.Equal(t, Line{Ones: 2, Of: 3, SameAs: -1}, s.X8[0])
	assert.Equal(t, Line{Ones: 1, Of: 3, SameAs: 2}, s.X8[1])
}

func TestAddressLineWithoutEffect(t *testing.T) {
	for _, size := range []int{2 << 10, 64 << 10, 96 << 10, 512 << 10} {
		content := board(size)
		top := len(Take(content, nil).Address) - 1
		for bit := range top + 1 {
			if bit == top && size&(size-1) != 0 {
				continue // the other half is not all there
			}
			s := Take(withAddress(content, func(a int) int { return a &^ (1 << bit) }), nil)
			for i, line := range s.Address {
				require.Equal(t, i == bit, line.NoEffect(), "%d bytes, bit %d open, bit %d seen", size, bit, i)
				require.Equal(t, i, line.Bit)
			}
		}
		two := Take(withAddress(content, func(a int) int { return a &^ (1<<8 | 1<<3) }), nil)
		for i, line := range two.Address {
			require.Equal(t, i == 3 || i == 8, line.NoEffect(), "%d bytes, bits 3 and 8 open, bit %d seen", size, i)
		}
	}
}

func TestPairs(t *testing.T) {
	for _, c := range []struct {
		want []int
		size int
	}{
		{nil, 0}, {nil, 1}, {[]int{1}, 2}, {[]int{1, 1}, 3}, {[]int{2, 2}, 4}, {[]int{2, 2, 1}, 5}, {[]int{3, 2, 2}, 6},
	} {
		var pairs []int
		for _, line := range Take(make([]byte, c.size), nil).Address {
			pairs = append(pairs, line.Pairs)
			assert.True(t, line.NoEffect())
		}
		assert.Equal(t, c.want, pairs, "%d bytes", c.size)
	}
}

// TestLateEffect holds that one byte anywhere shows the effect of every address line.
func TestLateEffect(t *testing.T) {
	for _, at := range []int{0, 1, 5000, 65535} {
		data := make([]byte, 64<<10)
		data[at] = 1
		for _, line := range Take(data, nil).Address {
			assert.Contains(t, []int{at, at ^ 1<<line.Bit}, line.Witness)
		}
	}
	// Of four copies of one page the first and the last have another last byte: bits 14 and 15 have an effect that the
	// liveliest block, the first of all, does not show.
	data := bytes.Repeat(noise(16<<10, 3), 4)
	data[16<<10-1]++
	data[len(data)-1]++
	s := Take(data, nil)
	assert.Equal(t, 16<<10-1, s.Address[14].Witness)
	assert.Equal(t, 16<<10-1, s.Address[15].Witness)
	assert.Zero(t, s.Period)
}

func TestPeriod(t *testing.T) {
	for _, c := range []struct {
		want int
		name string
		data []byte
	}{
		{0, "nothing", nil},
		{0, "one byte", []byte{1}},
		{1, "constant", make([]byte, 1000)},
		{2, "two bytes in turn", bytes.Repeat([]byte{1, 2}, 500)},
		{32 << 10, "doubled", bytes.Repeat(noise(32<<10, 1), 2)},
		{8 << 10, "eight times", bytes.Repeat(noise(8<<10, 1), 8)},
		{32 << 10, "one and a half times", bytes.Repeat(noise(32<<10, 1), 2)[:48<<10]},
		{0, "doubled but for the last byte", append(bytes.Repeat(noise(512, 1), 2)[:1023], 0)},
		{0, "three times a length that is no power of two", bytes.Repeat(noise(3000, 1), 3)},
		{0, "noise", noise(4096, 1)},
	} {
		assert.Equal(t, c.want, Take(c.data, nil).Period, c.name)
	}
}

func TestRamps(t *testing.T) {
	const size = 128 << 10
	for _, p := range patterns {
		t.Run(p.name, func(t *testing.T) {
			for _, inverted := range []bool{false, true} {
				data := ramp(size, func(a int) byte { return p.at(a, inverted) })
				assert.Equal(t, Ramp{Pattern: p.name, Inverted: inverted, Matches: size, Of: size}, Take(data, nil).Ramp)

				disturbed := bytes.Clone(data)
				for i := 0; i < size; i += 16 {
					disturbed[i] ^= 0x40
				}
				assert.Equal(t, size-size/16, Take(disturbed, nil).Ramp.Matches, "one byte in sixteen is another")
				disturbed[1] ^= 0x40
				assert.False(t, Take(disturbed, nil).Ramp.Found(), "one more")
			}
		})
	}
	words := func(a int) byte { return byte(a >> 1 >> (8 * (a & 1))) }
	assert.Equal(t, "the 16-bit word's address, low byte first", Take(ramp(size, words), nil).Ramp.Pattern)
	counting := ramp(size, func(a int) byte { return byte(a) })
	assert.True(t, Take(counting[:256], nil).Ramp.Found(), "one turn")
	assert.False(t, Take(counting[:255], nil).Ramp.Found(), "less than one turn")
	assert.False(t, Take(make([]byte, size), nil).Ramp.Found(), "blank")
	for seed := range uint64(20) {
		assert.False(t, Take(noise(300, seed), nil).Ramp.Found(), fmt.Sprint("noise ", seed))
	}
}
