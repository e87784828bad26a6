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
	buffer := make([]byte, window)
	run := make([]byte, 0, MaxLength)
	length := 0
	end := func(at int) {
		if length >= MinLength {
			total++
			l.add(Text{Offset: at - length, Stored: order.Source(at-length, len(stored)), Length: length, Text: string(run)})
		}
		run, length = run[:0], 0
	}
	for from := 0; from < size; from += window {
		for i, b := range buffer[:order.Copy(buffer, stored, from)] {
			if !printable[b] {
				if length > 0 {
					end(from + i)
				}
				continue
			}
			if length++; length <= MaxLength {
				run = append(run, b)
			}
		}
	}
	end(size)
	return l.best(), total
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
}

// add keeps t if it reads like text; when twice as many are kept as are listed, the lesser half goes.
func (l *list) add(t Text) {
	if !readable(t.Text) || l.seen[t.Text] {
		return
	}
	t.Telling = telling(t.Text)
	l.seen[t.Text] = true
	l.texts = append(l.texts, t)
	if len(l.texts) >= 2*MaxTexts {
		l.texts = l.best()
		clear(l.seen)
		for _, kept := range l.texts {
			l.seen[kept.Text] = true
		}
	}
}

func (l *list) best() []Text {
	texts := slices.Clone(l.texts)
	sorted.By(texts, func(a, b Text) int {
		return cmp.Or(b.Telling-a.Telling, b.Length-a.Length, a.Offset-b.Offset)
	})
	return texts[:min(len(texts), MaxTexts)]
}

// readable tells whether most of s is letters, digits and spaces, with at least three letters: code and tables that are
// printable by chance are mostly other signs.
func readable(s string) bool {
	letters, common := 0, 0
	for _, c := range []byte(s) {
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
	fields := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ' ' || r == '.' || r == ',' || r == ':' })
	has := func(words []string) bool {
		return slices.ContainsFunc(fields, func(field string) bool { return slices.Contains(words, field) })
	}
	for _, named := range []bool{hasDate(s), has(versionWords) || slices.ContainsFunc(fields, isVersion), has(ownerWords)} {
		if named {
			score++
		}
	}
	return score
}

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
	for _, month := range []string{"JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"} {
		if at := strings.Index(strings.ToUpper(s), "-"+month+"-"); at > 0 && digit(at-1) && digit(at+5) {
			return true
		}
	}
	return false
}

// isVersion tells whether a word is a version, as v1 in "v1.04".
func isVersion(word string) bool {
	return len(word) >= 2 && word[0] == 'v' && '0' <= word[1] && word[1] <= '9'
}
