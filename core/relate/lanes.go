package relate

import (
	"slices"
	"strconv"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/words"
)

// findLanes tells which dumps are byte lanes of others that are open.
func (s *search) findLanes() {
	var links []link
	for done, a := range s.kept {
		s.progress(0.3 + 0.1*float64(done)/float64(len(s.kept)))
		for _, of := range []int{2, 4} {
			for lane := range of {
				links = append(links, s.lanesOf(a, lane, of)...)
			}
		}
	}
	links = simplest(links)
	for _, a := range s.kept {
		for _, of := range []int{2, 4} {
			s.tellLanes(a, of, links)
		}
	}
	for _, l := range links {
		if !l.told {
			s.tellLane(l)
		}
	}
}

// lanesOf returns the links of samples that are one lane of a.
func (s *search) lanesOf(a *sample, lane, of int) (links []link) {
	first := arrange.Lane(lane, of)
	size := first.Len(len(a.data))
	if !slices.ContainsFunc(s.kept, func(b *sample) bool { return len(b.data) == size }) {
		return nil
	}
	fold := foldOf(a.data, lane, of)
	for _, b := range s.kept {
		if len(b.data) != size || b.fold != fold {
			continue
		}
		if order, rank, ok := orderOf(first, a.data, b.data); ok {
			links = append(links, link{whole: a, part: b, kind: LaneOf, at: lane, of: of, order: order, rank: rank})
		}
	}
	return links
}

// tellLanes tells of dumps that are all the lanes of a, in one order.
func (s *search) tellLanes(a *sample, of int, links []link) {
	lanes := make([]*link, of)
	for i := range links {
		l := &links[i]
		if l.whole == a && l.of == of && lanes[l.at] == nil {
			lanes[l.at] = l
		}
	}
	if slices.Contains(lanes, nil) || slices.ContainsFunc(lanes, func(l *link) bool { return l.rank != lanes[0].rank }) {
		return
	}
	// Joining lanes in an order of their own is not undone by an order of the whole, but for mirrored bits.
	order := arrange.Orders()[lanes[0].rank]
	if order != arrange.Stored && order != arrange.Mirrored {
		return
	}
	r := Relation{Kind: Lanes, Sure: marks.Certain}
	var names []string
	for i, lane := range lanes {
		l := lane.part
		lane.told = true
		s.joined[l.index] = true
		r.Dumps = append(r.Dumps, l.index)
		names = append(names, l.name)
		if i == 0 || l.bits < r.Bits {
			r.Bits = l.bits
		}
	}
	r.Sentence = words.Fill("{} are the {} of {}{}.", words.List(names), laneNames(of), a.name, with(order))
	r.Evidence = []string{words.Fill("interleaved they equal all {} bytes of {}{}", words.Count(len(a.data)), a.name, with(order))}
	r.Recipe = Recipe{Join: Interleave, Dumps: r.Dumps, Arrangement: order, Name: newName("joined", names...)}
	s.add(r)
}

// laneNames names all the lanes of an image, that of address 0 first.
func laneNames(of int) string {
	if of == 2 {
		return "even and odd byte lanes"
	}
	return words.Fill("byte lanes 0 to {}, in this sequence,", strconv.Itoa(of-1))
}

// tellLane tells of one dump that is a lane of another.
func (s *search) tellLane(l link) {
	a, b := l.whole, l.part
	s.add(Relation{Kind: LaneOf, Dumps: []int{b.index, a.index}, Sure: marks.Certain, Bits: b.bits,
		Sentence: words.Fill("{} is {} of {}: {}.", b.name, oneLane(l.of), a.name, l.order.String()),
		Evidence: []string{words.Fill("all {} bytes equal those of {} from {} on, one in {}", words.Count(len(b.data)), a.name,
			words.Address(l.at), strconv.Itoa(l.of))},
		Recipe: Recipe{Join: Alone, Dumps: []int{a.index}, Arrangement: l.order, Name: newName(l.order.ID(), a.name)}})
}

func oneLane(of int) string {
	if of == 2 {
		return "one byte lane of two"
	}
	return "one byte lane of four"
}
