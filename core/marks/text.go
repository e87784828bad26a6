package marks

import (
	"math"

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

// FindText tells in which arrangement data holds text that reads right. It needs no CPU. Text of which nothing is left in
// another arrangement makes it Strong; at least 8 triples of 4 or
// more kinds beyond those of chance, and three times the next and 5 more. Dumps of more than 2 MiB are sampled.
func FindText(data []byte) TextOrder {
	var hits [readings]int
	var kinds [readings][64]bool
	var first [readings][]int
	var runs [readings]int // places where three letters follow each other
	room := make([]byte, window+2*tail)
	stride := (len(data)/window + 511) / 512
	for at := 0; at < len(data); at += max(1, stride) * window {
		piece := data[at:min(len(data), at+window)]
		for half := 0; half < readings; half += plain {
			if !wordy(piece, half > 0) {
				continue
			}
			for x := half; x < half+plain; x++ {
				got := arrangementOf[x].Copy(room[:window], data, at)
				key, letters := 0, 0
				for i, b := range room[:got] {
					c := b | 0x20
					if c < 'a' || c > 'z' {
						key, letters = 0, 0
						continue
					}
					if letters++; letters > 2 {
						runs[x]++
					}
					key = (key<<5 | int(c-'a'+1)) & 0x7FFF
					if t := tripleOf[key]; t > 0 {
						hits[x]++
						kinds[x][t] = true
						if len(first[x]) < shownPlaces {
							first[x] = append(first[x], arrangementOf[x].Source(at+i-2, len(data)))
						}
					}
				}
			}
		}
	}
	best, next := 0, -1
	for x := range hits {
		if hits[x] > hits[best] {
			best = x
		}
	}
	for x := range hits {
		if x != best && (next < 0 || hits[x] > hits[next]) {
			next = x
		}
	}
	t := TextOrder{Order: arrangementOf[best], Hits: hits[best], Next: hits[next], Where: first[best]}
	for _, k := range kinds[best] {
		if k {
			t.Kinds++
		}
	}
	t.Bits = float64(t.Hits) * math.Log2((float64(t.Hits)+0.5)/(float64(t.Next)+0.5))
	// Letters that follow each other by chance make about three triples in a thousand places.
	telling, spread := t.Hits-runs[best]*5*3/1000, min(12, 4+t.Hits/8)
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
	sorted.Ascending(t.Where)
	return t
}

// wordy tells whether a piece holds enough letters for a word or two; mirrored is for bytes with mirrored bits.
func wordy(piece []byte, mirrored bool) bool {
	letters := 0
	for _, b := range piece {
		if mirrored {
			// The mirror image of 0x60 to 0x7F ends in binary 110, that of 0x40 to 0x5F in 010.
			if b&7 == 6 || b&7 == 2 {
				letters++
			}
		} else if c := b | 0x20; c >= 'a' && c <= 'z' {
			letters++
		}
	}
	return letters >= 8
}
