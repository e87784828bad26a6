package digest

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// md5Sines are the constants T[i] of RFC 1321, section 3.4: the whole part of 2^32 |sin(i)|, i in radians from 1 to 64.
var md5Sines = func() (t [64]uint32) {
	for i := range t {
		t[i] = uint32(math.Floor(math.Abs(math.Sin(float64(i+1))) * (1 << 32)))
	}
	return t
}()

// md5Blocks is the loop of RFC 1321, section 3.4: four rounds of sixteen steps, four steps a turn here so that the four
// registers stand still.
func md5Blocks(state *[8]uint32, p []byte) {
	a, b, c, d := state[0], state[1], state[2], state[3]
	t := &md5Sines
	var x [16]uint32
	for ; len(p) >= blockSize; p = p[blockSize:] {
		for i := range x {
			x[i] = binary.LittleEndian.Uint32(p[4*i:])
		}
		a0, b0, c0, d0 := a, b, c, d
		for i := 0; i < 16; i += 4 {
			a = b + bits.RotateLeft32(a+((c^d)&b^d)+x[i]+t[i], 7)
			d = a + bits.RotateLeft32(d+((b^c)&a^c)+x[i+1]+t[i+1], 12)
			c = d + bits.RotateLeft32(c+((a^b)&d^b)+x[i+2]+t[i+2], 17)
			b = c + bits.RotateLeft32(b+((d^a)&c^a)+x[i+3]+t[i+3], 22)
		}
		for i := 16; i < 32; i += 4 {
			a = b + bits.RotateLeft32(a+((b^c)&d^c)+x[(5*i+1)&15]+t[i], 5)
			d = a + bits.RotateLeft32(d+((a^b)&c^b)+x[(5*i+6)&15]+t[i+1], 9)
			c = d + bits.RotateLeft32(c+((d^a)&b^a)+x[(5*i+11)&15]+t[i+2], 14)
			b = c + bits.RotateLeft32(b+((c^d)&a^d)+x[(5*i+16)&15]+t[i+3], 20)
		}
		for i := 32; i < 48; i += 4 {
			a = b + bits.RotateLeft32(a+(b^c^d)+x[(3*i+5)&15]+t[i], 4)
			d = a + bits.RotateLeft32(d+(a^b^c)+x[(3*i+8)&15]+t[i+1], 11)
			c = d + bits.RotateLeft32(c+(d^a^b)+x[(3*i+11)&15]+t[i+2], 16)
			b = c + bits.RotateLeft32(b+(c^d^a)+x[(3*i+14)&15]+t[i+3], 23)
		}
		for i := 48; i < 64; i += 4 {
			a = b + bits.RotateLeft32(a+(c^(b|^d))+x[(7*i)&15]+t[i], 6)
			d = a + bits.RotateLeft32(d+(b^(a|^c))+x[(7*i+7)&15]+t[i+1], 10)
			c = d + bits.RotateLeft32(c+(a^(d|^b))+x[(7*i+14)&15]+t[i+2], 15)
			b = c + bits.RotateLeft32(b+(d^(c|^a))+x[(7*i+21)&15]+t[i+3], 21)
		}
		a, b, c, d = a+a0, b+b0, c+c0, d+d0
	}
	state[0], state[1], state[2], state[3] = a, b, c, d
}
