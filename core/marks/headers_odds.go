package marks

import (
	"math"
	"math/bits"

	"lunette/core/arrange"
)

// The tests run seldom and call what is in this file often: inlined, it would be another 40 KB of code to fetch. Hence
// the directives.

// headerOdds are the chances that a byte of this dump has a certain value: its share in the dump, or one in 256 if that
// is more, so that neither common bytes of this dump nor rare ones make a pattern look better than it is.
type headerOdds struct {
	share [256]float64 // share of each value in the dump
	other *headerOdds  // the same with mirrored bits, made when first asked for

	// near keeps the odds at starts and ends, which many rows ask for. An order of a whole image has the same bytes
	// there as any other, so that orders share them.
	near map[nearKey]*headerOdds
}

// nearKey is a stretch at a start or an end, of an arrangement or, where all orders have the same bytes in it, of any.
type nearKey struct {
	from, to int
	order    arrange.Arrangement
}

// nearBytes is the length of the surroundings of a place, in bytes.
const nearBytes = 1 << 10

// weigh sets the place that odds are asked for.
func (v *headerView) weigh(part headerSpan, place headerPlace) {
	v.part, v.place, v.around = part, place, nil
}

// odds returns the odds at the place that is tried: what is common in the dump or in the 1 KiB around is no surprise.
// Headers often stand in front of packed data: the dump as a whole then has few zeros, and its first bytes many. They
// are counted when a test first asks, which is seldom.
func (v *headerView) odds() *headerOdds {
	if v.around != nil {
		return v.around
	}
	key := nearKey{v.part.from, min(v.part.from+nearBytes, v.part.to), v.order}
	if v.place == atEnd {
		key.from, key.to = max(v.part.from, v.part.to-nearBytes), v.part.to
	}
	if v.shift == 0 && key.from%4 == 0 && key.to%4 == 0 {
		key.order = arrange.Stored
	}
	v.around = v.dump.near[key]
	if v.around != nil {
		return v.around
	}
	var count [256]int
	v.each(key.from, key.to, func(_ int, b byte) { count[b]++ })
	v.around = &headerOdds{}
	v.around.fill(&count, key.to-key.from)
	for b, share := range v.dump.share {
		v.around.share[b] = max(share, v.around.share[b])
	}
	if v.place != atSteps {
		v.dump.near[key] = v.around
	}
	return v.around
}

// fill sets the shares from the counts of total bytes. A value that was never seen counts as seen a little.
func (o *headerOdds) fill(count *[256]int, total int) {
	for b, n := range count {
		o.share[b] = (float64(n) + 1) / (float64(total) + 256)
	}
}

// oddsSample bounds how many bytes are counted for the shares; a larger dump is sampled in 256 even pieces.
const oddsSample = 1 << 20

// oddsOf returns the odds in data. counted, which may be nil, is what was counted of all of it already.
func oddsOf(data []byte, counted *sumTally) *headerOdds {
	pieces, size := 1, len(data)
	if size > oddsSample {
		pieces, size = 256, oddsSample/256
	}
	if counted == nil || pieces > 1 {
		counted = new(sumTally)
		for i := range pieces {
			from := int(int64(len(data)-size) * int64(i) / int64(max(pieces-1, 1)))
			counted.add(data[from : from+size])
		}
	}
	var count [256]int
	for b := range count {
		count[b] = counted.count(byte(b))
	}
	o := &headerOdds{near: map[nearKey]*headerOdds{}}
	o.fill(&count, pieces*size)
	return o
}

func (o *headerOdds) mirrored() *headerOdds {
	if o.other == nil {
		o.other = &headerOdds{near: map[nearKey]*headerOdds{}}
		for b := range o.share {
			o.other.share[bits.Reverse8(byte(b))] = o.share[b]
		}
	}
	return o.other
}

// among returns the chance that a byte is one of values, which are different.
//
//go:noinline
func (o *headerOdds) among(values ...byte) float64 {
	share := 0.0
	for _, b := range values {
		share += o.share[b]
	}
	return min(1, max(share, float64(len(values))/256))
}

// within returns the chance that a byte is from low to high, both included.
//
//go:noinline
func (o *headerOdds) within(low, high int) float64 {
	share := 0.0
	for b := max(low, 0); b <= min(high, 255); b++ {
		share += o.share[b]
	}
	return min(1, max(share, float64(high-low+1)/256))
}

// even returns the chance that a byte is even.
func (o *headerOdds) even() float64 {
	share := 0.0
	for b := 0; b < 256; b += 2 {
		share += o.share[b]
	}
	return max(share, 0.5)
}

// fours returns the chance that a byte is a multiple of four.
func (o *headerOdds) fours() float64 {
	share := 0.0
	for b := 0; b < 256; b += 4 {
		share += o.share[b]
	}
	return max(share, 0.25)
}

// exactly returns the chance that bytes are those of text.
//
//go:noinline
func (o *headerOdds) exactly(text string) float64 {
	p := 1.0
	for i := range len(text) {
		p *= o.among(text[i])
	}
	return p
}

// must returns the bits of a condition that has to hold and has the chance p.
//
//go:noinline
func must(p float64) float64 { return -math.Log2(min(p, 1)) }

// may returns the bits of a condition of chance p that the pattern may meet or not, half of its weight given to each:
// the factors are 1/(2p) and 1/2, which average to less than one.
//
//go:noinline
func may(holds bool, p float64) float64 {
	if holds {
		return must(p) - 1
	}
	return -1
}

// usual is may for a condition that the pattern nearly always meets: seven eighths of the weight are given to the case
// that it does.
func usual(holds bool, p float64) float64 {
	if holds {
		return must(p) + math.Log2(7.0/8)
	}
	return -3
}

// leastPeer is the least chance that peers return: however rare a condition is elsewhere, one entry of a table of
// vectors counts for five bits at most, since the entries of tables that are none resemble each other too.
const leastPeer = 1.0 / 32

// peers returns the chance that good holds at a place which is no part of the pattern but stands to it as the pattern's
// own places do: count places from from on, step bytes apart. What fits as often behind the table as in it is no table
// of vectors. model is the chance by the odds of single bytes; the larger one is returned.
//
//go:noinline
func (v *headerView) peers(part headerSpan, from, step, count int, model float64, good func(at int) bool) float64 {
	seen, hits := 0, 0
	for at := part.from + from; seen < count && at+step <= part.to; at += step {
		seen++
		if good(at) {
			hits++
		}
	}
	return min(1, max(leastPeer, model, float64(hits+1)/float64(seen+2)))
}
