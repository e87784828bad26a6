package relate

import (
	"bytes"
	"strings"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/sorted"
	"lunette/core/words"
)

// A link is one sample found inside another one.
type link struct {
	whole, part *sample
	kind        Kind
	at          int                 // offset of the part, or the number of the lane
	of          int                 // how many lanes or parts the whole has
	order       arrange.Arrangement // makes the part of what stands there; a lane included
	rank        int                 // of the order, simplest first
	fill        byte                // what stands around it, for Padded
	told        bool                // in a relation of all parts of the whole
}

// simplest keeps one link between two contents: of the orders in which they stand here or there the simplest.
func simplest(links []link) []link {
	sorted.By(links, func(a, b link) int { return a.rank - b.rank })
	type pair struct{ whole, part, of int }
	seen := map[pair]bool{}
	var kept []link
	for _, l := range links {
		p := pair{l.whole.class, l.part.class, l.of}
		if !seen[p] {
			seen[p] = true
			kept = append(kept, l)
		}
	}
	return kept
}

// findParts tells which dumps are a half or a quarter of others, or others with blank bytes around them.
func (s *search) findParts() {
	sizes := map[int]bool{}
	for _, b := range s.kept {
		sizes[len(b.data)] = len(b.data)%4 == 0
	}
	var links []link
	for done, a := range s.kept {
		s.progress(0.2 + 0.1*float64(done)/float64(len(s.kept)))
		if a.once == len(a.data) && len(a.data)%4 == 0 {
			s.foldParts(a, sizes)
			for _, b := range s.kept {
				if len(b.data) < len(a.data) && len(b.data)%4 == 0 {
					links = appendPart(links, a, b)
				}
			}
		}
	}
	links = simplest(links)
	for _, a := range s.kept {
		s.tellHalves(a, links)
	}
	for _, l := range links {
		if !l.told {
			s.tellPart(l)
		}
	}
}

// foldParts computes the folds of a up to every place at which a dump of one of the sizes may begin or end.
func (s *search) foldParts(a *sample, sizes map[int]bool) {
	n := len(a.data)
	places := map[int]bool{0: true, n: true}
	for size, fits := range sizes {
		if !fits || size > n {
			continue
		}
		places[size], places[n-size] = true, true
		if size*4 == n {
			places[2*size], places[3*size] = true, true
		}
	}
	a.prefixes = prefixFolds(a.data, sortedKeys(places))
}

// appendPart adds the link of b standing inside a, if it does.
func appendPart(links []link, a, b *sample) []link {
	n, size := len(a.data), len(b.data)
	places := []int{0, n - size}
	if size*4 == n {
		places = []int{0, size, 2 * size, 3 * size}
	}
	for _, at := range places {
		if between(a.prefixes[at], a.prefixes[at+size], size/4) != b.fold {
			continue
		}
		order, rank, ok := orderOf(arrange.Stored, a.data[at:at+size], b.data)
		if !ok {
			continue
		}
		l := link{whole: a, part: b, at: at, of: n / size, order: order, rank: rank}
		around, blank := blankAround(a.data, at, size)
		switch {
		case blank:
			l.kind, l.fill, l.of = Padded, around, 0
		case size*2 == n:
			l.kind = Half
		case size*4 == n:
			l.kind = Quarter
		default:
			continue
		}
		return append(links, l)
	}
	return links
}

// blankAround tells whether all bytes outside a stretch at one end are FF, or all are 00.
func blankAround(data []byte, at, size int) (fill byte, blank bool) {
	rest := data[size:]
	if at > 0 {
		if at+size < len(data) {
			return 0, false
		}
		rest = data[:at]
	}
	fill = rest[0]
	return fill, (fill == 0xFF || fill == 0) && bytes.Count(rest, rest[:1]) == len(rest)
}

// tellHalves tells of two dumps that are the halves of a.
func (s *search) tellHalves(a *sample, links []link) {
	halves := [2]*link{}
	for i := range links {
		if l := &links[i]; l.whole == a && l.kind == Half {
			halves[min(l.at, 1)] = l
		}
	}
	first, second := halves[0], halves[1]
	if first == nil || second == nil || first.order != second.order {
		return
	}
	b, c := first.part, second.part
	first.told, second.told = true, true
	s.joined[b.index], s.joined[c.index] = true, true
	s.add(Relation{Kind: Halves, Dumps: []int{b.index, c.index}, Sure: marks.Certain, Bits: min(b.bits, c.bits),
		Sentence: words.Fill("{} and {} are the first and the second half of {}{}.", b.name, c.name, a.name, with(first.order)),
		Evidence: []string{words.Fill("joined in this sequence they equal all {} bytes of {}{}", words.Count(len(a.data)), a.name,
			with(first.order))},
		Recipe: Recipe{Join: InSequence, Dumps: []int{b.index, c.index}, Arrangement: first.order,
			Name: newName("joined", b.name, c.name)}})
}

// tellPart tells of one dump that stands in another one.
func (s *search) tellPart(l link) {
	a, b := l.whole, l.part
	part := partName(l.at, len(b.data), len(a.data))
	r := Relation{Kind: l.kind, Dumps: []int{b.index, a.index}, Sure: marks.Certain, Bits: b.bits,
		Sentence: words.Fill("{} is the {} of {}{}.", b.name, part, a.name, with(l.order)),
		Evidence: []string{words.Fill("all {} bytes equal those of {} from {} on{}", words.Count(len(b.data)), a.name,
			words.Address(l.at), with(l.order))},
		Recipe: Recipe{Join: Alone, Dumps: []int{a.index}, From: l.at, To: l.at + len(b.data), Arrangement: l.order,
			Name: newName(strings.ReplaceAll(part, " ", "-"), a.name)}}
	if l.kind == Padded {
		side := "after"
		if l.at > 0 {
			side = "before"
		}
		r.Dumps = []int{a.index, b.index}
		r.Sentence = words.Fill("{} is {} with {} of {} {} it{}.", a.name, b.name, words.Size(len(a.data)-len(b.data)),
			words.Byte(l.fill), side, with(l.order))
		r.Recipe.Name = newName("unpadded", a.name)
	}
	s.add(r)
}

// partName names the stretch from at on of the given size in n bytes.
func partName(at, size, n int) string {
	switch {
	case size*2 == n:
		return [2]string{"first half", "second half"}[at/size]
	case size*4 == n:
		return [4]string{"first quarter", "second quarter", "third quarter", "last quarter"}[at/size]
	}
	return "part"
}
