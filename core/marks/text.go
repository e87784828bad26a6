package marks

import (
	"encoding/binary"
	"math"
	"math/bits"

	"lunette/core/arrange"
	"lunette/core/sorted"
)

// A TextOrder says in which arrangement a dump holds text that reads right.
type TextOrder struct {
	Order arrange.Arrangement
	Sure  Sure
	Hits  int     // letter triples found in this arrangement
	Next  int     // and in the arrangement that comes next
	Kinds int     // different ones
	Bits  float64 // evidence for this arrangement against the next, in bits
	Where []int   // stored offsets of a few of them
}

// triples are groups of letters that are frequent in English text and in names that programs print; common practice,
// no source. Capitals count as well.
var triples = []string{"the", "and", "ing", "ion", "tio", "ent", "ati", "for", "her", "ter", "hat", "tha", "ere", "ate", "his",
	"con", "res", "ver", "all", "ons", "nce", "men", "ith", "ted", "ers", "pro", "thi", "wit", "are", "ess", "not", "ive",
	"was", "ect", "rea", "com", "eve", "per", "int", "est", "err", "ror", "fil", "mem", "tes", "ram", "boo", "dev", "ste", "sys"}

// tripleOf finds a triple by its letters, five bits each; 0 is none.
var tripleOf = func() (table [1 << 15]uint8) {
	for i, t := range triples {
		key := 0
		for _, c := range t {
			key = key<<5 | int(c-'a'+1)
		}
		table[key] = uint8(i + 1)
	}
	return table
}()

// A textSearch is what was counted so far, by reading, and the window at hand.
type textSearch struct {
	hits    [readings]int
	kinds   [readings][64]bool
	first   [readings][]int             // offsets in the arranged image of the first hits
	runs    [readings]int               // places where three letters follow each other
	piece   [window]byte                // the window as stored or with mirrored bits, zeros behind its end
	letters [window / letterBits]uint64 // a bit for each byte of piece, set for letters
}

// letterBits is how many bytes an element of textSearch.letters speaks for.
const letterBits = 64

// leastLetters is how many letters a window must hold to be read: enough for a word or two.
const leastLetters = 8

// FindText tells in which arrangement data holds text that reads right. It needs no CPU. Strong are 8 triples of 4 or
// more kinds beyond those of chance, and three times the next arrangement's and 5 more; Certain are 24 of 10 kinds, and
// eight times. Dumps of more than 2 MiB are sampled.
func FindText(data []byte) TextOrder {
	var s textSearch
	stride := (len(data)/window + 511) / 512
	for at := 0; at < len(data); at += max(1, stride) * window {
		for half := 0; half < readings; half += plain {
			n := arrangementOf[half].Copy(s.piece[:], data, at)
			clear(s.piece[n:])
			if s.markLetters() < leastLetters {
				continue
			}
			for x := range plain {
				s.read(half+x, at, n)
			}
		}
	}
	return s.answer(data)
}

// markLetters sets letters and returns how many there are.
func (s *textSearch) markLetters() (count int) {
	for i := range s.letters {
		var word uint64
		for j := 0; j < letterBits; j += 8 {
			word |= lettersOf(binary.LittleEndian.Uint64(s.piece[i*letterBits+j:])) << j
		}
		s.letters[i] = word
		count += bits.OnesCount64(word)
	}
	return count
}

// lettersOf returns a bit for each of eight bytes, the lowest bit for the lowest byte, set when it is a letter.
func lettersOf(eight uint64) uint64 {
	const ones = 0x0101010101010101
	const tops = 0x80 * ones
	lower := (eight | 0x20*ones) &^ tops
	// Sums reach the top bit from 'a' on, and from behind 'z' on.
	letter := (lower + (0x80-'a')*ones) &^ (lower + (0x7F-'z')*ones) &^ eight & tops
	return letter >> 7 * 0x0102040810204080 >> 56 // moves the eight bits side by side
}

