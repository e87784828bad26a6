// Package sample holds a struct with a field of every kind that results may have, for the tests of what is generated.
package sample

import "lunette/core/arrange"

//go:generate go run lunette/core/jsontext/generate

type (
	word  string
	words []word
	count int32
)

// A Sample has a field of every kind.
type Sample struct {
	Left  string `json:"-"`
	Maybe string `json:"maybe,omitempty"` // the first that is written may be left out
	Bare  bool   // named by its own name

	String  string  `json:"string"`
	Word    word    `json:"word"`
	Bool    bool    `json:"bool"`
	Int     int     `json:"int"`
	Int8    int8    `json:"int8"`
	Int16   int16   `json:"int16"`
	Count   count   `json:"count"`
	Int64   int64   `json:"int64"`
	Uint    uint    `json:"uint"`
	Uint8   uint8   `json:"uint8"`
	Uint16  uint16  `json:"uint16"`
	Uint32  uint32  `json:"uint32"`
	Uint64  uint64  `json:"uint64"`
	Float32 float32 `json:"float32"`
	Float64 float64 `json:"float64"`
	Inner   Inner   `json:"inner"`

	Order arrange.Arrangement `json:"order"`

	Strings []string              `json:"strings"`
	Words   words                 `json:"words"`
	Bools   []bool                `json:"bools"`
	Counts  []count               `json:"counts"`
	Uints   []uint32              `json:"uints"`
	Singles []float32             `json:"singles"`
	Doubles []float64             `json:"doubles"`
	Inners  []Inner               `json:"inners"`
	Orders  []arrange.Arrangement `json:"orders"`

	MaybeBool    bool     `json:"maybeBool,omitempty"`
	MaybeInt     int      `json:"maybeInt,omitempty"`
	MaybeFloat   float32  `json:"maybeFloat,omitempty"`
	MaybeWord    word     `json:"maybeWord,omitempty"`
	MaybeStrings []string `json:"maybeStrings,omitempty"`
	MaybeInners  []Inner  `json:"maybeInners,omitempty"`

	hidden int
}

// Inner is a struct in a struct, all of which may be left out.
type Inner struct {
	From int    `json:"from,omitempty"`
	Note string `json:"note,omitempty"`
}

// Hidden shows that a field which is not exported does not matter.
func (s *Sample) Hidden() *int { return &s.hidden }
