package relate

import (
	"cmp"
	"math"
	"slices"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/sorted"
)

// A joining is one way to put samples of one size together into an image that is not open, and what speaks for it.
type joining struct {
	kind    Kind
	samples []*sample           // in the order of joining
	order   arrange.Arrangement // how the joined image is arranged afterwards
	trials  float64             // how many joinings were tried to find it
	matched bool                // marks.MatchLanes says so

	bits     float64
	sure     marks.Sure
	noRole   bool // which lane is which is open
	evidence []string
}

const (
	enoughBits = 16 // bits: by chance one search in 65,536 would show as much; less is not told
	clearBits  = 16 // by so many bits a joining must exceed every other that uses one of its dumps
	codeBits   = 32 // what code that reads in many windows counts, at most: it does not tell two versions apart
)

// findJoins tells which dumps are lanes or halves of an image that is not open.
func (s *search) findJoins() {
	groups := s.groups()
	for i, g := range groups {
		share := func(part float64) { s.progress(0.4 + 0.6*(float64(i)+part)/float64(len(groups))) }
		g.tie()
		share(0.1)
		found := g.matches(func(part float64) { share(0.1 + 0.4*part) })
		found = append(found, g.summed()...)
		found = append(found, g.headed()...)
		share(0.6)
		found = unique(found)
		for k := range found {
			found[k].judge()
			share(0.6 + 0.4*float64(k+1)/float64(len(found)))
		}
		for _, j := range clear(found) {
			s.tellJoining(j)
		}
	}
}

// mostJudged bounds how many joinings of a group are looked at closely.
const mostJudged = 32

// unique leaves out joinings that were found twice, and those beyond what can be judged.
func unique(found []joining) (kept []joining) {
	for _, j := range found {
		twin := slices.IndexFunc(kept, func(k joining) bool { return k.kind == j.kind && slices.Equal(k.samples, j.samples) })
		switch {
		case twin >= 0:
			k := &kept[twin]
			k.matched, k.trials = k.matched || j.matched, min(k.trials, j.trials)
		case len(kept) < mostJudged:
			kept = append(kept, j)
		}
	}
	return kept
}

// clear keeps the joinings that have enough evidence and are clearly better than every other that uses one of their dumps.
func clear(found []joining) (kept []joining) {
	sorted.By(found, func(a, b joining) int { return cmp.Compare(b.bits, a.bits) })
	used := map[*sample]bool{}
	for i, j := range found {
		if j.sure < marks.Strong || j.bits < enoughBits {
			continue
		}
		free, beaten := true, false
		for _, one := range j.samples {
			free = free && !used[one]
			used[one] = true
		}
		for _, other := range found[i+1:] {
			beaten = beaten || other.rivals(&j) && other.bits > j.bits-clearBits
		}
		if free && !beaten {
			kept = append(kept, j)
		}
	}
	return kept
}

// rivals tells whether a joining takes a dump away from j, or puts the same dumps together otherwise. What only says that
// they belong together, and not how, is no rival.
func (r *joining) rivals(j *joining) bool {
	shared := 0
	for _, one := range r.samples {
		if slices.Contains(j.samples, one) {
			shared++
		}
	}
	if shared == len(j.samples) && shared == len(r.samples) {
		return r.sure >= marks.Strong
	}
	return shared > 0
}

const (
	fewLanes  = 4   // lanes that are offered to marks.MatchLanes whatever their ties
	mostPairs = 128 // pairs that are looked at for code, those with the strongest ties first
	nearest   = 3   // neighbours that a lane of four has
)

// matches returns the joinings of lanes that hold code.
func (g *group) matches(progress func(share float64)) (found []joining) {
	trials := float64(len(g.samples) * (len(g.samples) - 1))
	sets := slices.DeleteFunc(g.sets(), func(set []*sample) bool { return len(set) < 2 })
	for i, set := range sets {
		progress(float64(i) / float64(len(sets)))
		for _, m := range marks.MatchLanes(withoutBlanks(set)) {
			j := joining{kind: Lanes, trials: trials, matched: true}
			for _, k := range m.Lanes {
				j.samples = append(j.samples, set[k])
			}
			if m.Code.Order.IsMirrored() {
				j.order = arrange.Mirrored
			}
			found = append(found, j)
		}
	}
	return append(found, g.quartets(found)...)
}

// matchRow is how many bytes of each lane are left out at a time when they are blank, and mostMatched how many are kept.
// marks.MatchLanes looks at a dozen windows spread over what it gets, and blank ones tell it nothing.
const (
	matchRow    = 2048
	mostMatched = 1 << 17
)

