package marks

import (
	"encoding/binary"
	"math"
	"math/bits"
	"slices"

	"lunette/core/sorted"
)

const (
	shownMarks  = 4
	shownPlaces = 3
)

// countedWhole is the size in bytes up to which a dump's marks are counted from end to end; of a larger one only the
// windows that say so are, as far as they are known, since counting 64 MiB would take a second.
const countedWhole = 4 << 20

// seen counts the most telling marks of an answer, in its order and in the one that comes next.
func (f *finder) seen(c *Code) []Seen {
	votes := f.fine
	best := f.bestVote(votes, c)
	if best == nil {
		votes = f.coarse
		best = f.bestVote(votes, c)
	}
	if best == nil || c.Shift > 0 {
		return nil
	}
	family := slices.IndexFunc(families, func(f Family) bool { return f.ID == c.Family })
	b := book()
	type telling struct {
		rule int
		bits float64
	}
	var all []telling
	for i, k := range best.vote.marks {
		if k < 2 {
			continue
		}
		n := b.first[family] + i
		against := float64(best.vote.rival[i]) + 0.5
		all = append(all, telling{n, min(40, float64(b.rules[n].fixedBits)) / 16 * (float64(k) * math.Log(float64(k)/against))})
	}
	sorted.By(all, func(x, y telling) int {
		if x.bits != y.bits {
			return int(math.Copysign(1, y.bits-x.bits))
		}
		return x.rule - y.rule
	})
	var seen []Seen
	var rules []int
	for _, t := range all[:min(len(all), shownMarks)] {
		r := &b.rules[t.rule]
		rules = append(rules, t.rule)
		seen = append(seen, Seen{Mnemonic: r.mark.mnemonic, Pattern: r.mark.pattern})
	}
	where := c.Where
	if len(f.data) <= countedWhole || len(where) == 0 {
		where = []Range{{0, len(f.data)}}
	}
	for _, r := range where {
		countAll(f.data, r, rules, best.reading, func(n int, offset int) {
			seen[n].Count++
			if len(seen[n].First) < shownPlaces {
				seen[n].First = append(seen[n].First, offset)
			}
		})
		countAll(f.data, r, rules, best.vote.next, func(n int, _ int) { seen[n].RivalCount++ })
	}
	return seen
}

type bestVote struct {
	vote    *vote
	reading int
}

func (f *finder) bestVote(votes map[claim]*vote, c *Code) *bestVote {
	var best *bestVote
	for key, v := range votes {
		if families[key.family].ID == c.Family && slices.Contains(ordersOf(key), c.Order) && (best == nil || v.windows > best.vote.windows) {
			best = &bestVote{v, key.reading}
		}
	}
	return best
}

// countAll finds the rules, which are of one family, where they begin in a range of data, read in reading x. The range
// starts at a multiple of 4.
func countAll(data []byte, where Range, rules []int, x int, found func(n, offset int)) {
	if len(rules) == 0 {
		return
	}
	b := book()
	var begins [256]uint8 // by first byte: bit k is set when rule k may begin with it
	var masks, values [shownMarks]uint64
	for k, n := range rules {
		masks[k], values[k] = b.rules[n].mask, b.rules[n].value
		for first := range begins {
			if uint64(first)<<56&masks[k] == values[k]&(0xFF<<56) {
				begins[first] |= 1 << k
			}
		}
	}
	if x >= plain {
		for v := range begins[:] {
			if m := bits.Reverse8(uint8(v)); int(m) > v {
				begins[v], begins[m] = begins[m], begins[v]
			}
		}
	}
	word, a := b.rules[rules[0]].word, arrangementOf[x]
	room := make([]byte, tail)
	count := func(begin uint8, here uint64, i, left int) {
		for k := 0; begin != 0; k, begin = k+1, begin>>1 {
			if begin&1 != 0 && here&masks[k] == values[k] && b.rules[rules[k]].length <= left {
				found(k, a.Source(i, len(data)))
			}
		}
	}
	// In whole longs the byte at place i of reading x is the one stored at i XOR x.
	i, flip := where.Start, x&3
	for whole := min(len(data)&^3-tail+1, where.End); i < whole; i += word {
		begin := begins[data[i^flip]]
		if begin == 0 {
			continue
		}
		here := uint64(0)
		for k := i; k < i+tail; k++ {
			here = here<<8 | uint64(data[k^flip])
		}
		if x >= plain {
			here = bits.ReverseBytes64(bits.Reverse64(here))
		}
		count(begin, here, i, tail)
	}
	for ; i < where.End; i += word {
		got := a.Copy(room, data, i)
		clear(room[got:])
		count(0xFF>>(8-len(rules)), binary.BigEndian.Uint64(room), i, got)
	}
}

// Marks returns the mnemonic and the hex pattern of every mark of a family, in the order of its table, and the manual's
// name. An ID that is unknown gives none.
func Marks(id string) (rows [][2]string) {
	for _, f := range families {
		if f.ID == id {
			for _, m := range f.rows() {
				rows = append(rows, [2]string{m.pattern, m.mnemonic})
			}
		}
	}
	return rows
}
