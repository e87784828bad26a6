package faults

import (
	"math"
	"strconv"

	"lunette/core/words"
)

// enoughBits is how unlikely a sign of leaking cells must be without them, in bits.
const enoughBits = 16

// leaking asks whether single bits here and there read 1 now and then. Three signs speak for it: the direction of the bits
// against the majority, one of two reads that has all the ones, and that none of the bits is in blank space.
func (r *Reread) leaking(d disorder) (likeness, bool) {
	_, busy := busiest(r.X8)
	if r.options.Erase == EraseNever {
		return likeness{}, false // no cell of a mask ROM leaks
	}
	scattered := 2*busy.Bits <= r.Bits && 4*r.Bits <= 5*r.Bytes && 5*d.bytesInBursts <= r.Bytes
	if !scattered || r.Bytes*leakingShare > r.Size {
		return likeness{}, false
	}
	l := likeness{trouble: Leaking, sure: sureWeak}
	l.doubt = "A supply that is a little low does the same to good cells: read again at the voltage that the data sheet names before " +
		"the chip is given up."
	if len(r.reads) == 2 {
		r.oneReadHigh(&l)
	} else {
		r.towardsOne(&l, d)
	}
	r.spareBlank(&l, d)
	if len(l.reasons) == 0 {
		return l, false
	}
	l.reasons = append(l.reasons, r.spread(), r.where())
	return l, true
}

// spread says how the unstable bits lie on the data lines of the chip, or of a byte where its width is not known.
func (r *Reread) spread() string {
	lines, all := r.X8, "8 lines"
	switch r.options.Width {
	case 16:
		lines, all = r.X16, "16 lines"
	case 0:
		all = "the 8 lines of a byte"
	}
	return words.Fill("single bits on {} of {}, {} at the most on one", words.Count(busyLines(lines)), all, words.Count(mostBits(lines)))
}

// aboutOneIn returns the chance of 2^-bits in two digits, from which it can be worked out again: "about 1 in 1.4 million", from a
// thousand million on as a power of ten.
func aboutOneIn(bits float64) string {
	if bits < 1 {
		return "about every second time"
	}
	if bits >= 30 {
		return "about 1 in 10^" + strconv.Itoa(int(bits*math.Log10(2)))
	}
	n, digit := math.Exp2(bits), 1.0
	for n >= 100*digit {
		digit *= 10
	}
	n = math.Round(n/digit) * digit
	switch {
	case n >= 1e7:
		return "about 1 in " + words.Count(int(n/1e6)) + " million"
	case n >= 1e6:
		return "about 1 in " + words.Decimal(n/1e6, 1) + " million"
	}
	return "about 1 in " + words.Count(int(n))
}

// perMille rounds a share up to thousandths, so that what is worked out from it is what is worked out from the share that is
// said. It returns the share and its words.
func perMille(share float64) (rounded float64, said string) {
	rounded = math.Ceil(1000*share) / 1000
	return rounded, words.Decimal(100*rounded, 1) + " %"
}

// towardsOne looks at the direction against the majority, and weighs it against what a disturbance in any direction would
// show: that meets a 0 as often as the steady bits around are 0.
func (r *Reread) towardsOne(l *likeness, d disorder) {
	sided := r.ToOne + r.ToZero
	if sided < fewBits || 2*r.Tied > r.Bits || float64(r.ToOne) < nearlyAll*float64(sided) {
		return
	}
	l.reasons = append(l.reasons, words.Fill("against the majority {} read 1 and {} read 0: towards 1, the erased state",
		words.Plural(r.ToOne, "bit"), words.Count(r.ToZero)))
	zeros, said := perMille(float64(d.steadyZeros+1) / float64(d.steady+2))
	if chance := -float64(sided) * math.Log2(zeros); chance >= enoughBits && r.ToZero == 0 {
		l.sure = sureStrong
		l.reasons = append(l.reasons, words.Fill("a disturbance without direction would do that {}: about {} of the steady bits around are 0",
			aboutOneIn(chance), said))
	}
}

// oneReadHigh looks for the one of two reads that has nearly all the ones.
func (r *Reread) oneReadHigh(l *likeness) {
	ones := max(r.Reads[0].Ones, r.Reads[1].Ones)
	if r.Bits < 2*fewBits || float64(ones) < nearlyAll*float64(r.Bits) {
		return
	}
	l.reasons = append(l.reasons, words.Fill("of {}, one read has {} as 1", words.Plural(r.Bits, "unstable bit"), words.Count(ones)))
	l.doubt = "Two reads do not show which of them is right. A third read decides bit by bit."
}

// spareBlank looks whether all unstable bytes lie where something is programmed: an erased cell reads 1 and cannot leak
// towards it, while a disturbance from outside does not ask what a cell holds.
func (r *Reread) spareBlank(l *likeness, d disorder) {
	for _, at := range d.sample {
		if r.blankAround(at) {
			return
		}
	}
	// Only what lies between the first and the last of them counts: the trouble may have passed before the blank space came.
	from, to := d.sample[0], d.last+1
	blank, of := 0, 0
	for at := from; at < to; at += max(1, (to-from)/maxSample) | 1 {
		of++
		blank += one(r.blankAround(at))
	}
	filled, _ := perMille(float64(of-blank+1) / float64(of+1))
	chance := -float64(len(d.sample)) * math.Log2(filled)
	if chance < enoughBits {
		return
	}
	l.reasons = append(l.reasons, words.Fill("none of {} lies in blank space, though about {} % of {} to {} is blank: what does not ask for "+
		"content would do that {}", words.Plural(len(d.sample), "unstable byte"), words.Decimal(100*(1-filled), 1), words.Address(from), words.Address(d.last), aboutOneIn(chance)))
}

// blankAround tells whether the bytes on both sides of an offset are FF, as far as there are any.
func (r *Reread) blankAround(at int) bool {
	const near = 8
	for i := max(0, at-near); i < min(r.Size, at+near+1); i++ {
		if i != at && r.reads[0][i] != 0xFF {
			return false
		}
	}
	return true
}
