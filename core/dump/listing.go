package dump

import (
	"bytes"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"lunette/core/words"
)

// A row is a line of a listing that is not blank.
type row struct {
	line   int    // its number in the text
	indent int    // characters before text
	text   string // without blanks around it
}

// isStar reports whether the row says only that lines were left out since they repeat the one before.
func (r row) isStar() bool { return r.text == "*" }

// wrong is an error at character `at` of the row; up to there it is ASCII.
func (r row) wrong(at int, template string, parts ...string) *FormatError {
	return wrongLine(Listing, r.line, r.indent+at+1, template, parts...)
}

// rows walks the rows of a text.
func rows(data []byte) iter.Seq[row] {
	return func(yield func(row) bool) {
		lines := textLines{rest: data}
		for lines.next() {
			if len(lines.text) > 0 && !yield(row{lines.number, lines.indent, string(lines.text)}) {
				return
			}
		}
	}
}

// A listing is what was read of a text under one reading of its addresses.
type listing struct {
	column  addressColumn
	radix   int    // of the addresses
	bytes   []byte // so far
	base    int    // first address
	last    int    // where in bytes the last row begins
	star    row    // a "*" that waits for the address that says how often to repeat
	starred bool   // there was a "*"
	words   bool   // there were words of more than one byte whose order is not plain
	notes   []string
}

// read reads rows under one reading of their addresses.
func read(rows iter.Seq[row], column addressColumn, radix int) (listing, *FormatError) {
	l := listing{column: column, radix: radix}
	first := row{}
	for r := range rows {
		if err := l.read(r, first.line == 0); err != nil {
			return l, err
		}
		if len(l.bytes) > MaxBytes {
			return l, wrongLine(Listing, r.line, 0, "more than {} up to this line; a dump holds no more", words.Size(MaxBytes))
		}
		if first.line == 0 {
			first = r
		}
	}
	switch {
	case l.star.line > 0:
		return l, l.star.wrong(0, `"*" stands for repeated lines, but no address after it says how many; paste the next line too`)
	case len(l.bytes) == 0:
		return l, wrongFile(Listing, "the text holds no bytes; paste hex digits such as 4E 56 FF F8")
	}
	if column == bare {
		word, _ := firstWord(first.text)
		l.notes = append(l.notes, words.Fill("The first word of each line, {} on the first, was taken as an address.", word))
	}
	if l.words {
		l.notes = append(l.notes, "Words were taken high byte first, as they are written; "+
			"if the listing was made on a machine that stores the low byte first, the bytes are swapped.")
	}
	return l, nil
}

// read reads one row: its address, its bytes, and no further than the column of text.
func (l *listing) read(r row, first bool) *FormatError {
	if r.isStar() {
		if l.column == noAddresses || first {
			return r.wrong(0, `"*" stands for repeated lines, but no address says how many; print the listing again with all its lines`)
		}
		l.star, l.starred = r, true
		return nil
	}
	at := 0
	if l.column != noAddresses {
		word, rest := firstWord(r.text)
		if err := l.address(r, word, first); err != nil {
			return err
		}
		at = len(r.text) - len(rest)
	}
	l.last = len(l.bytes)
	for {
		gap := 0 // blanks before the word; a tab is worth two
		for ; at < len(r.text) && isSeparator(r.text[at]); at++ {
			gap++
			if r.text[at] == '\t' {
				gap++
			}
		}
		rest := r.text[at:]
		if rest == "" || l.isTextColumn(rest, gap) {
			return nil
		}
		word := rest
		if end := strings.IndexAny(rest, separators); end >= 0 {
			word = rest[:end]
		}
		if err := l.add(r, at, word); err != nil {
			return err
		}
		at += len(word)
	}
}

// address reads the address of a row, repeats what a "*" before it stands for, and checks that it follows on.
func (l *listing) address(r row, word string, first bool) *FormatError {
	digits := strings.TrimSuffix(word, ":")
	value, err := strconv.ParseUint(strings.TrimPrefix(digits, "0x"), l.radix, 32)
	if err != nil || (len(digits) < len(word)) != (l.column == withColon) {
		return r.wrong(0, "{} is not an address like the one that the first line begins with; paste whole lines", excerpt(word))
	}
	if first {
		l.base = int(value)
		return nil
	}
	next := l.base + len(l.bytes)
	if l.star.line > 0 {
		pattern, missing := l.bytes[l.last:], int(value)-next
		if missing < 0 || len(pattern) == 0 || missing%len(pattern) != 0 || len(l.bytes)+missing > MaxBytes {
			return r.wrong(0, `address is {}; no number of lines of {} in place of the "*" leads there from {}`,
				digits, words.Plural(len(pattern), "byte"), l.written(next, len(digits)))
		}
		l.bytes = slices.Grow(l.bytes, missing)
		for range missing / len(pattern) {
			l.bytes = append(l.bytes, pattern...)
		}
		l.star = row{}
	} else if int(value) != next {
		return r.wrong(0, "address is {}, expected {} after the {} before it; a line is missing, doubled or cut",
			digits, l.written(next, len(digits)), words.Plural(len(l.bytes), "byte"))
	}
	return nil
}

