// Package words puts numbers into the sentences a person reads: sizes, addresses, counts, shares and chances, each in
// one form everywhere.
//
// It exists because package fmt would add 85 KB to the first visit of the page (DEVELOPERS.md, "Why no fmt ...?"). Fill
// joins the parts; every other function makes one part.
package words

import (
	"math"
	"strconv"
	"strings"
)

// Fill returns template with each "{}" replaced by the next of parts. Too few parts leave the braces standing and too
// many are ignored: a slip shows in the text and breaks nothing. Braces inside a part are text and are not filled again.
func Fill(template string, parts ...string) string {
	var b strings.Builder
	for _, part := range parts {
		before, after, found := strings.Cut(template, "{}")
		if !found {
			break
		}
		b.WriteString(before)
		b.WriteString(part)
		template = after
	}
	b.WriteString(template)
	return b.String()
}

// Size returns n bytes exactly, in MiB or KiB where these divide it: "64 MiB", "512 KiB", "1,000 bytes", "1 byte".
func Size(n int) string {
	switch {
	case n != 0 && n%(1<<20) == 0:
		return Count(n>>20) + " MiB"
	case n != 0 && n%(1<<10) == 0:
		return Count(n>>10) + " KiB"
	}
	return Plural(n, "byte")
}

// Count returns n in decimal with a comma between groups of three digits: "2,088".
func Count(n int) string {
	digits := strconv.Itoa(n)
	sign := ""
	if n < 0 {
		sign, digits = "-", digits[1:]
	}
	var b strings.Builder
	b.WriteString(sign)
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(d)
	}
	return b.String()
}

// Plural returns n and the noun, with an s unless n is one: "1 byte", "2,088 bytes".
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return Count(n) + " " + noun + "s"
}

// Hex returns value in upper-case hex with at least digits digits: Hex(10, 2) is "0A".
func Hex(value uint64, digits int) string {
	s := strings.ToUpper(strconv.FormatUint(value, 16))
	if len(s) < digits {
		s = strings.Repeat("0", digits-len(s)) + s
	}
	return s
}

// Byte returns a byte's value as two hex digits.
func Byte(b byte) string { return Hex(uint64(b), 2) }

// Address returns an offset or address in bytes, from 0 on, as the byte grid writes it: at least six hex digits, no
// prefix.
func Address(n int) string { return Hex(uint64(n), 6) }

// Share returns part of whole in percent with one decimal, "2.9 %". Only none is "0 %" and only all is "100 %": shares
// outside 0.1 to 99.9 are "under 0.1 %" and "over 99.9 %". A whole of zero gives "0 %".
func Share(part, whole int) string {
	switch {
	case part <= 0 || whole <= 0:
		return "0 %"
	case part >= whole:
		return "100 %"
	}
	percent := 100 * float64(part) / float64(whole)
	switch {
	case percent < 0.1:
		return "under 0.1 %"
	case percent > 99.9:
		return "over 99.9 %"
	}
	return strconv.FormatFloat(percent, 'f', 1, 64) + " %"
}

// Decimal returns x with the given number of decimals. What rounds to zero has no sign: an entropy computed as -0 reads
// "0.00".
func Decimal(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// OneIn returns the chance of 2^-bits as "1 in 4,294,967,296", from 60 bits on as a power of ten, rounded down:
// "1 in 10^19". What would be 1 in 1 or more is "to be expected". bits is finite.
func OneIn(bits float64) string {
	if bits >= 60 {
		return "1 in 10^" + strconv.Itoa(int(bits*math.Log10(2)))
	}
	if n := math.Round(math.Exp2(bits)); n > 1 {
		return "1 in " + Count(int(n))
	}
	return "to be expected"
}

// List joins items as a sentence does: "D0", "D0 and D1", "D0, D1 and D2".
func List(items []string) string {
	switch n := len(items); n {
	case 0:
		return ""
	case 1:
		return items[0]
	default:
		return strings.Join(items[:n-1], ", ") + " and " + items[n-1]
	}
}
