package relate

import (
	"math"
	"slices"

	"lunette/core/sorted"
)

// Two byte lanes of one image are tied: which byte stands in one tells something of the byte that stands beside it in the
// other, since the two are one instruction, one pair of letters, one number. Two dumps that have nothing to do with each
// other are not. To measure that costs a thousandth of looking for code in all ways to join them, so it is done first.

const (
	tieBlock   = 64   // bytes of each dump that are compared at a time
	tieBlocks  = 128  // blocks that are looked at, spread over all in which neither dump is constant
	tieShift   = 29   // bytes by which one block is turned for comparison: neighbours must be neighbours no more
	tieMargin  = 120  // bits in which a tie must exceed that of the turned blocks
	tieFactor  = 1.15 // and the factor
	tooEqual   = 0.5  // share of equal bytes from which on two dumps are two versions of one, and no lanes
	leastBytes = 256  // bytes of a lane, at least
)

// A tie says how much the bytes of two lanes tell of each other, in bits over all that were looked at.
type tie struct {
	a, b *sample
	bits float64
}

// logs holds n log2 n for every count that can come up.
var logs = func() (table [tieBlock*tieBlocks + 1]float64) {
	for n := 2; n < len(table); n++ {
		table[n] = float64(n) * math.Log2(float64(n))
	}
	return table
}()

// lively tells block by block whether data is anything but constant there.
func lively(data []byte) []bool {
	blocks := make([]bool, len(data)/tieBlock)
	for i := range blocks {
		block := data[i*tieBlock : (i+1)*tieBlock]
		for _, b := range block {
			if b != block[0] {
				blocks[i] = true
				break
			}
		}
	}
	return blocks
}

// tied measures the tie between two samples of one size; ok is false when there is none. room is for its use.
func tied(a, b *sample, room []int) (t tie, ok bool) {
	both := room[:0]
	for i, alive := range a.lively {
		if alive && b.lively[i] {
			both = append(both, i)
		}
	}
	if len(both) == 0 {
		return tie{}, false
	}
	var here, there ties
	equal, looked := 0, min(len(both), tieBlocks)
	for k := range looked {
		at := both[k*len(both)/looked] * tieBlock
		x, y := a.data[at:at+tieBlock], b.data[at:at+tieBlock]
		for i := range tieBlock {
			here.count(x[i], y[i])
			there.count(x[i], y[(i+tieShift)%tieBlock])
			if x[i] == y[i] {
				equal++
			}
		}
	}
	n := looked * tieBlock
	bits, chance := here.bits(n), there.bits(n)
	return tie{a, b, bits - chance}, bits > chance*tieFactor+tieMargin && float64(equal) < tooEqual*float64(n)
}

// ties counts pairs of upper and pairs of lower digits of the bytes in two lanes.
type ties struct {
	pairs       [2][256]int
	left, right [2][16]int
}

func (t *ties) count(a, b byte) {
	t.pairs[0][a>>4<<4|b>>4]++
	t.pairs[1][a<<4|b&15]++
}

// bits returns the mutual information of the digits times the number of pairs n.
func (t *ties) bits(n int) (bits float64) {
	for d := range t.pairs {
		for pair, count := range t.pairs[d] {
			bits += logs[count]
			t.left[d][pair>>4] += count
			t.right[d][pair&15] += count
		}
		for digit := range 16 {
			bits -= logs[t.left[d][digit]] + logs[t.right[d][digit]]
		}
		bits += logs[n]
	}
	return bits
}

// A group is samples of one size that may be lanes or halves of one image.
type group struct {
	size    int
	samples []*sample
	ties    []tie // strongest first
}

// groups returns the samples that have others of their size to be joined with.
func (s *search) groups() (groups []*group) {
	bySize := map[int]*group{}
	for _, one := range s.kept {
		if len(one.data) < leastBytes || s.joined[one.index] {
			continue
		}
		g := bySize[len(one.data)]
		if g == nil {
			g = &group{size: len(one.data)}
			bySize[len(one.data)] = g
			groups = append(groups, g)
		}
		g.samples = append(g.samples, one)
	}
	return slices.DeleteFunc(groups, func(g *group) bool { return len(g.samples) < 2 })
}

// tie measures all pairs of the group.
func (g *group) tie() {
	var room []int
	for _, one := range g.samples {
		one.lively = lively(one.data)
		room = make([]int, 0, len(one.lively))
	}
	for i, a := range g.samples {
		for _, b := range g.samples[i+1:] {
			if t, ok := tied(a, b, room); ok {
				g.ties = append(g.ties, t)
			}
		}
	}
	sorted.By(g.ties, func(a, b tie) int { return int(math.Copysign(1, b.bits-a.bits)) })
}
