package link

import (
	"errors"
	"hash/crc32"
	"strconv"
	"strings"

	"lunette/core/words"
)

// A fragment is "s", the version, a dot, base64url (RFC 4648, section 5, unpadded) and the letter e, so that no program
// that finds links in a text takes its end for punctuation. In base64url stand, bytes in the order of reading:
//
//	bytes  what
//	2      how many bytes follow, the high byte first: a link that is cut is told from one that is altered
//	1      bit 0: short form; bit 1: the CPU's order is the stored one; bits 2 to 4: state; bits 5 to 7: how sure the order is
//	1-4    size, seven bits a byte, the low ones first, bit 7 set in all but the last
//	1      order, as a number in arrange.Orders
//	1      orders that the evidence does not tell from it, bit by number
//	2-     CPU family: how sure, and its id as packed text
//	4      CRC-32 as stored
//	32     SHA-256 as stored
//	32/16  SHA-256 in the CPU's order, 16 bytes in the short form; absent where that is the stored one
//	6 each prints of the lanes that a dump of this size has prints of
//	6 each prints of the blocks that a dump of this size has; none in the short form
//	1-     title: its length in bytes, UTF-8
//	1-     headline, packed text
//	1      number of findings, and for each its id as a number, its severity and sureness, its answer as packed text
//	1      findings left out
//	4      CRC-32 (IEEE 802.3) of all before, from the count on
const (
	version  = 1
	opening  = "s1."
	closing  = "e"
	MaxChars = 1500 // the most characters of a fragment
	maxShort = 175  // bytes of the short form, in 238 characters
	maxBytes = (MaxChars - len(opening) - len(closing)) * 3 / 4

	shortDigest = 16
	printBytes  = PrintBits / 8
	maxFindings = 24
	maxText     = 400 // characters of a packed text
	maxHeadline = 200
)

// Encode returns the fragment of the link for s, at most MaxChars characters: all that stands after the address of the page
// and "#". s comes from Of, Shortened or Decode.
func Encode(s Statement) string { return opening + base64url(s.body()) + closing }

// seal puts the count into the first two bytes of b and the checksum to its end.
func seal(b []byte) []byte {
	follow := len(b) + 2
	b[0], b[1] = byte(follow>>8), byte(follow)
	sum := crc32.ChecksumIEEE(b)
	return append(b, byte(sum>>24), byte(sum>>16), byte(sum>>8), byte(sum))
}

// again is what helps with a link that did not arrive whole.
const again = "; ask for it again as plain text, or for the short one"

// Decode reads the fragment of a link, or a whole link. Whatever is wrong with it is an error in plain words: it is not
// ours, of another version, cut, altered, or holds what no page of ours writes. Text in it is bounded in length and has no
// control characters; it is somebody else's all the same.
func Decode(fragment string) (Statement, error) {
	text := strings.Join(strings.Fields(fragment), "") // programs break long lines
	if i := strings.LastIndexByte(text, '#'); i >= 0 {
		text = text[i+1:]
	}
	text = strings.TrimRight(text, ".,;:!?)]}>\"'*")
	if !strings.HasPrefix(text, opening) {
		return Statement{}, foreign(text)
	}
	if len(text) > MaxChars {
		return Statement{}, errors.New(words.Fill("this link has {} characters after #, and none of ours has more than {}{}",
			words.Count(len(text)), words.Count(MaxChars), again))
	}
	packed, ended := strings.CutSuffix(text[len(opening):], closing)
	b, ok := fromBase64url(packed)
	switch {
	case !ok:
		return Statement{}, errors.New("this link was altered: it holds characters that no link of ours has" + again)
	case len(b) < 2:
		return Statement{}, errors.New("this link was cut: nearly all of it is missing" + again)
	}
	expected := int(b[0])<<8 + int(b[1]) + 2
	switch {
	case len(b) < expected && expected <= maxBytes:
		return Statement{}, errors.New(words.Fill("this link was cut: {} of its {} characters arrived{}",
			words.Count(len(text)), words.Count(len(opening)+(4*expected+2)/3+len(closing)), again))
	case len(b) != expected || expected < 6 || !ended || base64url(b) != packed:
		return Statement{}, errors.New("this link is not whole: its end is not where it says" + again)
	}
	end := len(b) - 4
	if found, computed := word32(b[end:]), crc32.ChecksumIEEE(b[:end]); found != computed {
		return Statement{}, errors.New(words.Fill("this link was altered: its checksum is {}, computed {}{}",
			words.Hex(uint64(found), 8), words.Hex(uint64(computed), 8), again))
	}
	r := reader{b: b[2:end]}
	s := r.statement()
	if r.wrong == "" && len(r.b) > 0 {
		r.wrong = words.Plural(len(r.b), "byte") + " too many"
	}
	if r.wrong != "" {
		return Statement{}, errors.New("this link is whole, but no page of ours writes such: " + r.wrong)
	}
	return s, nil
}

// foreign says what a text that does not begin as it should may be.
func foreign(text string) error {
	number, _, dotted := strings.Cut(strings.TrimPrefix(text, "s"), ".")
	switch n, err := strconv.Atoi(number); {
	case text == "":
		return errors.New("there is no statement in this link: nothing stands after #")
	case strings.HasPrefix(opening, text):
		return errors.New("this link was cut: nearly all of it is missing" + again)
	case text[0] == 's' && dotted && err == nil && n > version:
		return errors.New(words.Fill("this link is of version {}, and this page reads version {} only; open the link with a newer page",
			strconv.Itoa(n), strconv.Itoa(version)))
	}
	return errors.New("this is no link of ours: what stands after # begins with " + opening + " in one that is")
}

func word32(b []byte) uint32 {
	return uint32(b[0])<<24 | uint32(b[1])<<16 | uint32(b[2])<<8 | uint32(b[3])
}
