package marks

import (
	"encoding/binary"
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

// An index finds the rules that can match at a place by the two bytes that stand there.
type index struct {
	start [1 << 16]uint16 // into lists; 0 is the empty list
	lists [][]entry
}

// An entry is what a match needs of a rule, small so that a list of them lies in few cache lines.
type entry struct {
	mask, value uint64
	rule        uint16
	odd         uint8 // bits of the offset that must be 0
	length      uint8 // bytes
}

// rules holds all marks of all families, and their two indexes, made on first use.
type rulebook struct {
	rules []rule
	first []int // first rule of each family; one more at the end
	words index // families with words
	bytes index // families that fetch bytes
}

var book = sync.OnceValue(func() *rulebook {
	b := &rulebook{}
	for f := range families {
		b.first = append(b.first, len(b.rules))
		for _, m := range families[f].rows() {
			b.rules = append(b.rules, newRule(f, families[f].word, m))
		}
	}
	b.first = append(b.first, len(b.rules))
	b.words.fill(b.rules, func(r *rule) bool { return r.word > 1 })
	b.bytes.fill(b.rules, func(r *rule) bool { return r.word == 1 })
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

// fill enters the wanted rules under every pair of first bytes that they allow.
func (x *index) fill(rules []rule, wanted func(*rule) bool) {
	lists := make(map[uint16][]uint16)
	for n := range rules {
		r := &rules[n]
		if !wanted(r) {
			continue
		}
		mask, value := uint16(r.mask>>48), uint16(r.value>>48)
		free := ^mask
		for sub := free; ; sub = (sub - 1) & free {
			lists[value|sub] = append(lists[value|sub], uint16(n))
			if sub == 0 {
				break
			}
		}
	}
	x.lists = [][]entry{nil}
	seen := map[string]uint16{}
	for pair := range x.start {
		list := lists[uint16(pair)]
		if list == nil {
			continue
		}
		key := make([]byte, 0, 2*len(list))
		for _, n := range list {
			key = binary.BigEndian.AppendUint16(key, n)
		}
		at, known := seen[string(key)]
		if !known {
			at = uint16(len(x.lists))
			entries := make([]entry, len(list))
			for i, n := range list {
				r := &rules[n]
				entries[i] = entry{r.mask, r.value, n, uint8(r.word - 1), uint8(r.length)}
			}
			x.lists = append(x.lists, entries)
			seen[string(key)] = at
		}
		x.start[pair] = at
	}
}
