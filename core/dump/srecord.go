package dump

import (
	"bytes"

	"lunette/core/words"
)

// Motorola S-records, by "M68000 Family Programmer's Reference Manual", Appendix C, "S-Record Output Format" (rules from
// memory):
//
//	S T LL AAAA... DD... CC
//
// T is the record's type, LL the number of bytes that follow, A the address, CC the ones' complement of the sum of the
// bytes from LL on.

// What a type of S-record is for.
type sPurpose uint8

const (
	sReserved sPurpose = iota
	sHeader
	sData
	sCount // the address field counts the data records before it
	sEnd   // the address field is where execution begins
)

// An sKind is what the digit behind the S says.
type sKind struct {
	name    string
	purpose sPurpose
	address int // bytes of the address field
}

// sKinds is the kinds in the order of their digits.
var sKinds = [10]sKind{
	{"S0", sHeader, 2},
	{"S1", sData, 2},
	{"S2", sData, 3},
	{"S3", sData, 4},
	{"S4", sReserved, 0},
	{"S5", sCount, 2},
	{"S6", sCount, 3},
	{"S7", sEnd, 4}, // of S3 records
	{"S8", sEnd, 3}, // of S2 records
	{"S9", sEnd, 2}, // of S1 records
}

// scanSRecords reads a text of S-records and hands those with data to visit, in the order of the lines. It is a
// recordScan.
//
// A count record is compared with the number of data records before it, as far as its field reaches (16 or 24 bits). An
// end record with address 0 says nothing about where execution begins: it is what a writer puts that does not know.
// The end record may be missing, and lines after it are left out, as in scanHex.
func scanSRecords(text []byte, visit func(record) *FormatError) (sayings, *FormatError) {
	var (
		said               sayings
		buffer             [maxRecord]byte
		records            uint64
		ended              bool
		overrun, afterward lineCount
	)
	lines := textLines{rest: text}
	for lines.next() {
		switch {
		case len(lines.text) == 0:
			continue
		case ended:
			afterward.add(lines.number)
			continue
		case lines.text[0]|0x20 != 's':
			return said, lines.wrongMark(SRecord, `"S"`)
		}
		kind, err := lines.sKind()
		if err != nil {
			return said, err
		}
		fields, sum, err := lines.decode(SRecord, 2, 1, &buffer)
		if err != nil {
			return said, err
		}
		if err := lines.checkSLength(kind, fields[0]); err != nil {
			return said, err
		}
		if sum != 0xFF {
			found := fields[len(fields)-1]
			return said, lines.wrongSum(SRecord, found, 0xFF-(sum-found))
		}
		address := bigEndian(fields[1 : 1+kind.address])
		data := fields[1+kind.address : len(fields)-1]
		switch kind.purpose {
		case sHeader:
			if said.notes == nil { // the first that says something is enough
				said.notes = appendHeader(said.notes, data)
			}
		case sData:
			records++
			if address+uint64(len(data)) > 1<<(8*kind.address) {
				overrun.add(lines.number)
			}
			if err := visit(record{lines.number, address, data}); err != nil {
				return said, err
			}
		case sCount:
			if counted := records % (1 << (8 * kind.address)); address != counted {
				return said, wrongLine(SRecord, lines.number, 0, "count record says {}, found {}; lines are missing or doubled",
					words.Plural(int(address), "data record"), words.Count(int(counted)))
			}
		case sEnd:
			ended = true
			if address != 0 {
				start := address // or each address would be allocated for the sake of this one
				said.start = &start
			}
		}
	}
	said.notes = overrun.note(said.notes, "On {} (the first is line {}) a record runs past the highest address of its type "+
		"and was taken to go on above it.")
	said.notes = endNotes(said.notes, ended, &afterward)
	return said, nil
}

// sKind returns the kind of the line's record, which is one in use.
func (l *textLines) sKind() (kind sKind, err *FormatError) {
	if len(l.text) < 2 {
		return kind, wrongLine(SRecord, l.number, 0, "the line ends before the record's type; get the file again")
	}
	digit := l.text[1] - '0'
	if digit > 9 {
		return kind, wrongLine(SRecord, l.number, l.indent+2, "record type is {}, expected 0 to 9", character(l.text[1]))
	}
	if kind = sKinds[digit]; kind.purpose == sReserved {
		return kind, wrongLine(SRecord, l.number, 0, "record type {} is reserved and has no meaning; get the file again", kind.name)
	}
	return kind, nil
}

// checkSLength checks that a record of this kind holds its address and checksum, and data only if it may.
func (l *textLines) checkSLength(kind sKind, length byte) *FormatError {
	least := byte(kind.address + 1)
	switch {
	case length < least:
		return wrongLine(SRecord, l.number, 0, "length field of an {} record is {}, expected at least {}; get the file again",
			kind.name, words.Byte(length), words.Byte(least))
	case length > least && (kind.purpose == sCount || kind.purpose == sEnd):
		return wrongLine(SRecord, l.number, 0, "length field of an {} record is {}, expected {}: it holds no data",
			kind.name, words.Byte(length), words.Byte(least))
	}
	return nil
}

// appendHeader appends what a header record says, if it says something; what cannot be printed is shown as dots.
func appendHeader(notes []string, header []byte) []string {
	text := bytes.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '.'
		}
		return r
	}, bytes.Trim(header, " \x00"))
	if len(bytes.Trim(text, ".")) == 0 {
		return notes
	}
	return append(notes, words.Fill("The header record says: {}", string(text)))
}
