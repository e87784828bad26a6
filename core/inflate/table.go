package inflate

import "math/bits"

const (
	maxLength = 15 // bits of the longest code
	quickBits = 10 // codes up to this length are looked up at once
)

// A table decodes one Huffman code: section 3.2.2.
type table struct {
	quick   [1 << quickBits]uint16 // by the next bits: symbol<<4 | length; 0 where the code is longer or none
	counts  [maxLength + 1]int     // codes of each length
	symbols [288]uint16            // in the order of their codes
}

// build makes the table of the code with these lengths, 0 for a symbol without a code. It returns false where there is no
// such code: more codes of a length than there is room for, or fewer. One code of one bit alone may stand, and no code at
// all, which section 3.2.7 allows for distances.
func (t *table) build(lengths []uint8) bool {
	t.counts = [maxLength + 1]int{}
	for _, length := range lengths {
		t.counts[length]++
	}
	t.counts[0] = 0
	room, total := 1, 0
	var first, next [maxLength + 2]int // of each length: place in symbols, and code
	for length := 1; length <= maxLength; length++ {
		room = 2*room - t.counts[length]
		if room < 0 {
			return false
		}
		first[length+1] = first[length] + t.counts[length]
		next[length+1] = (next[length] + t.counts[length]) << 1
		total += t.counts[length]
	}
	if room > 0 && total > 1 || total == 1 && t.counts[1] != 1 {
		return false
	}
	clear(t.quick[:])
	for symbol, length := range lengths {
		if length == 0 {
			continue
		}
		t.symbols[first[length]] = uint16(symbol)
		first[length]++
		code := next[length]
		next[length]++
		if length <= quickBits {
			// Codes come highest bit first, other numbers lowest: section 3.1.1.
			reversed := int(bits.Reverse16(uint16(code)) >> (16 - length))
			for i := reversed; i < len(t.quick); i += 1 << length {
				t.quick[i] = uint16(symbol)<<4 | uint16(length)
			}
		}
	}
	return true
}

// symbol takes the next code and returns its symbol; where there is none the stream has failed.
func (d *decoder) symbol(t *table) int {
	if d.held < maxLength {
		d.fill()
	}
	if entry := t.quick[d.hold&(1<<quickBits-1)]; entry != 0 && uint(entry&15) <= d.held {
		d.hold >>= entry & 15
		d.held -= uint(entry & 15)
		return int(entry >> 4)
	}
	return d.slowSymbol(t)
}

// slowSymbol is symbol bit by bit: of each length the codes are consecutive, beginning where the shorter ones left off.
func (d *decoder) slowSymbol(t *table) int {
	code, first, place := 0, 0, 0
	for length := 1; length <= maxLength; length++ {
		if d.held == 0 {
			d.fail(ErrTruncated)
			return 0
		}
		code |= d.bits(1)
		if count := t.counts[length]; code-first < count {
			return int(t.symbols[place+code-first])
		}
		place += t.counts[length]
		first = (first + t.counts[length]) << 1
		code <<= 1
	}
	d.fail(ErrDamaged)
	return 0
}

// The codes of blocks that bring none: section 3.2.6.
var fixedLiterals, fixedDistances = func() (literals, distances *table) {
	var lengths [288]uint8
	for symbol := range lengths {
		switch {
		case symbol < 144:
			lengths[symbol] = 8
		case symbol < 256:
			lengths[symbol] = 9
		case symbol < 280:
			lengths[symbol] = 7
		default:
			lengths[symbol] = 8
		}
	}
	literals, distances = new(table), new(table)
	literals.build(lengths[:])
	var fives [32]uint8
	for code := range fives {
		fives[code] = 5
	}
	distances.build(fives[:])
	return literals, distances
}()
