package inflate_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/inflate"
)

// bitWriter writes a stream by hand: numbers lowest bit first, codes highest bit first (RFC 1951, 3.1.1).
type bitWriter struct {
	bytes []byte
	held  int // bits in use of the last byte
}

func (w *bitWriter) bit(b int) {
	if w.held%8 == 0 {
		w.bytes = append(w.bytes, 0)
	}
	w.bytes[len(w.bytes)-1] |= byte(b << (w.held % 8))
	w.held++
}

func (w *bitWriter) number(value, bits int) {
	for i := range bits {
		w.bit(value >> i & 1)
	}
}

func (w *bitWriter) code(code, bits int) {
	for i := bits - 1; i >= 0; i-- {
		w.bit(code >> i & 1)
	}
}

// dynamic begins the last block, with codes of these lengths: section 3.2.7. The code lengths 0 to 15 are given by codes
// of four bits each, code n for length n, and no repeats.
func (w *bitWriter) dynamic(literals, distances []int) {
	w.number(1, 1)
	w.number(2, 2)
	w.number(len(literals)-257, 5)
	w.number(len(distances)-1, 5)
	w.number(19-4, 4)
	for place := range 19 {
		w.number([]int{0, 4}[min(1, max(0, place-2))], 3) // 16, 17 and 18 come first
	}
	for _, length := range append(append([]int{}, literals...), distances...) {
		w.code(length, 4)
	}
}

// lengthsOf returns n lengths, 0 but for these.
func lengthsOf(n int, of map[int]int) []int {
	all := make([]int, n)
	for symbol, length := range of {
		all[symbol] = length
	}
	return all
}

