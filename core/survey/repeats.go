package survey

import (
	"encoding/binary"
	"math/bits"
)

// An AddressLine says whether one bit of the byte address has an effect on what is read. In a dump of a x8 chip bit 0 is
// its line A0; in one of a x16 chip bit 1 is its A0, since bit 0 chooses a byte of the word.
type AddressLine struct {
	Bit     int // 0 for the lowest; 1<<Bit is below the dump's size
	Pairs   int // pairs of addresses inside the dump that differ in this bit alone; at least 1
	Witness int // the lower address of a pair whose bytes differ, not always the first; -1 if there is none
}

// NoEffect tells whether the bytes of every pair are equal: the line is stuck, open or not connected, or the content
// repeats so. Among the lines of a dump of one repeated byte it is true for all and says nothing.
func (l AddressLine) NoEffect() bool { return l.Witness < 0 }

// addressLines looks at every bit of a byte address of data, from the highest down.
//
// It first looks where s found most variety, which settles nearly every line that has an effect. Then it looks at all
// pairs until two bytes differ, but only at addresses in which the lines already known to have no effect are 0, as the
// others read the same: lines without effect, however many, cost together no more than one pass over the dump. A line whose
// effect shows late costs half a pass; content on which many do so is conceivable, not met.
func addressLines(data []byte, s *Survey) []AddressLine {
	if len(data) < 2 {
		return nil
	}
	lines := make([]AddressLine, bits.Len(uint(len(data)-1)))
	lively, idle := s.liveliest(), 0
	for bit := len(lines) - 1; bit >= 0; bit-- {
		step := 1 << bit
		from := lively &^ step
		witness := firstApart(data, step, 0, from, from+s.BlockSize)
		if witness < 0 {
			witness = firstApart(data, step, idle, 0, len(data))
		}
		if witness < 0 {
			idle |= step
		}
		pairs := len(data)/(2*step)*step + max(0, len(data)%(2*step)-step)
		lines[bit] = AddressLine{Bit: bit, Pairs: pairs, Witness: witness}
	}
	return lines
}

// firstApart returns the lowest address a, from from to before to, whose byte differs from that at a+step; -1 if there is
// none. It looks only at a in which the bits of step and of skip are 0. step is a power of two and skip has no bit below
// it; from has none of their bits, and none below step unless to-from is at most step.
func firstApart(data []byte, step, skip, from, to int) int {
	for base := from; base < to; base = ((base | skip | (2*step - 1)) + 1) &^ skip {
		length := min(step, to-base, len(data)-step-base)
		if length <= 0 {
			break
		}
		if at := mismatch(data[base:base+length], data[base+step:base+step+length]); at >= 0 {
			return base + at
		}
	}
	return -1
}

// period returns the smallest power of two p below the length of data for which byte a equals byte a+p wherever both are;
// 0 if there is none.
//
// If p is one then so is 2p: where the largest power of two is none there is none. And once 2p is known to be one, p only
// needs a look at the first 2p bytes, for the others repeat them. So all tries together cost at most one pass.
func period(data []byte) int {
	if len(data) < 2 {
		return 0
	}
	p := 1 << (bits.Len(uint(len(data)-1)) - 1)
	if mismatch(data[:len(data)-p], data[p:]) >= 0 {
		return 0
	}
	for p > 1 && mismatch(data[:p/2], data[p/2:p]) < 0 {
		p /= 2
	}
	return p
}

// mismatch returns the first place where a and b, of equal length, differ; -1 if they are equal. It is bytes.Equal that
// says where, and in WebAssembly several times as fast: that one compares byte by byte there.
func mismatch(a, b []byte) int {
	b = b[:len(a)]
	i := 0
	for ; i+8 <= len(a); i += 8 {
		if apart := binary.LittleEndian.Uint64(a[i:]) ^ binary.LittleEndian.Uint64(b[i:]); apart != 0 {
			return i + bits.TrailingZeros64(apart)/8
		}
	}
	for ; i < len(a); i++ {
		if a[i] != b[i] {
			return i
		}
	}
	return -1
}
