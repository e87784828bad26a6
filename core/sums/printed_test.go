package sums

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhatAPersonTypes(t *testing.T) {
	for _, example := range []struct {
		bits       []int // widths it is read as
		hex, typed string
	}{
		{[]int{8}, "1A", "1A"},
		{[]int{8}, "0A", "a"},
		{[]int{16}, "1A2B", "1A2B"},
		{[]int{16}, "1A2B", "1a2b"},
		{[]int{16}, "1A2B", "0x1A2B"},
		{[]int{16}, "1A2B", "0X1a2b"},
		{[]int{16}, "1A2B", "$1A2B"},
		{[]int{16}, "1A2B", "1A2Bh"},
		{[]int{16}, "1A2B", "1A2BH"},
		{[]int{16}, "1A2B", "  1A 2B\t"},
		{[]int{16}, "01A2", "1A2"},
		{[]int{32}, "12345678", "12:34:56:78"},
		{[]int{32}, "12345678", "1234-5678"},
		{[]int{32}, "12345678", "1234_5678"},
		{[]int{32}, "00123456", "123456"},
		{[]int{32}, "000ABCDE", "ABCDE"},
		{[]int{16, 32}, "D16F", "53615"}, // sum -r prints decimal
		{[]int{32}, "00053615", "0x53615"},
		{[]int{32}, "00099999", "99999"},     // does not fit 16 bits
		{[]int{32}, "377A6011", "930766865"}, // cksum prints decimal
		{[]int{32}, "FFFFFFFF", "4294967295"},
		{[]int{128}, "25f9e794323b453885f5181f1b624d0b", "25F9E794 323B4538 85F5181F 1B624D0B"},
		{[]int{160}, "f7c3bc1d808e04732adf679965ccc34ca7ae3441", "f7c3bc1d808e04732adf679965ccc34ca7ae3441"},
	} {
		readings, _, err := parsePrinted(example.typed)
		require.NoError(t, err, example.typed)
		var widths []int
		for _, r := range readings {
			widths = append(widths, r.bits)
		}
		assert.Equal(t, example.bits, widths, example.typed)
		assert.Equal(t, example.hex, readings[0].hex, example.typed)
	}
}

func TestWhatIsNoValueIsRefused(t *testing.T) {
	for _, example := range []struct{ expected, typed string }{
		{"no hex digit to look for", ""},
		{"no hex digit to look for", " \t"},
		{"no hex digit to look for", "0x"},
		{"no hex digit to look for", "h"},
		{`character 1, "x", is not`, "x12"},
		{`character 4, "O", is not`, "0x1O"},
		{`character 6, "ß", is not`, "  123ß"},
		{`character 3, "h", is not`, "12h4"},
		{"this one has 9 digits", "12345678A"},
		{"this one has 9 digits", "0x123456789"},
		{"this one has 10 digits", "4294967296"},
		{"this one has 31 digits", strings.Repeat("A", 31)},
		{"this one has 1,000 digits", strings.Repeat("A", 1000)},
	} {
		_, _, err := parsePrinted(example.typed)
		assert.ErrorContains(t, err, example.expected, example.typed)
	}
}

func FuzzParsePrinted(f *testing.F) {
	for _, seed := range []string{"1A2B", "0x1a2b", "$FF", "12h", "12:34:56:78", "53615", "4294967296", "", "ß", "\xff",
		"25f9e794323b453885f5181f1b624d0b", "0xh", "00000"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		readings, value, err := parsePrinted(typed)
		if err != nil {
			require.Empty(t, readings)
			return
		}
		require.NotEmpty(t, readings)
		for _, r := range readings {
			require.Len(t, r.hex, r.bits/4)
			require.True(t, r.fits(r.hex), "a value fits its own length")
			require.Positive(t, r.space)
		}
		again, same, err := parsePrinted(value)
		require.NoError(t, err, "without its trimmings it is a value still")
		require.Equal(t, value, same)
		require.Equal(t, readings[len(readings)-1], again[len(again)-1])
	})
}