// Streams at the edges of the standard, written by hand; what they hold, or nil where they are damaged. compress/flate and
// zlib are asked too.
func crafted() map[string]struct{ stream, want []byte } {
	all := map[string]struct{ stream, want []byte }{}
	add := func(name string, want []byte, write func(w *bitWriter)) {
		var w bitWriter
		write(&w)
		all[name] = struct{ stream, want []byte }{w.bytes, want}
	}
	// Codes of two bits: 00 for the literal "a", 01 for the end, 10 for length 3 and 11 for length 258.
	four := lengthsOf(286, map[int]int{'a': 2, 256: 2, 257: 2, 285: 2})
	as := func(n int) []byte { return bytes.Repeat([]byte("a"), n) }
	withFour := func(distances []int, rest func(w *bitWriter)) func(w *bitWriter) {
		return func(w *bitWriter) { w.dynamic(four, distances); rest(w) }
	}

	add("one distance of one bit", as(1+258+3), withFour([]int{1}, func(w *bitWriter) {
		w.code(0b00, 2)
		w.code(0b11, 2)
		w.code(0, 1)
		w.code(0b10, 2)
		w.code(0, 1)
		w.code(0b01, 2)
	}))
	add("the distance that one code leaves out", nil, withFour([]int{1}, func(w *bitWriter) {
		w.code(0b00, 2)
		w.code(0b10, 2)
		w.code(1, 1)
		w.code(0b01, 2)
	}))
	add("one distance of two bits", nil, withFour([]int{2}, func(w *bitWriter) { w.code(0b01, 2) }))
	add("no distances and no copy", as(1), withFour([]int{0}, func(w *bitWriter) { w.code(0b00, 2); w.code(0b01, 2) }))
	add("no distances and a copy", nil, withFour([]int{0}, func(w *bitWriter) {
		w.code(0b00, 2)
		w.code(0b10, 2)
		w.number(0, 30)
	}))
	add("distances that leave codes out", nil, withFour([]int{1, 2}, func(w *bitWriter) { w.code(0b01, 2) }))
	add("more distances than codes", nil, withFour([]int{1, 1, 1}, func(w *bitWriter) { w.code(0b01, 2) }))
	add("30 distances, two of them coded", as(4), withFour(lengthsOf(30, map[int]int{0: 1, 29: 1}), func(w *bitWriter) {
		w.code(0b00, 2)
		w.code(0b10, 2)
		w.code(0, 1)
		w.code(0b01, 2)
	}))
	add("31 distances", nil, withFour(lengthsOf(31, map[int]int{0: 1, 1: 1}), func(w *bitWriter) { w.code(0b01, 2) }))
	add("literals that leave codes out", nil, func(w *bitWriter) {
		w.dynamic(lengthsOf(257, map[int]int{'a': 2, 256: 1}), []int{1, 1})
		w.code(0, 1)
	})
	add("the end of the block alone", []byte{}, func(w *bitWriter) {
		w.dynamic(lengthsOf(257, map[int]int{256: 1}), []int{1, 1})
		w.code(0, 1)
	})
	add("no end of the block", nil, func(w *bitWriter) {
		w.dynamic(lengthsOf(257, map[int]int{'a': 1, 'b': 1}), []int{1, 1})
		w.code(0, 1)
	})
	add("287 literals", nil, func(w *bitWriter) {
		w.dynamic(lengthsOf(287, map[int]int{'a': 1, 256: 1}), []int{1, 1})
		w.code(1, 1)
	})
	long := map[int]int{'z': 15, 256: 15} // a code of every length, and two of the longest
	for length := 1; length < 15; length++ {
		long['a'+length-1] = length
	}
	add("codes of every length", []byte("abcdefghijklmnz"), func(w *bitWriter) {
		w.dynamic(lengthsOf(257, long), []int{1, 1})
		for length := 1; length < 15; length++ {
			w.code(1<<length-2, length)
		}
		w.code(1<<15-2, 15)
		w.code(1<<15-1, 15)
	})

	// Fixed codes (section 3.2.6): 0000001 is length 3, 11000101 is length 258, 11000100 lengths from 227.
	fixed := func(rest func(w *bitWriter)) func(w *bitWriter) {
		return func(w *bitWriter) { w.number(1, 1); w.number(1, 2); rest(w); w.code(0, 7) }
	}
	literal := func(w *bitWriter, c byte) { w.code(0x30+int(c), 8) }
	add("length 258 by its own code", as(259), fixed(func(w *bitWriter) {
		literal(w, 'a')
		w.code(0b11000101, 8)
		w.code(0, 5)
	}))
	add("length 258 by the code before", as(259), fixed(func(w *bitWriter) {
		literal(w, 'a')
		w.code(0b11000100, 8)
		w.number(31, 5)
		w.code(0, 5)
	}))
	for symbol, code := range map[string]int{"286": 0b11000110, "287": 0b11000111} {
		add("length "+symbol, nil, fixed(func(w *bitWriter) { literal(w, 'a'); w.code(code, 8); w.code(0, 5) }))
	}
	for name, code := range map[string]int{"distance 30": 30, "distance 31": 31} {
		add(name, nil, fixed(func(w *bitWriter) { literal(w, 'a'); w.code(1, 7); w.code(code, 5) }))
	}
	add("one byte too far back", nil, fixed(func(w *bitWriter) { literal(w, 'a'); w.code(1, 7); w.code(1, 5) }))

	// A stored block of 32,768 bytes, and a copy from its beginning: no code says farther.
	window := bytes.Repeat([]byte("0123456789ABCDEF"), 1<<15/16)
	copy(window, "abc")
	for _, test := range []struct {
		name    string
		window  []byte
		want    []byte
		farther int
	}{
		{"as far back as can be said", window, append(bytes.Clone(window), "abc"...), 1<<13 - 1},
		{"one byte before the beginning", window[1:], nil, 1<<13 - 1},
	} {
		add(test.name, test.want, func(w *bitWriter) {
			w.number(0, 8)
			w.number(len(test.window), 16)
			w.number(^len(test.window)&0xFFFF, 16)
			for _, c := range test.window {
				w.number(int(c), 8)
			}
			fixed(func(w *bitWriter) { w.code(1, 7); w.code(29, 5); w.number(test.farther, 13) })(w)
		})
	}

	add("a block of no type", nil, func(w *bitWriter) { w.number(7, 3) })
	add("a stored block of nothing", []byte{}, func(w *bitWriter) { w.number(1, 8); w.number(0xFFFF0000, 32) })
	add("a stored block whose length is not the inverse", nil, func(w *bitWriter) { w.number(1, 8); w.number(0xFFFE0000, 32) })
	return all
}

func TestCraftedStreams(t *testing.T) {
	for name, test := range crafted() {
		t.Run(name, func(t *testing.T) {
			padded := append(bytes.Clone(test.stream), make([]byte, 16)...) // so that the quick way is tried
			for _, packed := range [][]byte{test.stream, padded} {
				for _, room := range []int{0, 1 << 17} {
					out, used, err := inflate.Append(make([]byte, 0, room), packed, most)
					if test.want == nil {
						require.ErrorIs(t, err, inflate.ErrDamaged)
						continue
					}
					require.NoError(t, err)
					require.True(t, bytes.Equal(test.want, out))
					require.Equal(t, len(test.stream), used)
				}
				agrees(t, packed)
			}
		})
	}
}

func TestCraftedStreamsAsZlibSeesThem(t *testing.T) {
	var streams [][]byte
	for _, test := range crafted() {
		streams = append(streams, test.stream)
	}
	agreesWithZlib(t, streams)
}
