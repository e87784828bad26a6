package marks

import "lunette/core/arrange"

// readings are the eight arrangements in which marks are counted, the plain ones first. In reading number x (or 4+x) the
// byte at place j of a word is the one stored at j XOR x.
const (
	plain    = 4 // readings without mirrored bits
	readings = 8
)

var arrangementOf = [readings]arrange.Arrangement{
	arrange.Stored, arrange.Swapped, arrange.Halves, arrange.Reversed,
	mirrored(arrange.Stored), mirrored(arrange.Swapped), mirrored(arrange.Halves), mirrored(arrange.Reversed),
}

func mirrored(a arrange.Arrangement) arrange.Arrangement {
	both, _ := a.Then(arrange.Mirrored)
	return both
}

// A tally is what was counted in some bytes: how often each rule matched in each reading, and how often each byte value
// stands at each place of a long. Tallies add up.
type tally struct {
	n       int // bytes
	hits    [readings][]uint32
	touched [readings][]uint16 // rules with hits
	places  [4][256]uint32
	deep    bool     // mirrored readings were counted as well
	longs   []uint32 // scratch: the bytes at hand
}

func newTally() *tally {
	t := &tally{}
	for x := range t.hits {
		t.hits[x] = make([]uint32, len(book().rules))
	}
	return t
}

func (t *tally) clear() {
	t.n, t.deep = 0, false
	t.places = [4][256]uint32{}
	for x := range t.hits {
		for _, n := range t.touched[x] {
			t.hits[x][n] = 0
		}
		t.touched[x] = t.touched[x][:0]
	}
}

func (t *tally) add(other *tally) {
	t.n += other.n
	t.deep = t.deep || other.deep
	for x := range other.touched {
		for _, n := range other.touched[x] {
			if t.hits[x][n] == 0 {
				t.touched[x] = append(t.touched[x], n)
			}
			t.hits[x][n] += other.hits[x][n]
		}
	}
	for place := range t.places {
		for v, k := range other.places[place] {
			t.places[place][v] += k
		}
	}
}

// tail is how many bytes beyond a window a mark that begins in it may reach.
const tail = 8

// count adds the bytes of one window of data. The window is n bytes from offset on, and offset is a multiple of 4. room
// is at least n+2*tail bytes of scratch.
func (t *tally) countPlaces(window []byte) {
	t.n += len(window)
	i := 0
	for ; i+4 <= len(window); i += 4 {
		t.places[0][window[i]]++
		t.places[1][window[i+1]]++
		t.places[2][window[i+2]]++
		t.places[3][window[i+3]]++
	}
	for ; i < len(window); i++ {
		t.places[i&3][window[i]]++
	}
}

// countMarks counts the rules of families with these sizes of word in readings from..to-1 of the n bytes of data at
// offset, a multiple of 4. room is scratch of at least n+2*tail bytes.
func (t *tally) countMarks(data []byte, offset, n, from, to int, words []int, room []byte) {
	for x := from; x < to; x++ {
		got := arrangementOf[x].Copy(room[:n+tail], data, offset)
		clear(room[got : got+tail])
		t.longs = t.longs[:0]
		for i := 0; i < min(n, got)+tail; i += 4 {
			four := room[i : i+4 : i+4]
			t.longs = append(t.longs, uint32(four[0])<<24|uint32(four[1])<<16|uint32(four[2])<<8|uint32(four[3]))
		}
		for _, word := range words {
			t.scan(got, x, word)
		}
	}
	t.deep = t.deep || to > plain
}

// scan counts the rules that begin in the longs, but for the last two, and end within the first end bytes. It is the loop
// that all the time is spent in: one look into a table a place, and a comparison only where something can match.
func (t *tally) scan(end, x, word int) {
	index := &book().index[word>>1]
	two := uint64(t.longs[0])<<32 | uint64(t.longs[1])
	for k, long := range t.longs[2:] {
		for shift := 0; shift < 32; shift += 8 * word {
			here := two<<(shift&63) | uint64(long)>>((32-shift)&63)
			if at := index.start[index.key(here)]; at != 0 {
				t.match(index.entries, at, here, end-4*k-shift/8, x)
			}
		}
		two = two<<32 | uint64(long)
	}
}

// match counts the rules in the list that begins at entry at; left is how many bytes there are from here on.
func (t *tally) match(entries []entry, at uint16, here uint64, left, x int) {
	for at != 0 {
		e := &entries[at]
		if here&e.mask == e.value && int(e.length) <= left {
			if t.hits[x][e.rule] == 0 {
				t.touched[x] = append(t.touched[x], e.rule)
			}
			t.hits[x][e.rule]++
		}
		at = e.next
	}
}

// dull tells whether a window is blank, a fill or packed: hardly any different bytes, or all equally frequent.
func (t *tally) dull() bool {
	different, squares := 0, 0.0
	for v := range 256 {
		k := t.places[0][v] + t.places[1][v] + t.places[2][v] + t.places[3][v]
		if k > 0 {
			different++
			squares += float64(k) * float64(k)
		}
	}
	if different < 12 {
		return true
	}
	// The sum of squares of n random bytes is n*n/256 + n. Code is far above it.
	n := float64(t.n)
	return t.n >= window && squares < 1.15*(n*n/256+n)
}

// parity tells how different the bytes at even offsets are from those at odd ones, beyond what chance makes: 0 for the same
// bytes, 2 for none in common.
func (t *tally) parity() float64 {
	var d, even, odd, different float64
	for v := range 256 {
		even += float64(t.places[0][v] + t.places[2][v])
		odd += float64(t.places[1][v] + t.places[3][v])
	}
	for v := range 256 {
		a := float64(t.places[0][v]+t.places[2][v]) / even
		b := float64(t.places[1][v]+t.places[3][v]) / odd
		if a+b > 0 {
			d += (a - b) * (a - b) / (a + b)
			different++
		}
	}
	return d - different/float64(t.n)*2
}
