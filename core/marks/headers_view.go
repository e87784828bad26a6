package marks

import (
	"math/bits"

	"lunette/core/arrange"
)

// A headerView reads an arranged image without copying it. Offsets are into the arranged image; those outside it read
// as -1, which equals no byte, and 16- and 32-bit values there as 0: a test asks inside first.
type headerView struct {
	stored   []byte
	order    arrange.Arrangement
	n        int              // bytes of the arranged image
	whole    int              // those of them that stand in whole groups of four
	values   [256]byte        // what a stored byte reads as
	exchange int              // byte j of a lane is byte j XOR exchange of it, as Order.Source says
	lane     int              // the byte lane that is read
	shift    int              // log2 of the number of lanes
	little   bool             // words are read with the low byte first, where a row asks by word
	dump     *headerOdds      // shares in the whole dump
	part     headerSpan       // the place that is tried
	place    headerPlace      // of this kind
	tries    int              // what its claims share their chance with
	around   *headerOdds      // the odds there, nil until a test asks for them
	led      map[string][]int // places of rows with fixed first bytes, by these: see leads
	summed   int              // bytes whose sum unitSum was asked for
	unitSums []byte           // sums modulo 256 up to each multiple of 512, made when first asked for
}

func newHeaderView(stored []byte, order arrange.Arrangement, odds *headerOdds) *headerView {
	if order.IsMirrored() {
		odds = odds.mirrored()
	}
	lane, of := order.Lanes()
	v := &headerView{stored: stored, order: order, n: order.Len(len(stored)), dump: odds, led: map[string][]int{}}
	v.whole = v.n &^ 3
	v.lane, v.shift = lane, bits.TrailingZeros(uint(of))
	for b := range v.values {
		v.values[b] = byte(b)
		if order.IsMirrored() {
			v.values[b] = bits.Reverse8(byte(b))
		}
	}
	v.exchange = (order.Source(0, 4*of) - lane) >> v.shift
	return v
}

// inside tells whether length bytes from at lie in the image. Neither may overflow: values read from an image come as
// uint32, and int has 64 bits in wasm as on a PC.
func (v *headerView) inside(at, length int) bool { return at >= 0 && length >= 0 && at+length <= v.n }

// at returns byte j.
func (v *headerView) at(j int) int {
	switch {
	case j >= 0 && j < v.whole:
		return v.fast(j)
	case j < 0 || j >= v.n:
		return -1
	}
	return int(v.order.At(v.stored, j))
}

// fast returns byte j, which stands in a whole group of four.
func (v *headerView) fast(j int) int {
	return int(v.values[v.stored[(j^v.exchange)<<v.shift+v.lane]])
}

func (v *headerView) be16(j int) int {
	switch {
	case j >= 0 && j+2 <= v.whole:
		return v.fast(j)<<8 | v.fast(j+1)
	case !v.inside(j, 2):
		return 0
	}
	return v.at(j)<<8 | v.at(j+1)
}

func (v *headerView) le16(j int) int { return int(bits.ReverseBytes16(uint16(v.be16(j)))) }

func (v *headerView) be32(j int) uint32 {
	return uint32(v.be16(j))<<16 | uint32(v.be16(j+2))
}

// word returns the 32-bit word at j in the byte order that is being tried.
func (v *headerView) word(j int) uint32 {
	if v.little {
		return bits.ReverseBytes32(v.be32(j))
	}
	return v.be32(j)
}

// starts tells whether the bytes of text stand at j.
func (v *headerView) starts(j int, text string) bool {
	for i := range len(text) {
		if v.at(j+i) != int(text[i]) {
			return false
		}
	}
	return true
}

// text returns length bytes from j, those that are no printable ASCII as dots, spaces at the end left out.
func (v *headerView) text(j, length int) string {
	var b []byte
	for i := range length {
		c := v.at(j + i)
		if c < 0x20 || c > 0x7E {
			c = '.'
		}
		b = append(b, byte(c))
	}
	for len(b) > 0 && b[len(b)-1] == ' ' {
		b = b[:len(b)-1]
	}
	return string(b)
}

// each calls do with every byte of a stretch in turn, copied in windows.
func (v *headerView) each(from, to int, do func(j int, b byte)) {
	var window [4096]byte
	for from < to {
		n := v.order.Copy(window[:min(len(window), to-from)], v.stored, from)
		if n == 0 {
			return
		}
		for i, b := range window[:n] {
			do(from+i, b)
		}
		from += n
	}
}

// byteSum returns the sum of the bytes of a stretch.
func (v *headerView) byteSum(from, to int) (sum int) {
	v.each(from, to, func(_ int, b byte) { sum += int(b) })
	return sum
}

// variety returns how many different byte values a stretch holds. A sum over a stretch of few values closes easily.
func (v *headerView) variety(from, to int) (values int) {
	var seen [256]bool
	v.each(from, to, func(_ int, b byte) {
		if !seen[b] {
			seen[b] = true
			values++
		}
	})
	return values
}

// headerSpans are the places of a row in an image of n bytes, counted but not listed.
type headerSpans struct {
	count int
	n     int
	step  int // 0 for parts
}

// leastPart is the smallest image, or part of one, in which a start or an end is looked for, in bytes.
const leastPart = 256

// spans returns the places of r in an image of n bytes: steps, or the whole, and when n is a power of two its halves
// and quarters, since that is what several chips or banks in one dump make.
func (r *HeaderRow) spans(n int) headerSpans {
	switch {
	case n < leastPart && r.place != atSteps:
		return headerSpans{}
	case r.place == atSteps:
		return headerSpans{count: (n + r.step - 1) / r.step, n: n, step: r.step}
	case n&(n-1) == 0 && n/4 >= leastPart:
		return headerSpans{count: 7, n: n}
	}
	return headerSpans{count: 1, n: n}
}

// at returns place i: 0 is the first of all, 1 and 2 are the halves, 3 to 6 the quarters.
func (s headerSpans) at(i int) headerSpan {
	switch {
	case s.step > 0:
		return headerSpan{i * s.step, s.n}
	case i == 0:
		return headerSpan{0, s.n}
	case i < 3:
		return headerSpan{(i - 1) * s.n / 2, i * s.n / 2}
	}
	return headerSpan{(i - 3) * s.n / 4, (i - 2) * s.n / 4}
}

// allParts are the places of rows with varying first bytes.
var allParts = []int{0, 1, 2, 3, 4, 5, 6}

// leads returns which of the places of r begin as r does. Rows that begin alike stand at the same places, and share the
// search.
func (v *headerView) leads(r *HeaderRow, spans headerSpans) []int {
	if r.lead == "" {
		return allParts[:spans.count]
	}
	list, known := v.led[r.lead]
	if known {
		return list
	}
	for i := range spans.count {
		at := i * spans.step
		if at < v.whole && v.fast(at) != int(r.lead[0]) {
			continue // most places, without a call
		}
		if v.starts(at, r.lead) {
			list = append(list, i)
		}
	}
	v.led[r.lead] = list
	return list
}
