package survey

import (
	"bytes"
	"math"
	"math/bits"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The obvious way to each answer, written from the comments of Survey alone. What is fast must agree with it.

func plainSurvey(data []byte) *Survey {
	s := &Survey{Size: len(data), BlockSize: 256}
	for (s.Size+s.BlockSize-1)/s.BlockSize > MaxBlocks {
		s.BlockSize *= 2
	}
	for block := range slices.Chunk(data, s.BlockSize) {
		s.Blocks = append(s.Blocks, plainBlock(block))
	}
	for _, value := range data {
		s.Histogram[value]++
	}
	s.Blank, s.Tail = plainRuns(data)
	s.Texts, s.TextRuns, s.TextBytes = plainTexts(data)
	s.Period = plainPeriod(data)
	copy(s.X8[:], plainLines(len(s.X8), len(data), func(i int) uint { return uint(data[i]) }))
	copy(s.X16[:], plainLines(len(s.X16), len(data)/2, func(i int) uint {
		return uint(data[2*i]) | uint(data[2*i+1])<<8
	}))
	s.Address = plainAddress(data)
	s.Ramp = plainRamp(data)
	return s
}

func plainEntropy(data []byte) (h float64) {
	for value := range 256 {
		if p := float64(bytes.Count(data, []byte{byte(value)})) / float64(len(data)); p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return h
}

func plainText(b byte) bool { return b >= 0x20 && b <= 0x7E || b == '\t' }

func plainBlock(data []byte) Block {
	b := Block{Entropy: float32(plainEntropy(data))}
	for _, value := range data {
		if value == 0xFF {
			b.FF++
		}
		if value == 0 {
			b.Zero++
		}
		if plainText(value) {
			b.Text++
		}
	}
	b.Kind = plainKind(data, b)
	return b
}

func plainKind(data []byte, b Block) Kind {
	n := len(data)
	random := randomBytes(n)
	switch entropy := float64(b.Entropy); {
	case int(b.FF) == n:
		return BlankFF
	case int(b.Zero) == n:
		return Blank00
	case bytes.Count(data, data[:1]) == n:
		return Constant
	case float64(b.Text)/float64(n) >= 0.85:
		return Printed
	case entropy < 3 && n >= 256 || n < 256 && entropy < math.Log2(float64(n))*3/8:
		return Sparse
	case n >= 256 && entropy >= random.mean*0.97 && entropy <= random.mean+6*random.deviation:
		return Dense
	}
	return Mixed
}

func plainRuns(data []byte) (runs Runs, tail Run) {
	for from := 0; from < len(data); {
		to := from + 1
		for to < len(data) && data[to] == data[from] {
			to++
		}
		tail = Run{from, to, data[from]}
		if tail.Len() >= 32 {
			runs.Longest = append(runs.Longest, tail)
			runs.Count++
			runs.Bytes += tail.Len()
			switch tail.Value {
			case 0xFF:
				runs.FF += tail.Len()
			case 0:
				runs.Zero += tail.Len()
			}
		}
		from = to
	}
	slices.SortStableFunc(runs.Longest, func(a, b Run) int { return b.Len() - a.Len() })
	runs.Longest = runs.Longest[:min(len(runs.Longest), 256)]
	slices.SortFunc(runs.Longest, func(a, b Run) int { return a.From - b.From })
	return runs, tail
}

func plainTexts(data []byte) (texts []Text, count, total int) {
	from := 0
	for at := 0; at <= len(data); at++ {
		if at < len(data) && plainText(data[at]) {
			continue
		}
		if at-from >= 6 {
			texts = append(texts, Text{from, at})
			count++
			total += at - from
		}
		from = at + 1
	}
	slices.SortStableFunc(texts, func(a, b Text) int { return b.Len() - a.Len() })
	return texts[:min(len(texts), 200)], count, total
}

func plainPeriod(data []byte) int {
	for p := 1; p < len(data); p *= 2 {
		if bytes.Equal(data[p:], data[:len(data)-p]) {
			return p
		}
	}
	return 0
}

func plainLines(n, reads int, read func(i int) uint) []Line {
	lines := make([]Line, n)
	apart := make([]uint, n) // bit k of apart[j]: lines j and k differed
	for i := range reads {
		word := read(i)
		for j := range lines {
			bit := word >> j & 1
			lines[j].Ones += int(bit)
			apart[j] |= word ^ -bit
		}
	}
	for j := range lines {
		lines[j].Of, lines[j].SameAs = reads, -1
		if lines[j].Ones == 0 || lines[j].Ones == reads {
			continue
		}
		for k := n - 1; k >= 0; k-- {
			if k != j && apart[j]>>k&1 == 0 {
				lines[j].SameAs = k
			}
		}
	}
	return lines
}

// plainAddress gives the first witness.
func plainAddress(data []byte) (lines []AddressLine) {
	for bit := 0; 1<<bit < len(data); bit++ {
		line := AddressLine{Bit: bit, Witness: -1}
		for a := range data {
			if other := a ^ 1<<bit; a < other && other < len(data) {
				line.Pairs++
				if line.Witness < 0 && data[a] != data[other] {
					line.Witness = a
				}
			}
		}
		lines = append(lines, line)
	}
	return lines
}

func plainRamp(data []byte) (best Ramp) {
	for _, p := range patterns {
		same, inverted := 0, 0
		for a, value := range data {
			shift := p.even
			if a&1 == 1 {
				shift = p.odd
			}
			want := byte(uint(a) >> shift & 0xFF)
			if value == want {
				same++
			}
			if value == 0xFF-want {
				inverted++
			}
		}
		for i, n := range []int{same, inverted} {
			if len(data)>>min(p.even, p.odd) >= 256 && len(data)-n <= len(data)/16 && n > best.Matches {
				best = Ramp{p.name, i == 1, n, len(data)}
			}
		}
	}
	return best
}

// requirePlain requires that Take finds in data what the plain way finds.
func requirePlain(t testing.TB, data []byte) {
	t.Helper()
	before := bytes.Clone(data)
	got, want := Take(data, nil), plainSurvey(data)
	require.True(t, bytes.Equal(before, data), "Take changed the dump")

	require.Len(t, got.Blocks, len(want.Blocks))
	for i := range got.Blocks {
		require.InDelta(t, want.Blocks[i].Entropy, got.Blocks[i].Entropy, 1e-5, "entropy of block %d", i)
		from, to := got.Span(i)
		want.Blocks[i].Entropy = got.Blocks[i].Entropy // then thresholds fall alike
		want.Blocks[i].Kind = plainKind(data[from:to], got.Blocks[i])
	}
	require.Len(t, got.Address, len(want.Address))
	for i, line := range got.Address {
		if want.Address[i].Witness >= 0 && line.Witness >= 0 {
			other := line.Witness | 1<<line.Bit
			require.Zero(t, line.Witness>>line.Bit&1)
			require.NotEqual(t, data[line.Witness], data[other], "witness of address bit %d", i)
			want.Address[i].Witness = line.Witness // any will do
		}
	}
	require.Equal(t, want.Size, got.Size)
	require.Equal(t, want.BlockSize, got.BlockSize)
	for i := range want.Blocks {
		require.Equal(t, want.Blocks[i], got.Blocks[i], "block %d", i)
	}
	require.Equal(t, want.Histogram, got.Histogram)
	require.Equal(t, want.Blank, got.Blank)
	require.Equal(t, want.Tail, got.Tail)
	require.Equal(t, want.Texts, got.Texts)
	require.Equal(t, want.TextRuns, got.TextRuns)
	require.Equal(t, want.TextBytes, got.TextBytes)
	require.Equal(t, want.Period, got.Period)
	require.Equal(t, want.X8, got.X8)
	require.Equal(t, want.X16, got.X16)
	require.Equal(t, want.Address, got.Address)
	require.Equal(t, want.Ramp, got.Ramp)
	if len(data) > 0 {
		require.InDelta(t, plainEntropy(data), got.Entropy(), 1e-9)
	}
}

// contents are the ways to fill n bytes that are surveyed at many lengths.
var contents = []struct {
	name string
	fill func(n int) []byte
}{
	{"noise", func(n int) []byte { return noise(n, uint64(n)) }},
	{"skewed", func(n int) []byte { return skewed(n, uint64(n)) }},
	{"text", prose},
	{"board", board},
	{"all FF", func(n int) []byte { return bytes.Repeat([]byte{0xFF}, n) }},
	{"all 55", func(n int) []byte { return bytes.Repeat([]byte{0x55}, n) }},
	{"zeros but one", func(n int) []byte {
		data := make([]byte, n)
		if n > 0 {
			data[n*2/3] = 0x80
		}
		return data
	}},
	{"a page repeated", func(n int) []byte { return bytes.Repeat(noise(64, 5), n/64+1)[:n] }},
	{"two halves", func(n int) []byte {
		return append(make([]byte, n/2), bytes.Repeat([]byte{0x20}, n-n/2)...)
	}},
	{"both bytes of a word alike", func(n int) []byte {
		data := noise(n, 6)
		for i := 1; i < n; i += 2 {
			data[i] = data[i-1]
		}
		return data
	}},
	{"no line A1, A5 and A9", func(n int) []byte {
		return ramp(n, func(a int) byte { return byte(bits.Reverse16(uint16(a&^0x222*40503)) >> 3) })
	}},
	{"ramp", func(n int) []byte { return ramp(n, func(a int) byte { return byte(a) }) }},
	{"short runs and texts", func(n int) []byte {
		random := seeded(7)
		var data []byte
		for len(data) < n {
			value := []byte{0, 0xFF, ' ', '~', '\t', 0x7F, 0x80 | 'A'}[random.IntN(7)]
			data = append(data, bytes.Repeat([]byte{value}, random.IntN(70))...)
			data = append(data, noise(random.IntN(9), uint64(len(data)))...)
		}
		return data[:n]
	}},
}

// TestTakeAgreesWithThePlainWay holds at lengths around every group, window, block and power of two.
func TestTakeAgreesWithThePlainWay(t *testing.T) {
	lengths := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 15, 16, 17, 31, 32, 33, 39, 40, 41, 59, 63, 64, 65, 127, 255, 256, 257,
		511, 513, 1000, 4095, 4096, 4097, 12305, 49152, 65535, 65536, 65537, 3<<17 + 300}
	for _, content := range contents {
		t.Run(content.name, func(t *testing.T) {
			for _, n := range lengths {
				if n > 1<<17 && testing.Short() {
					continue
				}
				requirePlain(t, content.fill(n))
			}
		})
	}
}

// FuzzTake looks for a dump that Take and the plain way see differently.
func FuzzTake(f *testing.F) {
	for _, content := range contents {
		for _, n := range []int{0, 1, 31, 100, 513, 2000} {
			f.Add(content.fill(n), uint16(1))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte, times uint16) {
		if len(data) > 1024 {
			t.Skip("longer than needed")
		}
		// Repeating reaches lengths and periods that a fuzzer does not come upon.
		data = bytes.Repeat(data, int(times%8)+1)
		requirePlain(t, data)
	})
}
