package jsontext_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/jsontext"
)

type name string

// Go's encoding/json is the reference (RFC 8259): the same value must give the same bytes.
func equal[T any](t *testing.T, appendValue func([]byte, T) []byte, values ...T) {
	t.Helper()
	for _, value := range values {
		want, err := json.Marshal(value)
		require.NoError(t, err)
		require.Equal(t, string(want), string(appendValue(nil, value)), "%v", value)
	}
	want, err := json.Marshal(values)
	require.NoError(t, err)
	require.Equal(t, string(want), string(jsontext.List(nil, values, appendValue)))
}

func TestValuesEqualEncodingJSON(t *testing.T) {
	t.Run("text", func(t *testing.T) {
		equal(t, jsontext.String[string], "U41", "",
			"quote \" slash \\ / tab \t \b\f\r\n bell \a nul \x00 del \x7f <script>&amp; é 窓 \u2028\u2029 \U0001F600")
	})
	t.Run("not UTF-8", func(t *testing.T) { equal(t, jsontext.String[string], "\xff\xc3\x28 \xed\xa0\x80") })
	t.Run("escapes meet", func(t *testing.T) {
		equal(t, jsontext.String[string], "\"", "\"\"", "a\"b", "\"a", "a\"", "é\"", "\xffa\xff", "a\u2028", "\x1f\x20\x7e\x7f\u0080")
	})
	t.Run("named", func(t *testing.T) { equal(t, jsontext.String[name], "text", "blank FF") })
	t.Run("truth", func(t *testing.T) { equal(t, jsontext.Bool[bool], true, false) })
	t.Run("integers", func(t *testing.T) {
		equal(t, jsontext.Int[int64], math.MinInt64, -1, 0, 99, 100, math.MaxInt64)
		equal(t, jsontext.Uint[uint64], 0, 9, 10, math.MaxUint64)
		equal(t, jsontext.Uint[uint32], 0, math.MaxUint32)
	})
	t.Run("floats", func(t *testing.T) {
		equal(t, jsontext.Float64[float64], 0, math.Copysign(0, -1), 1, -1, 0.1, 1.0/3, 1e-6, 9.9e-7, 1e20, 1e21, 1e22, 1e-10,
			1e100, 1e-100, math.MaxFloat64, math.SmallestNonzeroFloat64)
	})
	t.Run("single floats", func(t *testing.T) {
		equal(t, jsontext.Float32[float32], 0, 0.1, 7.98, 7.999, 1e-7, 9.99e-7, 1e-6, 9.99e20, 1e21, math.MaxFloat32)
	})
	t.Run("own text", func(t *testing.T) {
		equal(t, jsontext.Text[arrange.Arrangement], arrange.Stored, arrange.Swapped, arrange.Lane(1, 2))
	})
	t.Run("lists", func(t *testing.T) {
		require.Equal(t, "null", string(jsontext.List(nil, []int(nil), jsontext.Int)))
		require.Equal(t, "[]", string(jsontext.List(nil, []int{}, jsontext.Int)))
	})
}

func FuzzStringEqualsEncodingJSON(f *testing.F) {
	f.Add("halden-u41.bin")
	f.Add("\xff<\u2028\"")
	f.Fuzz(func(t *testing.T, s string) { equal(t, jsontext.String[string], s) })
}

func FuzzFloatsEqualEncodingJSON(f *testing.F) {
	f.Add(7.98)
	f.Add(1e-7)
	f.Add(1e-6)
	f.Fuzz(func(t *testing.T, x float64) {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return // encoding/json has no text for these
		}
		equal(t, jsontext.Float64[float64], x)
		if single := float32(x); !math.IsInf(float64(single), 0) {
			equal(t, jsontext.Float32[float32], single)
		}
	})
}

// BenchmarkOf writes what is like the report of a dump with 512 blocks, and has encoding/json write it in the same run.
func BenchmarkOf(b *testing.B) {
	value := reportOf(512)
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

func BenchmarkString(b *testing.B) {
	text, room := strings.Repeat("HALDEN HX-16 ", 10), make([]byte, 0, 1024)
	for b.Loop() {
		jsontext.String(room, text)
	}
}
