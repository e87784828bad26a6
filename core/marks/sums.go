package marks

import (
	"math"
	"math/bits"
)

// A sumPart is a stretch that a built-in sum may cover: the whole image, a half or a quarter. All begin and end at
// multiples of four, so that a stretch holds the same bytes in every order.
type sumPart struct {
	from, to int
	name     string
	tally    sumTally
}

// A sumTally counts how often each byte value stands at each position of a group of four. Every sum that does not care
// for the order of groups comes from it, in every arrangement: one pass serves all.
type sumTally [4][256]uint32

// A sumSet is the sums of a stretch in one arrangement.
type sumSet struct {
	n         int       // bytes
	positions [4]uint64 // sums of the bytes at each position of a group of four
	xors      [4]byte   // the same with exclusive-or
}

func (t *sumTally) add(data []byte) {
	p0, p1, p2, p3 := &t[0], &t[1], &t[2], &t[3]
	for len(data) >= 4 {
		p0[data[0]]++
		p1[data[1]]++
		p2[data[2]]++
		p3[data[3]]++
		data = data[4:]
	}
	for i, b := range data {
		t[i][b]++
	}
}

func (t *sumTally) join(other *sumTally) {
	for p := range t {
		for b := range t[p] {
			t[p][b] += other[p][b]
		}
	}
}

// count returns how many bytes have value b.
func (t *sumTally) count(b byte) int {
	return int(t[0][b]) + int(t[1][b]) + int(t[2][b]) + int(t[3][b])
}

// commonest returns how many bytes have the commonest value.
func (t *sumTally) commonest() (count int) {
	for b := range 256 {
		count = max(count, t.count(byte(b)))
	}
	return count
}

// livelyBits returns how many of the eight bit planes of the bytes are worth an exclusive-or: those in which both
// values stand at least 16 times. The upper bit of text, all zero, always closes.
func (t *sumTally) livelyBits(n int) (planes int) {
	for bit := range 8 {
		ones := 0
		for b := range 256 {
			if b>>bit&1 == 1 {
				ones += t.count(byte(b))
			}
		}
		if ones >= 16 && n-ones >= 16 {
			planes++
		}
	}
	return planes
}

// set returns the sums as they are, or those of the bytes with mirrored bits.
func (t *sumTally) set(n int, mirrored bool) sumSet {
	s := sumSet{n: n}
	for p := range t {
		for value, count := range t[p] {
			b := byte(value)
			if mirrored {
				b = bits.Reverse8(b)
			}
			s.positions[p] += uint64(count) * uint64(b)
			if count&1 == 1 {
				s.xors[p] ^= b
			}
		}
	}
	return s
}

// exchanged returns the sums of the order in which byte j of a group is byte j XOR x of s.
func (s sumSet) exchanged(x int) sumSet {
	e := sumSet{n: s.n}
	for p := range s.positions {
		e.positions[p], e.xors[p] = s.positions[p^x], s.xors[p^x]
	}
	return e
}

// bytes returns the sum of all bytes.
func (s sumSet) bytes() uint64 {
	return s.positions[0] + s.positions[1] + s.positions[2] + s.positions[3]
}

// words returns the sum of all 16-bit words, high byte first.
func (s sumSet) words() uint64 {
	return (s.positions[0]+s.positions[2])<<8 + s.positions[1] + s.positions[3]
}

// longs returns the sum of all 32-bit words, high byte first. 64 MiB of FF make less than 2^57.
func (s sumSet) longs() uint64 {
	return s.positions[0]<<24 + s.positions[1]<<16 + s.positions[2]<<8 + s.positions[3]
}

// onesLongs returns the sum of all 32-bit words with end-around carry: every carry out is added in again.
func (s sumSet) onesLongs() uint32 {
	sum := s.longs()
	for sum>>32 != 0 {
		sum = sum>>32 + sum&math.MaxUint32
	}
	return uint32(sum)
}

// xorWords returns the exclusive-or of all 16-bit words, and xorBytes that of all bytes.
func (s sumSet) xorWords() uint16 {
	return uint16(s.xors[0]^s.xors[2])<<8 | uint16(s.xors[1]^s.xors[3])
}

func (s sumSet) xorBytes() byte { return s.xors[0] ^ s.xors[1] ^ s.xors[2] ^ s.xors[3] }
