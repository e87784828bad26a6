package texts_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/outside"
	"lunette/core/texts"
)

func rom(t testing.TB) []byte {
	image, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return image
}

// binutils' strings is the reference for what is a run of printable characters, and for how many there are.
func TestRunsAreThoseOfStrings(t *testing.T) {
	for _, order := range []arrange.Arrangement{arrange.Stored, arrange.Swapped, arrange.Lane(1, 2)} {
		image := order.Apply(rom(t))
		path := filepath.Join(t.TempDir(), "image")
		require.NoError(t, os.WriteFile(path, image, 0o644))
		lines := strings.Split(strings.TrimSuffix(string(outside.Run(t, "strings", nil, "-a", "-n", "6", "-t", "x", path)), "\n"), "\n")
		listed, total := texts.Find(rom(t), order)
		require.Equal(t, len(lines), total, order.String())
		for _, text := range listed {
			want := fmt.Sprintf("%7x %s", text.Offset, image[text.Offset:text.Offset+text.Length])
			require.True(t, slices.Contains(lines, want), "%s: %q", order, want)
			require.Equal(t, order.Source(text.Offset, len(image)), text.Stored)
		}
	}
}

func TestTellingFirst(t *testing.T) {
	listed, _ := texts.Find(rom(t), arrange.Swapped)
	require.NotEmpty(t, listed)
	require.Positive(t, listed[0].Telling)
	all := ""
	for _, text := range listed[:20] {
		all += text.Text + "\n"
	}
	require.Contains(t, all, "HALDEN HX-16 SYSTEM ROM REV C 1988-03-14")
}

func TestTelling(t *testing.T) {
	for text, telling := range map[string]int{
		"SYSTEM ROM REV C":             1,
		"SYSTEM ROM REV C 1988-03-14":  2,
		"Copyright 1987 Halden":        2,
		"(c) Halden, version 2, 1987":  3,
		"built 03/14/88 by night":      1,
		"14-MAR-88 first light":        1,
		"loader v1.04 ready":           1,
		"press any key to go on":       0,
		"sector 19880 is bad":          0,
		"move the lever to the right ": 0,
	} {
		listed, _ := texts.Find(append([]byte(text), 0), arrange.Stored)
		require.Len(t, listed, 1, text)
		require.Equal(t, telling, listed[0].Telling, text)
	}
}

func TestNoTextIsAnEmptyList(t *testing.T) {
	for _, stored := range [][]byte{nil, {1}, bytes.Repeat([]byte{0xFF}, 100_000)} {
		listed, total := texts.Find(stored, arrange.Stored)
		require.NotNil(t, listed)
		require.Empty(t, listed)
		require.Zero(t, total)
	}
}

func TestLimits(t *testing.T) {
	var image bytes.Buffer
	for i := range 5000 {
		fmt.Fprintf(&image, "message text %07d\x00", i)
	}
	image.WriteString(strings.Repeat("long text ", 1000) + "\x00")
	image.WriteString("the same text\x00the same text\x00\x01\x02abc~~~~~~~~~~~~~~~~~~~\x00")
	listed, total := texts.Find(image.Bytes(), arrange.Stored)
	require.Len(t, listed, texts.MaxTexts)
	require.Equal(t, 5004, total) // the last run is as long as the others, though no text
	require.Equal(t, 10_000, listed[0].Length)
	require.Len(t, listed[0].Text, texts.MaxLength)
}

func FuzzFind(f *testing.F) {
	f.Add([]byte("HALDEN HX-16\x00v1.0 03/14/88"), uint8(1))
	f.Fuzz(func(t *testing.T, stored []byte, n uint8) {
		order := arrange.All()[int(n)%len(arrange.All())]
		listed, total := texts.Find(stored, order)
		require.LessOrEqual(t, len(listed), total)
		image := order.Apply(stored)
		for _, text := range listed {
			require.Equal(t, text.Text, string(image[text.Offset:text.Offset+min(text.Length, texts.MaxLength)]))
		}
	})
}

// The cost of a pass over the demo ROM, against copying it.
func BenchmarkFind(b *testing.B) {
	stored := bytes.Repeat(rom(b), 8)
	for _, order := range []arrange.Arrangement{arrange.Stored, arrange.Swapped} {
		b.Run(order.String(), func(b *testing.B) {
			b.SetBytes(int64(len(stored)))
			for b.Loop() {
				texts.Find(stored, order)
			}
		})
	}
}
