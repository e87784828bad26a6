package marks

import (
	"math"

	"lunette/core/arrange"
	"lunette/core/sorted"
)

// answer weighs the votes of the windows.
func (f *finder) answer(shift int) Code {
	c := f.combine(f.fine, 1)
	if c.Sure == CannotTell {
		c = f.combine(f.coarse, poolWindows)
	}
	c.Looked, c.Shift = f.looked, shift
	return c
}

// combine takes the claim that most windows make, adds those that agree and counts those that do not.
func (f *finder) combine(votes map[claim]*vote, size int) Code {
	keys := make([]claim, 0, len(votes))
	for key := range votes {
		keys = append(keys, key)
	}
	sorted.By(keys, func(a, b claim) int {
		if d := votes[b].windows - votes[a].windows; d != 0 {
			return d
		}
		if d := votes[b].best - votes[a].best; d != 0 {
			return int(math.Copysign(1, d))
		}
		return (a.family-b.family)*readings + a.reading - b.reading
	})
	if len(keys) == 0 {
		return Code{}
	}
	first := keys[0]
	c := Code{Bits: votes[first].best / math.Ln2, Margin: votes[first].margin / float64(votes[first].windows)}
	orders := ordersOf(first)
	c.Rival = Reading{families[first.family].ID, ordersOf(claim{first.family, votes[first].next})[0]}
	for _, key := range keys {
		shared := common(orders, ordersOf(key))
		if key.family != first.family && !kin(key.family, first.family) || len(shared) == 0 {
			if c.Against == 0 {
				c.Rival = Reading{families[key.family].ID, ordersOf(key)[0]}
			}
			c.Against += votes[key].windows
			continue
		}
		orders = shared
		c.Windows += votes[key].windows
		c.Where = append(c.Where, votes[key].where...)
	}
	c.Where = joined(c.Where)
	c.Reading = Reading{families[first.family].ID, orders[0]}
	for _, o := range orders[1:] {
		c.Other = append(c.Other, Reading{c.Family, o})
	}
	c.Sure = f.sure(&c, votes[first].best, size)
	return c
}

// joined returns the ranges in the order of their offsets, with those that touch made one.
func joined(ranges []Range) (whole []Range) {
	sorted.By(ranges, func(a, b Range) int { return a.Start - b.Start })
	for _, r := range ranges {
		if n := len(whole); n > 0 && whole[n-1].End == r.Start {
			whole[n-1].End = r.End
		} else {
			whole = append(whole, r)
		}
	}
	return whole
}

// sure grades an answer. One window of a larger dump must be twice as telling as a dump that is one window.
func (f *finder) sure(c *Code, best float64, size int) Sure {
	alone := c.Windows == 1 && f.looked >= 8*size
	switch {
	case c.Against*4 > c.Windows, alone && best < 1.5*needed(window*size):
		return Weak
	case c.Windows >= 4 && c.Against*20 <= c.Windows && size == 1:
		return Certain
	}
	return Strong
}

// ordersOf returns the arrangements in which a CPU of the claimed family sees the image: one, or two where the family
// exists in both byte orders, the one that is commoner on boards first.
//
//go:noinline
func ordersOf(c claim) []arrange.Arrangement {
	fam := &families[c.family]
	switch fam.endian {
	case little:
		return []arrange.Arrangement{arrangementOf[c.reading^(fam.word-1)]}
	case either:
		x, y := c.reading, c.reading^(fam.word-1)
		if commonness[x&3] < commonness[y&3] {
			x, y = y, x
		}
		return []arrange.Arrangement{arrangementOf[x], arrangementOf[y]}
	}
	return []arrange.Arrangement{arrangementOf[c.reading]}
}

// commonness ranks the exchanges: as stored is what most dumps are, then x16 chips with their bytes swapped.
var commonness = [4]int{0: 3, 1: 2, 3: 1, 2: 0}

// common returns those of a that are in b. It and includes are not inlined, for the size of the code.
//
//go:noinline
func common(a, b []arrange.Arrangement) []arrange.Arrangement {
	var both []arrange.Arrangement
	for _, o := range a {
		if includes(b, o) {
			both = append(both, o)
		}
	}
	return both
}

//go:noinline
func includes(orders []arrange.Arrangement, order arrange.Arrangement) bool {
	for _, o := range orders {
		if o == order {
			return true
		}
	}
	return false
}

// decidedBy settles which of two byte orders it is where text reads right in one of them only. Text that reads right in
// neither decides nothing here; the caller sees it in the text's own answer.
func (c Code) decidedBy(t TextOrder) Code {
	if t.Sure < Strong {
		return c
	}
	return c.settled(t.Order)
}

// settled returns c with the reading of this order, if it is one that c leaves open, and no other.
func (c Code) settled(order arrange.Arrangement) Code {
	for _, r := range append([]Reading{c.Reading}, c.Other...) {
		if r.Order == order {
			c.Reading, c.Other = r, nil
			break
		}
	}
	return c
}

// shifted looks for code that does not begin at a multiple of its word: a dump that lost or gained bytes at the start.
func (f *finder) shifted() Code {
	const windows = 16
	none := Code{Looked: f.looked}
	stride := max(1, len(f.data)/window/windows) * window
	for shift := 1; shift < 4 && shift < len(f.data); shift++ {
		data := f.data[shift:]
		g := &finder{data: data, judge: f.judge, one: f.one, side: f.side, room: f.room, fine: map[claim]*vote{}}
		for at := 0; at < len(data); at += stride {
			if n := min(window, len(data)-at); n >= 1024 {
				g.lookPlain(at, n)
			}
		}
		for key, v := range g.fine {
			if !moves(key, shift) || v.best < 1.3*needed(window) {
				delete(g.fine, key)
			}
		}
		if c := g.answer(shift); c.Sure > CannotTell {
			for i := range c.Where {
				c.Where[i].Start += shift
				c.Where[i].End += shift
			}
			c.Sure = min(c.Sure, Strong)
			return c
		}
	}
	return none
}

// moves tells whether a shift makes a difference to a claim. CPUs that fetch bytes are left out: their bytes follow each
// other at any offset, and of swapped ones half still do.
func moves(c claim, shift int) bool {
	word := families[c.family].word
	return c.reading < plain && word > 1 && shift%max(word, []int{1, 2, 4, 4}[c.reading&3]) != 0
}

// lookPlain judges one window in the readings without mirrored bits.
func (f *finder) lookPlain(at, n int) {
	f.one.clear()
	f.one.countPlaces(f.data[at : at+n])
	if f.one.dull() {
		return
	}
	f.looked++
	if !f.promises(at, n, 0, plain) {
		return
	}
	f.one.countMarks(f.data, at, n, 0, plain, wordSizes, f.room)
	v := f.judge.weigh(f.one)
	if v.sure && f.standsBetter(v, at, n) {
		v.sure = false
	}
	f.note(f.fine, v, f.one, Range{at, at + n})
}
