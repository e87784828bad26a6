package link

import (
	"errors"
	"hash/crc32"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/report"
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

// Rows of these tables are known by their number: new ones go to the end.
var (
	states     = []string{"faulty", "blank", "suspect", "undecided", "sound"}
	severities = []string{"good", "note", "unclear", "warning", "empty", "fault"}
	sures      = []string{"certain", "strong", "weak", "cannot tell", "by hand"}
	questions  = []string{"", "Finding", "content", "Content", "size", "Size", "file", "File", "byte-order", "Byte order", "code", "Code",
		"built-in-sum", "Built-in sum", "headers", "Headers", "repeat", "Repeats", "data-lines", "Data lines", "address-lines",
		"Address lines", "blank", "Blank space", "tail", "End"} // id and question by turns
)

// indexOf returns the number of word in table, 0 when it is not there.
func indexOf(table []string, word string) int {
	for i, w := range table {
		if w == word {
			return i
		}
	}
	return 0
}

// Encode returns the fragment of the link for s, at most MaxChars characters: all that stands after the address of the page
// and "#". s comes from Of, Shortened or Decode.
func Encode(s Statement) string { return opening + base64url(s.body()) + closing }

// body returns the bytes of the fragment.
func (s *Statement) body() []byte {
	order, _ := arrange.Parse(s.Order.ID)
	flags := indexOf(states, string(s.State))<<2 | indexOf(sures, string(s.Order.Sure))<<5
	if s.Short {
		flags |= 1
	}
	if order == arrange.Stored {
		flags |= 2
	}
	b := append(make([]byte, 2, 1024), byte(flags))
	size := s.Size
	for ; size >= 0x80; size >>= 7 {
		b = append(b, byte(size)|0x80)
	}
	b = append(b, byte(size))
	number, also := 0, byte(0)
	for i, other := range arrange.Orders() {
		if other == order {
			number = i
		}
		if slices.Contains(s.Order.Also, other.ID()) {
			also |= 1 << i
		}
	}
	b = append(b, byte(number), also, byte(indexOf(sures, string(s.CPU.Sure))))
	b = appendPacked(b, s.CPU.ID)
	b = appendHex(b, s.CRC32)
	b = appendHex(b, s.SHA256)
	if order != arrange.Stored {
		b = appendHex(b, s.SHA256CPU)
	}
	for _, print := range s.Lanes {
		b = appendHex(b, print)
	}
	for _, print := range s.Blocks {
		b = appendHex(b, print)
	}
	b = append(append(b, byte(len(s.Title))), s.Title...)
	b = appendPacked(b, s.Headline)
	b = append(b, byte(len(s.Findings)))
	for _, f := range s.Findings {
		b = append(b, byte(indexOf(questions, f.ID)/2), byte(indexOf(severities, string(f.Severity))<<4|indexOf(sures, string(f.Sure))))
		b = appendPacked(b, f.Answer)
	}
	b = append(b, byte(s.LeftOut))
	return seal(b)
}

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

// A reader takes the parts of a body in turn. After something wrong it gives zeros.
type reader struct {
	b     []byte
	wrong string // what, the first of it
}

func (r *reader) refuse(what string) {
	if r.wrong == "" {
		r.wrong = what
	}
	r.b = nil
}

// take returns the next n bytes.
func (r *reader) take(n int) []byte {
	if n > len(r.b) {
		r.refuse("it ends too early")
		return make([]byte, n)
	}
	taken := r.b[:n]
	r.b = r.b[n:]
	return taken
}

func (r *reader) byte() int { return int(r.take(1)[0]) }

// word returns row i of a table.
func (r *reader) word(table []string, i int) string {
	if i >= len(table) {
		r.refuse("an unknown number " + strconv.Itoa(i))
		return table[0]
	}
	return table[i]
}

func (r *reader) text() string {
	text, rest, ok := unpack(r.b)
	if !ok {
		r.refuse("a text that is too long or does not end")
		return ""
	}
	r.b = rest
	return text
}

func (r *reader) statement() Statement {
	flags := r.byte()
	s := Statement{Version: version, Short: flags&1 != 0, State: report.State(r.word(states, flags>>2&7)), Findings: []Finding{}}
	for shift, more := 0, true; more && shift < 28; shift += 7 {
		c := r.byte()
		s.Size |= c & 0x7F << shift
		more = c&0x80 != 0
	}
	if s.Size < LeastSize || s.Size > dump.MaxBytes {
		r.refuse("a dump of " + words.Size(s.Size))
		return s
	}
	orders := arrange.Orders()
	number, also := r.byte(), r.byte()
	order := orders[number&7]
	if number > 7 || (flags&2 != 0) != (order == arrange.Stored) {
		r.refuse("an unknown order of bytes")
	}
	s.Order = report.Order{ID: order.ID(), Name: report.StoredWords(order), Sure: report.Sure(r.word(sures, flags>>5))}
	for i, other := range orders {
		if also>>i&1 == 1 {
			s.Order.Also = append(s.Order.Also, other.ID())
		}
	}
	s.CPU.Sure = report.Sure(r.word(sures, r.byte()))
	s.CPU.ID = r.text()
	family, known := marks.FamilyByID(s.CPU.ID)
	if s.CPU.Name = family.Name; !known {
		s.CPU.Name = s.CPU.ID
	}
	r.sums(&s, order)
	s.Title = clean(string(r.take(r.byte())), MaxTitle)
	s.Headline = r.text()
	count := r.byte()
	if count > maxFindings || s.Short && count > 0 {
		r.refuse(words.Plural(count, "finding"))
	}
	for i := 0; i < count && r.wrong == ""; i++ {
		row, marked := 2*r.byte(), r.byte()
		f := Finding{ID: r.word(questions, row), Severity: report.Severity(r.word(severities, marked>>4)), Sure: report.Sure(r.word(sures, marked&15))}
		f.Question, f.Answer = r.word(questions, row+1), r.text()
		s.Findings = append(s.Findings, f)
	}
	s.LeftOut = r.byte()
	return s
}

// sums reads the digests and the prints, of which there are as many as a dump of this size has.
func (r *reader) sums(s *Statement, order arrange.Arrangement) {
	s.CRC32 = words.Hex(uint64(word32(r.take(4))), 8)
	s.SHA256 = hexOf(r.take(32))
	length := 32
	if s.Short {
		length = shortDigest
	}
	if s.SHA256CPU = s.SHA256[:2*length]; order != arrange.Stored {
		s.SHA256CPU = hexOf(r.take(length))
	}
	s.Lanes, s.Blocks = r.prints(len(lanes(s.Size))), []string{}
	if !s.Short {
		s.BlockSize, s.Blocks = blockSize(s.Size), r.prints(blockCount(s.Size))
	}
}

func (r *reader) prints(n int) []string {
	prints := make([]string, n)
	for i := range prints {
		prints[i] = hexOf(r.take(printBytes))
	}
	return prints
}

const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// base64url returns b in base64url, unpadded.
func base64url(b []byte) string {
	text := make([]byte, 0, (4*len(b)+2)/3)
	hold, bits := 0, 0
	for _, c := range b {
		hold, bits = hold<<8|int(c), bits+8
		for ; bits >= 6; bits -= 6 {
			text = append(text, alphabet[hold>>(bits-6)&63])
		}
		hold &= 63
	}
	if bits > 0 {
		text = append(text, alphabet[hold<<(6-bits)&63])
	}
	return string(text)
}

// fromBase64url returns the whole bytes that text begins with; ok is false when it has other characters than base64url.
func fromBase64url(text string) (b []byte, ok bool) {
	hold, bits := 0, 0
	for i := range len(text) {
		value := strings.IndexByte(alphabet, text[i])
		if value < 0 {
			return nil, false
		}
		hold, bits = hold<<6|value, bits+6
		if bits >= 8 {
			bits -= 8
			b = append(b, byte(hold>>bits))
		}
		hold &= 0xFF
	}
	return b, true
}

// clean returns text as one line of at most so many characters and 240 bytes: no control characters, no marks that turn the
// direction of writing or show as nothing, no white space at the ends or twice in a row, and U+FFFD for what is not UTF-8.
func clean(text string, limit int) string {
	var b []byte
	gap := 0
	for _, c := range text {
		if isUnseen(c) {
			gap = min(1, len(b))
			continue
		}
		if limit -= gap + 1; limit < 0 || len(b)+gap+utf8.RuneLen(c) > 240 {
			break
		}
		b = append(b, " "[:gap]...)
		b, gap = utf8.AppendRune(b, c), 0
	}
	return string(b)
}

// isUnseen tells whether c is white space, a control or format character (Unicode, general categories Zs, Zl, Zp, Cc and
// those of Cf that hide or turn text; from memory).
func isUnseen(c rune) bool {
	switch {
	case c <= ' ', c >= 0x7F && c <= 0xA0, c == 0xAD, c == 0x061C, c == 0x1680, c == 0x180E, c == 0x3000, c == 0xFEFF:
		return true
	}
	return c >= 0x2000 && c <= 0x200F || c >= 0x2028 && c <= 0x202F || c >= 0x205F && c <= 0x206F || c >= 0xFFF9 && c <= 0xFFFB || c >= 0xE0000
}

// ascii returns text as a packed text holds it: what is not printable ASCII becomes a question mark, what is too long is cut.
func ascii(text string, limit int) string {
	b := []byte(text)[:min(len(text), limit-3)]
	for i, c := range b {
		if c < ' ' || c > '~' {
			b[i] = '?'
		}
	}
	return string(b)
}

// shorter returns text without its last character and with an ellipsis at its end.
func shorter(text, ellipsis string) string {
	text = strings.TrimSuffix(text, ellipsis)
	_, size := utf8.DecodeLastRuneInString(text)
	text = strings.TrimRight(text[:len(text)-size], " ")
	if text == "" {
		return ""
	}
	return text + ellipsis
}