// written writes an address as the listing does.
func (l *listing) written(address, digits int) string {
	s := strings.ToUpper(strconv.FormatInt(int64(address), l.radix))
	return strings.Repeat("0", max(0, digits-len(s))) + s
}

// longestColumn bounds in bytes what is compared with a row as its text: no listing has longer lines.
const longestColumn = 1 << 10

// isTextColumn reports whether rest, after a gap, is the row's bytes once more as text: set off by a bar or an angle
// bracket; or the same as the bytes; or, in a row with an address, no hex and no longer than the bytes.
func (l *listing) isTextColumn(rest string, gap int) bool {
	shown := l.bytes[l.last:]
	switch {
	case len(shown) == 0 || gap == 0 || len(rest) > longestColumn:
		return false
	case rest[0] == '|' || rest[0] == '>':
		return true
	case gap == 1:
		return false
	case l.column == noAddresses: // nothing would show that bytes were taken for text
		return !isHex(strings.ReplaceAll(rest, " ", "")) && sameText(shown, rest)
	}
	word, _ := firstWord(rest)
	noBytes := !isHex(strings.TrimRight(word, ",")) && !strings.HasPrefix(word, "0x")
	return noBytes && utf8.RuneCountInString(rest) <= len(shown) || sameText(shown, rest)
}

// sameText reports whether text shows these bytes: printable ones as themselves, others by any one character. Blanks at
// the ends may have been lost.
func sameText(shown []byte, text string) bool {
	text = strings.Trim(text, " ")
	for _, b := range bytes.Trim(shown, " ") {
		if text == "" {
			return false
		}
		c, size := utf8.DecodeRuneInString(text)
		if ' ' <= b && b <= '~' && c != rune(b) {
			return false
		}
		text = text[size:]
	}
	return text == ""
}

// add appends the bytes of the word at byte `at` of a row.
func (l *listing) add(r row, at int, word string) *FormatError {
	digits, prefixed := word, false
	if len(word) > 2 && word[0] == '0' && word[1]|0x20 == 'x' {
		digits, prefixed = word[2:], true
	}
	for i := range len(digits) {
		if hexValue[digits[i]] > 15 {
			return r.wrong(at+len(word)-len(digits)+i,
				"{} is not hex; leave out everything but bytes, addresses and the text beside them", excerpt(word))
		}
	}
	switch {
	case prefixed && len(digits) == 1: // 0x5 can only be 05
		digits = "0" + digits
	case len(digits)%2 == 1:
		return r.wrong(at, "{} has {}, an odd number; write each byte with two", excerpt(word),
			words.Plural(len(digits), "hex digit"))
	}
	for i := 0; i < len(digits); i += 2 {
		l.bytes = append(l.bytes, hexValue[digits[i]]<<4|hexValue[digits[i+1]])
	}
	l.words = l.words || len(digits) > 2 && (prefixed || l.column == bare)
	return nil
}

// firstWord cuts text after its first word.
func firstWord(text string) (word, rest string) {
	text = strings.TrimLeft(text, " \t")
	if end := strings.IndexAny(text, " \t"); end >= 0 {
		return text[:end], text[end:]
	}
	return text, ""
}

// isHex reports whether word is hex digits, at least one and nothing else.
func isHex(word string) bool {
	for i := range len(word) {
		if hexValue[word[i]] > 15 {
			return false
		}
	}
	return word != ""
}

// separators may stand between bytes.
const separators = " \t,"

func isSeparator(c byte) bool { return strings.IndexByte(separators, c) >= 0 }

// excerpt quotes the beginning of a word of a text.
func excerpt(word string) string {
	const most = 20
	if utf8.RuneCountInString(word) > most {
		word = string([]rune(word)[:most]) + "..."
	}
	return strconv.Quote(word)
}
