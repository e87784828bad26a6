package sums

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"lunette/core/words"
)

// A reading is one way to understand what a person typed.
type reading struct {
	bits  int     // width of the sums it can be a value of
	hex   string  // the value as the catalogue writes it
	limit uint64  // sums from here on have more digits than were typed; 0 where every sum fits
	space float64 // how many values can be typed with that many digits
}

// parsePrinted returns the readings of a value as labels and programs print it, and the value without its trimmings.
//
// Hex digits in either case, with 0x or $ in front or h behind, and with spaces, colons, hyphens or underscores between.
// Leading zeros may be missing: one or two digits are a sum of 8 bits, three or four of 16, five to eight of 32; digests
// have 32, 40 or 64. sum and cksum print decimal, so five decimal digits are a sum of 16 bits as well, and nine or ten
// can only be one of 32.
func parsePrinted(text string) (readings []reading, value string, err error) {
	value, isHex, err := digitsOf(text)
	if err != nil {
		return nil, "", err
	}
	n := len(value)
	if decimal, ok := parseDecimal(value); ok && !isHex {
		readings = append(readings, decimal)
	}
	switch {
	case n <= 2:
		readings = append(readings, hexReading(value, 8))
	case n <= 4:
		readings = append(readings, hexReading(value, 16))
	case n <= 8:
		readings = append(readings, hexReading(value, 32))
	case n == 32, n == 40, n == 64:
		readings = append(readings, hexReading(value, 4*n))
	}
	if len(readings) == 0 {
		return nil, "", errors.New(words.Fill("a printed value has 1 to 8 hex digits, or 32, 40 or 64 for a digest, "+
			"or 9 or 10 decimal digits up to 4294967295; this one has {}: compare it with the label",
			words.Plural(n, "digit")))
	}
	return readings, value, nil
}

// digitsOf strips the trimmings and returns the hex digits in upper case. isHex tells whether they were marked as hex.
func digitsOf(text string) (digits string, isHex bool, err error) {
	rest := strings.TrimSpace(text)
	place := utf8.RuneCountInString(text[:strings.Index(text, rest)])
	for _, prefix := range []string{"0x", "0X", "$"} {
		if strings.HasPrefix(rest, prefix) {
			rest, isHex = rest[len(prefix):], true
			place += len(prefix)
			break
		}
	}
	if !isHex && (strings.HasSuffix(rest, "h") || strings.HasSuffix(rest, "H")) {
		rest, isHex = rest[:len(rest)-1], true
	}
	var b strings.Builder
	for _, r := range rest {
		place++
		switch {
		case r >= '0' && r <= '9', r >= 'A' && r <= 'F':
			b.WriteRune(r)
		case r >= 'a' && r <= 'f':
			b.WriteRune(r - 'a' + 'A')
		case strings.ContainsRune(" \t:-_\u00A0", r):
		default:
			return "", false, errors.New(words.Fill("character {}, {}, is not a hex digit: type digits 0 to 9 and A to F, "+
				"with or without 0x, $ or h", strconv.Itoa(place), strconv.Quote(string(r))))
		}
	}
	if b.Len() == 0 {
		return "", false, errors.New("no hex digit to look for: type what the label or manual says, as in 1A2B")
	}
	return b.String(), isHex, nil
}

// hexReading reads digits as a hex value of the given width, which has at least as many digits.
func hexReading(digits string, bits int) reading {
	r := reading{bits: bits, hex: digits, space: math.Pow(16, float64(len(digits)))}
	if bits > 64 {
		r.hex = strings.ToLower(digits)
	} else if missing := bits/4 - len(digits); missing > 0 {
		r.hex = strings.Repeat("0", missing) + digits
		r.limit = 1 << (4 * len(digits))
	}
	return r
}

// parseDecimal reads five digits as sum prints them, and nine or ten as cksum does.
func parseDecimal(digits string) (r reading, ok bool) {
	bits := map[int]int{5: 16, 9: 32, 10: 32}[len(digits)]
	value, err := strconv.ParseUint(digits, 10, 64)
	if bits == 0 || err != nil || value>>bits != 0 {
		return reading{}, false
	}
	limit := uint64(math.Pow10(len(digits)))
	return reading{bits: bits, hex: hex(value, bits), limit: limit, space: float64(limit)}, true
}

// fits tells whether a sum of the reading's width can be printed with as many digits as were typed.
func (r *reading) fits(sum string) bool {
	if r.limit == 0 {
		return true
	}
	value, _ := strconv.ParseUint(sum, 16, 64)
	return value < r.limit
}

// isFiller tells whether a value is all zeros or all ones.
func isFiller(hex string) bool { return strings.Trim(hex, "0") == "" || strings.Trim(hex, "Ff") == "" }
