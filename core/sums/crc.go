package sums

import "math/bits"

// A crc is the rule of one cyclic redundancy check, in the terms of the published catalogues. Its width is the row's.
//
// None of them divides the bytes itself. With M the message of n bytes, w the width and P the polynomial, the register
// ends at
//
//	(M * x^w + init * x^(8n)) mod P
//
// since division is linear: what init brings in does not depend on the message. M * x^64 mod a multiple of P has been
// found for all of them at once (remainders); dividing by x^(64-w) and by P makes it this one's.
type crc struct {
	polynomial uint64
	init       uint64
	reflected  bool // bytes go in low bit first and the register comes out mirrored
	xorout     uint64
	length     bool // the number of bytes follows the bytes, low byte first, as many bytes as it needs: POSIX cksum
}

func (c crc) needs() parts { return needRemainders }

func (c crc) print(e *Engine, width int) string {
	r, n := e.remainders, e.bytes
	if c.length {
		for left := e.bytes; left > 0; left >>= 8 {
			r.write([]byte{byte(left)})
			n++
		}
	}
	low, high := r.polynomials()
	message := high
	if c.reflected {
		message = low
	}
	register := divideByX(message, 64-width) ^ multiply(c.init, powerOfBytes(n))
	register = reduce(register, c.polynomial, width)
	if c.reflected {
		register = bits.Reverse64(register) >> (64 - width)
	}
	return hex(register^c.xorout, width)
}
