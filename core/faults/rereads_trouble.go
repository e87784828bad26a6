package faults

import (
	"math/bits"
	"strconv"

	"lunette/core/words"
)

// A Trouble is what unstable bits look like. It is a likeness: other causes can give the same picture.
type Trouble string

// The troubles. What they look like is common practice, no source; but that leaking cells go from 0 towards 1 is how
// floating-gate cells work (any UV EPROM's data sheet, "erased state").
const (
	Leaking     Trouble = "leaking cells"     // single bits on all lines, nearly always towards 1
	DataContact Trouble = "data contact"      // one data line
	AddrContact Trouble = "address contact"   // what stands where one address line is turned
	Slow        Trouble = "slow access"       // what stood at the address before, or the first access of a page
	Supply      Trouble = "supply or seating" // all lines, in bursts
	CannotTell  Trouble = "cannot tell"
)

// Thresholds of the judgement. Ours: common practice, no source. Every likeness asks for at least fewBits, since fewer land
// on one line or in one direction by chance too often: of eight bits at random, all on one of eight lines once in 8^7.
const (
	fewBits      = 8
	mostly       = 0.8  // share of the unstable bytes that a likeness must explain
	nearlyAll    = 0.95 // share of the bits in one direction
	maxSample    = 4096 // unstable bytes that are looked at one by one
	burstGap     = 8    // bytes: unstable ones that are nearer than this belong to one burst
	burstBytes   = 16   // unstable bytes that make a burst
	tooMuch      = 4    // where one content byte in so many differs, with no line to blame, this is not one chip
	leakingShare = 256  // leaking cells make no more than one byte in so many unstable
)

// A disorder is how unstable bytes lie, beyond what a Reread shows.
type disorder struct {
	sample []int // offsets of unstable bytes, every stride-th, so that there are few
	stride int

	steady, steadyZeros int // bits of unstable bytes that are steady, and those of them that read 0

	pageStarts [64]int // unstable bytes by the trailing zeros of their 16-bit word's address

	last          int // offset of the last unstable byte; -1 before the first
	burst         int // unstable bytes of the burst that is open
	bursts        int // of at least burstBytes
	bytesInBursts int
}

// place takes note of the next unstable byte.
func (d *disorder) place(at int) {
	d.pageStarts[bits.TrailingZeros(uint(at>>1|1<<62))]++
	if d.last < 0 || at-d.last >= burstGap {
		d.closeBurst()
	}
	d.burst++
	d.last = at
}

func (d *disorder) closeBurst() {
	if d.burst >= burstBytes {
		d.bursts++
		d.bytesInBursts += d.burst
	}
	d.burst = 0
}

// A likeness is one trouble with its reasons.
type likeness struct {
	trouble Trouble
	sure    string
	lines   []Line
	reasons []string
	doubt   string
}

const (
	sureStrong = "strong"
	sureWeak   = "weak"
)

// judge fills in the trouble, or finds that these are no reads of one chip. The order of the questions matters: what one
// line explains is not asked for bursts or leaks.
func (r *Reread) judge(d disorder) {
	unlike := likeness{trouble: CannotTell, sure: string(CannotTell)}
	if r.Bits < fewBits {
		unlike.reasons = []string{words.Fill("{} differ: too few to show a pattern", words.Plural(r.Bits, "bit"))}
		unlike.doubt = "A tired cell, a contact and a short disturbance all look alike in so few bits."
		r.take(unlike)
		return
	}
	for _, ask := range []func(disorder) (likeness, bool){r.slow, r.dataContact, r.addressContact} {
		if found, ok := ask(d); ok {
			r.take(found)
			return
		}
	}
	if tooMuch*r.Bytes > r.contentBytes() {
		r.State = Strangers
		r.sayStrangers()
		return
	}
	for _, ask := range []func(disorder) (likeness, bool){r.supply, r.leaking} {
		if found, ok := ask(d); ok {
			r.take(found)
			return
		}
	}
	unlike.reasons = []string{words.Fill("{} differ, {}", words.Plural(r.Bits, "bit"), r.shape(d))}
	unlike.doubt = "Tired cells, poor contacts and a weak supply can all do this. More reads tell more."
	r.take(unlike)
}

// shape says how bits lie that show no trouble.
func (r *Reread) shape(d disorder) string {
	if len(r.reads) == 2 {
		switch ones := max(r.Reads[0].Ones, r.Reads[1].Ones); {
		case ones == r.Bits && r.Bits < 2*fewBits:
			return "all of them 1 in one read and 0 in the other: too few to tell"
		case ones == r.Bits:
			return "all of them 1 in one read and 0 in the other"
		case r.Bits < 2*fewBits:
			return "on several lines: too few to tell"
		}
	}
	if 2*d.bytesInBursts > r.Bytes {
		return "on several lines, most of them in bursts"
	}
	sided := r.ToOne + r.ToZero
	if len(r.reads) > 2 && sided > 0 && float64(max(r.ToOne, r.ToZero)) >= nearlyAll*float64(sided) {
		return "on several lines, and nearly all in one direction"
	}
	return "on several lines, and neither in bursts nor in one direction"
}

