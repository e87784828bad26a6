package jsontext_test

import (
	"encoding/json"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/jsontext"
)

type inner struct {
	From int     `json:"from"`
	Kind string  `json:"kind,omitempty"`
	Note *string `json:"note,omitempty"`
}

type everything struct {
	Name    string            `json:"name"`
	Plain   bool              // no tag
	Left    string            `json:"-"`
	hidden  int               //nolint:unused // shows that unexported fields are passed over
	Small   uint8             `json:"small"`
	Float   float32           `json:"float"`
	Double  float64           `json:"double"`
	List    []inner           `json:"list"`
	Empty   []int             `json:"empty,omitempty"`
	Fixed   [3]int16          `json:"fixed"`
	Map     map[string]uint64 `json:"map"`
	Any     any               `json:"any"`
	Struct  inner             `json:"struct,omitempty"`
	Pointer *inner            `json:"pointer"`
}

type (
	name  string
	names []string
)

type textLeft struct {
	Order   arrange.Arrangement  `json:"order,omitempty"`
	Pointer *arrange.Arrangement `json:"pointer,omitempty"`
}

// Go's encoding/json is the reference (RFC 8259): the same values must give the same bytes.
func TestOfEqualsEncodingJSON(t *testing.T) {
	note := "a note"
	for name, value := range map[string]any{
		"zero":           everything{},
		"nil":            everything{Map: map[string]uint64{}, List: []inner{}},
		"full":           everything{Name: "U41", Left: "out", hidden: 1, Small: 255, Float: 7.25, Double: 1.0 / 3, List: []inner{{From: -1, Kind: "x", Note: &note}, {}}, Empty: []int{1}, Fixed: [3]int16{1, -2, 3}, Map: map[string]uint64{"b": math.MaxUint64, "a": 0}, Any: []string{"x"}, Pointer: &inner{}},
		"text":           "quote \" slash \\ / tab \t \b\f\r\n bell \a nul \x00 del \x7f <script>&amp; é 窓 \u2028\u2029 \U0001F600",
		"not UTF-8":      "\xff\xc3\x28 \xed\xa0\x80",
		"floats":         []float64{0, 1, -1, 0.1, 1e-6, 9.9e-7, 1e20, 1e21, 1e22, 1e-10, 1e100, 1e-100, math.MaxFloat64, math.SmallestNonzeroFloat64},
		"single floats":  []float32{0.1, 7.999, 1e-7, 1e21, math.MaxFloat32},
		"negative zero":  math.Copysign(0, -1),
		"integers":       []int64{math.MinInt64, math.MaxInt64},
		"nested":         []any{[]any{}, map[string]any{"a": nil, "": false}},
		"own text":       []any{arrange.Swapped, struct{ Order arrange.Arrangement }{arrange.Lane(1, 2)}},
		"fixed of bytes": [4]byte{1, 2, 3, 4},
		"lists of lists": [][]string{nil, {}, {"a", "<"}},
		"block lists":    []any{[]string{"text", "blank FF"}, []uint32{0, math.MaxUint32}, []float32{0, 7.98, 1e-7}, []uint32(nil), []string{}},
		"named lists":    []any{names{"a"}, names(nil), []name{"b"}, []float64{7.98}, []uint16{1}},
		"escapes meet":   []string{"", "\"", "\"\"", "a\"b", "\"a", "a\"", "é\"", "\xffa\xff", "a\u2028", "\x1f\x20\x7e\x7f\u0080"},
		"pointers":       []*inner{nil, {From: 2, Note: &note}},
		"own text left":  textLeft{},
		"own text in":    textLeft{Order: arrange.Mirrored, Pointer: &arrange.Halves},
	} {
		t.Run(name, func(t *testing.T) {
			want, err := json.Marshal(value)
			require.NoError(t, err)
			require.Equal(t, string(want), string(jsontext.Of(value)))
			require.Equal(t, string(want), string(jsontext.Of(value)), "once the types are known")
		})
	}
}

// What is known about types is shared; `go test -race` watches.
func TestOfFromSeveralGoroutines(t *testing.T) {
	type met struct { // by nobody before
		List []inner `json:"list"`
		Any  any     `json:"any"`
	}
	value := met{List: []inner{{From: 1}}, Any: struct{ X, Y int }{1, 2}}
	want, err := json.Marshal(value)
	require.NoError(t, err)
	got := make([]string, 16)
	var all sync.WaitGroup
	for i := range got {
		all.Go(func() { got[i] = string(jsontext.Of(value)) })
	}
	all.Wait()
	for _, text := range got {
		require.Equal(t, string(want), text)
	}
}

func FuzzStringEqualsEncodingJSON(f *testing.F) {
	f.Add("halden-u41.bin")
	f.Add("\xff<\u2028\"")
	f.Fuzz(func(t *testing.T, s string) {
		want, err := json.Marshal(s)
		require.NoError(t, err)
		require.Equal(t, string(want), string(jsontext.Of(s)))
	})
}

func TestOfPanicsOnWhatIsNoResult(t *testing.T) {
	require.Panics(t, func() { jsontext.Of(func() {}) })
}

// BenchmarkOf writes what is like a report of 512 blocks, and has encoding/json write it in the same run.
func BenchmarkOf(b *testing.B) {
	value := struct {
		Kinds   []string  `json:"kinds"`
		Entropy []float32 `json:"entropy"`
		Text    []uint32  `json:"text"`
		Texts   []inner   `json:"texts"`
	}{Kinds: make([]string, 512), Entropy: make([]float32, 512), Text: make([]uint32, 512), Texts: make([]inner, 200)}
	for i := range value.Kinds {
		value.Kinds[i], value.Entropy[i], value.Text[i] = "mixed", float32(i)/64, uint32(2*i)
	}
	for i := range value.Texts {
		value.Texts[i] = inner{From: i * 999, Kind: strings.Repeat("HALDEN HX-16 ", 3)}
	}
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			jsontext.Of(value)
		}
	})
	b.Run("encoding/json", func(b *testing.B) {
		for b.Loop() {
			if _, err := json.Marshal(value); err != nil {
				b.Fatal(err)
			}
		}
	})
}
