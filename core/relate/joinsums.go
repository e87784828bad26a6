package relate

import (
	"math"
	"math/bits"
	"slices"
)

// Which of all ways to join dumps makes a built-in sum close follows from a few sums of each dump, so all ways are tried
// at the cost of a few additions each. marks.FindSums then has the word.

// A laneSum is the sums of a stretch of one dump that decide about sums over a joined image.
type laneSum struct {
	at    [4]uint64 // sums of the bytes at each position of a group of four
	first [4]byte   // its first bytes
	other int       // bytes that are not its commonest one
}

// leastOther is how many bytes of a stretch must differ from its commonest one: sums over blank bytes close by themselves.
const leastOther = 32

// laneSums returns the sums of the whole dump, of its halves and of its quarters, as the bytes are or mirrored. Dumps
// whose length is not a multiple of 16 have only the whole.
func laneSums(data []byte, mirrored bool) (parts []laneSum) {
	pieces := 1
	if len(data)%16 == 0 {
		pieces = 4
	}
	parts = make([]laneSum, 2*pieces-1)
	for i := range pieces {
		var counts [4][256]uint32
		p, piece := &parts[pieces-1+i], data[len(data)/pieces*i:len(data)/pieces*(i+1)]
		p.other = len(piece)
		for len(piece) >= 4 {
			counts[0][piece[0]]++
			counts[1][piece[1]]++
			counts[2][piece[2]]++
			counts[3][piece[3]]++
			piece = piece[4:]
		}
		for k := range counts {
			for value, count := range counts[k] {
				p.at[k] += uint64(mirror(byte(value), mirrored)) * uint64(count)
			}
		}
		most := uint32(0)
		for value := range 256 {
			most = max(most, counts[0][value]+counts[1][value]+counts[2][value]+counts[3][value])
		}
		p.other -= int(most)
		for k := range p.first {
			p.first[k] = mirror(data[len(data)/pieces*i+k], mirrored)
		}
	}
	for i := pieces - 2; i >= 0; i-- {
		left, right := &parts[2*i+1], &parts[2*i+2]
		parts[i].first, parts[i].other = left.first, left.other+right.other
		for k := range left.at {
			parts[i].at[k] = left.at[k] + right.at[k]
		}
	}
	return parts
}

func mirror(b byte, mirrored bool) byte {
	if mirrored {
		return bits.Reverse8(b)
	}
	return b
}

// closes tells whether a 32-bit sum of the table in core/marks comes out over a stretch, in the order with exchange x: at
// are its sums by position, first its first four bytes.
func closes(at [4]uint64, first [4]byte, x int) bool {
	long := at[x]<<24 + at[1^x]<<16 + at[2^x]<<8 + at[3^x]
	if long == 0 {
		return false
	}
	if long&math.MaxUint32 == 0 || long%math.MaxUint32 == 0 {
		return true
	}
	high, low := uint64(first[x])<<8|uint64(first[1^x]), uint64(first[2^x])<<8|uint64(first[3^x])
	sum := (at[x]+at[2^x])<<8 + at[1^x] + at[3^x] - high - low
	return sum&math.MaxUint32 == high<<16|low
}

// mostFours bounds of how many dumps all fours are tried; of more, only those that are tied.
const mostFours = 10

// summed returns the joinings by which a 32-bit sum closes.
func (g *group) summed() (found []joining) {
	if g.size%4 != 0 {
		return nil
	}
	for _, one := range g.samples {
		one.sums = [2][]laneSum{laneSums(one.data, false), laneSums(one.data, true)}
	}
	n := len(g.samples)
	pairs := float64(n * (n - 1))
	for i, a := range g.samples {
		for _, b := range g.samples[i+1:] {
			if lanesClose(a, b) {
				found = append(found, joining{kind: Lanes, samples: []*sample{a, b}, trials: pairs},
					joining{kind: Lanes, samples: []*sample{b, a}, trials: pairs})
			}
			if halvesClose(a, b) {
				found = append(found, joining{kind: Halves, samples: []*sample{a, b}, trials: pairs},
					joining{kind: Halves, samples: []*sample{b, a}, trials: pairs})
			}
			if len(found) > mostJudged {
				return nil // sums that close by so many ways say nothing
			}
		}
	}
	if n <= mostFours {
		return append(found, foursAmong(g.samples, 1)...)
	}
	sets := g.fours()
	for _, set := range sets {
		found = append(found, foursAmong(set, float64(len(sets)))...)
	}
	return found
}

// lanesClose tells whether a sum closes over two lanes interleaved, or over a half or quarter of them.
func lanesClose(a, b *sample) bool {
	for m := range a.sums {
		for p := range a.sums[m] {
			x, y := &a.sums[m][p], &b.sums[m][p]
			if min(x.other, y.other) < leastOther {
				continue
			}
			at := [4]uint64{x.at[0] + x.at[2], y.at[0] + y.at[2], x.at[1] + x.at[3], y.at[1] + y.at[3]}
			first := [4]byte{x.first[0], y.first[0], x.first[1], y.first[1]}
			for exchange := range 4 {
				if closes(at, first, exchange) {
					return true
				}
			}
		}
	}
	return false
}

// halvesClose tells whether a sum closes over two dumps in sequence, either way.
func halvesClose(a, b *sample) bool {
	for m := range a.sums {
		x, y := &a.sums[m][0], &b.sums[m][0]
		var at [4]uint64
		for k := range at {
			at[k] = x.at[k] + y.at[k]
		}
		for exchange := range 4 {
			if closes(at, x.first, exchange) || closes(at, y.first, exchange) {
				return true
			}
		}
	}
	return false
}

// foursAmong returns the joinings of four lanes of a set by which a sum closes; sets is how many are tried.
func foursAmong(set []*sample, sets float64) (found []joining) {
	n := len(set)
	if n < 4 {
		return nil
	}
	trials := sets * float64(n*(n-1)*(n-2)*(n-3))
	lanes := make([]*sample, 0, 4)
	var choose func()
	choose = func() {
		if len(lanes) == 4 {
			if foursClose(lanes) && len(found) < mostJudged {
				found = append(found, joining{kind: Lanes, samples: slices.Clone(lanes), trials: trials})
			}
			return
		}
		for _, one := range set {
			if !slices.Contains(lanes, one) {
				lanes = append(lanes, one)
				choose()
				lanes = lanes[:len(lanes)-1]
			}
		}
	}
	choose()
	return found
}

// foursClose tells whether a sum closes over four lanes interleaved, or over a half or quarter of them.
func foursClose(lanes []*sample) bool {
	for m := range lanes[0].sums {
		for p := range lanes[0].sums[m] {
			var at [4]uint64
			var first [4]byte
			other := math.MaxInt
			for k, one := range lanes {
				s := &one.sums[m][p]
				other = min(other, s.other)
				at[k], first[k] = s.at[0]+s.at[1]+s.at[2]+s.at[3], s.first[0]
			}
			if other >= leastOther && closes(at, first, 0) {
				return true
			}
		}
	}
	return false
}
