package digest

import (
	"encoding/binary"
	"math/bits"
)

// sha1Blocks is the loop of FIPS 180-4, section 6.1.2.
func sha1Blocks(state *[8]uint32, p []byte) {
	var w [80]uint32
	for ; len(p) >= blockSize; p = p[blockSize:] {
		for i := range 16 {
			w[i] = binary.BigEndian.Uint32(p[4*i:])
		}
		for i := 16; i < 80; i++ {
			w[i] = bits.RotateLeft32(w[i-3]^w[i-8]^w[i-14]^w[i-16], 1)
		}
		a, b, c, d, e := state[0], state[1], state[2], state[3], state[4]
		for _, word := range w[:20] {
			a, b, c, d, e = bits.RotateLeft32(a, 5)+(b&c^^b&d)+e+word+0x5A827999, a, bits.RotateLeft32(b, 30), c, d
		}
		for _, word := range w[20:40] {
			a, b, c, d, e = bits.RotateLeft32(a, 5)+(b^c^d)+e+word+0x6ED9EBA1, a, bits.RotateLeft32(b, 30), c, d
		}
		for _, word := range w[40:60] {
			a, b, c, d, e = bits.RotateLeft32(a, 5)+(b&c^b&d^c&d)+e+word+0x8F1BBCDC, a, bits.RotateLeft32(b, 30), c, d
		}
		for _, word := range w[60:] {
			a, b, c, d, e = bits.RotateLeft32(a, 5)+(b^c^d)+e+word+0xCA62C1D6, a, bits.RotateLeft32(b, 30), c, d
		}
		for i, register := range [...]uint32{a, b, c, d, e} {
			state[i] += register
		}
	}
}

// sha256Roots are the constants of FIPS 180-4, section 4.2.2: the first 32 bits of the fractions of the cube roots of the
// first 64 primes, the last of which is 311.
var sha256Roots = func() (k [64]uint32) {
	n := 0
	for number := uint64(2); number <= 311; number++ {
		if isPrime(number) {
			k[n] = uint32(cubeRoot(number))
			n++
		}
	}
	return k
}()

func isPrime(n uint64) bool {
	for d := uint64(2); d*d <= n; d++ {
		if n%d == 0 {
			return false
		}
	}
	return true
}

// cubeRoot returns the whole part of 2^32 times the cube root of n, n below 512: the largest r whose cube is at most
// n 2^96, found bit by bit.
func cubeRoot(n uint64) uint64 {
	r := uint64(0)
	for bit := uint64(1) << 34; bit > 0; bit >>= 1 {
		if try := r | bit; cubeHigh(try) < n {
			r = try
		}
	}
	return r
}

// cubeHigh returns the whole part of r^3 / 2^96, r below 2^35. No prime's cube root is a whole number of 2^-32, so a cube
// is never exactly n 2^96 and the whole part is enough to compare.
func cubeHigh(r uint64) uint64 {
	high, low := bits.Mul64(r, r) // r^2 < 2^70
	carry, _ := bits.Mul64(low, r)
	return (high*r + carry) >> 32
}

// sha256Blocks is the loop of FIPS 180-4, section 6.2.2.
func sha256Blocks(state *[8]uint32, p []byte) {
	k := &sha256Roots
	var w [64]uint32
	for ; len(p) >= blockSize; p = p[blockSize:] {
		for i := range 16 {
			w[i] = binary.BigEndian.Uint32(p[4*i:])
		}
		for i := 16; i < 64; i++ {
			x, y := w[i-2], w[i-15]
			s1 := bits.RotateLeft32(x, -17) ^ bits.RotateLeft32(x, -19) ^ x>>10
			s0 := bits.RotateLeft32(y, -7) ^ bits.RotateLeft32(y, -18) ^ y>>3
			w[i] = s1 + w[i-7] + s0 + w[i-16]
		}
		a, b, c, d, e, f, g, h := state[0], state[1], state[2], state[3], state[4], state[5], state[6], state[7]
		for i, word := range w {
			t1 := h + (bits.RotateLeft32(e, -6) ^ bits.RotateLeft32(e, -11) ^ bits.RotateLeft32(e, -25)) + (e&f ^ ^e&g) + k[i] + word
			t2 := (bits.RotateLeft32(a, -2) ^ bits.RotateLeft32(a, -13) ^ bits.RotateLeft32(a, -22)) + (a&b ^ a&c ^ b&c)
			a, b, c, d, e, f, g, h = t1+t2, a, b, c, d+t1, e, f, g
		}
		for i, register := range [...]uint32{a, b, c, d, e, f, g, h} {
			state[i] += register
		}
	}
}