// withoutBlanks returns the lanes of a set without the rows in which any of them is mostly blank.
func withoutBlanks(set []*sample) [][]byte {
	lanes := make([][]byte, len(set))
	size := len(set[0].data)
	for at := 0; at+matchRow <= size && len(lanes[0]) < mostMatched; at += matchRow {
		if !slices.ContainsFunc(set, func(one *sample) bool { return one.isBlank(at, at+matchRow) }) {
			for k, one := range set {
				lanes[k] = append(lanes[k], one.data[at:at+matchRow]...)
			}
		}
	}
	if len(lanes[0]) < matchRow {
		for k, one := range set {
			lanes[k] = one.data
		}
	}
	return lanes
}

// isBlank tells whether more than half of the blocks in a stretch are constant. The stretch is a multiple of them.
func (a *sample) isBlank(from, to int) bool {
	lively := 0
	for _, alive := range a.lively[from/tieBlock : to/tieBlock] {
		if alive {
			lively++
		}
	}
	return lively*2 < (to-from)/tieBlock
}

// sets returns which samples are to be looked at together for code: all when they are few, else those with ties. A dump
// that is code by itself is no lane.
func (g *group) sets() (sets [][]*sample) {
	if len(g.samples) <= fewLanes {
		return [][]*sample{slices.DeleteFunc(slices.Clone(g.samples), (*sample).isCode)}
	}
	for _, t := range g.strongest() {
		if !t.a.isCode() && !t.b.isCode() {
			sets = append(sets, []*sample{t.a, t.b})
		}
	}
	return append(sets, g.fours()...)
}

// strongest returns the pairs that are looked at.
func (g *group) strongest() []tie { return g.ties[:min(len(g.ties), mostPairs)] }

// isCode tells whether a sample is code as it stands, and so no byte lane.
func (a *sample) isCode() bool {
	if a.code == nil {
		code := marks.FindCode(a.excerpt(), nil)
		a.code = &code
	}
	return a.code.Sure >= marks.Strong
}

// mostExcerpt is how many rows of a dump are looked at to tell whether it is code as it stands.
const mostExcerpt = 32

// excerpt returns rows from all over a sample that are not blank, or the sample when it is small.
func (a *sample) excerpt() (rows []byte) {
	if len(a.data) <= mostExcerpt*matchRow {
		return a.data
	}
	var lively []int
	for at := 0; at+matchRow <= len(a.data); at += matchRow {
		if !a.isBlank(at, at+matchRow) {
			lively = append(lively, at)
		}
	}
	count := min(len(lively), mostExcerpt)
	for i := range count {
		at := lively[i*len(lively)/count]
		rows = append(rows, a.data[at:at+matchRow]...)
	}
	return rows
}

// mostHeaded bounds how many pairs are looked at for headers.
const mostHeaded = 66

// headed returns the joinings that a header speaks for: one that is there when the first bytes of two lanes are
// interleaved, and one at the start of a dump whose self-check covers more than the dump.
func (g *group) headed() (found []joining) {
	pairs := len(g.samples) * (len(g.samples) - 1)
	if pairs/2 > mostHeaded {
		return nil
	}
	const start = 2048
	for i, a := range g.samples {
		long := slices.ContainsFunc(a.heads(), func(h marks.Header) bool {
			return h.At == 0 && h.SelfCheck == marks.CheckUnknown
		})
		for k, b := range g.samples {
			if k != i && long {
				found = append(found, joining{kind: Halves, samples: []*sample{a, b}, trials: float64(pairs)})
			}
			if k <= i {
				continue
			}
			lanes := [][]byte{a.data[:min(start, g.size)], b.data[:min(start, g.size)]}
			for _, h := range marks.FindHeaders(join(Lanes, lanes), nil) {
				set := []*sample{a, b}
				switch {
				case h.Bits <= math.Log2(float64(pairs)):
					continue
				case h.Order == arrange.Swapped:
					slices.Reverse(set)
				case h.Order != arrange.Stored:
					continue
				}
				found = append(found, joining{kind: Lanes, samples: set, trials: float64(pairs)})
			}
		}
	}
	return found
}

// heads returns the headers that a sample shows alone.
func (a *sample) heads() []marks.Header {
	if a.headers == nil {
		a.headers = append([]marks.Header{}, marks.FindHeaders(a.data, nil)...)
	}
	return a.headers
}

// join puts parts of equal size together.
func join(kind Kind, parts [][]byte) []byte {
	if kind == Halves {
		return slices.Concat(parts...)
	}
	joined, _ := arrange.Join(parts) // never refused: they are of one size
	return joined
}
