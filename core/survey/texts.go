package survey

import (
	"encoding/binary"
	"math/bits"
)

// A Text is a run of at least MinText printable bytes: 20 to 7E and tab, as strings of the GNU binutils takes them. A line
// end, like any other byte, ends it.
type Text struct {
	From, To int // addresses of its first byte and of the one after its last
}

// Len returns the text's length in bytes, which are as many characters.
func (t Text) Len() int { return t.To - t.From }

// A textScanner finds the printable runs of a dump, a part at a time.
type textScanner struct {
	at      int // every text that begins below has been found
	count   int
	bytes   int
	longest longest
}

func newTextScanner() *textScanner { return &textScanner{longest: longest{limit: MaxTexts}} }

// scan finds the texts of data that begin before to.
//
// It marks the printable ones of 64 bytes in the bits of one number. Where six bits in a row are set a text begins or goes
// on; of the 64, the first 59 have the five after them in sight.
func (t *textScanner) scan(data []byte, to int) {
	const window = 64
	for t.at < to {
		from := t.at
		marks := printable(data, from)
		pairs := marks & (marks >> 1)
		begins := pairs & (pairs >> 2) & (pairs >> 4)
		t.at = from + window - MinText + 1
		for begins != 0 {
			first := bits.TrailingZeros64(begins)
			length := bits.TrailingZeros64(^(marks >> first))
			if first+length == window {
				t.at = textEnd(data, from+window)
				t.add(from+first, t.at)
				break
			}
			t.add(from+first, from+first+length)
			begins &= ^uint64(0) << (first + length)
		}
	}
}

func (t *textScanner) add(from, to int) {
	t.count++
	t.bytes += to - from
	t.longest.add(from, to)
}

// result returns the longest texts, the number of all and the number of bytes in them.
func (t *textScanner) result() (texts []Text, count, bytes int) {
	for _, s := range t.longest.result() {
		texts = append(texts, Text{From: s.from, To: s.to})
	}
	return texts, t.count, t.bytes
}

// textEnd returns the first address from at on where data has no printable byte, or its length.
func textEnd(data []byte, at int) int {
	for at+8 <= len(data) {
		w := binary.LittleEndian.Uint64(data[at:])
		if others := printableBytes(w) ^ tops; others != 0 {
			return at + bits.TrailingZeros64(others)/8
		}
		at += 8
	}
	for at < len(data) && printableBytes(uint64(data[at])) != 0 {
		at++
	}
	return at
}

// printable returns the marks of the 64 bytes of data from address at on: bit i is set if byte at+i is there and
// printable.
func printable(data []byte, at int) (marks uint64) {
	if len(data)-at < 64 {
		var rest [64]byte
		copy(rest[:], data[at:])
		data, at = rest[:], 0
	}
	group := (*[64]byte)(data[at:])
	for i := 0; i < 64; i += 8 {
		found := printableBytes(binary.LittleEndian.Uint64(group[i:]))
		marks |= (found >> 7) * gather >> 56 << i
	}
	return marks
}

const (
	ones   = 0x0101_0101_0101_0101 // 1 in each byte
	tops   = 0x80 * ones           // the top bit of each byte
	gather = 0x0102_0408_1020_4080 // times a number of ones and zeros in the bytes: its bytes as bits, on top
)

// printableBytes returns the top bit of each byte of w that is printable. Sums of numbers below 80 stay in their byte:
// such a byte plus 60 has the top bit if it is at least 20, plus 1 if it is 7F, and plus 7F unless it is 0.
func printableBytes(w uint64) uint64 {
	low := w &^ tops
	printed := (low + 0x60*ones) &^ (low + 0x01*ones)
	notTab := (low ^ '\t'*ones) + 0x7F*ones
	return (printed | ^notTab) &^ w & tops
}
