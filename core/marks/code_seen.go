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
		if families[key.family].ID == c.Family && includes(ordersOf(key), c.Order) && (best == nil || v.windows > best.vote.windows) {
			best = &bestVote{v, key.reading}
		}
	}
	return best
}

// A probe is a rule made ready to be looked for eight places at a time: its first two bytes, each repeated eight times, and
// all of it, as bytes with the lowest first.
type probe struct {
	first, firstMask, second, secondMask uint64
	value, mask                          uint64
	length                               int // bytes
}

const (
	eightOnes = 0x0101010101010101
	eightTops = 0x80 * eightOnes
)

func newProbe(r *rule) probe {
	value, mask := bits.ReverseBytes64(r.value), bits.ReverseBytes64(r.mask)
	return probe{value & 0xFF * eightOnes, mask & 0xFF * eightOnes, value >> 8 & 0xFF * eightOnes, mask >> 8 & 0xFF * eightOnes,
		value, mask, r.length}
}

// countAll finds the rules, which are of one family, where they begin in a range of data, read in reading x. The range
// starts at a multiple of 4.
func countAll(data []byte, where Range, rules []int, x int, found func(n, offset int)) {
	if len(rules) == 0 {
		return
	}
	b := book()
	var probes []probe
	for _, n := range rules {
		probes = append(probes, newProbe(&b.rules[n]))
	}
	places := [...]uint64{eightTops, 0x0080008000800080, 0x0000008000000080}[b.rules[rules[0]].word>>1]
	var room [window + 2*tail]byte
	for from := where.Start; from < where.End; from += window {
		got := arrangementOf[x].Copy(room[:], data, from)
		clear(room[got:])
		n := min(window, where.End-from, got)
		for k, p := range probes {
			for i := 0; i < n; i += 8 {
				here, next := binary.LittleEndian.Uint64(room[i:i+8]), binary.LittleEndian.Uint64(room[i+1:i+9])
				other := (here^p.first)&p.firstMask | (next^p.second)&p.secondMask
				// A byte that is zero, where the rule may begin, leaves its top bit; so may one above it.
				for hits := (other - eightOnes) &^ other & places; hits != 0; hits &= hits - 1 {
					j := i + bits.TrailingZeros64(hits)/8
					if binary.LittleEndian.Uint64(room[j:j+8])&p.mask == p.value && j < n && p.length <= got-j {
						found(k, arrangementOf[x].Source(from+j, len(data)))
					}
				}
			}
		}
	}
}
