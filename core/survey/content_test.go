package survey

import (
	"bytes"
	"math/rand/v2"
)

// The contents that tests and benchmarks survey. All are made here, the same at every run.

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x4C756E65747465)) }

// noise returns n random bytes.
func noise(n int, seed uint64) []byte {
	random := seeded(seed)
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(random.Uint32())
	}
	return data
}

// skewed returns n bytes of which some values are much more frequent than others, as in machine code.
func skewed(n int, seed uint64) []byte {
	random := seeded(seed)
	data := make([]byte, n)
	for i := range data {
		a, b := random.IntN(256), random.IntN(256)
		data[i] = byte(a*b>>8) &^ byte(b&1)
	}
	return data
}

// prose returns n bytes of lines of text.
func prose(n int) []byte {
	lines := "HALDEN HX-16 SYSTEM ROM\r\nUnit 2: no disk in the drive.\r\nPress any key to try again\x00Parity, address "
	return bytes.Repeat([]byte(lines), n/len(lines)+1)[:n]
}

// board returns n bytes as a system ROM has them: half of it code and tables, some text, a packed picture, a font, and
// the rest blank.
func board(n int) []byte {
	data := bytes.Repeat([]byte{0xFF}, n)
	at := func(sixteenths int, part []byte) { copy(data[n*sixteenths/16:], part) }
	at(0, skewed(n*8/16, 1))
	at(8, prose(n*1/16))
	at(9, noise(n*2/16, 2))
	at(11, bytes.Repeat([]byte{0, 0x18, 0x24, 0x42, 0x7E, 0x42, 0x42, 0, 0, 0, 0, 0}, n/12+1)[:n/16])
	at(12, make([]byte, n/16))
	return data
}
