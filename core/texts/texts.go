// Package texts answers: what readable text is in this image, and which of it tells most about the board?
//
// Find reads the image in the order in which it makes sense and lists its texts, those first that name a version, a date
// or an owner, then the longest.
package texts

//go:generate go run lunette/core/jsontext/generate

import (
	"cmp"
	"slices"
	"strings"

	"lunette/core/arrange"
	"lunette/core/sorted"
)

// Limits of what is listed; all texts are counted.
const (
	MinLength = 6   // characters: a shorter printable run is more likely chance than text
	MaxLength = 240 // characters of one text that are kept
	MaxTexts  = 400 // texts listed
)

// A Text is one run of printable ASCII, 20 to 7E and tab.
type Text struct {
	Offset  int    `json:"offset"`  // in the arranged image
	Stored  int    `json:"stored"`  // of its first byte in the stored bytes
	Length  int    `json:"length"`  // characters, all of them
	Text    string `json:"text"`    // at most MaxLength of them
	Telling int    `json:"telling"` // how many of these it names: a date, a version, an owner
}

// window is how many bytes are looked at in one piece.
const window = 64 << 10

// Find lists the texts in the image of stored as arranged by order, the most telling first, and counts them all. Texts
// that come again are listed once, where they stand first. The cost is one pass; memory is bounded by the limits.
func Find(stored []byte, order arrange.Arrangement) (listed []Text, total int) {
	l := list{seen: make(map[string]bool)}
	size := order.Len(len(stored))
	buffer := make([]byte, min(window, size))
	for from := 0; from < size; {
		piece := buffer[:order.Copy(buffer, stored, from)]
		start, end := nextRun(piece, 0)
		for ; end < len(piece); start, end = nextRun(piece, end) {
			if end-start >= MinLength {
				total++
				l.add(piece[start:end], from+start, end-start)
			}
		}
		if start == 0 && end > 0 || from+len(piece) == size {
			// The run fills the window or ends the image: where it ends is looked for alone.
			end = from + end
			for end < size && printable[order.At(stored, end)] {
				end++
			}
			if length := end - from - start; length >= MinLength {
				total++
				l.add(piece[start:], from+start, length)
			}
			from = end
			continue
		}
		from += start // a run that the window cuts is looked at again, whole
	}
	for i := range l.texts {
		l.texts[i].Stored = order.Source(l.texts[i].Offset, len(stored))
	}
	return l.best(), total
}

// nextRun returns where in piece the next printable run from at on begins and ends; both are its length when there is none.
func nextRun(piece []byte, at int) (start, end int) {
	for at < len(piece) && !printable[piece[at]] {
		at++
	}
	start = at
	for at < len(piece) && printable[piece[at]] {
		at++
	}
	return start, at
}

var printable = func() (table [256]bool) {
	for b := ' '; b <= '~'; b++ {
		table[b] = true
	}
	table['\t'] = true
	return table
}()

// list keeps the best texts met so far.
type list struct {
	texts []Text
	seen  map[string]bool
	least *Text // when enough are kept: the last of them; what comes after it need not be
}

// add keeps a run of length characters at offset if it reads like text; run holds the first of them. When twice as many are
// kept as are listed, the lesser half goes.
func (l *list) add(run []byte, offset, length int) {
	run = run[:min(len(run), MaxLength)]
	if !readable(run) || l.seen[string(run)] {
		return
	}
	t := Text{Offset: offset, Length: length, Text: string(run)}
	t.Telling = telling(t.Text)
	if l.least != nil && compare(t, *l.least) > 0 {
		return
	}
	l.seen[t.Text] = true
	l.texts = append(l.texts, t)
	if len(l.texts) >= 2*MaxTexts {
		l.texts = l.best()
		l.least = &l.texts[MaxTexts-1]
		clear(l.seen)
		for _, kept := range l.texts {
			l.seen[kept.Text] = true
		}
	}
}

// compare is negative when a comes before b in the list.
func compare(a, b Text) int {
	return cmp.Or(b.Telling-a.Telling, b.Length-a.Length, a.Offset-b.Offset)
}

func (l *list) best() []Text {
	texts := append([]Text{}, l.texts...) // an empty list, never none: it goes to the page
	sorted.By(texts, compare)
	return texts[:min(len(texts), MaxTexts)]
}

// readable tells whether most of s is letters, digits and spaces, with at least three letters: code and tables that are
// printable by chance are mostly other signs.
func readable(s []byte) bool {
	letters, common := 0, 0
	for _, c := range s {
		switch lower := c | 0x20; {
		case 'a' <= lower && lower <= 'z':
			letters++
			common++
		case '0' <= c && c <= '9' || c == ' ' || c == '.' || c == ',' || c == '-':
			common++
		}
	}
	return letters >= 3 && 3*common >= 2*len(s)
}

// Words of lines that name a version or an owner; common practice, no source.
var (
	versionWords = []string{"version", "ver", "revision", "rev", "release", "issue"}
	ownerWords   = []string{"copyright", "(c)", "rights", "reserved"}
)

// telling counts which of these s names: a date, a version, an owner.
func telling(s string) (score int) {
	version, owner := false, false
	for word := range strings.FieldsFuncSeq(s, isGap) {
		switch word[0] | 0x20 {
		case 'v', 'r', 'i':
			version = version || isOneOf(word, versionWords) || isVersion(word)
			owner = owner || isOneOf(word, ownerWords)
		case 'c', '(' | 0x20:
			owner = owner || isOneOf(word, ownerWords)
		}
	}
	for _, named := range []bool{hasDate(s), version, owner} {
		if named {
			score++
		}
	}
	return score
}

func isGap(r rune) bool { return r == ' ' || r == '.' || r == ',' || r == ':' }

func isOneOf(word string, words []string) bool {
	return slices.ContainsFunc(words, func(one string) bool { return strings.EqualFold(word, one) })
}

var months = []string{"JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"}

// hasDate finds years from 1970 to 2029 and dates such as 03/14/88 and 14-MAR-88.
func hasDate(s string) bool {
	digit := func(i int) bool { return i >= 0 && i < len(s) && '0' <= s[i] && s[i] <= '9' }
	for i := range s {
		if i+4 <= len(s) && !digit(i-1) && !digit(i+4) && digit(i+3) {
			if year := s[i : i+4]; digit(i+2) && (year[:2] == "19" && year[2] >= '7' || year[:2] == "20" && year[2] <= '2') {
				return true
			}
		}
		if i+8 <= len(s) && digit(i) && digit(i+1) && (s[i+2] == '/' || s[i+2] == '-') && digit(i+3) && digit(i+4) &&
			s[i+5] == s[i+2] && digit(i+6) && digit(i+7) {
			return true
		}
	}
	for i := 1; i+5 < len(s); i++ {
		if s[i] == '-' && s[i+4] == '-' && digit(i-1) && digit(i+5) && slices.Contains(months, strings.ToUpper(s[i+1:i+4])) {
			return true
		}
	}
	return false
}

// isVersion tells whether a word is a version, as v1 in "v1.04".
func isVersion(word string) bool {
	return len(word) >= 2 && word[0]|0x20 == 'v' && '0' <= word[1] && word[1] <= '9'
}
