package digest

import (
	"encoding/binary"
	"math/bits"
)

// The steps of the four rounds of RFC 1321, section 3.4: a is what changes, x a word of the message, t a constant, and s a
// rotation in bits.

func md5Step1(a, b, c, d, x, t uint32, s int) uint32 {
	return b + bits.RotateLeft32(a+((c^d)&b^d)+x+t, s)
}
func md5Step2(a, b, c, d, x, t uint32, s int) uint32 {
	return b + bits.RotateLeft32(a+((b^c)&d^c)+x+t, s)
}
func md5Step3(a, b, c, d, x, t uint32, s int) uint32 { return b + bits.RotateLeft32(a+(b^c^d)+x+t, s) }
func md5Step4(a, b, c, d, x, t uint32, s int) uint32 {
	return b + bits.RotateLeft32(a+(c^(b|^d))+x+t, s)
}

// md5Blocks is the loop of RFC 1321, section 3.4, step by step: a browser has no MD5 of its own, so this is what a visitor
// waits for, and as WebAssembly it takes a quarter less time than loops over the words and constants. The constants are
// the whole part of 2^32 |sin(i)|, i in radians from 1 to 64.
func md5Blocks(state *[8]uint32, p []byte) {
	a, b, c, d := state[0], state[1], state[2], state[3]
	for ; len(p) >= blockSize; p = p[blockSize:] {
		x := p[:blockSize:blockSize]
		x0 := binary.LittleEndian.Uint32(x[4*0x0:])
		x1 := binary.LittleEndian.Uint32(x[4*0x1:])
		x2 := binary.LittleEndian.Uint32(x[4*0x2:])
		x3 := binary.LittleEndian.Uint32(x[4*0x3:])
		x4 := binary.LittleEndian.Uint32(x[4*0x4:])
		x5 := binary.LittleEndian.Uint32(x[4*0x5:])
		x6 := binary.LittleEndian.Uint32(x[4*0x6:])
		x7 := binary.LittleEndian.Uint32(x[4*0x7:])
		x8 := binary.LittleEndian.Uint32(x[4*0x8:])
		x9 := binary.LittleEndian.Uint32(x[4*0x9:])
		xA := binary.LittleEndian.Uint32(x[4*0xA:])
		xB := binary.LittleEndian.Uint32(x[4*0xB:])
		xC := binary.LittleEndian.Uint32(x[4*0xC:])
		xD := binary.LittleEndian.Uint32(x[4*0xD:])
		xE := binary.LittleEndian.Uint32(x[4*0xE:])
		xF := binary.LittleEndian.Uint32(x[4*0xF:])
		a0, b0, c0, d0 := a, b, c, d

		a = md5Step1(a, b, c, d, x0, 0xD76AA478, 7)
		d = md5Step1(d, a, b, c, x1, 0xE8C7B756, 12)
		c = md5Step1(c, d, a, b, x2, 0x242070DB, 17)
		b = md5Step1(b, c, d, a, x3, 0xC1BDCEEE, 22)
		a = md5Step1(a, b, c, d, x4, 0xF57C0FAF, 7)
		d = md5Step1(d, a, b, c, x5, 0x4787C62A, 12)
		c = md5Step1(c, d, a, b, x6, 0xA8304613, 17)
		b = md5Step1(b, c, d, a, x7, 0xFD469501, 22)
		a = md5Step1(a, b, c, d, x8, 0x698098D8, 7)
		d = md5Step1(d, a, b, c, x9, 0x8B44F7AF, 12)
		c = md5Step1(c, d, a, b, xA, 0xFFFF5BB1, 17)
		b = md5Step1(b, c, d, a, xB, 0x895CD7BE, 22)
		a = md5Step1(a, b, c, d, xC, 0x6B901122, 7)
		d = md5Step1(d, a, b, c, xD, 0xFD987193, 12)
		c = md5Step1(c, d, a, b, xE, 0xA679438E, 17)
		b = md5Step1(b, c, d, a, xF, 0x49B40821, 22)

		a = md5Step2(a, b, c, d, x1, 0xF61E2562, 5)
		d = md5Step2(d, a, b, c, x6, 0xC040B340, 9)
		c = md5Step2(c, d, a, b, xB, 0x265E5A51, 14)
		b = md5Step2(b, c, d, a, x0, 0xE9B6C7AA, 20)
		a = md5Step2(a, b, c, d, x5, 0xD62F105D, 5)
		d = md5Step2(d, a, b, c, xA, 0x02441453, 9)
		c = md5Step2(c, d, a, b, xF, 0xD8A1E681, 14)
		b = md5Step2(b, c, d, a, x4, 0xE7D3FBC8, 20)
		a = md5Step2(a, b, c, d, x9, 0x21E1CDE6, 5)
		d = md5Step2(d, a, b, c, xE, 0xC33707D6, 9)
		c = md5Step2(c, d, a, b, x3, 0xF4D50D87, 14)
		b = md5Step2(b, c, d, a, x8, 0x455A14ED, 20)
		a = md5Step2(a, b, c, d, xD, 0xA9E3E905, 5)
		d = md5Step2(d, a, b, c, x2, 0xFCEFA3F8, 9)
		c = md5Step2(c, d, a, b, x7, 0x676F02D9, 14)
		b = md5Step2(b, c, d, a, xC, 0x8D2A4C8A, 20)

		a = md5Step3(a, b, c, d, x5, 0xFFFA3942, 4)
		d = md5Step3(d, a, b, c, x8, 0x8771F681, 11)
		c = md5Step3(c, d, a, b, xB, 0x6D9D6122, 16)
		b = md5Step3(b, c, d, a, xE, 0xFDE5380C, 23)
		a = md5Step3(a, b, c, d, x1, 0xA4BEEA44, 4)
		d = md5Step3(d, a, b, c, x4, 0x4BDECFA9, 11)
		c = md5Step3(c, d, a, b, x7, 0xF6BB4B60, 16)
		b = md5Step3(b, c, d, a, xA, 0xBEBFBC70, 23)
		a = md5Step3(a, b, c, d, xD, 0x289B7EC6, 4)
		d = md5Step3(d, a, b, c, x0, 0xEAA127FA, 11)
		c = md5Step3(c, d, a, b, x3, 0xD4EF3085, 16)
		b = md5Step3(b, c, d, a, x6, 0x04881D05, 23)
		a = md5Step3(a, b, c, d, x9, 0xD9D4D039, 4)
		d = md5Step3(d, a, b, c, xC, 0xE6DB99E5, 11)
		c = md5Step3(c, d, a, b, xF, 0x1FA27CF8, 16)
		b = md5Step3(b, c, d, a, x2, 0xC4AC5665, 23)

		a = md5Step4(a, b, c, d, x0, 0xF4292244, 6)
		d = md5Step4(d, a, b, c, x7, 0x432AFF97, 10)
		c = md5Step4(c, d, a, b, xE, 0xAB9423A7, 15)
		b = md5Step4(b, c, d, a, x5, 0xFC93A039, 21)
		a = md5Step4(a, b, c, d, xC, 0x655B59C3, 6)
		d = md5Step4(d, a, b, c, x3, 0x8F0CCC92, 10)
		c = md5Step4(c, d, a, b, xA, 0xFFEFF47D, 15)
		b = md5Step4(b, c, d, a, x1, 0x85845DD1, 21)
		a = md5Step4(a, b, c, d, x8, 0x6FA87E4F, 6)
		d = md5Step4(d, a, b, c, xF, 0xFE2CE6E0, 10)
		c = md5Step4(c, d, a, b, x6, 0xA3014314, 15)
		b = md5Step4(b, c, d, a, xD, 0x4E0811A1, 21)
		a = md5Step4(a, b, c, d, x4, 0xF7537E82, 6)
		d = md5Step4(d, a, b, c, xB, 0xBD3AF235, 10)
		c = md5Step4(c, d, a, b, x2, 0x2AD7D2BB, 15)
		b = md5Step4(b, c, d, a, x9, 0xEB86D391, 21)

		a, b, c, d = a+a0, b+b0, c+c0, d+d0
	}
	state[0], state[1], state[2], state[3] = a, b, c, d
}
