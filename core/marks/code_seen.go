package marks

import (
	"encoding/binary"
	"math"
	"slices"

	"lunette/core/sorted"
)

const (
	shownMarks  = 4
	shownPlaces = 3
)

// seen counts the most telling marks of an answer in the whole dump, in its order and in the one that comes next.
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
	countAll(f.data, rules, best.reading, func(n int, offset int) {
		seen[n].Count++
		if len(seen[n].First) < shownPlaces {
			seen[n].First = append(seen[n].First, offset)
		}
	})
	countAll(f.data, rules, best.vote.next, func(n int, _ int) { seen[n].RivalCount++ })
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

// countAll finds the rules, which are of one family, in all of data, read in reading x.
func countAll(data []byte, rules []int, x int, found func(n, offset int)) {
	if len(rules) == 0 {
		return
	}
	b := book()
	var mask, value [shownMarks]uint64
	word := 1
	for i, n := range rules {
		mask[i], value[i], word = b.rules[n].mask, b.rules[n].value, b.rules[n].word
	}
	room := make([]byte, window+2*tail)
	a := arrangementOf[x]
	for at := 0; at < len(data); at += window {
		got := a.Copy(room[:window+tail], data, at)
		clear(room[got:])
		for i := 0; i < min(window, got); i += word {
			here := binary.BigEndian.Uint64(room[i:])
			for k := range rules {
				if here&mask[k] == value[k] && i+b.rules[rules[k]].length <= got {
					found(k, a.Source(at+i, len(data)))
				}
			}
		}
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
