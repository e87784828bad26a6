package sums

import (
	"math/bits"
	"sync"
)

// The polynomials of every CRC in the catalogue, high power first, the leading term left out.
const (
	poly32   = 0x04C11DB7 // degree 32: ISO 3309, ITU-T V.42, POSIX cksum
	poly8005 = 0x8005     // degree 16
	poly1021 = 0x1021     // degree 16: ITU-T V.41
)

// modulus is the product of the three, of degree 32 + 16 + 16 = 64, without its leading term. Whoever divides by it once
// knows the remainder by each factor: one pass over the bytes serves every CRC that reads them in the same bit order.
var modulus = product(product(1<<32|poly32, 1<<16|poly8005), 1<<16|poly1021)

// remainders holds the bytes' remainder by the modulus, once with the low bit of each byte first and once with the high
// bit first. Both start at zero. As polynomials they are M(x) * x^64 mod modulus, where M is the message.
//
// The registers are kept so that the byte that leaves next is the lowest one. Then both bit orders run through the same
// loop and differ in their tables only.
type remainders struct {
	low  uint64 // bit 63-i is the coefficient of x^i
	high uint64 // the byte at bits 8k holds the coefficients of x^(63-8k) down to x^(56-8k), the largest in its bit 7
}

// polynomials returns both remainders with bit i the coefficient of x^i.
func (r remainders) polynomials() (low, high uint64) {
	return bits.Reverse64(r.low), bits.ReverseBytes64(r.high)
}

func (r *remainders) write(p []byte) {
	t := tables()
	r.low = t.low.update(r.low, p)
	r.high = t.high.update(r.high, p)
}

// join continues r with the remainders of the n bytes that follow: M1 * x^(8n) + M2.
func (r *remainders) join(next remainders, n int) {
	if *r == (remainders{}) { // nothing, zeros, or not asked for
		*r = next
		return
	}
	shift := powerOfBytes(n)
	low, high := r.polynomials()
	r.low = bits.Reverse64(multiply(low, shift)) ^ next.low
	r.high = bits.ReverseBytes64(multiply(high, shift)) ^ next.high
}

// A sliceTable says what each value of a byte adds to the register once k more bytes have followed it, k from 0 to 7:
// eight bytes go at once by eight look-ups that do not wait for each other.
type sliceTable [8][256]uint64

func (t *sliceTable) update(register uint64, p []byte) uint64 {
	for ; len(p) >= 8; p = p[8:] {
		register ^= eightBytes(p)
		register = t[7][byte(register)] ^ t[6][byte(register>>8)] ^
			t[5][byte(register>>16)] ^ t[4][byte(register>>24)] ^
			t[3][byte(register>>32)] ^ t[2][byte(register>>40)] ^
			t[1][byte(register>>48)] ^ t[0][register>>56]
	}
	for _, b := range p {
		register = t[0][byte(register)^b] ^ register>>8
	}
	return register
}

// eightBytes returns the first eight bytes of p, the first one lowest. The compiler makes it a single load; package
// encoding/binary would do the same and bring 5 KB of other things into the page.
func eightBytes(p []byte) uint64 {
	_ = p[7]
	return uint64(p[0]) | uint64(p[1])<<8 | uint64(p[2])<<16 | uint64(p[3])<<24 |
		uint64(p[4])<<32 | uint64(p[5])<<40 | uint64(p[6])<<48 | uint64(p[7])<<56
}

// tables are 32 KiB and are made when the first byte is divided.
var tables = sync.OnceValue(func() *struct{ low, high sliceTable } {
	t := new(struct{ low, high sliceTable })
	reflected := bits.Reverse64(modulus)
	for b := range 256 {
		register := uint64(b)
		for range 8 {
			register = register>>1 ^ reflected&-(register&1)
		}
		t.low[0][b] = register
	}
	for k := 1; k < 8; k++ {
		for b, register := range t.low[k-1] {
			t.low[k][b] = t.low[0][byte(register)] ^ register>>8
		}
	}
	// High bit first is low bit first over mirrored bytes, with the register's bytes mirrored too.
	for k := range 8 {
		for b := range 256 {
			t.high[k][b] = bits.ReverseBytes64(bits.Reverse64(t.low[k][bits.Reverse8(byte(b))]))
		}
	}
	return t
})

// product returns a * b as polynomials over GF(2), the terms from x^64 on left out.
func product(a, b uint64) (p uint64) {
	for ; b != 0; b >>= 1 {
		p ^= a & -(b & 1)
		a <<= 1
	}
	return p
}

// multiply returns a * b mod modulus.
func multiply(a, b uint64) (p uint64) {
	for ; b != 0; b >>= 1 {
		p ^= a & -(b & 1)
		a = a<<1 ^ modulus&-(a>>63)
	}
	return p
}

// divideByX returns a / x^k mod modulus. It exists because the modulus has a constant term.
func divideByX(a uint64, k int) uint64 {
	for range k {
		if a&1 == 1 {
			a = (a^modulus)>>1 | 1<<63
		} else {
			a >>= 1
		}
	}
	return a
}

// reduce returns a mod the polynomial of the given degree, below 64, one of the factors of the modulus.
func reduce(a, polynomial uint64, degree int) uint64 {
	polynomial |= 1 << degree
	for i := 63; i >= degree; i-- {
		if a>>i&1 == 1 {
			a ^= polynomial << (i - degree)
		}
	}
	return a
}

// powerOfBytes returns x^(8n) mod modulus, by which a message moves up when n more bytes follow. n is not negative.
func powerOfBytes(n int) uint64 {
	power := uint64(1)
	for k := 0; n>>k > 0; k++ {
		if n>>k&1 == 1 {
			power = multiply(power, squares()[k])
		}
	}
	return power
}

// squares holds x^8 and what comes of squaring it again and again: x^16, x^32, ...
var squares = sync.OnceValue(func() *[63]uint64 {
	s := new([63]uint64)
	s[0] = 1 << 8
	for k := 1; k < len(s); k++ {
		s[k] = multiply(s[k-1], s[k-1])
	}
	return s
})
