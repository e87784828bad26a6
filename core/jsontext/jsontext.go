// Package jsontext writes results as JSON (RFC 8259), exactly as encoding/json would.
//
// It knows the kinds of values that results are made of and nothing else, since encoding/json adds 110 KB to the page's
// first visit; its tests hold it against encoding/json byte for byte.
package jsontext

import (
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"lunette/core/sorted"
)

// Of returns value as JSON. It takes booleans, strings, integers, floats, and structs, pointers, slices, arrays and maps
// with string keys made of these; struct fields are named and left out by their json tags, and structs with a MarshalText
// method (encoding.TextMarshaler) are what it returns. Any other kind is a programmer's mistake and panics. Bytes that are
// not UTF-8 become U+FFFD.
func Of(value any) []byte {
	return appendValue(nil, reflect.ValueOf(value))
}

func appendValue(b []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.Bool:
		return strconv.AppendBool(b, v.Bool())
	case reflect.String:
		return appendString(b, v.String())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return strconv.AppendInt(b, v.Int(), 10)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return strconv.AppendUint(b, v.Uint(), 10)
	case reflect.Float32:
		return appendFloat(b, v.Float(), 32)
	case reflect.Float64:
		return appendFloat(b, v.Float(), 64)
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return append(b, "null"...)
		}
		return appendValue(b, v.Elem())
	case reflect.Slice:
		if v.IsNil() {
			return append(b, "null"...)
		}
		return appendSlice(b, v)
	case reflect.Array:
		return appendList(b, v.Len(), func(b []byte, i int) []byte { return appendValue(b, v.Index(i)) })
	case reflect.Map:
		return appendMap(b, v)
	case reflect.Struct:
		return appendStruct(b, v)
	}
	panic("jsontext: no JSON for a " + v.Kind().String())
}

// appendFloat writes plain decimals from 1e-6 up to 1e21 and exponents outside, as ECMAScript and encoding/json do.
func appendFloat(b []byte, f float64, bitSize int) []byte {
	abs := max(f, -f)
	if abs == 0 || abs >= 1e-6 && abs < 1e21 {
		return strconv.AppendFloat(b, f, 'f', -1, bitSize)
	}
	text := strconv.FormatFloat(f, 'e', -1, bitSize)
	return append(b, strings.Replace(text, "e-0", "e-", 1)...)
}

// appendSlice knows the lists that have an entry for each block of a dump, which are most of a report; to look at every
// entry through package reflect takes several times as long.
func appendSlice(b []byte, v reflect.Value) []byte {
	switch list := v.Interface().(type) {
	case []string:
		return appendList(b, len(list), func(b []byte, i int) []byte { return appendString(b, list[i]) })
	case []uint32:
		return appendList(b, len(list), func(b []byte, i int) []byte { return strconv.AppendUint(b, uint64(list[i]), 10) })
	case []float32:
		return appendList(b, len(list), func(b []byte, i int) []byte { return appendFloat(b, float64(list[i]), 32) })
	}
	return appendList(b, v.Len(), func(b []byte, i int) []byte { return appendValue(b, v.Index(i)) })
}

func appendList(b []byte, n int, appendEntry func(b []byte, i int) []byte) []byte {
	b = append(b, '[')
	for i := range n {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendEntry(b, i)
	}
	return append(b, ']')
}

func appendMap(b []byte, v reflect.Value) []byte {
	if v.IsNil() {
		return append(b, "null"...)
	}
	keys := v.MapKeys()
	sorted.By(keys, func(x, y reflect.Value) int { return strings.Compare(x.String(), y.String()) })
	b = append(b, '{')
	for i, key := range keys {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(appendString(b, key.String()), ':')
		b = appendValue(b, v.MapIndex(key))
	}
	return append(b, '}')
}

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
