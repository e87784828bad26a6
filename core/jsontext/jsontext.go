// Package jsontext writes results as JSON (RFC 8259), exactly as encoding/json would.
//
// It knows the kinds of values that results are made of and nothing else, since encoding/json adds 110 KB to the page's
// first visit; its tests hold it against encoding/json byte for byte.
package jsontext

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Of returns value as JSON. It takes booleans, strings, integers, floats, and structs, pointers, slices, arrays and maps
// with string keys made of these; struct fields are named and left out by their json tags, and structs with a MarshalText
// method (encoding.TextMarshaler) are what it returns. Any other kind is a
// programmer's mistake and panics. Bytes that are not UTF-8 become U+FFFD.
func Of(value any) []byte {
	return appendValue(nil, reflect.ValueOf(value))
}

// A textMarshaler writes itself as a string; errors are not expected, as with every value that is already in memory.
type textMarshaler interface{ MarshalText() ([]byte, error) }

func appendValue(b []byte, v reflect.Value) []byte {
	if v.Kind() == reflect.Struct {
		if text, ok := v.Interface().(textMarshaler); ok {
			written, _ := text.MarshalText()
			return appendString(b, string(written))
		}
	}
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
		return appendList(b, v)
	case reflect.Array:
		return appendList(b, v)
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

func appendList(b []byte, v reflect.Value) []byte {
	b = append(b, '[')
	for i := range v.Len() {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendValue(b, v.Index(i))
	}
	return append(b, ']')
}

func appendMap(b []byte, v reflect.Value) []byte {
	if v.IsNil() {
		return append(b, "null"...)
	}
	keys := v.MapKeys()
	slices.SortFunc(keys, func(x, y reflect.Value) int { return strings.Compare(x.String(), y.String()) })
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

func appendStruct(b []byte, v reflect.Value) []byte {
	b = append(b, '{')
	first := true
	for i := range v.NumField() {
		field := v.Type().Field(i)
		name, option, _ := strings.Cut(field.Tag.Get("json"), ",")
		if !field.IsExported() || name == "-" || option == "omitempty" && isEmpty(v.Field(i)) {
			continue
		}
		if name == "" {
			name = field.Name
		}
		if !first {
			b = append(b, ',')
		}
		first = false
		b = append(appendString(b, name), ':')
		b = appendValue(b, v.Field(i))
	}
	return append(b, '}')
}

// isEmpty is what the omitempty option of encoding/json leaves out.
func isEmpty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String, reflect.Slice, reflect.Map, reflect.Array:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

func appendString(b []byte, s string) []byte {
	const hexDigits = "0123456789abcdef"
	b = append(b, '"')
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			b = append(b, `\ufffd`...)
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r == '\n':
			b = append(b, `\n`...)
		case r == '\r':
			b = append(b, `\r`...)
		case r == '\t':
			b = append(b, `\t`...)
		case r == '\b':
			b = append(b, `\b`...)
		case r == '\f':
			b = append(b, `\f`...)
		case r < 0x20 || r == '<' || r == '>' || r == '&':
			b = append(b, '\\', 'u', '0', '0', hexDigits[r>>4], hexDigits[r&15])
		case r == '\u2028' || r == '\u2029':
			b = append(b, `\u202`...)
			b = append(b, hexDigits[r&15])
		default:
			b = append(b, s[i:i+size]...)
		}
		i += size
	}
	return append(b, '"')
}
