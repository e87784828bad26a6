// Package jsontext writes results as JSON (RFC 8259), exactly as encoding/json would.
//
// Every result writes itself: its AppendJSON is generated from its json tags (package generate) and calls the functions
// here, one for each kind of value. Nothing looks at types while the page runs, since package reflect alone adds 77 KB to
// the first visit and encoding/json 117 KB; the tests hold every result against encoding/json byte for byte.
package jsontext

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// An Appender appends itself to b as JSON and returns the longer slice.
type Appender interface{ AppendJSON(b []byte) []byte }

// A TextMarshaler stands in JSON as the string that it returns; its error is not expected.
type TextMarshaler interface{ MarshalText() ([]byte, error) }

// Of returns a result as JSON.
func Of(result Appender) []byte { return result.AppendJSON(make([]byte, 0, room)) }

// room is what most reports need, in bytes: to make room while writing takes as long as the writing itself.
const room = 64 << 10

// ListOf returns a list of results as JSON.
func ListOf[E Appender](results []E) []byte {
	return Entries(make([]byte, 0, room), results == nil, len(results), func(b []byte, i int) []byte { return results[i].AppendJSON(b) })
}

// Key begins the next field of an object: a comma unless it is the first, the name, which must need no escapes, and a
// colon. b ends in the object's brace or its last field.
func Key(b []byte, name string) []byte {
	if b[len(b)-1] != '{' {
		b = append(b, ',')
	}
	b = append(b, '"')
	b = append(b, name...)
	return append(b, '"', ':')
}

// List appends a list of plain values, of which appendEntry appends one. A nil list is null.
func List[E any](b []byte, list []E, appendEntry func(b []byte, entry E) []byte) []byte {
	if list == nil {
		return append(b, "null"...)
	}
	b = append(b, '[')
	for i, entry := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendEntry(b, entry)
	}
	return append(b, ']')
}

// Entries appends a list of n results, of which appendEntry appends number i. A nil list is null. Unlike List it is one
// piece of code for the lists of all types, which makes the page's first visit 4 KB smaller.
func Entries(b []byte, isNil bool, n int, appendEntry func(b []byte, i int) []byte) []byte {
	if isNil {
		return append(b, "null"...)
	}
	b = append(b, '[')
	for i := range n {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendEntry(b, i)
	}
	return append(b, ']')
}

// Bool appends a truth value.
func Bool[T ~bool](b []byte, v T) []byte { return strconv.AppendBool(b, bool(v)) }

// Int appends a signed integer in decimal.
func Int[T ~int | ~int8 | ~int16 | ~int32 | ~int64](b []byte, v T) []byte {
	return strconv.AppendInt(b, int64(v), 10)
}

// Uint appends an unsigned integer in decimal.
func Uint[T ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64](b []byte, v T) []byte {
	return strconv.AppendUint(b, uint64(v), 10)
}

// Float32 appends the shortest decimal that is read back as the same number, as Float64 does.
func Float32[T ~float32](b []byte, v T) []byte { return appendFloat(b, float64(v), 32) }

// Float64 appends the shortest decimal that is read back as the same number: a plain one from 1e-6 up to 1e21, and with an
// exponent outside, as ECMAScript writes it. v must be finite.
func Float64[T ~float64](b []byte, v T) []byte { return appendFloat(b, float64(v), 64) }

func appendFloat(b []byte, f float64, bitSize int) []byte {
	low, high := 1e-6, 1e21
	if bitSize == 32 { // the nearest that f can be
		low, high = float64(float32(1e-6)), float64(float32(1e21))
	}
	abs := max(f, -f)
	if abs == 0 || abs >= low && abs < high {
		return strconv.AppendFloat(b, f, 'f', -1, bitSize)
	}
	text := strconv.FormatFloat(f, 'e', -1, bitSize)
	return append(b, strings.Replace(text, "e-0", "e-", 1)...)
}

// Text appends the string that v says it is.
func Text[T TextMarshaler](b []byte, v T) []byte {
	text, _ := v.MarshalText()
	return String(b, string(text))
}

// String appends a string. Bytes that are not UTF-8 become U+FFFD.
func String[T ~string](b []byte, v T) []byte { return appendString(b, string(v)) }

func appendString(b []byte, s string) []byte {
	b = append(b, '"')
	for {
		n := plain(s)
		b = append(b, s[:n]...)
		s = s[n:]
		if s == "" {
			return append(b, '"')
		}
		r, size := utf8.DecodeRuneInString(s)
		b = appendRune(b, r, s[:size])
		s = s[size:]
	}
}

// plain returns how many of the first bytes of s are ASCII and written as they are.
func plain(s string) int {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= utf8.RuneSelf || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' {
			return i
		}
	}
	return len(s)
}

// appendRune writes a rune of a string, of which s is what stands there: escaped where it must be, or where it would mean
// something in HTML or JavaScript.
func appendRune(b []byte, r rune, s string) []byte {
	const hexDigits = "0123456789abcdef"
	switch {
	case r == utf8.RuneError && len(s) == 1:
		return append(b, `\ufffd`...)
	case r == '"' || r == '\\':
		return append(b, '\\', byte(r))
	case r == '\n':
		return append(b, `\n`...)
	case r == '\r':
		return append(b, `\r`...)
	case r == '\t':
		return append(b, `\t`...)
	case r == '\b':
		return append(b, `\b`...)
	case r == '\f':
		return append(b, `\f`...)
	case r < 0x20 || r == '<' || r == '>' || r == '&':
		return append(b, '\\', 'u', '0', '0', hexDigits[r>>4], hexDigits[r&15])
	case r == '\u2028' || r == '\u2029':
		return append(b, '\\', 'u', '2', '0', '2', hexDigits[r&15])
	}
	return append(b, s...)
}