func (r *Reread) take(l likeness) {
	r.Trouble, r.Sure, r.Doubt = l.trouble, l.sure, l.doubt
	r.Lines = append(r.Lines, l.lines...)
	r.Reasons = append(r.Reasons, l.reasons...)
}

// contentBytes returns how many bytes bear evidence: those that are neither FF nor 00 in the first read, and no fewer than
// are unstable.
func (r *Reread) contentBytes() int {
	n := 0
	for _, b := range r.reads[0] {
		if b != 0xFF && b != 0 {
			n++
		}
	}
	return max(n, r.Bytes)
}

// dataContact asks whether one data line has nearly all unstable bits.
func (r *Reread) dataContact(disorder) (likeness, bool) {
	k, line := busiest(r.X8)
	if float64(line.Bits) < 0.9*float64(r.Bits) {
		return likeness{}, false
	}
	l := likeness{trouble: DataContact, sure: sureStrong, lines: []Line{line.Line}}
	even, odd := r.X16[k].Bits, r.X16[k+8].Bits
	switch {
	case odd == 0:
		l.lines = []Line{r.X16[k].Line, r.X16[k+8].Line}
		l.reasons = []string{"all of them in the even bytes of the file: the low byte of a x16 chip, or the high one if that is stored first"}
	case even == 0:
		l.lines = []Line{r.X16[k+8].Line, r.X16[k].Line}
		l.reasons = []string{"all of them in the odd bytes of the file: the high byte of a x16 chip, or the low one if the high is stored first"}
	}
	l.reasons = append([]string{words.Fill("{} of {} are bit {} of their byte", words.Count(line.Bits), words.Plural(r.Bits, "unstable bit"),
		strconv.Itoa(k))}, l.reasons...)
	if r.ToOne > 0 && r.ToZero > 0 {
		l.reasons = append(l.reasons, words.Fill("in both directions: {} read 1, {} read 0 against the majority",
			words.Count(r.ToOne), words.Count(r.ToZero)))
	}
	l.reasons = append(l.reasons, r.where())
	l.doubt = "The contact is the likely part; the chip's own output may be at fault just as well."
	if r.oneRegion() {
		l.sure = sureWeak
		l.doubt = "It shows in one region only: a contact that came loose for a moment, or a weak column of cells in the chip."
	}
	return l, true
}

// busiest returns the line with most unstable bits.
func busiest(lines []UnstableLine) (k int, line UnstableLine) {
	for i, l := range lines {
		if l.Bits > line.Bits || i == 0 {
			k, line = i, l
		}
	}
	return k, line
}

// oneRegion tells whether all of it lies in an eighth of a dump that is large enough to say so.
func (r *Reread) oneRegion() bool {
	from, to := r.Map.ends()
	return r.Size >= 8<<10 && to-from <= r.Size/8
}

// where says how far the unstable bytes are spread.
func (r *Reread) where() string {
	from, to := r.Map.ends()
	return words.Fill("they lie in {} of {} blocks, from {} to {}", words.Count(r.Map.touched()),
		words.Count(len(r.Map.Counts)), words.Address(from), words.Address(min(to, r.Size)-1))
}

// supply asks whether the unstable bytes come in bursts on all lines.
func (r *Reread) supply(d disorder) (likeness, bool) {
	// Where whole bytes are wrong about four bits of each are; where cells leak, one.
	if float64(d.bytesInBursts) < mostly*float64(r.Bytes) || r.Bits < 2*r.Bytes {
		return likeness{}, false
	}
	for _, line := range r.X8 {
		if 50*line.Bits < r.Bits || 2*line.Bits > r.Bits {
			return likeness{}, false
		}
	}
	l := likeness{trouble: Supply, sure: sureWeak}
	l.reasons = []string{words.Fill("{} of {} lie in {}, on all eight lines of a byte", words.Count(d.bytesInBursts),
		words.Plural(r.Bytes, "unstable byte"), words.Plural(d.bursts, "burst")), r.where()}
	odd := 0
	for _, read := range r.Reads {
		if read.Odd > 0 {
			odd++
		}
	}
	switch {
	case len(r.reads) > 2 && odd == len(r.reads) && r.Tied == 0:
		l.sure = sureStrong
		l.reasons = append(l.reasons, words.Fill("all {} reads have bursts, each where the others agree", words.Count(odd)))
		l.doubt = "A chip that is selected or powered through a poor pin looks the same as a weak supply."
	default:
		l.doubt = "Two versions of one image also differ in such stretches: make sure that all reads are of the same chip."
	}
	return l, true
}

func busyLines(lines []UnstableLine) (n int) {
	for _, line := range lines {
		if line.Bits > 0 {
			n++
		}
	}
	return n
}
