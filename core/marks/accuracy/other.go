package main

import (
	"bytes"
	"compress/flate"
	"compress/gzip"
	"encoding/binary"
	"io"
	"math"
	"math/rand"
	"os"
	"strings"
)

// otherPackages hold files that are no code at all: bitmap and outline fonts, sound, pictures, text in several languages,
// tables. gzip files are unpacked, and stand once more as they are.
var otherPackages = []struct{ label, pkg string }{
	{"bitmap fonts", "xfonts-base"},
	{"bitmap fonts", "kbd"},
	{"sound", "alsa-utils"},
	{"sound", "timgm6mb-soundfont"},
	{"text, French", "manpages-fr"},
	{"text, Russian", "manpages-ru"},
	{"text, Japanese", "manpages-ja"},
	{"text, German words", "hunspell-de-de"},
	{"tables", "geoip-database"},
	{"tables", "tzdata"},
	{"pictures", "gnome-icon-theme"},
	{"outline fonts", "fonts-freefont-ttf"},
	{"message catalogues", "bison"},
}

// inventions makes data of kinds that ROMs hold beside code, from a seed.
var inventions = []struct {
	label string
	make  func(rng *rand.Rand, n int) []byte
}{
	{"random", func(rng *rand.Rand, n int) []byte { b := make([]byte, n); rng.Read(b); return b }},
	{"all FF", func(_ *rand.Rand, n int) []byte { return bytes.Repeat([]byte{0xFF}, n) }},
	{"all 00", func(_ *rand.Rand, n int) []byte { return make([]byte, n) }},
	{"one value", func(rng *rand.Rand, n int) []byte { return bytes.Repeat([]byte{byte(rng.Intn(256))}, n) }},
	{"short period", func(rng *rand.Rand, n int) []byte {
		p := make([]byte, 1+rng.Intn(24))
		rng.Read(p)
		return bytes.Repeat(p, n/len(p)+1)[:n]
	}},
	{"compressed", func(rng *rand.Rand, n int) []byte {
		var out bytes.Buffer
		w, _ := flate.NewWriter(&out, 6)
		for out.Len() < n {
			b := make([]byte, 4096)
			for i := range b {
				b[i] = "etaoinshrdlu,. \n"[rng.Intn(16)]
			}
			w.Write(b)
			w.Flush()
		}
		return out.Bytes()[:n]
	}},
	{"small numbers", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		width := 1 << rng.Intn(3)
		for i := 0; i < n; i += width {
			b[min(n-1, i+width-1)] = byte(rng.Intn(40))
		}
		return b
	}},
	{"ramp", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		step, start := uint32(1+rng.Intn(300)), rng.Uint32()
		width := []int{2, 4}[rng.Intn(2)]
		for i := 0; i+4 <= n; i += width {
			if width == 2 {
				binary.BigEndian.PutUint16(b[i:], uint16(start))
			} else {
				binary.BigEndian.PutUint32(b[i:], start)
			}
			start += step
		}
		return b
	}},
	{"pointers", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		base := rng.Uint32() &^ 0xFFFFF
		for i := 0; i+4 <= n; i += 4 {
			v := base + uint32(rng.Intn(1<<17))&^1
			binary.BigEndian.PutUint32(b[i:], v)
		}
		return b
	}},
	{"records", func(rng *rand.Rand, n int) []byte {
		size := 6 + rng.Intn(26)
		model := make([]byte, size)
		rng.Read(model)
		vary := make([]int, size)
		for i := range vary {
			vary[i] = []int{0, 0, 3, 20, 256}[rng.Intn(5)]
		}
		b := make([]byte, n)
		for i := range b {
			b[i] = model[i%size]
			if v := vary[i%size]; v > 0 {
				b[i] += byte(rng.Intn(v))
			}
		}
		return b
	}},
	{"random walk", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		v, wide := 0, rng.Intn(2) == 0
		for i := 0; i+2 <= n; i += 2 {
			v += rng.Intn(401) - 200
			if wide {
				binary.LittleEndian.PutUint16(b[i:], uint16(v))
			} else {
				b[i], b[i+1] = byte(v>>6)+128, byte(v>>6)+129
			}
		}
		return b
	}},
	{"sine table", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		f := 0.001 + rng.Float64()*0.1
		for i := 0; i+2 <= n; i += 2 {
			binary.BigEndian.PutUint16(b[i:], uint16(int(32767*math.Sin(f*float64(i)))))
		}
		return b
	}},
	{"bitmap", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		row := 8 << rng.Intn(4)
		for i := range b {
			if i >= row && rng.Intn(10) > 0 {
				b[i] = b[i-row]
			} else {
				b[i] = []byte{0, 0, 0xFF, byte(0xFF << rng.Intn(8)), byte(0xFF >> rng.Intn(8)), 0xAA, 0x55}[rng.Intn(7)]
			}
		}
		return b
	}},
	{"made-up font", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		for i := range b {
			if i%16 > 2 && i%16 < 13 {
				b[i] = []byte{0x18, 0x3C, 0x66, 0x7E, 0x42, 0x81, 0xC3, 0x24, 0x10, 0x08, 0x60, 0x06}[rng.Intn(12)]
			}
		}
		return b
	}},
	{"skewed bytes", func(rng *rand.Rand, n int) []byte {
		b := make([]byte, n)
		for i := range b {
			b[i] = byte(rng.ExpFloat64() * 30)
		}
		return b
	}},
}

// others returns windows of size bytes that hold no code, by label.
func (c corpus) others(size, each int, seed int64) map[string][][]byte {
	all := map[string][][]byte{}
	for n, kind := range inventions {
		rng := rand.New(rand.NewSource(seed + int64(n)))
		for range each {
			all[kind.label] = append(all[kind.label], kind.make(rng, size))
		}
	}
	for n, p := range otherPackages {
		rng := rand.New(rand.NewSource(seed + 100 + int64(n)))
		var pool [][]byte
		for _, path := range c.walk(p.pkg) {
			if strings.Contains(path, "/bin/") || strings.Contains(path, "/sbin/") || strings.Contains(path, "/lib/") {
				continue
			}
			file, err := os.ReadFile(path)
			if err != nil || len(file) < 300 {
				continue
			}
			pool = append(pool, file)
			if z, err := gzip.NewReader(bytes.NewReader(file)); err == nil {
				plain, _ := io.ReadAll(z)
				pool = append(pool, plain)
			}
		}
		joined := bytes.Join(pool, nil)
		if len(joined) <= size {
			continue
		}
		for range each {
			from := rng.Intn(len(joined) - size)
			all[p.label] = append(all[p.label], joined[from:from+size])
		}
	}
	return all
}
