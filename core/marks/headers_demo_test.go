package marks

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

// The demo board's system ROM, as a x16 device reader stored it. What must be found, and where, stands in the README.md
// of testdata/halden, which the recipe of the image writes down independently of this package.
func TestHeadersAndSumsOfTheDemoROM(t *testing.T) {
	stored, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	if os.IsNotExist(err) {
		t.Skip("testdata/halden/u41.bin is not there")
	}
	require.NoError(t, err)
	for _, order := range arrange.Orders() {
		seen, _ := arrange.Swapped.Then(order) // the dump, stored in yet another order
		want, _ := order.Then(arrange.Swapped)
		found := FindSums(order.Apply(stored), nil)
		require.Len(t, found, 2, seen)
		byRow := map[string]BuiltInSum{found[0].Row: found[0], found[1].Row: found[1]}
		leading, closing := byRow["leading-words"], byRow["closing-ones"]
		assert.Equal(t, want, leading.Order)
		assert.True(t, leading.Settles)
		assert.Equal(t, "second half", leading.Part)
		assert.Equal(t, 0x40000, leading.At)
		assert.Equal(t, "88D8D60B", leading.Found)
		assert.Equal(t, want, closing.Order)
		assert.True(t, closing.Settles)
		assert.Equal(t, "whole image", closing.Part)

		headers := FindHeaders(order.Apply(stored), nil)
		if want.IsMirrored() && len(headers) == 0 {
			continue
		}
		require.Len(t, headers, 1, seen)
		assert.Equal(t, "68000-vectors", headers[0].Row)
		assert.Equal(t, want, headers[0].Order)
		assert.Equal(t, 0, headers[0].At)
		assert.Equal(t, "m68k", headers[0].Family)
		assert.Contains(t, headers[0].Detail, "initial stack pointer 00010000, start address 00F00400")
		t.Logf("%s: vectors %.1f bits, leading sum %.1f, closing sum %.1f", want, headers[0].Bits, leading.Bits, closing.Bits)
	}
}
