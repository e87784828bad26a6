package faults

import (
	"math/bits"

	"lunette/core/arrange"
)

// A pair is two images of equal length, the master laid over the read, and what searches for faults share.
type pair struct {
	master, read []byte
	lines        int     // bits of the byte offset
	hypotheses   []fault // every single fault of the address lines
	sample       []int   // offsets at which a hypothesis is tried before it is held against every byte
	moved        []byte
}

// mostSampled is how many offsets are looked at first. A wrong hypothesis nearly always ends at one of the first few.
const mostSampled = 4096

// newPair returns a pair of images of equal length.
func newPair(master, read []byte) *pair {
	p := &pair{master: master, read: read, lines: bits.Len(uint(len(read) - 1)), sample: sampled(master, read)}
	p.hypotheses = addressHypotheses(p.lines)
	return p
}

// with returns the pair of another image of the master and the same read.
func (p *pair) with(master []byte) *pair {
	return &pair{master: master, read: p.read, lines: p.lines, hypotheses: p.hypotheses, sample: sampled(master, p.read), moved: p.moved}
}

// hopeless tells that with the master in the given order no single fault gives the read, as seen at the given places alone.
func (p *pair) hopeless(order arrange.Arrangement, places []int) bool {
	n := len(p.master)
	suits := func(f fault) bool {
		var left wrongLines
		for _, a := range places {
			expected := byte(0xFF)
			if from := f.source(a); from < n {
				expected = order.At(p.master, from)
			}
			if left.add(a, p.read[a]^expected); !left.few(2) {
				return false
			}
		}
		return true
	}
	for _, f := range p.hypotheses {
		if suits(f) {
			return false
		}
	}
	return !suits(fault{})
}

// sampled returns offsets spread over the images: in turn one where they differ and one where they do not and hold neither
// 00 nor FF, as far as there are such.
func sampled(master, read []byte) []int {
	differ, lively := 0, 0
	for i, b := range read {
		if b != master[i] {
			differ++
		} else if mixed(b) {
			lively++
		}
	}
	everyDiffer, everyLively := differ/(mostSampled/2)+1, lively/(mostSampled/2)+1
	var unequal, equal []int
	differ, lively = 1, 1 // until the next that is taken
	for i, b := range read {
		if b != master[i] {
			if differ--; differ == 0 {
				unequal, differ = append(unequal, i), everyDiffer
			}
		} else if mixed(b) {
			if lively--; lively == 0 {
				equal, lively = append(equal, i), everyLively
			}
		}
	}
	sample := make([]int, 0, len(unequal)+len(equal))
	for i := range max(len(unequal), len(equal)) {
		// From the middle out in large steps, so that the first few are from all over.
		if n := len(unequal); i < n {
			sample = append(sample, unequal[scattered(i, n)])
		}
		if n := len(equal); i < n {
			sample = append(sample, equal[scattered(i, n)])
		}
	}
	return sample
}

// scattered returns i of 0 to n-1 in an order that jumps about and takes each once.
func scattered(i, n int) int {
	const stride = 1_000_003 // a prime larger than any sample
	return i * stride % n
}

// An addressFinding is a fault of address lines under which at most two data lines are wrong.
type addressFinding struct {
	fault fault
	wrong wrongLines
}

// addressFaults returns the faults of address lines that explain all but at most most data lines, and are seen at all: the
// master reads otherwise through them.
func (p *pair) addressFaults(most int) (found []addressFinding) {
	for _, f := range p.hypotheses {
		if !p.maySuit(f, most) {
			continue
		}
		image := p.through(f)
		left := wrong(image, p.read)
		if !left.few(most) {
			p.learn(image)
			continue
		}
		if wrong(image, p.master) != (wrongLines{}) {
			found = append(found, addressFinding{f, left})
		}
	}
	return found
}

// addressHypotheses returns every single fault of so many address lines.
func addressHypotheses(lines int) (all []fault) {
	for i := range lines {
		for _, kind := range stuckKinds {
			all = append(all, fault{kind: kind, address: true, i: i, j: i})
		}
	}
	for i := range lines {
		for j := i + 1; j < lines; j++ {
			for _, kind := range pairKinds {
				all = append(all, fault{kind: kind, address: true, i: i, j: j})
			}
		}
	}
	return all
}

// maySuit tells whether at most most data lines are wrong in the sample when f is assumed.
func (p *pair) maySuit(f fault, most int) bool {
	var left wrongLines
	for _, a := range p.sample {
		from, expected := f.source(a), byte(0xFF)
		if from < len(p.master) {
			expected = p.master[from]
		}
		if differ := p.read[a] ^ expected; differ != 0 {
			if left.add(a, differ); !left.few(most) {
				return false
			}
		}
	}
	return true
}

// through returns the master as it is read through address fault f; it is overwritten by the next call.
func (p *pair) through(f fault) []byte {
	if p.moved == nil {
		p.moved = make([]byte, len(p.master))
	}
	f.moved(p.moved, p.master)
	return p.moved
}

// learn puts a few offsets at which image is not the read in front of the sample: what has refuted one hypothesis refutes
// others.
func (p *pair) learn(image []byte) {
	const lessons = 8
	learnt := make([]int, 0, lessons+len(p.sample))
	var seen wrongLines
	for a := 0; a < len(image) && len(learnt) < lessons; a++ {
		differ := image[a] ^ p.read[a]
		if a&1 == 0 && differ&^seen.even != 0 {
			seen.even |= differ
			learnt = append(learnt, a)
		} else if a&1 == 1 && differ&^seen.odd != 0 {
			seen.odd |= differ
			learnt = append(learnt, a)
		}
	}
	p.sample = append(learnt, p.sample...)
}

// dataFaults returns the single faults of the data lines of words of the given width by which image reads as p.read, where
// left are the lines that are wrong without a fault.
func (p *pair) dataFaults(image []byte, left uint16, width int) (found []fault) {
	if n := bits.OnesCount16(left); n == 0 || n > 2 {
		return nil
	}
	for _, f := range p.consistent(image, left, width) {
		if left&^uint16(f.both()) == 0 {
			found = append(found, f)
		}
	}
	return found
}

// dataPairs returns the pairs of faults of data lines, no line in both, by which image reads as p.read.
func (p *pair) dataPairs(image []byte, left uint16, width int) (found [][2]fault) {
	if n := bits.OnesCount16(left); n < 2 || n > 4 {
		return nil
	}
	single := p.consistent(image, left, width)
	for n, f := range single {
		for _, g := range single[n+1:] {
			if f.both()&g.both() == 0 && left&^uint16(f.both()|g.both()) == 0 {
				found = append(found, [2]fault{f, g})
			}
		}
	}
	return found
}

// consistent returns the faults that touch one of the wrong lines and give exactly what is read on their own.
func (p *pair) consistent(image []byte, left uint16, width int) (found []fault) {
	if len(image)%(width/8) != 0 {
		return nil
	}
	add := func(f fault) {
		if left>>f.i&1 == 0 && left>>f.j&1 == 0 {
			return
		}
		if f.gives(image, p.read, width) {
			found = append(found, f)
		}
	}
	for i := range width {
		for _, kind := range stuckKinds {
			add(fault{kind: kind, i: i, j: i})
		}
	}
	for i := range width {
		for j := i + 1; j < width; j++ {
			for _, kind := range pairKinds {
				add(fault{kind: kind, i: i, j: j})
			}
		}
	}
	return found
}
