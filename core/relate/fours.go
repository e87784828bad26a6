package relate

import (
	"slices"

	"lunette/core/marks"
	"lunette/core/sorted"
)

// Four lanes can be joined in 24 ways. Of a CPU whose instructions are 16-bit words half of the ways leave many words whole,
// and only which word follows which tells the right one, so what each way shows is weighed against the others.

// fours returns the sets of four samples that are each other's strongest ties.
func (g *group) fours() (sets [][]*sample) {
	near := map[*sample][]*sample{}
	for _, t := range g.strongest() {
		near[t.a], near[t.b] = append(near[t.a], t.b), append(near[t.b], t.a)
	}
	for _, one := range g.samples {
		four := fourOf(one, near)
		if four != nil && four[0] == one && !slices.ContainsFunc(four, (*sample).isCode) {
			sets = append(sets, four)
		}
	}
	return sets
}

// fourOf returns four samples that are each other's strongest ties, in the order of their names.
func fourOf(one *sample, near map[*sample][]*sample) []*sample {
	circle := func(of *sample) []*sample {
		four := append([]*sample{of}, near[of][:min(len(near[of]), nearest)]...)
		sorted.By(four, func(a, b *sample) int { return a.number - b.number })
		return four
	}
	four := circle(one)
	if len(four) < nearest+1 || slices.ContainsFunc(four, func(of *sample) bool { return !slices.Equal(circle(of), four) }) {
		return nil
	}
	return four
}

// bases are the ways to join four lanes that are no orders of each other: each stands for four of the 24.
var bases = [][4]int{{0, 1, 2, 3}, {0, 1, 3, 2}, {0, 2, 1, 3}, {0, 2, 3, 1}, {0, 3, 1, 2}, {0, 3, 2, 1}}

// clearFactor is by how much the strongest window of the right way to join four lanes must exceed those of all others: a
// near tie is no answer. A way that leaves every other word whole shows about half of what the right one shows.
const clearFactor = 1.3

// quartets returns the joinings of four lanes that hold code, as far as they are not among those found already.
func (g *group) quartets(found []joining) (more []joining) {
	sets := g.fours()
	for _, set := range sets {
		known := slices.ContainsFunc(found, func(j joining) bool {
			return slices.ContainsFunc(j.samples, func(one *sample) bool { return slices.Contains(set, one) })
		})
		if known {
			continue
		}
		if lanes := inOrder(set); lanes != nil {
			more = append(more, joining{kind: Lanes, samples: lanes, trials: float64(len(sets) * 24), matched: true})
		}
	}
	return more
}

// inOrder returns four lanes in the order in which they are code, or nil when that is not clear.
func inOrder(set []*sample) (lanes []*sample) {
	parts := withoutBlanks(set)
	best, next := 0.0, 0.0
	for _, base := range bases {
		code := marks.FindCode(join(Lanes, [][]byte{parts[base[0]], parts[base[1]], parts[base[2]], parts[base[3]]}), nil)
		if code.Sure == marks.CannotTell || code.Shift != 0 {
			continue
		}
		next = max(next, min(best, code.Bits))
		if code.Bits <= best {
			continue
		}
		best, lanes = code.Bits, nil
		if x := exchangeOf(code.Order); code.Sure == marks.Certain && x >= 0 && !code.Order.IsMirrored() {
			for k := range base {
				lanes = append(lanes, set[base[k^x]])
			}
		}
	}
	if best < clearFactor*next {
		return nil
	}
	return lanes
}
