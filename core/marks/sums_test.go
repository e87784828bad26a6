package marks

import (
	"encoding/binary"
	"math"
	"math/bits"
	"math/rand"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/words"
)

// The sums, computed the plain way over bytes as they stand: what the fast way is held against.

func plainWords(b []byte) (sum uint32) {
	for i := 0; i+2 <= len(b); i += 2 {
		sum += uint32(binary.BigEndian.Uint16(b[i:]))
	}
	return sum
}

func plainLongs(b []byte) (sum uint32) {
	for i := 0; i+4 <= len(b); i += 4 {
		sum += binary.BigEndian.Uint32(b[i:])
	}
	return sum
}

func plainOnes(b []byte) (sum uint32) {
	for i := 0; i+4 <= len(b); i += 4 {
		carry := uint32(0)
		sum, carry = bits.Add32(sum, binary.BigEndian.Uint32(b[i:]), 0)
		sum += carry
	}
	return sum
}

func plainBytes(b []byte) (sum uint32, xor byte) {
	for _, c := range b {
		sum += uint32(c)
		xor ^= c
	}
	return sum, xor
}

// Two ways, one answer: the sums of every order from one count of bytes, against adding up the arranged image.
func TestSumSetAgainstPlainSums(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for _, n := range []int{4, 256, 1024, 4096} {
		data := randomBytes(rng, n)
		var tally sumTally
		tally.add(data)
		for x := range 4 {
			for _, mirrored := range []bool{false, true} {
				order := sumOrder(x, mirrored)
				arranged := order.Apply(data)
				s := tally.set(n, mirrored).exchanged(x)
				sum, xor := plainBytes(arranged)
				xors := uint16(0)
				for i := 0; i < n; i += 2 {
					xors ^= binary.BigEndian.Uint16(arranged[i:])
				}
				assert.Equal(t, sum, uint32(s.bytes()), order)
				assert.Equal(t, xor, s.xorBytes(), order)
				assert.Equal(t, xors, s.xorWords(), order)
				assert.Equal(t, plainWords(arranged), uint32(s.words()), order)
				assert.Equal(t, plainLongs(arranged), uint32(s.longs()), order)
				assert.Equal(t, plainOnes(arranged), s.onesLongs(), order)
			}
		}
	}
}

// plantLeading stores the sum of the 16-bit words from 4 on at 0.
func plantLeading(b []byte) { put32(b, int(plainWords(b[4:]))) }

// plantOnes stores the size 20 bytes before the end, and 24 before it what makes the sum FFFFFFFF.
func plantOnes(b []byte) {
	put32(b[len(b)-20:], len(b))
	put32(b[len(b)-24:], 0)
	put32(b[len(b)-24:], int(^plainOnes(b)))
}

var plantedSums = []struct {
	row   string
	plant func(b []byte)
}{
	{"leading-words", plantLeading},
	{"closing-ones", plantOnes},
	{"closing-longs", func(b []byte) {
		put32(b[len(b)-4:], 0)
		put32(b[len(b)-4:], int(-plainLongs(b)))
	}},
	{"closing-words", func(b []byte) {
		put16(b[len(b)-2:], 0)
		put16(b[len(b)-2:], int(-plainWords(b)))
	}},
	{"closing-bytes16", func(b []byte) {
		clear(b[len(b)-258:])
		sum, _ := plainBytes(b)
		for i := len(b) - 258; i < len(b)-1; i++ { // as much as fits in each byte
			b[i] = byte(min(255, uint16(-sum)))
			sum += uint32(b[i])
		}
		b[len(b)-1] = byte(-sum)
	}},
	{"closing-xor16", func(b []byte) {
		x := uint16(0)
		for i := 0; i < len(b)-2; i += 2 {
			x ^= binary.BigEndian.Uint16(b[i:])
		}
		put16(b[len(b)-2:], int(x))
	}},
	{"closing-bytes8", closeBytes},
	{"closing-xor8", func(b []byte) {
		_, x := plainBytes(b[:len(b)-1])
		b[len(b)-1] = x
	}},
}

func sumsOfRow(found []BuiltInSum, row string) (of []BuiltInSum) {
	for _, s := range found {
		if s.Row == row {
			of = append(of, s)
		}
	}
	return of
}

