package survey

import (
	"bytes"
	"compress/flate"
	"math"
	"strconv"
	"strings"
	"testing"

	"lunette/core/outside"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEntropyOfWorkedExamples holds the values that C. E. Shannon works out in "A Mathematical Theory of Communication",
// 1948: section 6 (certainty has none, a fair choice of two has one bit, n equal choices have log2 n) and the four letters
// of section 9 with probabilities 1/2, 1/4, 1/8 and 1/8, which have 7/4 bits.
func TestEntropyOfWorkedExamples(t *testing.T) {
	everyByte := make([]byte, 256)
	for i := range everyByte {
		everyByte[i] = byte(i)
	}
	for _, example := range []struct {
		want float64 // bits per byte
		name string
		data []byte
	}{
		{0, "certainty", bytes.Repeat([]byte{0xA5}, 1000)},
		{1, "a fair coin", bytes.Repeat([]byte("HT"), 128)},
		{math.Log2(3), "three equal choices", bytes.Repeat([]byte("ABC"), 100)},
		{1.75, "four letters", bytes.Repeat([]byte("AABACABD"), 16)},
		{8, "all values equally often", bytes.Repeat(everyByte, 3)},
		{8, "all values once", everyByte},
		{0, "one byte", []byte{7}},
		{0, "nothing", nil},
	} {
		s := Take(example.data, nil)
		assert.InDelta(t, example.want, s.Entropy(), 1e-12, example.name)
		if len(example.data) == 256 || len(example.data) == 1 {
			assert.InDelta(t, example.want, s.Blocks[0].Entropy, 1e-6, example.name)
		}
	}
}

// TestBlocksAgainstPython compares with Python's Counter and log2, and with bytes.translate for what is printable.
func TestBlocksAgainstPython(t *testing.T) {
	const program = `
import sys, collections, math
size = int(sys.argv[1])
data = sys.stdin.buffer.read()
text = bytes(range(0x20, 0x7F)) + b"\t"
for i in range(0, len(data), size):
    block = data[i:i+size]
    h = sum(c/len(block) * math.log2(len(block)/c) for c in collections.Counter(block).values())
    print(h, block.count(0xFF), block.count(0), len(block) - len(block.translate(None, text)))
`
	for _, n := range []int{100, 70001, 5 << 20} {
		data := board(n)
		s := Take(data, nil)
		output := outside.Run(t, "python3", data, "-c", program, strconv.Itoa(s.BlockSize))
		lines := strings.Fields(string(output))
		require.Len(t, lines, 4*len(s.Blocks))
		for i, block := range s.Blocks {
			entropy, err := strconv.ParseFloat(lines[4*i], 64)
			require.NoError(t, err)
			require.InDelta(t, entropy, block.Entropy, 1e-5, "block %d", i)
			counts := []string{}
			for _, count := range []uint32{block.FF, block.Zero, block.Text} {
				counts = append(counts, strconv.Itoa(int(count)))
			}
			require.Equal(t, lines[4*i+1:4*i+4], counts, "block %d", i)
		}
	}
}

// TestCountsAboveTheTable holds for a block in which values occur more often than the table of logarithms reaches.
func TestCountsAboveTheTable(t *testing.T) {
	data := make([]byte, 16<<20) // blocks of 32 KiB
	for i := range data {
		data[i] = byte(i % 3 / 2 * (i >> 15 & 0xFF))
	}
	s := Take(data, nil)
	for i := 0; i < len(s.Blocks); i += 100 {
		from, to := s.Span(i)
		require.InDelta(t, plainEntropy(data[from:to]), s.Blocks[i].Entropy, 1e-6)
	}
	assert.InDelta(t, math.Log2(3)-2.0/3, s.Blocks[1].Entropy, 1e-3, "two thirds of one value, one third of another")
}

// TestRandomBytes compares the expected entropy with that of many random blocks, and with the bias of first order,
// (256-1)/(2n ln2) below 8 bits, that G. A. Miller gives for long samples ("Note on the bias of information estimates",
// 1955; from memory).
func TestRandomBytes(t *testing.T) {
	for _, n := range []int{16, 256, 512, 4096} {
		const rounds = 400
		expected := randomBytes(n)
		sum, squares := 0.0, 0.0
		for seed := range rounds {
			h := plainEntropy(noise(n, uint64(1000*n+seed)))
			sum += h
			squares += h * h
		}
		mean := sum / rounds
		deviation := math.Sqrt(squares/rounds - mean*mean)
		assert.InDelta(t, mean, expected.mean, 5*deviation/math.Sqrt(rounds), "%d bytes", n)
		if n >= 256 {
			assert.InEpsilon(t, deviation, expected.deviation, 0.25, "%d bytes", n)
		}
	}
	for _, n := range []int{4096, 65536, 1 << 24} {
		bias := 255 / (2 * float64(n) * math.Ln2)
		assert.InEpsilon(t, bias, 8-randomBytes(n).mean, 0.05, "%d bytes", n)
	}
	assert.Zero(t, randomBytes(1).mean)
	assert.InDelta(t, 1-1.0/256, randomBytes(2).mean, 1e-12, "two bytes are equal once in 256, else one bit")
}

// TestKinds holds the thresholds at their edges.
func TestKinds(t *testing.T) {
	half := func(a, b byte) []byte { return append(bytes.Repeat([]byte{a}, 128), bytes.Repeat([]byte{b}, 128)...) }
	counting := make([]byte, 256)
	for i := range counting {
		counting[i] = byte(i * 167)
	}
	letters := func(printable int) []byte {
		text := bytes.Repeat([]byte("ROM test "), 40)[:printable]
		return append(text, bytes.Repeat([]byte{0x80, 0x91, 0xA2}, 86)[:256-printable]...)
	}
	eight := bytes.Repeat([]byte{1, 2, 3, 4, 5, 6, 7, 8}, 32)
	for _, claim := range []struct {
		want Kind
		name string
		data []byte
	}{
		{BlankFF, "blank FF", bytes.Repeat([]byte{0xFF}, 256)},
		{Blank00, "blank 00", make([]byte, 256)},
		{Constant, "constant", bytes.Repeat([]byte{' '}, 256)},
		{BlankFF, "one byte FF", []byte{0xFF}},
		{Constant, "one byte", []byte{'A'}},
		{Printed, "218 of 256 printable, just over 85 %", letters(218)},
		{Mixed, "217 of 256 printable, just under 85 %", letters(217)},
		{Sparse, "half FF, half 00", half(0xFF, 0)},
		{Sparse, "1 bit per byte", half(0x80, 0x81)},
		{Mixed, "3 bits per byte", eight},
		{Sparse, "just under 3 bits per byte", append([]byte{2}, eight[1:]...)},
		{Mixed, "machine code-like", skewed(256, 4)},
		{Dense, "noise", noise(256, 4)},
		{Mixed, "255 bytes of noise are too short to tell", noise(255, 4)},
		{Mixed, "a counting table is more even than chance", counting},
		{Sparse, "two values in a short block", []byte{1, 1, 1, 1, 1, 1, 1, 2}},
		{Mixed, "eight values in a short block", []byte{1, 2, 3, 4, 5, 6, 7, 8}},
	} {
		assert.Equal(t, claim.want, Take(claim.data, nil).Blocks[0].Kind, claim.name)
	}
	assert.Equal(t, "blank FF blank 00 constant text sparse mixed dense", strings.Join([]string{BlankFF.String(),
		Blank00.String(), Constant.String(), Printed.String(), Sparse.String(), Mixed.String(), Dense.String()}, " "))
}

// TestHowOftenDenseIsRight counts on data that no threshold was chosen on: noise and packed text must nearly always be
// dense, and program code never.
func TestHowOftenDenseIsRight(t *testing.T) {
	share := func(data []byte) float64 {
		s := Take(data, nil)
		dense := 0
		for _, block := range s.Blocks {
			if block.Kind == Dense {
				dense++
			}
		}
		t.Logf("%d of %d blocks of %d bytes are dense", dense, len(s.Blocks), s.BlockSize)
		return float64(dense) / float64(len(s.Blocks))
	}
	for _, n := range []int{256 << 10, 512 << 10, 2 << 20} {
		assert.Greater(t, share(noise(n, 77)), 0.998, "noise")
	}

	var packed bytes.Buffer
	packer, err := flate.NewWriter(&packed, flate.BestCompression)
	require.NoError(t, err)
	_, err = packer.Write(skewed(400<<10, 78))
	require.NoError(t, err)
	require.NoError(t, packer.Close())
	assert.Greater(t, share(packed.Bytes()), 0.99, "packed")

	if code := ownCode(); code != nil {
		assert.Less(t, share(code[:min(len(code), 256<<10)]), 0.001, "program code")
		assert.Less(t, share(code[:min(len(code), 1<<20)]), 0.001, "program code")
	} else {
		t.Log("the code of this test is in no ELF file here; its rate is measured where it is")
	}
}
