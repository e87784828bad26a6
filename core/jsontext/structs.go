package jsontext

import (
	"reflect"
	"strings"
	"sync"
)

// A layout is how the structs of one type are written.
type layout struct {
	isText bool // as what their MarshalText returns
	fields []field
}

// A field is one that is written, unless it is empty and may be left out.
type field struct {
	index     int
	key       string // the name as JSON, and a colon
	omitEmpty bool
}

// A textMarshaler writes itself as a string; errors are not expected, as with every value that is already in memory.
type textMarshaler interface{ MarshalText() ([]byte, error) }

// layouts holds the layout of each struct type that was met, by its reflect.Type: finding out takes longer than writing.
var layouts sync.Map

func layoutOf(t reflect.Type) *layout {
	if known, ok := layouts.Load(t); ok {
		return known.(*layout)
	}
	l := &layout{isText: t.Implements(reflect.TypeFor[textMarshaler]())}
	for i := range t.NumField() {
		f := t.Field(i)
		name, option, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !f.IsExported() || name == "-" {
			continue
		}
		if name == "" {
			name = f.Name
		}
		l.fields = append(l.fields, field{i, string(appendString(nil, name)) + ":", option == "omitempty"})
	}
	layouts.Store(t, l)
	return l
}

func appendStruct(b []byte, v reflect.Value) []byte {
	l := layoutOf(v.Type())
	if l.isText {
		text, _ := v.Interface().(textMarshaler).MarshalText()
		return appendString(b, string(text))
	}
	b = append(b, '{')
	first := true
	for _, f := range l.fields {
		value := v.Field(f.index)
		if f.omitEmpty && isEmpty(value) {
			continue
		}
		if !first {
			b = append(b, ',')
		}
		first = false
		b = appendValue(append(b, f.key...), value)
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
