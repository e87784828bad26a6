package marks

import (
	"cmp"
	"slices"

	"lunette/core/sorted"
)

// A Match is byte lanes that belong together: joined in this order, byte by byte, they are code; joined otherwise they
// are not.
type Match struct {
	Lanes []int // indexes into the lanes offered: the lane of address 0 first, as the CPU sees the image
	Open  bool  // the family exists in both byte orders and nothing decides: the lanes may also be the other way round
	Code  Code  // what the joined image holds, in the order given by Lanes; Order is as stored but for mirrored bits
	Votes int   // windows of the joined image that say so
	Next  int   // windows that say so for the next best joining that uses one of these lanes
}

const (
	laneWindows  = 12 // windows of a joined image that are looked at
	quadWindows  = 6
	clearly      = 2 // times the evidence needed by a window, and times that of the next best joining that shares a lane
	mostForQuads = 8 // lanes; the ways to take four of more of them are too many
)

// MatchLanes finds the lanes that belong together, two of a 16-bit bus or four of a 32-bit bus, among any number of dumps.
// Only dumps of the same length are put together. A match is returned when at least a quarter of the windows of the joined image, and
// two at least, say the same with twice the evidence that a window alone needs, and no other joining that shares a lane has half the evidence; each lane is in one match at most. Lanes that hold no code
// of a known family are never matched.
func MatchLanes(lanes [][]byte) []Match {
	m := &matcher{lanes: lanes, finder: newFinder(nil)}
	for i := range lanes {
		for j := i + 1; j < len(lanes); j++ {
			m.try([]int{i, j}, laneWindows)
		}
	}
	if len(lanes) <= mostForQuads {
		m.tryQuads()
	}
	return m.accepted()
}

// A joining is one way to put lanes together, with the votes for its best claim.
type joining struct {
	lanes         []int
	claim         claim
	votes, looked int     // windows
	total         float64 // nats, of all windows that vote
}

type matcher struct {
	lanes    [][]byte
	finder   *finder
	joinings []joining
	joined   []byte
}

// try joins some lanes and notes every claim that windows make. The four readings of a joined image cover the two orders of
// two lanes, and four of the 24 of four.
func (m *matcher) try(lanes []int, windows int) {
	size := len(m.lanes[lanes[0]])
	for _, i := range lanes {
		if len(m.lanes[i]) != size {
			return
		}
	}
	piece := window / len(lanes)
	pieces := size / piece
	if pieces == 0 {
		piece, pieces = size, 1
	}
	if piece*len(lanes) < least {
		return
	}
	f := m.finder
	f.fine, f.looked = map[claim]*vote{}, 0
	for w := range min(windows, pieces) {
		at := w * pieces / min(windows, pieces) * piece
		m.joined = m.joined[:0]
		for k := at; k < at+piece; k++ {
			for _, i := range lanes {
				m.joined = append(m.joined, m.lanes[i][k])
			}
		}
		f.data = m.joined
		f.lookPlain(0, len(m.joined)&^3)
	}
	for key, v := range f.fine {
		m.joinings = append(m.joinings, joining{slices.Clone(lanes), key, v.windows, f.looked, v.total})
	}
}

func (m *matcher) tryQuads() {
	n := len(m.lanes)
	for a := range n {
		for b := a + 1; b < n; b++ {
			for c := b + 1; c < n; c++ {
				for d := c + 1; d < n; d++ {
					for _, rest := range [][3]int{{b, c, d}, {b, d, c}, {c, b, d}, {c, d, b}, {d, b, c}, {d, c, b}} {
						m.try([]int{a, rest[0], rest[1], rest[2]}, quadWindows)
					}
				}
			}
		}
	}
}

// accepted takes the joinings with most evidence as long as nothing that shares a lane comes near.
func (m *matcher) accepted() []Match {
	sorted.By(m.joinings, func(a, b joining) int {
		if d := cmp.Compare(b.total, a.total); d != 0 {
			return d
		}
		return slices.Compare(a.lanes, b.lanes)
	})
	var matches []Match
	used := make([]bool, len(m.lanes))
	for n, j := range m.joinings {
		free := !slices.ContainsFunc(j.lanes, func(i int) bool { return used[i] })
		if !free {
			continue
		}
		next, nextTotal := 0, 0.0
		for k, other := range m.joinings {
			if k == n || kin(other.claim.family, j.claim.family) && slices.Equal(other.lanes, j.lanes) {
				continue
			}
			if slices.ContainsFunc(other.lanes, func(i int) bool { return slices.Contains(j.lanes, i) }) {
				next, nextTotal = max(next, other.votes), max(nextTotal, other.total)
			}
		}
		average := j.total / float64(j.votes)
		strong := j.votes >= 2 && 4*j.votes >= j.looked || j.votes == j.looked
		if !strong || average < clearly*needed(window) || j.total < clearly*nextTotal {
			continue
		}
		order, open, ok := m.ordered(j)
		if !ok {
			continue
		}
		for _, i := range order {
			used[i] = true
		}
		code := FindCode(m.join(order), nil)
		if !open {
			code.Other = nil
		}
		matches = append(matches, Match{Lanes: order, Open: open, Code: code, Votes: j.votes, Next: next})
	}
	return matches
}

// ordered returns the lanes of a joining in the order of the CPU's addresses. open tells that a CPU of the other byte order
// would have them in another one; ok is false when no order of the lanes makes the claim true.
func (m *matcher) ordered(j joining) (lanes []int, open, ok bool) {
	var possible []int
	for _, order := range ordersOf(j.claim) {
		// Two lanes cannot exchange the halves of a long.
		if x := slices.Index(arrangementOf[:], order); x&^(len(j.lanes)-1) == 0 {
			possible = append(possible, x)
		}
	}
	if len(possible) == 0 {
		return nil, false, false
	}
	x := possible[0]
	if open = len(possible) > 1; open {
		joined := m.join(j.lanes)
		c := Code{Reading: Reading{families[j.claim.family].ID, arrangementOf[x]}, Where: []Range{{0, len(joined)}}}
		for _, y := range possible[1:] {
			c.Other = append(c.Other, Reading{c.Family, arrangementOf[y]})
		}
		if c = c.decidedBy(FindText(joined)); len(c.Other) > 0 {
			c = c.decidedByConstants(joined)
		}
		x, open = slices.Index(arrangementOf[:], c.Order), len(c.Other) > 0
	}
	for k := range j.lanes {
		lanes = append(lanes, j.lanes[k^x])
	}
	return lanes, open, true
}

func (m *matcher) join(lanes []int) []byte {
	size := len(m.lanes[lanes[0]])
	joined := make([]byte, 0, size*len(lanes))
	for k := range size {
		for _, i := range lanes {
			joined = append(joined, m.lanes[i][k])
		}
	}
	return joined
}
