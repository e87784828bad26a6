package faults

import (
	"math/bits"

	"lunette/core/arrange"
	"lunette/core/words"
)

// addressContact asks whether the odd readings are what stands where one address line is turned.
func (r *Reread) addressContact(d disorder) (likeness, bool) {
	best, bestAs := -1, explained{}
	for bit := range bits.Len(uint(r.Size - 1)) {
		e := r.explain(d, func(at int) int { return at ^ 1<<bit })
		if e.convinces(e.yes) && 5*e.held >= 2*e.of && e.yes > bestAs.yes {
			best, bestAs = bit, e
		}
	}
	if best < 0 {
		return likeness{}, false
	}
	l := likeness{trouble: AddrContact, sure: sureStrong, lines: []Line{AddressLine(best, 8)}}
	name := AddressLine(best, 8).String() + " of a x8 chip"
	if best > 0 {
		l.lines = append(l.lines, AddressLine(best-1, 16))
		name += words.Fill(" ({} of a x16 one)", AddressLine(best-1, 16).String())
	}
	l.reasons = []string{words.Fill("{} of {} odd bytes that were looked at read what stands {} further on or back, where {} is turned",
		words.Count(bestAs.yes), words.Count(bestAs.of), words.Size(1<<best), name), r.where()}
	l.doubt = "The contact is the likely part: the reader's driver and the chip's own input come after it."
	if r.oneRegion() {
		l.sure = sureWeak
		l.doubt = "It shows in one region only: a contact that came loose for a moment, or another version of what stands there."
	}
	return l, true
}

// slow asks whether the odd readings are what stood at the address before, or lie at the first access of a page.
func (r *Reread) slow(d disorder) (likeness, bool) {
	l := likeness{trouble: Slow, sure: sureWeak}
	for step := 1; step <= 2; step++ {
		// Where A0 of the chip is turned half of them stand one step back as well, but no more.
		e := r.explain(d, func(at int) int { return at - step })
		if e.convinces(e.held) {
			l.sure = sureStrong
			l.reasons = append(l.reasons, words.Fill("{} of {} odd bytes that were looked at read what stands {} before: the byte of the address before",
				words.Count(e.held), words.Count(e.of), words.Plural(step, "byte")))
			break
		}
	}
	if k, n := d.page(r.Bytes); k > 0 {
		l.reasons = append(l.reasons, words.Fill("{} of {} stand in the first word after a multiple of {}: the first access after a higher address line changed",
			words.Count(n), words.Plural(r.Bytes, "unstable byte"), words.Size(1<<k)))
	}
	if len(l.reasons) == 0 {
		return l, false
	}
	l.doubt = "A slow chip, a reader that is set faster than the part is rated, or a supply that is too low: all three look like this."
	if _, line := busiest(r.X8); 10*line.Bits >= 9*r.Bits && l.sure == sureWeak {
		l.lines = []Line{line.Line}
		l.doubt = words.Fill("All of it on {}, so that a weak column of cells or the line's own contact may be at fault as well.", line.Line.String())
	}
	return l, true
}

// page returns the largest k, at least 4, for which most unstable bytes stand in the first word of 1<<k bytes, and how
// many do; 0 if there is none. By chance one byte in 1<<(k-1) stands there.
func (d disorder) page(unstable int) (k, n int) {
	sum := 0
	for zeros := len(d.pageStarts) - 1; zeros >= 3; zeros-- {
		sum += d.pageStarts[zeros]
		if unstable >= fewBits && float64(sum) >= mostly*float64(unstable) && zeros+1 < 40 {
			return zeros + 1, sum
		}
	}
	return 0, 0
}

// explained counts odd bytes that another place in the dump explains.
type explained struct {
	yes    int  // some read has the odd value at the other place
	held   int  // the same read has it there: so it does where a byte is held over, but not where content is moved on
	of     int  // odd bytes that bear evidence
	alike  int  // of the held ones: where it is not known which reading is odd, and the bytes beside it are alike as well
	common bool // the two places hold the same nearly everywhere, so that it explains nothing
}

// convinces tells whether so many of the bytes are enough.
func (e explained) convinces(n int) bool {
	return !e.common && 2*e.alike <= e.held && e.of >= fewBits && float64(n) >= mostly*float64(e.of)
}

// explain counts in how many of the sampled unstable bytes a reading that is not the others' is what the reads have at
// another place. Bytes whose readings are only FF and 00 besides the right one do not count: so reads a bus that nothing
// drives.
func (r *Reread) explain(d disorder, other func(at int) int) (e explained) {
	for _, at := range d.sample {
		if there := other(at); there >= 0 && there < r.Size {
			r.explains(at, other, &e)
		}
	}
	e.common = e.convinces(e.yes) && r.commonly(other)
	return e
}

