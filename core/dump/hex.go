package dump

import (
	"lunette/core/words"
)

// Intel HEX, by "Hexadecimal Object File Format Specification", Revision A, Intel, 6 January 1988 (rules from memory):
//
//	: LL OOOO TT DD... CC
//
// LL is the number of data bytes, OOOO the load offset, TT the record's type, CC the two's complement of the sum of all
// bytes before it.

// Types of Intel HEX records.
const (
	hexData         = 0x00
	hexEnd          = 0x01
	hexSegmentBase  = 0x02 // bits 4 to 19 of the segment base address
	hexSegmentStart = 0x03 // CS and IP of an 8086
	hexLinearBase   = 0x04 // bits 16 to 31 of the linear base address
	hexLinearStart  = 0x05 // EIP of a 386
)

// hexDataBytes is how many data bytes a record of each type but hexData holds.
var hexDataBytes = [...]int{hexEnd: 0, hexSegmentBase: 2, hexSegmentStart: 4, hexLinearBase: 2, hexLinearStart: 4}

// A hexBase is where load offsets count from. Byte i of a record goes to from + (add + offset + i) modulo size.
type hexBase struct{ from, add, size uint64 }

// Under a segment base, and before any base is given, offsets wrap round within 64 KiB; under a linear base the sum wraps
// round within 4 GiB.
func segmentBase(field uint16) hexBase { return hexBase{from: uint64(field) << 4, size: 1 << 16} }
func linearBase(field uint16) hexBase  { return hexBase{add: uint64(field) << 16, size: 1 << 32} }

// scanHex reads the records of an Intel HEX text and hands those with data to visit, in the order of the lines. It is a
// recordScan.
//
// A file without an end record is read and noted: many old ones lack it. Lines after the end record are left out and
// noted, whatever they are, since the end record is where a reader stops.
func scanHex(text []byte, visit func(record) *FormatError) (sayings, *FormatError) {
	var (
		said               sayings
		buffer             [maxRecord]byte
		base               = segmentBase(0)
		ended              bool
		wrapped, afterward lineCount
	)
	lines := textLines{rest: text}
	for lines.next() {
		switch {
		case len(lines.text) == 0:
			continue
		case ended:
			afterward.add(lines.number)
			continue
		case lines.text[0] != ':':
			return said, lines.wrongMark(HEX, `":"`)
		}
		fields, sum, err := lines.decode(HEX, 1, 5, &buffer)
		if err != nil {
			return said, err
		}
		if sum != 0 {
			found := fields[len(fields)-1]
			return said, lines.wrongSum(HEX, found, found-sum)
		}
		offset, kind, data := bigEndian(fields[1:3]), fields[3], fields[4:len(fields)-1]
		if err := lines.checkHexType(kind, len(data)); err != nil {
			return said, err
		}
		switch kind {
		case hexData:
			position := (base.add + offset) % base.size
			fits := int(min(uint64(len(data)), base.size-position))
			if err := visit(record{lines.number, base.from + position, data[:fits]}); err != nil {
				return said, err
			}
			if fits < len(data) {
				wrapped.add(lines.number)
				if err := visit(record{lines.number, base.from, data[fits:]}); err != nil {
					return said, err
				}
			}
		case hexEnd:
			ended = true
			if offset != 0 {
				said.notes = append(said.notes, words.Fill("The end record holds the address {}; "+
					"older writers put the start address there.", words.Hex(offset, 4)))
			}
		case hexSegmentBase:
			base = segmentBase(uint16(bigEndian(data)))
		case hexLinearBase:
			base = linearBase(uint16(bigEndian(data)))
		case hexSegmentStart:
			start := bigEndian(data[:2])<<4 + bigEndian(data[2:])
			said.start = &start
		case hexLinearStart:
			start := bigEndian(data)
			said.start = &start
		}
	}
	said.notes = wrapped.note(said.notes, "On {} (the first is line {}) a record runs over the end of the 64 KiB segment "+
		"or of the 4 GiB address space and goes on at its beginning, as the specification says.")
	said.notes = endNotes(said.notes, ended, &afterward)
	return said, nil
}

// checkHexType checks a record's type and that it holds as many data bytes as its type says.
func (l *textLines) checkHexType(kind byte, length int) *FormatError {
	switch {
	case kind == hexData:
		return nil
	case int(kind) >= len(hexDataBytes):
		return wrongLine(HEX, l.number, 0, "record type is {}, expected 00 to 05; the specification knows no other", words.Byte(kind))
	case length != hexDataBytes[kind]:
		return wrongLine(HEX, l.number, 0, "record of type {} holds {}, expected {}; get the file again",
			words.Byte(kind), words.Plural(length, "data byte"), words.Count(hexDataBytes[kind]))
	}
	return nil
}

// endNotes appends what is odd about the end of a text of records.
func endNotes(notes []string, ended bool, afterward *lineCount) []string {
	if !ended {
		notes = append(notes, "There is no end record; the file may have been cut short.")
	}
	return afterward.note(notes, "Left out: {} after the end record, from line {} on; "+
		"if they hold another image, save them as a file of their own.")
}

// bigEndian returns the number that up to eight bytes make, high byte first.
func bigEndian(bytes []byte) (value uint64) {
	for _, b := range bytes {
		value = value<<8 | uint64(b)
	}
	return value
}
