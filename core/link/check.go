package link

import (
	"lunette/core/arrange"
	"lunette/core/dump"
)

// A Relation says what one's own dump is to the posted one.
type Relation string

// The relations. Same in an Answer says whether all that could be compared agrees.
const (
	Identical Relation = "identical" // byte for byte
	Arranged  Relation = "arranged"  // the same content in another arrangement
	Lane      Relation = "lane"      // the own dump is a byte lane of the posted one
	Part      Relation = "part"      // a half or a quarter of it, or its beginning
	Repeats   Relation = "repeats"   // the posted one over and over
	Holds     Relation = "holds"     // the posted one is a half, a quarter, the beginning or a byte lane of the own dump
	Differs   Relation = "differs"   // some blocks agree, some do not
	Different Relation = "different" // nothing that tells agrees
	Unknown   Relation = "unknown"   // the statement cannot decide it
)

// An Answer says what one's own dump is to the posted one, from the statement alone.
type Answer struct {
	Relation Relation `json:"relation"`
	Same     bool     `json:"same"`     // no byte that could be compared differs
	Sentence string   `json:"sentence"` // the answer
	Evidence []string `json:"evidence"` // what was compared
	Next     string   `json:"next"`     // what to do
	Chance   string   `json:"chance,omitempty"`
	// Order is the id of the arrangement in which the own dump is, or holds, what was posted in the CPU's order; "" for none.
	Order  string `json:"order"`
	Blocks int    `json:"blocks"` // how many were compared
	Agree  int    `json:"agree"`  // how many of them agree
	// Own and Posted are where blocks differ, ascending and joined: offsets in the own dump as it is stored, and in the
	// posted image in the CPU's order, whose blocks stand at the same offsets as stored. A block that differs has at least
	// one byte in it that does; all that is outside them is the same.
	Own    []dump.Range `json:"own"`
	Posted []dump.Range `json:"posted"`
}

// Check holds one's own dump, its stored bytes, against a statement in all eight orders: it may be the same, a lane, a part,
// a multiple, or differ, and then in which blocks. progress, which may be nil, is told a share that is done, 0 to 1; it is
// for the worst case, and most checks end early. The time is at most that of nine SHA-256 over the dump.
func Check(own []byte, s Statement, progress func(share float64)) Answer {
	a := newHasher(own, 9*len(own), progress).check(&s)
	if a.Own == nil {
		a.Own, a.Posted = []dump.Range{}, []dump.Range{}
	}
	return *a
}

func (h *hasher) check(s *Statement) *Answer {
	switch n := len(h.stored); {
	case n == 0:
		return &Answer{Relation: Different, Sentence: "Your dump is empty: there is nothing to compare.", Evidence: []string{}}
	case n == s.Size:
		return h.checkWhole(s)
	case s.Size == 2*n || s.Size == 4*n:
		return h.checkPart(s, s.Size/n)
	case n == 2*s.Size || n == 4*s.Size:
		return h.checkLarger(s, n/s.Size)
	default:
		return h.checkBeginning(s)
	}
}

// checkWhole is for a dump of the posted size.
func (h *hasher) checkWhole(s *Statement) *Answer {
	if h.sum(arrange.Stored, 0, s.Size) == s.SHA256 {
		return h.sayIdentical(s)
	}
	all := trial{length: s.Size}
	if s.Short {
		return h.checkShort(s, []trial{all})
	}
	o := h.best(s, []trial{all})
	switch {
	case o.complete() && h.isPosted(s, o.trial):
		return h.sayArranged(s, o.view)
	case o.complete():
		return h.sayContradiction(o)
	}
	return h.sayDiffers(s, o, "")
}

// checkShort looks for the whole posted image by the SHA-256 alone.
func (h *hasher) checkShort(s *Statement, trials []trial) *Answer {
	for _, order := range orders(s) {
		for i, t := range trials {
			t.view, _ = t.view.Then(order)
			if !h.isPosted(s, t) {
				continue
			}
			if len(trials) == 1 {
				return h.sayArranged(s, t.view)
			}
			return h.sayHolds(s, t, []int{i}, len(trials)/2)
		}
	}
	return h.sayShort(s)
}

// checkPart is for a dump of a half or a quarter of the posted size: it may be a lane or a part.
func (h *hasher) checkPart(s *Statement, of int) *Answer {
	n := len(h.stored)
	if first := of - 2; len(s.Lanes) >= first+of { // two of two, then four of four
		for _, order := range orders(s) {
			print := h.print(order, 0, n)
			h.compared += of
			for lane := range of {
				if s.Lanes[first+lane] == print {
					return h.sayLane(s, order, arrange.Lane(lane, of))
				}
			}
		}
	}
	if s.Short {
		return h.sayShort(s)
	}
	parts := make([]trial, of)
	for i := range parts {
		parts[i] = trial{first: i * n, length: n}
	}
	o := h.best(s, parts)
	if !o.complete() {
		return h.sayDiffers(s, o, "the "+partName(o.first/n, of))
	}
	return h.sayPart(s, o, h.alike(s, parts, o.view), of)
}

// checkLarger is for a dump of twice or four times the posted size: the posted one may be a part or a lane of it.
func (h *hasher) checkLarger(s *Statement, times int) *Answer {
	var trials []trial
	for i := range times {
		trials = append(trials, trial{from: i * s.Size, length: s.Size})
	}
	for i := range times {
		trials = append(trials, trial{view: arrange.Lane(i, times), length: s.Size})
	}
	if s.Short {
		return h.checkShort(s, trials)
	}
	o := h.best(s, trials)
	_, lanes := o.view.Lanes()
	switch {
	case o.complete() && !h.isPosted(s, o.trial):
		return h.sayContradiction(o)
	case o.complete() && lanes > 1:
		return h.sayHolds(s, o.trial, nil, times)
	case o.complete():
		return h.sayHolds(s, o.trial, h.alike(s, trials[:times], o.view), times)
	case lanes > 1:
		return h.sayDiffers(s, o, laneName(laneOf(o.view)))
	}
	return h.sayDiffers(s, o, "the "+partName(o.from/s.Size, times))
}

// alike returns the numbers of the trials that are complete when seen in one view.
func (h *hasher) alike(s *Statement, trials []trial, view arrange.Arrangement) []int {
	var numbers []int
	for i, t := range trials {
		t.view = view
		if o := h.run(s, t); o.complete() {
			numbers = append(numbers, i)
		}
	}
	return numbers
}

// checkBeginning is for a dump of any other size: they may begin alike.
func (h *hasher) checkBeginning(s *Statement) *Answer {
	t := trial{length: min(s.Size, len(h.stored))}
	if s.Short {
		return h.sayShort(s)
	}
	o := h.best(s, []trial{t})
	switch {
	case o.blocks == 0:
		return h.sayShort(s)
	case o.complete():
		return h.sayBeginning(s, o)
	}
	return h.sayDiffers(s, o, "the beginning")
}
