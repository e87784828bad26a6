package sums

// columns holds what a dump's bytes add up to by their place in a long: column i is that of the bytes at offsets i, i+4,
// i+8 and so on. Every plain sum and exclusive or of bytes, 16-bit words or 32-bit longs in either order is made of the
// four columns, weighted by powers of 256. An incomplete last word counts as if padded with 00.
type columns struct {
	sums [4]uint64
	xors [4]byte
	// ramp is the sum of (n-i) * byte i over the n bytes, mod adlerBase: the sum of all running sums, for Adler-32.
	ramp uint64
}

// total returns the sum of all bytes.
func (c *columns) total() uint64 { return c.sums[0] + c.sums[1] + c.sums[2] + c.sums[3] }

// join continues c, of before bytes, with the columns of the n bytes that follow.
func (c *columns) join(next columns, before, n int) {
	c.ramp = (c.ramp + c.total()%adlerBase*(uint64(n)%adlerBase) + next.ramp) % adlerBase
	for i := range 4 {
		c.sums[(before+i)&3] += next.sums[i]
		c.xors[(before+i)&3] ^= next.xors[i]
	}
}

// tallySize bounds what tally takes at once, in bytes: 256 groups of eight, each adding at most 255 to a 16-bit lane.
const tallySize = 2048

// tally returns the columns of at most tallySize bytes. It adds in eight lanes at a time: the even bytes of a group of
// eight lie in the four 16-bit lanes of one register, the odd ones in those of another.
func tally(p []byte) (c columns) {
	const (
		evenBytes = 0x00FF00FF00FF00FF
		addLanes  = 0x0001000100010001 // as a factor it adds up the four lanes in the topmost one
	)
	var even, odd, xor, sum, sums uint64 // sums is the sum of sum after each group but the last
	for ; len(p) >= 8; p = p[8:] {
		group := eightBytes(p)
		e, o := group&evenBytes, group>>8&evenBytes
		even += e
		odd += o
		xor ^= group
		sums += sum
		sum += (e + o) * addLanes >> 48
	}
	ramp := 8 * sums
	for lane := range 4 {
		e, o := even>>(16*lane)&0xFFFF, odd>>(16*lane)&0xFFFF
		c.sums[2*lane&3] += e
		c.sums[2*lane&3+1] += o
		ramp += uint64(8-2*lane)*e + uint64(7-2*lane)*o
	}
	xor ^= xor >> 32
	for i := range 4 {
		c.xors[i] = byte(xor >> (8 * i))
	}
	for i, b := range p {
		c.sums[i&3] += uint64(b)
		c.xors[i&3] ^= b
		sum += uint64(b)
		ramp += sum
	}
	c.ramp = ramp % adlerBase
	return c
}

// The places that the four columns take in a word or long, as left shifts in bits.
var (
	byteShifts       = [4]int{0, 0, 0, 0}
	wordBigShifts    = [4]int{8, 0, 8, 0}
	wordLittleShifts = [4]int{0, 8, 0, 8}
	longBigShifts    = [4]int{24, 16, 8, 0}
	longLittleShifts = [4]int{0, 8, 16, 24}
)

// A carry says what becomes of what runs over the width of a sum.
type carry int

const (
	carryLost      carry = iota // sum modulo 2^width
	carryEndAround              // it is added at the low end: ones'-complement arithmetic, RFC 1071
)

// A sign says in which form a sum is printed.
type sign int

const (
	signPlain sign = iota
	signTwos       // two's complement: what must be added to come to zero
	signOnes       // ones' complement: every bit inverted
)

// apply returns value in this form, width bits wide.
func (s sign) apply(value uint64, width int) uint64 {
	mask := uint64(1)<<width - 1
	switch s {
	case signTwos:
		return -value & mask
	case signOnes:
		return ^value & mask
	}
	return value & mask
}

// A sum is the rule of every plain sum: the columns, each shifted to its place, added up. It is exact up to 4 GiB.
type sum struct {
	shifts [4]int
	carry  carry
	sign   sign
}

func (s sum) needs() parts { return needColumns }

func (s sum) print(e *Engine, width int) string {
	var value uint64
	for i, shift := range s.shifts {
		value += e.columns.sums[i] << shift
	}
	if s.carry == carryEndAround {
		value = endAround(value, width)
	}
	return hex(s.sign.apply(value, width), width)
}

// endAround adds what exceeds width bits at the low end until nothing does (RFC 1071, section 4.1). Only zero gives zero.
func endAround(value uint64, width int) uint64 {
	for value>>width != 0 {
		value = value&(1<<width-1) + value>>width
	}
	return value
}

// An xor is the rule of an exclusive-or of bytes or words.
type xor struct{ shifts [4]int }

func (x xor) needs() parts { return needColumns }

func (x xor) print(e *Engine, width int) string {
	var value uint64
	for i, shift := range x.shifts {
		value ^= uint64(e.columns.xors[i]) << shift
	}
	return hex(value, width)
}

// A folded is the rule of the System V sum: the byte sum modulo 2^32 folded to 16 bits with end-around carry.
type folded struct{}

func (folded) needs() parts { return needColumns }

func (folded) print(e *Engine, width int) string {
	return hex(endAround(e.columns.total()&(1<<32-1), width), width)
}

// adlerBase is the largest prime below 65536: RFC 1950, section 9.
const adlerBase = 65521

// An adler is the rule of Adler-32: the byte sum plus one in the low half; the sum of its running values, which is the
// ramp and one for each byte, in the high half.
type adler struct{}

func (adler) needs() parts { return needColumns }

func (adler) print(e *Engine, width int) string {
	low := (1 + e.columns.total()) % adlerBase
	high := (uint64(e.bytes) + e.columns.ramp) % adlerBase
	return hex(high<<16|low, width)
}
