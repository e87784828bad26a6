package dump

import (
	"strconv"

	"lunette/core/words"
)

// What Intel HEX and S-records share: lines of text, each a record of hex digits that begins with its own length and
// ends with a checksum.

// textLines walks the lines of a text. CR, LF and CRLF each end one.
type textLines struct {
	rest   []byte // what was not walked yet
	number int    // of the line in text, from 1
	text   []byte // the line without blanks and padding around it
	indent int    // characters cut off before text
}

// next goes to the next line; false at the end of the text.
func (l *textLines) next() bool {
	if len(l.rest) == 0 {
		return false
	}
	rest := l.rest
	end := 0
	for end < len(rest) && (rest[end] > '\r' || rest[end] != '\n' && rest[end] != '\r') {
		end++
	}
	from, to := 0, end
	if l.number == 0 && end >= 3 && rest[0] == 0xEF && rest[1] == 0xBB && rest[2] == 0xBF {
		from = 3 // the byte order mark that some editors put before UTF-8
	}
	for from < to && isPadding[rest[from]] {
		from++
	}
	for from < to && isPadding[rest[to-1]] {
		to--
	}
	l.number++
	l.text, l.indent = rest[from:to], from
	if end+1 < len(rest) && rest[end] == '\r' && rest[end+1] == '\n' {
		end++
	}
	l.rest = rest[min(end+1, len(rest)):]
	return true
}

// isPadding holds for what may stand around a line: blanks, the NULs of a paper tape, and the 1A that ended a text file
// on disks that counted in blocks only.
var isPadding = [256]bool{' ': true, '\t': true, 0x00: true, 0x1A: true}

// hexValue is the value of a hex digit, FF of any other character.
var hexValue = func() (table [256]byte) {
	for c := range table {
		table[c] = 0xFF
	}
	for value, c := range "0123456789ABCDEF" {
		table[c] = byte(value)
		table[c|0x20] = byte(value) // lower case; digits have this bit set anyway
	}
	return
}()

// maxRecord is the length in bytes of the longest record: Intel HEX with 255 bytes of data.
const maxRecord = 1 + 2 + 1 + 255 + 1

// decode turns the hex digits of the line from character `from` on into the bytes of a record and returns them with
// their sum modulo 256. The first byte is the record's length field; a record has uncounted bytes more than it says.
// The bytes are those of buffer.
func (l *textLines) decode(format Format, from, uncounted int, buffer *[maxRecord]byte) (record []byte, sum byte, err *FormatError) {
	digits := l.text[from:]
	if len(digits) < 2 || hexValue[digits[0]]|hexValue[digits[1]] > 15 {
		return nil, 0, l.wrongDigits(format, from, uncounted)
	}
	length := int(hexValue[digits[0]]<<4|hexValue[digits[1]]) + uncounted
	if len(digits) != 2*length {
		return nil, 0, l.wrongDigits(format, from, uncounted)
	}
	record = buffer[:length]
	var values byte // has a high bit if a digit was none
	for i := range record {
		pair := digits[2*i : 2*i+2]
		high, low := hexValue[pair[0]], hexValue[pair[1]]
		values |= high | low
		record[i] = high<<4 | low
		sum += record[i]
	}
	if values > 15 {
		return nil, 0, l.wrongDigits(format, from, uncounted)
	}
	return record, sum, nil
}

// wrongDigits says why decode could not read the line: a character that is no digit, or too few or too many of them.
func (l *textLines) wrongDigits(format Format, from, uncounted int) *FormatError {
	digits := l.text[from:]
	for i, c := range digits {
		if hexValue[c] > 15 {
			return wrongLine(format, l.number, l.indent+from+i+1, "{} is not a hex digit; correct it or read the chip again",
				character(c))
		}
	}
	if len(digits) < 2 {
		return wrongLine(format, l.number, 0, "the line ends before the record's length; get the file again")
	}
	field := hexValue[digits[0]]<<4 | hexValue[digits[1]]
	return wrongLine(format, l.number, 0, "record has {} hex digits, its length field {} asks for {}; the line was cut or joined",
		words.Count(len(digits)), words.Byte(field), words.Count(2*(int(field)+uncounted)))
}

// wrongMark says that a line does not begin as a record does.
func (l *textLines) wrongMark(format Format, mark string) *FormatError {
	return wrongLine(format, l.number, l.indent+1, "found {} where a record begins with {}; if the line is a remark, delete it",
		character(l.text[0]), mark)
}

// wrongSum says that the checksum of a record does not hold.
func (l *textLines) wrongSum(format Format, found, computed byte) *FormatError {
	return wrongLine(format, l.number, 0, "record checksum is {}, computed {}", words.Byte(found), words.Byte(computed))
}

// A lineCount counts lines that are odd in the same way.
type lineCount struct {
	first int // the first such line; 0 if there is none
	count int
}

func (c *lineCount) add(line int) {
	if c.count == 0 {
		c.first = line
	}
	c.count++
}

// note appends a sentence to notes if there was such a line: template with the number of them ("3 lines") and the first
// line's number put in.
func (c *lineCount) note(notes []string, template string) []string {
	if c.count == 0 {
		return notes
	}
	return append(notes, words.Fill(template, words.Plural(c.count, "line"), strconv.Itoa(c.first)))
}
