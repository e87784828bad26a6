package jsontext_test

import (
	"encoding/json"
	"math"
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
	} {
		t.Run(name, func(t *testing.T) {
			want, err := json.Marshal(value)
			require.NoError(t, err)
			require.Equal(t, string(want), string(jsontext.Of(value)))
		})
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