// explains adds to e whether the byte at one offset bears evidence, and whether an odd reading of it is that of another.
func (r *Reread) explains(at int, other func(at int) int, e *explained) {
	there := other(at)
	value, tied := r.chosen(at)
	counts, yes, held, alike := false, false, false, false
	for k, read := range r.reads {
		v := read[at]
		if v == value && tied == 0 || v == 0xFF || v == 0 {
			continue
		}
		counts = true
		for j, right := range r.reads {
			if j != k && right[at] != v {
				if v == read[there] {
					held = true
					alike = alike || tied != 0 && heldAt(read, at-1, other) && heldAt(read, at+1, other)
				}
				yes = yes || held || v == right[there]
			}
		}
	}
	e.of += one(counts)
	e.yes += one(yes)
	e.held += one(held)
	e.alike += one(alike)
}

// heldAt tells whether the byte at an offset is that at the other place. Beyond an end there is nothing to contradict it.
func heldAt(read []byte, at int, other func(at int) int) bool {
	if at < 0 || at >= len(read) || other(at) < 0 || other(at) >= len(read) {
		return true
	}
	return read[at] == read[other(at)]
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// commonly tells whether the byte at other(at) is often that at at, over the whole dump: in content that repeats.
func (r *Reread) commonly(other func(at int) int) bool {
	same, of := 0, 0
	stride := max(1, r.Size/maxSample) | 1
	for at := 0; at < r.Size; at += stride {
		there := other(at)
		if b := r.reads[0][at]; b == 0xFF || b == 0 || there < 0 || there >= r.Size {
			continue
		}
		of++
		if r.reads[0][at] == r.reads[0][there] {
			same++
		}
	}
	return 5*same > 2*of
}

// rearranged finds a read that holds the same as the first in another arrangement, or with parts exchanged.
func (r *Reread) rearranged() bool {
	if 16*r.Bytes < r.contentBytes() {
		return false
	}
	for i, read := range r.reads[1:] {
		for _, order := range arrange.Orders()[1:] {
			agree, of, same := sameArranged(r.reads[0], read, order)
			if !same {
				continue
			}
			r.Headline = words.Fill("These are not read alike: {} holds the same as {}, {}.", r.names[i+1], r.names[0], order.String())
			r.Reasons = append(r.Reasons, words.Fill("{} differ as they stand; of {} looked at, {} agree in that order",
				words.Plural(r.Bytes, "byte"), words.Count(of), words.Count(agree)))
			r.Doubt = "The content is the same; nothing is said about unstable bits."
			r.Next = []string{words.Fill("Rearrange {} ({}) and compare again, or read it again as the first was read.", r.names[i+1], order.String())}
			return true
		}
		for bit := range bits.Len(uint(r.Size - 1)) {
			agree, of := sameTurned(r.reads[0], read, 1<<bit)
			if of < 64 || 20*agree < 19*of {
				continue
			}
			r.Headline = words.Fill("These are not read alike: {} holds what {} holds with neighbouring parts of {} exchanged.",
				r.names[i+1], r.names[0], words.Size(1<<bit))
			r.Reasons = append(r.Reasons, words.Fill("{} differ as they stand; of {} looked at where that shows, {} agree with the parts exchanged",
				words.Plural(r.Bytes, "byte"), words.Count(of), words.Count(agree)))
			r.Doubt = "The content is the same; nothing is said about unstable bits."
			r.Next = []string{"Read it again as the first was read, with the same adapter and setting."}
			return true
		}
	}
	return false
}

// sameArranged tells whether b is a in another order: of some thousand bytes with content nearly all agree, and fewer do as
// they stand.
func sameArranged(a, b []byte, order arrange.Arrangement) (agree, of int, same bool) {
	asStored := 0
	stride := max(1, len(a)/maxSample) | 1
	for at := 0; at < len(a); at += stride {
		if a[at] == 0xFF || a[at] == 0 {
			continue
		}
		of++
		if order.At(b, at) == a[at] {
			agree++
		}
		if b[at] == a[at] {
			asStored++
		}
	}
	return agree, of, of >= 64 && 20*agree >= 19*of && 10*asStored <= 8*of
}

// sameTurned counts how often b holds what a holds with one bit of the offset turned, of some thousand places where the two
// differ in a. A contact that is poor turns it at half of them at most.
func sameTurned(a, b []byte, step int) (agree, of int) {
	stride := max(1, len(a)/maxSample) | 1
	for at := 0; at < len(a); at += stride {
		if there := at ^ step; there < len(a) && a[at] != a[there] {
			of++
			agree += one(b[at] == a[there])
		}
	}
	return agree, of
}
