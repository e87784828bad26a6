package dump

import (
	"slices"
	"strconv"
	"strings"

	"lunette/core/words"
)

// FromHexText returns the bytes that pasted text lists. It takes:
//
//   - Intel HEX and S-records, recognised first, as Load reads them;
//   - bytes or longer words in hex, separated by blanks or commas, with or without 0x: "4E 56 FF F8", "0x4E56, 0xFFF8",
//     or without any separation. A word's digits are taken from the left, high byte first;
//   - listings: the same with a column of addresses at the left, in hex, octal or decimal, with or without a colon, and a
//     column of text at the right, as xxd, hexdump -C and od -t x1z print them; lines of "*" stand for repeated lines.
//
// Addresses are checked: a listing with a line missing, doubled or cut is an error that names the line. The first address
// is the dump's Base. The error is nil or a *FormatError.
func FromHexText(name, text string) (Dump, error) {
	if len(text) > MaxText {
		return Dump{}, wrongFile(Listing, "the text holds {}, at most {} are read; paste it in parts",
			words.Size(len(text)), words.Size(MaxText))
	}
	data := []byte(strings.ReplaceAll(text, "\u00a0", " ")) // pages show runs of blanks by no-break spaces
	if format, ok := recordText(data); ok {
		return pastedRecords(name, data, format)
	}
	read, err := readListing(data)
	if err != nil {
		return Dump{}, err
	}
	return Dump{Name: name, Bytes: read.bytes, Format: Listing, Base: uint64(read.base), Notes: read.notes}, nil
}

// pastedRecords reads records that were pasted. There is one dump to return, so there must be one image.
func pastedRecords(name string, data []byte, format Format) (Dump, error) {
	l := loader{room: MaxUnpacked}
	l.records(file{name: name, data: data}, format)
	switch {
	case l.problems != nil:
		return Dump{}, l.problems[0]
	case len(l.dumps) > 1:
		return Dump{}, wrongFile(format, "the records lie so far apart that they make {} dumps; save the text as a file and open that",
			words.Count(len(l.dumps)))
	}
	return l.dumps[0], nil
}

// readListing reads a text with its addresses in hex or, where these do not add up, in octal or decimal.
func readListing(data []byte) (listing, *FormatError) {
	column, err := findColumn(data)
	if err != nil {
		return listing{}, err
	}
	answer, err := read(rows(data), column, 16)
	if column == noAddresses || err == nil && !answer.starred {
		return answer, err
	}
	for _, radix := range []int{8, 10} {
		other, otherErr := read(rows(data), column, radix)
		switch {
		case otherErr != nil && err != nil: // the reading that got furthest says best what is wrong
			if otherErr.Line > err.Line {
				err = otherErr
			}
		case otherErr == nil && err != nil:
			answer, err = other, nil
		case otherErr == nil && len(other.bytes) != len(answer.bytes): // as "*" stands for any number of lines
			return answer, wrongFile(Listing, "the addresses make {} if they are of base {}, {} if of base {}; "+
				"print the listing again with all its lines",
				words.Plural(len(answer.bytes), "byte"), strconv.Itoa(answer.radix),
				words.Plural(len(other.bytes), "byte"), strconv.Itoa(radix))
		}
	}
	return answer, err
}

// An addressColumn says whether each row begins with an address.
type addressColumn int

const (
	noAddresses addressColumn = iota
	withColon                 // 00000010: 4e56
	bare                      // 00000010  4e 56
)

// findColumn looks at the first two rows. Without a colon, the first word is an address if its digits are odd in number,
// if the next row's first word follows on from it, or if at least four shorter words come after it. Fewer shorter words
// leave open what it is.
func findColumn(data []byte) (addressColumn, *FormatError) {
	var head []row
	for r := range rows(data) {
		if head = append(head, r); len(head) == 2 {
			break
		}
	}
	if len(head) == 0 {
		return noAddresses, nil
	}
	first, rest := firstWord(head[0].text)
	shorter := 0
	for word := range strings.FieldsSeq(rest) {
		if !isHex(word) || len(word) >= len(first) {
			break
		}
		shorter++
	}
	second, _ := firstWord(rest)
	switch {
	case strings.HasSuffix(first, ":"):
		return withColon, nil
	case len(first) < 4 || !isHex(first) || !isHex(second):
		return noAddresses, nil
	case len(first)%2 == 1:
		return bare, nil
	}
	if len(head) == 2 && !head[1].isStar() {
		if next, _ := firstWord(head[1].text); len(next) != len(first) || !isHex(next) {
			return noAddresses, nil
		}
		for _, radix := range []int{16, 8, 10} {
			if _, err := read(slices.Values(head), bare, radix); err == nil {
				return bare, nil
			}
		}
	}
	switch {
	case shorter == 0:
		return noAddresses, nil
	case shorter < 4:
		return noAddresses, head[0].wrong(0, "{} may be an address or bytes; put a colon after it if it is an address, "+
			"or write all words with the same number of digits", excerpt(first))
	}
	return bare, nil
}
