package faults

import (
	"bytes"

	"lunette/core/arrange"
	"lunette/core/words"
)

// Compare says what read is to master: a relation, counts, and what explains the differences. Neither is changed; sizes may
// differ and either may be empty. progress, when not nil, is told the share that is done, 0 to 1. The time it takes grows with
// the size.
//
// What is named as an explanation gives the read from the master exactly, or says how many bytes it leaves.
func Compare(master, read []byte, options Options, progress func(share float64)) Comparison {
	if progress == nil {
		progress = func(float64) {}
	}
	c := Comparison{options: options, MasterSize: len(master), ReadSize: len(read), Repeated: 1, StoppedAt: -1, FirstDiffer: -1, FirstLow: -1,
		Explanations: []Explanation{}, Buses: []BusCount{}, Map: newDiffMap(0), Runs: DiffRuns{Listed: []Span{}}}
	if len(master) == 0 || len(read) == 0 {
		c.Relation = Empty
		c.say(tally{})
		progress(1)
		return c
	}
	d := &doctor{widths: options.widths(len(read)), lowFirst: options.LowFirst, progress: progress}
	f := d.diagnose(&c, master, read)
	c.take(f)
	image := f.image(master)
	t := c.count(image, read, f.inside(), d.widths)
	c.CanStillBurn = c.Low == 0 && c.Compared > 0
	if c.Relation == "" {
		c.Relation = c.remaining(image, read, f, t)
	}
	c.explainAll(d, f)
	c.turn(d, master, image, read)
	c.say(t)
	progress(1)
	return c
}

// widths returns the numbers of data lines that the device may have; a dump of an odd number of bytes is not of a x16 one.
func (o Options) widths(size int) []int {
	switch {
	case o.Width == 8 || size%2 == 1:
		return []int{8}
	case o.Width == 16:
		return []int{16}
	}
	return []int{8, 16}
}

// take notes how the master lies over the read.
func (c *Comparison) take(f frame) {
	c.Arrangement, c.Order, c.Repeated, c.MasterFrom = f.order, f.order.String(), f.times, f.from
}

// diagnose finds the relation, as far as it is more than a count of bits, the causes behind it and the frame in which the two
// are to be compared.
func (d *doctor) diagnose(c *Comparison, master, read []byte) frame {
	if bytes.Equal(master, read) {
		c.Relation = Identical
		return storedFrame(len(master), len(read))
	}
	whole, parts := framesOf(len(master), len(read))
	places := lively(read, 2048)
	best, differ := closest(whole, master, read, places)
	if differ > 0 && len(whole) > 0 && best.order != arrange.Stored {
		// Of eight orders one is always the closest; it counts when it is clearly closer than as stored.
		const clearly = 16 // bytes
		if stored := differing(master, read); stored-differ < max(clearly, stored/10) {
			best, differ = whole[0], stored
		}
	}
	known := information(read)
	if differ > 0 {
		// Parts and repetitions count when they are exact, and when there is no whole.
		if part, left := closest(parts, master, read, places); len(whole) == 0 || left == 0 && known >= leastBits {
			best, differ = part, left
		}
	}
	d.progress(0.1)
	if differ == 0 && known >= leastBits {
		c.Relation = best.relation()
		if c.Relation == Halved && isRepeated(best.order.Apply(master), read) {
			c.Relation = Once
		}
		if c.Relation == Rearranged {
			d.causes = append(d.causes, cause{kind: Reordering, order: best.order})
		}
		return best
	}
	image := best.image(master)
	at, stopped := stoppedAt(image, read, best.inside())
	base := best
	if !stopped && best.isOrder() {
		base = storedFrame(len(master), len(read))
	}
	image = base.image(master)
	d.explain(image, read, differing(image, read), stopped)
	for i := range d.causes {
		d.causes[i].order = base.then(d.causes[i].order).order
	}
	if stopped {
		c.Relation, c.StoppedAt = Stopped, at
		return best
	}
	if constant(read) && read[0] == 0xFF {
		c.Relation = BlankRead
		return base
	}
	if constant(read) && len(read) >= leastImage {
		c.Relation, c.value = OneValue, words.Byte(read[0])
		return base
	}
	if len(d.causes) > 0 {
		c.Relation = d.causes[0].relation()
		base.order = d.causes[0].order
		return base
	}
	if f, ok := shifted(master, read); ok {
		c.Relation = Offset
		return f
	}
	image = best.image(master)
	if known >= leastBits {
		p := newPair(image, read)
		d.nearly(p, differ)
		if len(d.causes) == 0 {
			d.contacts(p, differ)
		}
	}
	if len(d.causes) > 0 {
		c.Relation = LineFault
		for i := range d.causes {
			d.causes[i].order = best.order
		}
	}
	return best
}

