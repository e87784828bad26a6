package texts

import "strings"

// The weights of characters in readable: letters count twice, once in each half of a sum.
const (
	sign   = 1 // a digit, or what stands between words
	letter = 1 + 1<<16
)

var weight = func() (table [256]uint32) {
	for _, c := range []byte("0123456789 .,-") {
		table[c] = sign
	}
	for c := byte('a'); c <= 'z'; c++ {
		table[c], table[c-'a'+'A'] = letter, letter
	}
	return table
}()

// readable tells whether most of s is letters, digits and spaces, with at least three letters: code and tables that are
// printable by chance are mostly other signs.
func readable(s []byte) bool {
	sum := uint32(0)
	for _, c := range s {
		sum += weight[c]
	}
	letters, common := sum>>16, int(sum&0xFFFF)
	return letters >= 3 && 3*common >= 2*len(s)
}

// Words of lines that name a version or an owner; common practice, no source.
var (
	versionWords = []string{"version", "ver", "revision", "rev", "release", "issue"}
	ownerWords   = []string{"copyright", "(c)", "rights", "reserved"}
)

// telling counts which of these s names: a date, a version, an owner.
func telling(s []byte) (score int) {
	version, owner, digits := false, false, 0
	start := 0 // of the word at hand
	for i, c := range s {
		if isGap(c) {
			start = i + 1
			continue
		}
		if c-'0' < 10 {
			digits++
		}
		if i > start {
			continue
		}
		switch c {
		case 'v', 'V', 'r', 'R', 'i', 'I', 'c', 'C', '(':
			word := wordAt(s[i:])
			version = version || isOneOf(word, versionWords) || isVersion(word)
			owner = owner || isOneOf(word, ownerWords)
		}
	}
	for _, named := range []bool{digits >= leastDigits && hasDate(s), version, owner} {
		if named {
			score++
		}
	}
	return score
}

func isGap(c byte) bool { return c == ' ' || c == '.' || c == ',' || c == ':' }

// wordAt returns the word that s begins with.
func wordAt(s []byte) []byte {
	for i, c := range s {
		if isGap(c) {
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
