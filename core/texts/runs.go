package texts

import (
	"encoding/binary"
	"math/bits"
)

// window is how many bytes are looked at in one piece, a multiple of 64.
const window = 64 << 10

// runs finds the printable runs in a window. It holds a bit for each byte, so that what most of a dump is, no text, is
// passed over 64 bytes at a time.
type runs struct {
	bits [window/64 + 1]uint64 // bit i of element k is set when byte 64k+i is printable; one element more is empty
	n    int                   // bytes in the window
}

// mark looks at piece, a window at most, and returns where the printable run begins that reaches its end: its length when
// there is none.
func (r *runs) mark(piece []byte) (last int) {
	r.n = len(piece)
	k := 0
	for ; len(piece) >= 64; k++ {
		var word uint64
		for i := 0; i < 64; i += 8 {
			word |= printables(binary.LittleEndian.Uint64(piece[i:i+8])) << i
		}
		r.bits[k] = word
		piece = piece[64:]
	}
	r.bits[k] = 0
	for i, b := range piece {
		if printable(b) {
			r.bits[k] |= 1 << i
		}
	}
	r.bits[min(k+1, len(r.bits)-1)] = 0
	for last = r.n; last > 0 && r.bits[(last-1)/64]>>((last-1)%64)&1 != 0; last-- {
	}
	return last
}

// next returns the next run of at least MinLength bytes from at on, which is no byte inside a run. Both are end when none
// begins before it.
func (r *runs) next(at, end int) (from, to int) {
	for at < end {
		k := at / 64
		starts := r.long(k) >> (at % 64)
		if starts == 0 {
			at = (k + 1) * 64
			continue
		}
		from = at + bits.TrailingZeros64(starts)
		if from >= end {
			break
		}
		return from, r.endOf(from + MinLength)
	}
	return end, end
}

// long returns a bit for each byte of element k at which at least MinLength printable bytes follow each other.
func (r *runs) long(k int) uint64 {
	long := r.bits[k]
	if long == 0 {
		return 0
	}
	here, next := long, r.bits[k+1]
	for i := 1; i < MinLength; i++ {
		long &= here>>i | next<<(64-i)
	}
	return long
}

// endOf returns the first place from at on that is not printable, or the length of the window.
func (r *runs) endOf(at int) int {
	for at < r.n {
		length := bits.TrailingZeros64(^(r.bits[at/64] >> (at % 64)))
		if at += length; length == 0 || at%64 != 0 {
			break
		}
	}
	return min(at, r.n)
}

// printables returns a bit for each of eight bytes, the lowest bit for the lowest byte, set when it is printable.
func printables(eight uint64) uint64 {
	const ones = 0x0101010101010101
	const tops = 0x80 * ones
	low := eight &^ tops
	// Sums reach the top bit from the space on, from 7F on, and for all but the tab.
	graphic := (low + (0x80-' ')*ones) &^ (low + ones)
	noTab := low ^ '\t'*ones + 0x7F*ones
	return (graphic | ^noTab) &^ eight & tops >> 7 * 0x0102040810204080 >> 56 // moves the eight bits side by side
}

func printable(b byte) bool { return ' ' <= b && b <= '~' || b == '\t' }
