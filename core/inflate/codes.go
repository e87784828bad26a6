package inflate

import "math/bits"

const (
	longest = 15 // bits of the longest code
	quick   = 10 // codes up to this length are looked up at once
)

// A table decodes one Huffman code: section 3.2.2. An entry of it is symbol<<4 | length in bits of its code, 0 for none.
type table struct {
	quick   [1 << quick]uint16   // by the next bits; 0 where the code is longer or none
	counts  [longest + 1]uint16  // codes of each length
	symbols [literalCodes]uint16 // in the order of their codes
}

const (
	literalCodes  = 288 // symbols of literals, the end of a block and lengths, the two that mean nothing included
	distanceCodes = 32  // likewise
)

// build makes the table of the code with these lengths in bits, 0 for a symbol without a code. It returns false where there
// is no such code: more codes of a length than there is room for, or fewer than use up every sequence of bits. Section 3.2.7
// lets two fall short of that: a single code of one bit, where one symbol is all that is used, and no code at all.
func (t *table) build(lengths []uint8) bool {
	t.counts = [longest + 1]uint16{}
	for _, length := range lengths {
		t.counts[length]++
	}
	t.counts[0] = 0
	room, total := 1, 0
	var place, next [longest + 2]int // of each length: of its first symbol in symbols, and its first code
	for length := 1; length <= longest; length++ {
		count := int(t.counts[length])
		room = 2*room - count
		if room < 0 {
			return false
		}
		place[length+1] = place[length] + count
		next[length+1] = (next[length] + count) << 1
		total += count
	}
	if room > 0 && total > 1 || total == 1 && t.counts[1] != 1 {
		return false
	}
	clear(t.quick[:])
	for symbol, length := range lengths {
		if length == 0 {
			continue
		}
		t.symbols[place[length]] = uint16(symbol)
		place[length]++
		code := next[length]
		next[length]++
		if length <= quick {
			// Codes come highest bit first, other numbers lowest: section 3.1.1.
			reversed := int(bits.Reverse16(uint16(code)) >> (16 - length))
			for i := reversed; i < len(t.quick); i += 1 << length {
				t.quick[i] = uint16(symbol)<<4 | uint16(length)
			}
		}
	}
	return true
}

// entry returns the entry of the code with which hold begins, lowest bit first.
func (t *table) entry(hold uint64) uint16 {
	if entry := t.quick[hold&(1<<quick-1)]; entry != 0 {
		return entry
	}
	return t.search(hold)
}

// search is entry bit by bit: of each length the codes are consecutive, beginning where the shorter ones left off.
func (t *table) search(hold uint64) uint16 {
	code, first, place := 0, 0, 0
	for length := 1; length <= longest; length++ {
		code |= int(hold & 1)
		hold >>= 1
		count := int(t.counts[length])
		if code-first < count {
			return t.symbols[place+code-first]<<4 | uint16(length)
		}
		place += count
		first = (first + count) << 1
		code <<= 1
	}
	return 0
}

// The codes of blocks that bring none: section 3.2.6.
var fixedLiterals, fixedDistances = func() (literals, distances *table) {
	var lengths [literalCodes]uint8
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
	var fives [distanceCodes]uint8
	for code := range fives {
		fives[code] = 5
	}
	distances.build(fives[:])
	return literals, distances
}()

// lengthOrder is the order in which a block gives the lengths of the codes for code lengths: section 3.2.7.
var lengthOrder = [19]uint8{16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15}

// dynamic unpacks a block that brings its own codes: section 3.2.7. Lengths of codes for the symbols that mean nothing,
// literals 286 and 287 and distances 30 and 31, are damage; zlib and the standard library see it so too.
func (d *decoder) dynamic() {
	literals, distances, lengths := d.bits(5)+257, d.bits(5)+1, d.bits(4)+4
	var ofLengths [len(lengthOrder)]uint8
	for _, place := range lengthOrder[:lengths] {
		ofLengths[place] = uint8(d.bits(3))
	}
	if literals > literalCodes-2 || distances > distanceCodes-2 || !d.literals.build(ofLengths[:]) {
		d.fail(ErrDamaged)
		return
	}
	var all [literalCodes + distanceCodes]uint8 // one list: a repeat may go on from the literals into the distances
	codes := all[:literals+distances]
	for i := 0; i < len(codes) && d.err == nil; {
		i = d.codeLength(codes, i)
	}
	if d.err != nil {
		return
	}
	if codes[endOfBlock] == 0 || !d.literals.build(codes[:literals]) || !d.distances.build(codes[literals:]) {
		d.fail(ErrDamaged)
		return
	}
	d.compressed(&d.literals, &d.distances)
}

// codeLength reads the length of code i, or a repeat of lengths from i on, and returns the next code.
func (d *decoder) codeLength(codes []uint8, i int) int {
	symbol, length, times := d.symbol(&d.literals), uint8(0), 1
	switch {
	case symbol < 16:
		length = uint8(symbol)
	case symbol == 16:
		times = 3 + d.bits(2)
		if i == 0 {
			d.fail(ErrDamaged)
			return i
		}
		length = codes[i-1]
	case symbol == 17:
		times = 3 + d.bits(3)
	default:
		times = 11 + d.bits(7)
	}
	if i+times > len(codes) {
		d.fail(ErrDamaged)
		return i
	}
	for ; times > 0; times-- {
		codes[i] = length
		i++
	}
	return i
}
