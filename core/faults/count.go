package faults

import "math/bits"

const (
	mostBlocks = 512  // of the map
	mostRuns   = 1000 // that are listed
)

// A tally counts how read differs from master, over the stretch in which the two stand against each other.
type tally struct {
	high, low   [2][8]int   // bits by the byte's offset, even or odd, and line: read 1 and should be 0, and the other way
	bytes       sideCounter // differing bytes
	words       sideCounter // differing 16-bit words
	differ      int
	firstDiffer int
	firstLow    int
	lowThere    byte // the bits that are 0 and should be 1 at firstLow
	// Bits that are 0 and should be 1 in bytes that are not blank in the master: what is not FF there cannot be added to it.
	lowInContent int
	lively       int // bytes that are neither 00 nor FF in one of the two
	livelyEqual  int // of these, equal
}

// count fills in what a comparison counts of read against master, both laid out over the whole read, inside a stretch.
func (c *Comparison) count(master, read []byte, inside Span, widths []int) tally {
	t := tally{firstDiffer: -1, firstLow: -1}
	c.Map = newDiffMap(len(read))
	c.Runs.Listed = []Span{}
	word := -1                  // the last differing word that was counted
	end := -1                   // of the last run
	var highs, lows [2][256]int // how often each set of bits read 1, and 0, instead
	for a := inside.From; a < inside.To; a++ {
		m, r := master[a], read[a]
		if mixed(m) || mixed(r) {
			t.lively++
			if m == r {
				t.livelyEqual++
			}
		}
		differ := m ^ r
		if differ == 0 {
			continue
		}
		t.differ++
		high, low := bits.OnesCount8(differ&r), bits.OnesCount8(differ&m)
		highs[a&1][differ&r]++
		lows[a&1][differ&m]++
		t.bytes.add(a)
		if a>>1 != word {
			word = a >> 1
			t.words.add(word)
		}
		if t.firstDiffer < 0 {
			t.firstDiffer = a
		}
		if low > 0 && t.firstLow < 0 {
			t.firstLow, t.lowThere = a, differ&m
		}
		if m != 0xFF {
			t.lowInContent += low
		}
		c.High += high
		c.Low += low
		c.Map.add(a, high, low)
		if a != end {
			c.Runs.begin(a)
		}
		end = a + 1
		c.Runs.extend(end)
	}
	for parity := range 2 {
		t.high[parity], t.low[parity] = byLine(&highs[parity]), byLine(&lows[parity])
	}
	t.bytes.close()
	t.words.close()
	c.Compared = inside.To - inside.From
	c.Differ, c.Equal = t.differ, c.Compared-t.differ
	c.EqualBits = 8*c.Compared - c.High - c.Low
	c.FirstDiffer, c.FirstLow = t.firstDiffer, t.firstLow
	c.Buses = []BusCount{}
	for _, width := range widths {
		c.Buses = append(c.Buses, t.onBus(width, len(read)))
	}
	return t
}

// mixed tells whether a byte is neither 00 nor FF, the values of empty stretches.
func mixed(b byte) bool { return b+1 > 1 }

// byLine counts bits by line, from how often each set of them came.
func byLine(sets *[256]int) (lines [8]int) {
	for set, n := range sets {
		for k := range lines {
			lines[k] += n * (set >> k & 1)
		}
	}
	return lines
}

// A sideCounter counts addresses by the level of each address line. They come in ascending order: those of one block of 64
// are counted together.
type sideCounter struct {
	places [64]int // by the address in its block
	block  int
	n      int // in this block
	sides  [32][2]int
}

func (s *sideCounter) add(address int) {
	if address>>6 != s.block {
		s.close()
		s.block = address >> 6
	}
	s.places[address&63]++
	s.n++
}

// close counts the block's addresses.
func (s *sideCounter) close() {
	if s.n == 0 {
		return
	}
	for i := range len(s.sides) - 6 {
		s.sides[i+6][s.block>>i&1] += s.n
	}
	s.n = 0
}

// of returns how many of the addresses have address line i at 0 and at 1.
func (s *sideCounter) of(i int) (sides [2]int) {
	if i >= 6 {
		return s.sides[i]
	}
	for place, n := range s.places {
		sides[place>>i&1] += n
	}
	return sides
}

// onBus returns the counts by the lines of a device with width data lines. Of a x16 device the low byte is taken to stand
// first, as readers store it.
func (t *tally) onBus(width, size int) BusCount {
	bus, addresses := X8, &t.bytes
	if width == 16 {
		bus, addresses = X16Low, &t.words
	}
	count := BusCount{Bus: bus, Data: make([]DataCount, width), Address: []SideCount{}}
	for d := range count.Data {
		one := DataCount{Line: DataLine(d, width)}
		if width == 8 {
			one.High, one.Low = t.high[0][d]+t.high[1][d], t.low[0][d]+t.low[1][d]
		} else {
			one.High, one.Low = t.high[d/8][d%8], t.low[d/8][d%8]
		}
		count.Data[d] = one
	}
	lines := bits.Len(uint(max(0, size/(width/8)-1)))
	for i := range lines {
		sides := addresses.of(i)
		count.Address = append(count.Address, SideCount{Line: AddressLine(i, width), Zero: sides[0], One: sides[1]})
	}
	return count
}

// newDiffMap returns an empty map of size bytes.
func newDiffMap(size int) DiffMap {
	block := 1
	for block*mostBlocks < size {
		block *= 2
	}
	n := (size + block - 1) / block
	return DiffMap{BlockSize: block, Bytes: make([]int, n), High: make([]int, n), Low: make([]int, n)}
}

func (m *DiffMap) add(a, high, low int) {
	block := a / m.BlockSize
	m.Bytes[block]++
	m.High[block] += high
	m.Low[block] += low
}

// begin begins a run at offset a, and extend ends the last one that was begun at offset end.
func (r *DiffRuns) begin(a int) {
	if r.Total++; r.Total <= mostRuns {
		r.Listed = append(r.Listed, Span{From: a})
	}
}

func (r *DiffRuns) extend(end int) {
	if r.Total <= mostRuns {
		r.Listed[r.Total-1].To = end
	}
}