func TestEverySumRowHasAnExample(t *testing.T) {
	require.Len(t, plantedSums, len(SumRows))
	for i, r := range SumRows {
		assert.Equal(t, r.ID, plantedSums[i].row)
		assert.NotEmpty(t, r.Source)
	}
}

// Each sum, planted in the whole image, in a half and in a quarter, stored in each order: found over that stretch, in
// that order, and settled where the row can settle.
func TestPlantedSumIsFound(t *testing.T) {
	parts := []struct {
		name     string
		from, to int
	}{{"whole image", 0, 4}, {"second half", 2, 4}, {"first quarter", 0, 1}, {"last quarter", 3, 4}}
	for _, p := range plantedSums {
		row := sumRow(t, p.row)
		for _, part := range parts {
			if row.whole && part.to-part.from == 1 {
				continue
			}
			rng := rand.New(rand.NewSource(7))
			image := randomBytes(rng, 64<<10)
			quarter := len(image) / 4
			p.plant(image[part.from*quarter : part.to*quarter])
			for _, order := range arrange.Orders() {
				if order.IsMirrored() && len(row.mirrors) == 1 && !row.xor {
					continue // narrow sums are not looked for in mirrored bytes
				}
				found := sumsOfRow(FindSums(order.Apply(image), nil), p.row)
				require.Len(t, found, 1, "%s, %s, %s", p.row, part.name, order)
				s := found[0]
				assert.Equal(t, part.name, s.Part)
				assert.Equal(t, part.from*quarter, s.From)
				assert.Equal(t, part.to*quarter, s.To)
				assert.Equal(t, s.Expected, s.Found)
				assert.Equal(t, row.settles, s.Settles, "%s, %s", p.row, order)
				if row.Width == 32 {
					assert.Equal(t, order, s.Order, p.row)
					assert.Greater(t, s.Bits, 22.0)
				} else {
					assert.Contains(t, append(s.Also, s.Order), order, p.row)
				}
				if row.leading {
					assert.Equal(t, s.From, s.At)
				}
			}
		}
	}
}

func sumRow(t *testing.T, id string) SumRow {
	for _, r := range SumRows {
		if r.ID == id {
			return r
		}
	}
	require.Fail(t, "no row "+id)
	return SumRow{}
}

// Without the size before its end a sum with end-around carry closes in two orders alike, and says so.
func TestOnesSumCannotTellHalves(t *testing.T) {
	image := randomBytes(rand.New(rand.NewSource(2)), 32<<10)
	put32(image[len(image)-4:], 0)
	put32(image[len(image)-4:], int(^plainOnes(image)))
	found := sumsOfRow(FindSums(arrange.Swapped.Apply(image), nil), "closing-ones")
	require.Len(t, found, 1)
	assert.Equal(t, arrange.Swapped, found[0].Order)
	assert.Equal(t, []arrange.Arrangement{arrange.Reversed}, found[0].Also)
	assert.False(t, found[0].Settles)
}

// A dump that repeats its image is told by the image.
func TestSumsOfADoubledImage(t *testing.T) {
	image := randomBytes(rand.New(rand.NewSource(2)), 32<<10)
	plantLeading(image)
	found := FindSums(arrange.Repeat(image, 4), nil)
	require.Len(t, found, 1)
	assert.Equal(t, 4, found[0].Copies)
	assert.Equal(t, len(image), found[0].To)
	assert.Contains(t, found[0].Detail, "the dump is 4 copies of this image")
	assert.Empty(t, FindSums(arrange.Repeat(randomBytes(rand.New(rand.NewSource(3)), 32<<10), 4), nil),
		"what stands twice cancels in any exclusive-or, and that is no evidence")
}

// Two 68000 system ROMs that others made, which headers of this kind are known from: stored in each order, the sum with
// end-around carry closes and settles that order. Their source: open firmware in Debian's packages (testdata/firmware.sh).
func TestSumsOfOpenSystemROMs(t *testing.T) {
	for _, name := range []string{"system-68000-1.rom", "system-68000-2.rom"} {
		image := openFirmware(t, name)
		require.Equal(t, uint32(math.MaxUint32), plainOnes(image), "the plain way")
		for _, order := range arrange.Orders() {
			found := FindSums(order.Apply(image), nil)
			require.Len(t, found, 1)
			assert.Equal(t, "closing-ones", found[0].Row)
			assert.Equal(t, order, found[0].Order)
			assert.True(t, found[0].Settles)
		}
	}
}