// isRepeated tells whether an image is part, repeated to its end.
func isRepeated(image, part []byte) bool {
	for len(image) >= len(part) {
		if !bytes.Equal(image[:len(part)], part) {
			return false
		}
		image = image[len(part):]
	}
	return len(image) == 0
}

func storedFrame(master, read int) frame {
	return frame{order: arrange.Stored, times: 1, size: master, length: read}
}

// isOrder tells whether the frame lays the whole master over the whole read in some order.
func (f frame) isOrder() bool { return f.times == 1 && f.from == 0 && f.size == f.length }

// then returns the frame with the master arranged further.
func (f frame) then(order arrange.Arrangement) frame {
	if both, ok := f.order.Then(order); ok {
		f.order = both
	}
	return f
}

// relation returns what a read is that equals its frame.
func (f frame) relation() Relation {
	_, lanes := f.order.Lanes()
	switch in := f.inside(); {
	case in.To-in.From < f.length:
		return Padded
	case f.times > 1:
		return Doubled
	case lanes > 1:
		return OneLane
	case f.size > f.length:
		return Halved
	}
	return Rearranged
}

// relation returns what a read is to its master that comes of the cause.
func (c cause) relation() Relation {
	if c.kind == Wiring {
		return Rewired
	}
	return LineFault
}

// Shares of what differs, one in so many. Ours: common practice, no source.
const (
	fewHigh    = 256 // so few bytes with bits that read 1 are what a tired chip or a slow read shows too
	oldContent = 50  // of the bits that must be 1, so many read 0 where older content stands underneath; fewer are decay
	mostShared = 10  // two of different sizes share parts only, when more than one in so many of their bytes with content differ
)

// leastTogether is how many bytes must stand against each other before their being alike or not says anything: as many as have
// leastBits of information.
const leastTogether = 32

// remaining returns the relation of a read that is no arrangement, no stopped burn and no fault of a line.
func (c *Comparison) remaining(master, read []byte, f frame, t tally) Relation {
	in := f.inside()
	master, read = master[in.From:in.To], read[in.From:in.To]
	alike := related(master, read, t)
	inParts := c.MasterSize != c.ReadSize && mostShared*(t.lively-t.livelyEqual) > t.lively
	switch {
	case len(read) == 0:
		return Unrelated
	case len(read) < leastTogether:
		return TooLittle
	case c.Low == 0 && !inParts && (alike || containedZeros(read, master) >= leastSubset):
		if c.Differ*fewHigh <= c.Compared {
			return FewHigh
		}
		return Weak
	case c.High == 0 && (alike || contained(read, master) >= leastSubset):
		switch few := c.Low*oldContent <= c.Low+onesOf(read); {
		case few && !inParts:
			return MustErase
		case inParts || t.lowInContent < leastContact:
			// Zeros where the master is blank are anything's: what stands there may belong there.
			return Shares
		}
		return Underneath
	case alike && inParts:
		return Shares
	case alike:
		return Different
	}
	return Unrelated
}
