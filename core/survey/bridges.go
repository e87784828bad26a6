package survey

import "math/bits"

// A Bridge is two address lines that act as one: each has its effect only together with the other, as where they touch.
// With A and B wired together the device sees both low unless both are driven high, or both high as soon as one is; so
// what is read with one of them high equals what is read with the other high, and equals what is read with none (LowWins) or
// with both.
type Bridge struct {
	Low, High int  // bits of the byte address, the lower one first
	LowWins   bool // wired AND; else wired OR
	Busy      int  // bytes that say so and are neither FF nor 00: where both places hold those it says nothing
}

const (
	// minBridgeContent is how many bytes must differ from the commonest one: fewer do not tell pairs of lines apart.
	minBridgeContent = 512
	// maxBridgePasses bounds the work: full looks at a pair, of a quarter of the dump each. Ordinary content needs none.
	maxBridgePasses = 8
)

// addressBridges looks at every pair of address lines that have an effect. It first looks where s found most variety, which
// settles nearly every pair.
func addressBridges(data []byte, s *Survey) (bridges []Bridge) {
	commonest := 0
	for _, n := range s.Histogram {
		commonest = max(commonest, n)
	}
	if s.Size-commonest < minBridgeContent {
		return nil
	}
	passes, lively := 0, s.liveliest()
	for high := 1; high < len(s.Address); high++ {
		for low := 0; low < high; low++ {
			p := pair{data: data, low: 1 << low, high: 1 << high}
			if s.Address[low].NoEffect() || s.Address[high].NoEffect() || !p.likely(lively, min(s.BlockSize, 256)) || passes == maxBridgePasses {
				continue
			}
			passes++
			if lowWins, ok := p.bridged(); ok {
				bridges = append(bridges, Bridge{Low: low, High: high, LowWins: lowWins, Busy: p.busy()})
			}
		}
	}
	return bridges
}

// A pair is two address lines, as steps in the byte address.
type pair struct {
	data      []byte
	low, high int
}

// likely looks at some addresses only: those from lively on and as many others.
func (p pair) likely(lively, looks int) bool {
	stride := len(p.data)/looks | 1
	for i := range looks {
		for _, at := range [2]int{lively + i, i * stride} {
			at &^= p.low | p.high
			if at+p.high < len(p.data) && p.data[at+p.low] != p.data[at+p.high] {
				return false
			}
		}
	}
	return true
}

// bridged looks at every address inside the dump.
func (p pair) bridged() (lowWins, ok bool) {
	lowWins, highWins := true, true
	p.each(func(from, to int) bool {
		n := to - from
		one, other := p.data[from+p.low:from+p.low+n], p.data[from+p.high:from+p.high+n]
		if mismatch(one, other) >= 0 {
			lowWins, highWins = false, false
			return false
		}
		lowWins = lowWins && mismatch(one, p.data[from:to]) < 0
		both := from + p.low + p.high
		highWins = highWins && both+n <= len(p.data) && mismatch(one, p.data[both:both+n]) < 0
		return lowWins || highWins
	})
	return lowWins, lowWins != highWins
}

// busy counts the bytes with one line high that are neither FF nor 00.
func (p pair) busy() (n int) {
	p.each(func(from, to int) bool {
		for _, b := range p.data[from+p.low : to+p.low] {
			if !blank(b) {
				n++
			}
		}
		return true
	})
	return n
}

// each visits the stretches of addresses in which both lines are 0 and for which those with either line high are inside the
// dump, until visit returns false.
func (p pair) each(visit func(from, to int) bool) {
	for upper := 0; upper+p.high < len(p.data); upper += 2 * p.high {
		for from := upper; from < upper+p.high && from+p.high < len(p.data); from += 2 * p.low {
			if to := min(from+p.low, len(p.data)-p.high); !visit(from, to) {
				return
			}
		}
	}
}

// TopLines tells whether both lines are among the four highest of a dump of so many bytes.
func (b Bridge) TopLines(size int) bool { return b.Low >= bits.Len(uint(size-1))-4 }

// restless counts the address lines that have an effect and, as content goes, much of one: the bytes of at least half of the
// pairs that a sample looks at differ, not counting pairs of FF and 00. In code nearly every line does; in tables of equal
// records few do, and there a line without effect may be the table's own way.
func restless(data []byte, s *Survey) (n, of int) {
	const looks = 512
	stride := len(data)/looks | 1
	for _, line := range s.Address {
		if line.NoEffect() {
			continue
		}
		apart, pairs := 0, 0
		for at := 0; at < len(data); at += stride {
			other := at ^ 1<<line.Bit
			if other >= len(data) || blank(data[at]) && blank(data[other]) {
				continue
			}
			pairs++
			if data[at] != data[other] {
				apart++
			}
		}
		of++
		if pairs > 0 && 2*apart >= pairs {
			n++
		}
	}
	return n, of
}

func blank(b byte) bool { return b == 0xFF || b == 0 }