// Expansion ROMs whose length is that of the file close over the whole of it.
func TestSumsOfOpenExpansionROMs(t *testing.T) {
	for _, name := range []string{"vgabios.bin", "sgabios.bin", "pxe-e1000.rom"} {
		found := FindSums(openFirmware(t, name), nil)
		require.Len(t, found, 1, name)
		assert.Equal(t, "closing-bytes8", found[0].Row)
		assert.Less(t, found[0].Bits, 8.0, "eight bits are a hint")
	}
}

// Bits are honest: of random images no more than 2^-b show a sum of b bits or more, and sums of 32 bits none.
func TestRandomImagesShowNoMoreSumsThanStated(t *testing.T) {
	images := 5000
	if testing.Short() || runtime.GOOS == "js" {
		images = 500
	}
	counts := map[int]int{}
	for seed := range images {
		best := 0.0
		for _, s := range FindSums(randomBytes(rand.New(rand.NewSource(int64(seed))), 64<<10), nil) {
			best = max(best, s.Bits)
			assert.False(t, s.Settles)
		}
		for b := leastSumBits; float64(b) <= best; b++ {
			counts[b]++
		}
	}
	t.Logf("random images of 64 KiB with a sum of so many bits or more, of %d: %v", images, counts)
	for b, count := range counts {
		// Widths 8 and 16 both count at their weakest: twice the chance.
		assert.LessOrEqual(t, count, mostHits(images, 2*math.Exp2(-float64(b))), "%d bits", b)
	}
	assert.NotEmpty(t, counts, "some sums of eight bits close by chance")
}

// Data of little information closes sums by itself: none is told. Text and packed data may show a narrow one.
func TestPlainDataShowsNoSum(t *testing.T) {
	for name, data := range plainData(t) {
		for _, s := range FindSums(data, nil) {
			if name == "text" || name == "text in capitals" || name == "packed" || name == "font of 8 lines" || name == "records of 8" {
				assert.Less(t, s.Width, 16, "%s: %s", name, s.Row)
				continue
			}
			assert.Fail(t, name, "%s over the %s with %.1f bits", s.Row, s.Part, s.Bits)
		}
	}
}

func FuzzFindSums(f *testing.F) {
	for _, p := range plantedSums {
		image := randomBytes(rand.New(rand.NewSource(1)), 4<<10)
		p.plant(image)
		f.Add(image)
	}
	f.Add([]byte{})
	f.Add(make([]byte, 1024))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 64<<10 {
			return
		}
		reached := 0
		for _, s := range FindSums(data, func(done int) { reached = done }) {
			covered := s.Order.Apply(data)[s.From:s.To]
			closes := map[string]bool{
				"leading-words": len(covered) >= 4 && binary.BigEndian.Uint32(covered) == plainWords(covered[4:]),
				"closing-ones":  plainOnes(covered) == math.MaxUint32, "closing-longs": plainLongs(covered) == 0,
				"closing-words": uint16(plainWords(covered)) == 0,
			}
			sum, xor := plainBytes(covered)
			closes["closing-bytes16"], closes["closing-bytes8"], closes["closing-xor8"] = uint16(sum) == 0, byte(sum) == 0, xor == 0
			if closed, known := closes[s.Row]; known && !closed || s.Bits < leastSumBits || s.Copies < 1 {
				t.Fatalf("%s over %X to %X does not close in the plain way", s.Row, s.From, s.To)
			}
		}
		if reached != len(data) {
			t.Fatalf("progress ended at %d of %d", reached, len(data))
		}
	})
}

func BenchmarkFindSums(b *testing.B) {
	for _, size := range []int{512 << 10, 64 << 20} {
		data := randomBytes(rand.New(rand.NewSource(1)), size)
		b.Run(words.Size(size), func(b *testing.B) {
			b.SetBytes(int64(size))
			for b.Loop() {
				FindSums(data, nil)
			}
		})
	}
}
