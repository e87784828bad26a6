package marks

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

// mostHits returns the largest count that n tries of chance p may show: five standard deviations, and two for luck.
func mostHits(n int, p float64) int {
	return int(float64(n)*p+5*math.Sqrt(float64(n)*p)) + 2
}

// Bits are honest, whole: of random images, no more than 2^-b show any claim of b bits or more.
func TestRandomImagesShowNoMoreHeadersThanStated(t *testing.T) {
	images := 3000
	if testing.Short() || runtime.GOOS == "js" {
		images = 300
	}
	counts := map[int]int{}
	for seed := range images {
		rng := rand.New(rand.NewSource(int64(seed)))
		best := 0.0
		for _, h := range FindHeaders(randomBytes(rng, 64<<10), nil) {
			best = max(best, h.Bits)
			assert.NotEqual(t, CheckHolds, h.SelfCheck, "seed %d: %s, %.1f bits: once in millions", seed, h.Row, h.Bits)
			assert.False(t, h.Settles)
		}
		for b := leastHeaderBits; float64(b) <= best; b++ {
			counts[b]++
		}
	}
	t.Logf("random images of 64 KiB with a claim of so many bits or more, of %d: %v", images, counts)
	for b, count := range counts {
		assert.LessOrEqual(t, count, mostHits(images, math.Exp2(-float64(b))), "%d bits", b)
	}
}

// Bits are honest, row by row: at one place of random bytes a test gives b plain bits at most once in 2^b. Where a row
// looks for fixed first bytes these are given to it, and what they are worth is taken off.
func TestPlainBitsOfEachRow(t *testing.T) {
	images := 20000
	if testing.Short() || runtime.GOOS == "js" {
		images = 1000
	}
	for i := range HeaderRows {
		row := &HeaderRows[i]
		t.Run(row.ID, func(t *testing.T) {
			rng := rand.New(rand.NewSource(int64(i)))
			size := 4096
			if row.ID == "powerpc-vectors" {
				size = 16 << 10
			}
			counts := map[int]int{}
			for range images {
				data := randomBytes(rng, size)
				copy(data, row.lead)
				v := newHeaderView(data, arrange.Stored, oddsOf(data, nil))
				part := headerSpan{0, size}
				v.weigh(part, row.place)
				hit := row.test(v, part)
				if hit == nil {
					continue
				}
				plain := hit.bits - must(v.odds().exactly(row.lead))
				for b := 2; float64(b) <= plain; b++ {
					counts[b]++
				}
			}
			t.Logf("of %d: %v", images, counts)
			for b, count := range counts {
				assert.LessOrEqual(t, count, mostHits(images, math.Exp2(-float64(b))), "%d bits", b)
			}
		})
	}
}

// plainData is what dumps hold besides code, and what is no dump at all.
func plainData(t testing.TB) map[string][]byte {
	const n = 64 << 10
	rng := rand.New(rand.NewSource(42))
	of := map[string][]byte{"blank": bytes.Repeat([]byte{0xFF}, n), "zeros": make([]byte, n),
		"memory test pattern": bytes.Repeat([]byte{0x55, 0xAA}, n/2)}
	fill := func(name string, at func(b []byte, i int)) {
		b := make([]byte, n)
		for i := range b {
			at(b, i)
		}
		of[name] = b
	}
	fill("ramp of bytes", func(b []byte, i int) { b[i] = byte(i) })
	fill("ramp of big words", func(b []byte, i int) { put16(b[i&^1:], i/2) })
	fill("ramp of little words", func(b []byte, i int) { le16(b[i&^1:], i/2) })
	fill("ramp of big longs", func(b []byte, i int) { put32(b[i&^3:], i&^3) })
	fill("ramp of little longs", func(b []byte, i int) { binary.LittleEndian.PutUint32(b[i&^3:], uint32(i&^3)) })
	fill("offsets, big, rising unevenly", func(b []byte, i int) {
		if i%4 == 0 {
			last := 0x400
			if i > 0 {
				last = int(binary.BigEndian.Uint32(b[i-4:]))
			}
			put32(b[i:], last+2*rng.Intn(4))
		}
	})
	fill("records of 8", func(b []byte, i int) {
		if i%8 == 0 {
			copy(b[i:], []byte{0, 0, 0, byte(10 + rng.Intn(60)), 0, 0, byte(i >> 11), byte(i >> 3)})
		}
	})
	fill("sine, 16 bits", func(b []byte, i int) {
		put16(b[i&^1:], int(int16(32767*math.Sin(2*math.Pi*float64(i/2)/float64(n/2)))))
	})
	fill("sine, 8 bits", func(b []byte, i int) { b[i] = byte(int8(127 * math.Sin(2*math.Pi*float64(i)/256))) })
	fill("font of 8 lines", func(b []byte, i int) {
		if i%8 < 7 {
			b[i] = byte(rng.Intn(256)) & 0x7C & byte(rng.Intn(256)|0x10)
		}
	})
	fill("noise of few values", func(b []byte, i int) { b[i] = byte(rng.Intn(4)) })
	half := randomBytes(rng, n/2)
	fill("image and complement", func(b []byte, i int) {
		b[i] = half[i%(n/2)]
		if i >= n/2 {
			b[i] ^= 0xFF
		}
	})
	text := sourceText(t)
	of["text"] = text
	of["text in capitals"] = bytes.ToUpper(text)
	of["packed"] = flated(text)
	return of
}

// sourceText is this package's own source: English, tables and code.
func sourceText(t testing.TB) (text []byte) {
	t.Helper()
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		text = append(text, b...)
	}
	return text[:min(len(text), 256<<10)&^0xFFF]
}

func flated(data []byte) []byte {
	var out bytes.Buffer
	w, _ := flate.NewWriter(&out, flate.BestCompression)
	w.Write(data)
	w.Close()
	return out.Bytes()
}

// Data that is no ROM gives no claim above the weakest, in whole or in windows, though it is as regular as data can be.
func TestPlainDataShowsNoHeader(t *testing.T) {
	const weak = 10 // bits
	for name, data := range plainData(t) {
		for _, size := range []int{1 << 10, 4 << 10, 16 << 10, len(data)} {
			for at := 0; at+size <= len(data) && at < 64<<10; at += max(size, 8<<10) {
				for _, h := range FindHeaders(data[at:at+size], nil) {
					if h.Bits < weak && h.SelfCheck == CheckNone {
						t.Logf("%s: %s with %.1f bits", name, h.Row, h.Bits)
						continue
					}
					assert.Fail(t, name, "%s with %.1f bits, %s, in %d bytes from %X: %v", h.Row, h.Bits, h.Order, size, at, h.Detail)
				}
			}
		}
	}
}
