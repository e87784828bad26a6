package texts

import "strings"

// A makeup says what a text is made of.
type makeup struct{ letters, digits, between int } // between words: spaces and the like

// Each character adds to one of three counts in a sum, ten bits each: texts are cut at MaxLength.
const (
	aLetter  = 1
	aDigit   = 1 << 10
	aBetween = 1 << 20
	count    = 1<<10 - 1
)

var weight = func() (table [256]uint32) {
	for _, c := range " .,-" {
		table[c] = aBetween
	}
	for c := '0'; c <= '9'; c++ {
		table[c] = aDigit
	}
	for c := 'a'; c <= 'z'; c++ {
		table[c], table[c-'a'+'A'] = aLetter, aLetter
	}
	return table
}()

// makeupOf counts the characters of s, MaxLength at most.
func makeupOf(s []byte) makeup {
	sum := uint32(0)
	for _, c := range s {
		sum += weight[c]
	}
	return makeup{int(sum & count), int(sum / aDigit & count), int(sum / aBetween)}
}

// readable tells whether most of a text of so many characters is letters, digits and spaces, with at least three letters:
// code and tables that are printable by chance are mostly other signs.
func (m makeup) readable(length int) bool {
	return m.letters >= 3 && 3*(m.letters+m.digits+m.between) >= 2*length
}

// mostTelling returns what a text tells at most: without digits there is no date.
func (m makeup) mostTelling() int {
	if m.digits < leastDigits {
		return 2
	}
	return 3
}

// Words of lines that name a version or an owner; common practice, no source.
var (
	versionWords = []string{"version", "ver", "revision", "rev", "release", "issue"}
	ownerWords   = []string{"copyright", "(c)", "rights", "reserved"}
)

// telling counts which of these s names: a date, a version, an owner. digits is how many it has.
func telling(s []byte, digits int) (score int) {
	version, owner := false, false
	begins := true // a word does here
	for i, c := range s {
		if part[c] == inWord {
			begins = false
			continue
		}
		if begins && part[c] == mayTell {
			word := wordAt(s[i:])
			first := c | 0x20
			version = version || first != 'c' && (isOneOf(word, versionWords) || isVersion(word))
			owner = owner || first != 'v' && first != 'i' && isOneOf(word, ownerWords)
		}
		begins = part[c] == gap
	}
	for _, named := range []bool{digits >= leastDigits && hasDate(s), version, owner} {
		if named {
			score++
		}
	}
	return score
}

// What a character is to words: one that words that tell something begin with, one between words, or any other.
const (
	inWord = iota
	mayTell
	gap
)

var part = func() (table [256]uint8) {
	for _, c := range "vVrRiIcC(" {
		table[c] = mayTell
	}
	for _, c := range " .,:" {
		table[c] = gap
	}
	return table
}()

// wordAt returns the word that s begins with.
func wordAt(s []byte) []byte {
	for i, c := range s {
		if part[c] == gap {
			return s[:i]
		}
	}
	return s
}

// isOneOf tells whether a word is one of words, in capitals or small letters.
func isOneOf(word []byte, words []string) bool {
	for _, one := range words {
		if len(one) == len(word) && strings.EqualFold(one, string(word)) {
			return true
		}
	}
	return false
}

var months = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// leastDigits is how many digits the shortest date has, as hasDate finds them.
const leastDigits = 2

// hasDate finds years from 1970 to 2029 and dates such as 03/14/88 and 14-MAR-88.
func hasDate(s []byte) bool {
	digit := func(i int) bool { return i >= 0 && i < len(s) && '0' <= s[i] && s[i] <= '9' }
	for i, c := range s {
		switch {
		case c == '1' || c == '2':
			if i+4 <= len(s) && !digit(i-1) && !digit(i+4) && digit(i+3) && digit(i+2) &&
				(c == '1' && s[i+1] == '9' && s[i+2] >= '7' || c == '2' && s[i+1] == '0' && s[i+2] <= '2') {
				return true
			}
		case c == '/', c == '-':
			if c == '-' && i > 0 && i+5 < len(s) && s[i+4] == '-' && digit(i-1) && digit(i+5) && isOneOf(s[i+1:i+4], months) {
				return true
			}
			if digit(i-2) && digit(i-1) && digit(i+1) && digit(i+2) && i+5 < len(s) && s[i+3] == c && digit(i+4) && digit(i+5) {
				return true
			}
		}
	}
	return false
}

// isVersion tells whether a word is a version, as v1 in "v1.04".
func isVersion(word []byte) bool {
	return len(word) >= 2 && word[0]|0x20 == 'v' && '0' <= word[1] && word[1] <= '9'
}
