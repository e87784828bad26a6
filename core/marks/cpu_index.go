package marks

import (
	"math/bits"
	"sync"
)

// A rule is a mark made ready to be counted: the bytes at a place match when, under the mask, they equal the value.
type rule struct {
	family      int
	word        int // bytes: counted at multiples of it
	length      int // bytes
	mask, value uint64
	fixedBits   int
	parts       []part
	mark        mark
}

// A part is one byte or one digit of a rule, with where its chance stands in a background row.
type part struct {
	place          int
	slot, mirrored uint16
}

// Slots of a background row: 256 byte values, then 16 high digits, then 16 low digits.
const (
	highDigits = 256
	lowDigits  = 272
	slots      = 288
)

// An index finds the rules that can match at a place by 16 bits of what stands there.
type index struct {
	start   [1 << 16]uint16 // by key, the first of the entries to look at; 0 is none
	entries []entry
	choice
}

// A choice says which bits make a key: those of leading come from the first two bytes, the others stand further on.
type choice struct {
	leading uint16
	further uint16 // bits
}

// choices are those of the index for words of 1, 2 and 4 bytes: of some thousand that were tried the ones by which code of
// 16 CPUs finds least rules to compare, a third of those that its first two bytes find. CPUs tell instructions apart by
// bits in the second and third byte, and have registers between them.
var choices = [3]choice{{0xFFE6, 9}, {0xFF00, 3}, {0xFE78, 11}}

// key returns the 16 bits by which eight bytes are looked up.
func (c choice) key(eight uint64) uint16 {
	return uint16(eight>>48)&c.leading | uint16(eight<<(c.further&63)>>48)&^c.leading
}

// An entry is what a match needs of a rule. Entries are chained, and keys whose lists end alike share the end:
// the whole of an index stays small enough for the cache.
type entry struct {
	mask, value uint64
	rule        uint16
	next        uint16 // 0 is the end
	length      uint8  // bytes
}

// rules holds all marks of all families, and an index for each size of word, made on first use.
type rulebook struct {
	rules []rule
	first []int    // first rule of each family; one more at the end
	index [3]index // for words of 1, 2 and 4 bytes
}

var wordSizes = []int{1, 2, 4}

var book = sync.OnceValue(func() *rulebook {
	b := &rulebook{}
	for f := range families {
		b.first = append(b.first, len(b.rules))
		for _, m := range families[f].rows() {
			b.rules = append(b.rules, newRule(f, families[f].word, m))
		}
	}
	b.first = append(b.first, len(b.rules))
	for _, word := range wordSizes {
		b.index[word>>1].fill(b.rules, word)
	}
	return b
})

// newRule reads a pattern of the table. A digit that is neither hex nor "." panics: the table is part of the program.
func newRule(family, word int, m mark) rule {
	r := rule{family: family, word: word, length: len(m.pattern) / 2, mark: m}
	for place := 0; place < r.length; place++ {
		high, highMask := digit(m.pattern[2*place])
		low, lowMask := digit(m.pattern[2*place+1])
		value, mask := high<<4|low, highMask<<4|lowMask
		shift := 56 - 8*place
		r.value |= uint64(value) << shift
		r.mask |= uint64(mask) << shift
		mirror := uint16(bits.Reverse8(value))
		switch mask {
		case 0xFF:
			r.parts = append(r.parts, part{place, uint16(value), mirror})
		case 0xF0:
			r.parts = append(r.parts, part{place, highDigits + uint16(high), lowDigits + mirror})
		case 0x0F:
			r.parts = append(r.parts, part{place, lowDigits + uint16(low), highDigits + mirror>>4})
		}
	}
	r.fixedBits = bits.OnesCount64(r.mask)
	return r
}

func digit(c byte) (value, mask uint8) {
	switch {
	case c == '.':
		return 0, 0
	case c >= '0' && c <= '9':
		return c - '0', 0xF
	case c >= 'A' && c <= 'F':
		return c - 'A' + 10, 0xF
	}
	panic("marks: no hex digit in a pattern: " + string(rune(c)))
}

// fill enters the rules of families with this size of word under every key that they allow.
func (x *index) fill(rules []rule, word int) {
	x.choice = choices[word>>1]
	x.entries = make([]entry, 1, 4096)
	longer := make([]uint16, 1, 4096) // by list: the list that has one more rule in front
	for n := range rules {
		r := &rules[n]
		if r.word != word {
			continue
		}
		value, free := x.key(r.value), ^x.key(r.mask)
		for sub := free; ; sub = (sub - 1) & free {
			list := x.start[value|sub]
			if at := longer[list]; at == 0 || x.entries[at].rule != uint16(n) {
				longer[list] = uint16(len(x.entries))
				x.entries = append(x.entries, entry{r.mask, r.value, uint16(n), list, uint8(r.length)})
				longer = append(longer, 0)
			}
			x.start[value|sub] = longer[list]
			if sub == 0 {
				break
			}
		}
	}
}
