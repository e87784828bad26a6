package link

import (
	"strings"

	"lunette/core/arrange"
	"lunette/core/dump"
)

// A trial is one way in which one's own dump may hold what was posted: a part of it, in some arrangement, stands where a part
// of the posted image in the CPU's order stands.
type trial struct {
	view   arrange.Arrangement // of the own dump
	from   int                 // offset in that view, bytes
	first  int                 // offset in the posted image
	length int                 // bytes
}

// An outcome is what a trial came to, block by block of those that lie in its part of the posted image.
type outcome struct {
	trial
	blocks int   // how many were compared
	bytes  int   // in these
	told   int   // how many agree and are more than one repeated byte
	could  int   // how many are more than one repeated byte
	differ []int // numbers of the blocks that do not agree
}

func (o *outcome) agree() int     { return o.blocks - len(o.differ) }
func (o *outcome) complete() bool { return o.blocks > 0 && len(o.differ) == 0 }

// better tells whether o says more than other: by blocks that agree and are no fill, then by all that agree.
func (o *outcome) better(other *outcome) bool {
	if o.told != other.told {
		return o.told > other.told
	}
	return o.agree() > other.agree()
}

// run holds every block of the trial against its print.
func (h *hasher) run(s *Statement, t trial) *outcome {
	o := &outcome{trial: t}
	for i, print := range s.Blocks {
		from, to := s.span(i)
		if from < t.first || to > t.first+t.length {
			continue
		}
		from, to = from-t.first+t.from, to-t.first+t.from
		o.blocks++
		o.bytes += to - from
		h.compared++
		same, fill := h.print(t.view, from, to) == print, h.isFill(t.view, from, to)
		if !same {
			o.differ = append(o.differ, i)
		}
		if !fill {
			o.could++
		}
		if same && !fill {
			o.told++
		}
	}
	return o
}

// best runs the trials in the eight orders and returns the outcome that says most. Once most of the blocks of one that could
// agree do, no other order is tried.
func (h *hasher) best(s *Statement, trials []trial) (best *outcome) {
	for _, order := range orders(s) {
		for _, t := range trials {
			t.view, _ = t.view.Then(order)
			if o := h.run(s, t); best == nil || best.blocks == 0 || o.better(best) {
				best = o
			}
		}
		if best.complete() || 2*best.told > best.could {
			break
		}
	}
	return best
}

// orders returns the eight orders, the posted dump's first: most often one's own is stored the same way.
func orders(s *Statement) []arrange.Arrangement {
	posted, _ := arrange.Parse(s.Order.ID)
	all := []arrange.Arrangement{posted}
	for _, order := range arrange.Orders() {
		if order != posted {
			all = append(all, order)
		}
	}
	return all
}

// isPosted tells whether the part of the own dump that t takes is the whole posted image, by the SHA-256 in the CPU's order.
func (h *hasher) isPosted(s *Statement, t trial) bool {
	return strings.HasPrefix(h.sum(t.view, t.from, t.from+t.length), s.SHA256CPU)
}

// ranges returns where the blocks that differ stand, neighbours joined: in the own dump as it is stored, and in the posted
// image.
func (o *outcome) ranges(s *Statement) (own, posted []dump.Range) {
	_, of := o.view.Lanes()
	for n, i := range o.differ {
		from, to := s.span(i)
		stretch := dump.Range{From: (from - o.first + o.from) * of, To: (to - o.first + o.from) * of}
		if n > 0 && o.differ[n-1] == i-1 {
			own[len(own)-1].To, posted[len(posted)-1].To = stretch.To, to
			continue
		}
		own, posted = append(own, stretch), append(posted, dump.Range{From: from, To: to})
	}
	return own, posted
}