// read counts what a window of n bytes at offset at holds in reading x. A letter stays a letter where bytes change
// places: only where three follow each other the bytes themselves are looked at.
func (s *textSearch) read(x, at, n int) {
	whole := n &^ 3 // only the end of the dump is no whole group
	swap := x % plain
	runs := 0
	var before uint64
	for i, word := range s.letters {
		if x&1 != 0 {
			word = word>>1&0x5555555555555555 | word&0x5555555555555555<<1
		}
		if x&2 != 0 {
			word = word>>2&0x3333333333333333 | word&0x3333333333333333<<2
		}
		for run := word & (word<<1 | before>>63) & (word<<2 | before>>62); run != 0; run &= run - 1 {
			j := i*letterBits + bits.TrailingZeros64(run)
			if j >= whole {
				break
			}
			runs++
			if t := s.triple((j-2)^swap, (j-1)^swap, j^swap); t > 0 {
				s.hit(x, t, at+j-2)
			}
		}
		before = word
	}
	for j := max(whole, 2); j < n; j++ {
		var places [3]int
		letters := 0
		for k := range places {
			place := arrangementOf[x].Source(j-2+k, n)
			places[k] = place
			letters += int(s.letters[place/letterBits] >> (place % letterBits) & 1)
		}
		if letters == len(places) {
			runs++
			if t := s.triple(places[0], places[1], places[2]); t > 0 {
				s.hit(x, t, at+j-2)
			}
		}
	}
	s.runs[x] += runs
}

// triple returns which of triples three letters at these places of piece are, counted from 1, or 0. Words are in small
// letters or in capitals, or begin with one: other mixtures are none.
func (s *textSearch) triple(one, two, three int) uint8 {
	a, b, c := s.piece[one], s.piece[two], s.piece[three]
	if (b^c)&0x20 != 0 || a&^b&0x20 != 0 {
		return 0
	}
	return tripleOf[int(a&31)<<10|int(b&31)<<5|int(c&31)]
}

// hit counts a triple of reading x whose first letter stands at offset at of the arranged image.
func (s *textSearch) hit(x int, triple uint8, at int) {
	s.hits[x]++
	s.kinds[x][triple] = true
	if len(s.first[x]) < placedHits {
		s.first[x] = append(s.first[x], at)
	}
}

// placedHits is how many hits of a reading are kept with their places.
const placedHits = 32

// answer weighs what was counted.
func (s *textSearch) answer(data []byte) TextOrder {
	best, next := 0, -1
	for x := range s.hits {
		if s.hits[x] > s.hits[best] {
			best = x
		}
	}
	for x := range s.hits {
		if x != best && (next < 0 || s.hits[x] > s.hits[next]) {
			next = x
		}
	}
	t := TextOrder{Order: arrangementOf[best], Hits: s.hits[best], Next: s.hits[next]}
	for _, at := range s.first[best][:min(len(s.first[best]), shownPlaces)] {
		t.Where = append(t.Where, t.Order.Source(at, len(data)))
	}
	for _, k := range s.kinds[best] {
		if k {
			t.Kinds++
		}
	}
	t.Bits = float64(t.Hits) * math.Log2((float64(t.Hits)+0.5)/(float64(t.Next)+0.5))
	// Letters that follow each other by chance make about one triple in a thousand places; there may be fifteen times as many.
	telling, spread := t.Hits-s.runs[best]*5*3/1000, min(12, 4+t.Hits/8)
	if best >= plain {
		telling /= 2
	}
	switch {
	case telling >= 24 && t.Kinds >= max(spread, 10) && t.Hits >= 8*t.Next:
		t.Sure = Certain
	case telling >= 8 && t.Kinds >= spread && t.Hits >= 3*t.Next+5:
		t.Sure = Strong
	case telling >= 4 && t.Kinds >= 3 && t.Hits >= 3*t.Next+2:
		t.Sure = Weak
	}
	if t.Sure > Weak && inRecords(s.first[best], data, t.Order) {
		t.Sure = Weak
	}
	sorted.Ascending(t.Where)
	return t
}

// inRecords tells whether hits stand at one or two places of records of equal length: numbers beside letters that never
// change make triples by the dozen, and they are no more evidence than the letters alone. So it is where nearly all hits are
// a multiple of the length apart, and at least a quarter of the bytes around equal those one record further on.
func inRecords(hits []int, data []byte, order arrange.Arrangement) bool {
	const shortest, longest, around = 6, 64, 16
	for length := shortest; length <= longest; length++ {
		var places [longest]int
		fullest, second := 0, 0
		for _, at := range hits {
			places[at%length]++
		}
		for _, n := range places {
			if n > fullest {
				fullest, second = n, fullest
			} else {
				second = max(second, n)
			}
		}
		if 5*(fullest+second) < 4*len(hits) {
			continue
		}
		equal, looked := 0, 0
		for _, at := range hits {
			for i := max(0, at-around); i < at+around && i+length < len(data); i++ {
				looked++
				if order.At(data, i) == order.At(data, i+length) {
					equal++
				}
			}
		}
		if 4*equal >= looked {
			return true
		}
	}
	return false
}
