package search_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/search"
)

func random(seed uint64, n int, values int) []byte {
	r := rand.New(rand.NewPCG(seed, 1))
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(r.IntN(values))
	}
	return data
}

// Go's regexp package, which finds matches by other means, is the reference: it is asked at every offset.
func reference(image []byte, pattern string, length int) (offsets []int) {
	re := regexp.MustCompile(`(?s)^(?:` + pattern + `)`)
	for i := 0; i+length <= len(image); i++ {
		if re.Match(image[i : i+length]) {
			offsets = append(offsets, i)
		}
	}
	return offsets
}

func TestFindEqualsRegexp(t *testing.T) {
	// ASCII only, as regexp reads UTF-8; few values, so that matches abound, overlap and cross windows.
	stored := random(1, 200_001, 4)
	for i := range stored {
		stored[i] += 'a'
	}
	text := func(s string) search.Pattern { p, err := search.Text(s); require.NoError(t, err); return p }
	hex := func(s string) search.Pattern { p, err := search.Hex(s); require.NoError(t, err); return p }
	for _, c := range []struct {
		name, regexp string
		pattern      search.Pattern
	}{
		{"text in either case", "(?i)abcab", text("aBcAb")},
		{"overlapping", "aaa", hex("616161")},
		{"any digit", "a[a-d]b", hex("61 ?? 62")},
		{"any low digit", "[a-d]bb", hex("6? 62,62")},
	} {
		for _, a := range arrange.All() {
			t.Run(c.name+", "+a.String(), func(t *testing.T) {
				image := a.Apply(stored)
				if a.IsMirrored() {
					t.Skip("mirrored bytes are not ASCII; other tests mirror")
				}
				want := reference(image, c.regexp, len(c.pattern.Value))
				offsets, total := search.Find(stored, a, c.pattern, 1<<30, nil)
				require.Equal(t, want, offsets)
				require.Equal(t, len(want), total)
			})
		}
	}
}

func TestFindMirrored(t *testing.T) {
	p, err := search.Hex("80 01") // 01 80 mirrored bit by bit
	require.NoError(t, err)
	offsets, total := search.Find([]byte{0, 0x01, 0x80, 0x80}, arrange.Mirrored, p, 10, nil)
	require.Equal(t, []int{1}, offsets)
	require.Equal(t, 1, total)
}

func TestFindCountsBeyondWhatItLists(t *testing.T) {
	p, err := search.Hex("00")
	require.NoError(t, err)
	var told []int
	offsets, total := search.Find(make([]byte, 100_000), arrange.Stored, p, 3, func(done int) { told = append(told, done) })
	require.Equal(t, []int{0, 1, 2}, offsets)
	require.Equal(t, 100_000, total)
	require.Equal(t, []int{65_536, 100_000}, told)
}

func TestPatternErrors(t *testing.T) {
	for _, c := range []struct {
		want  string
		input string
	}{
		{"nothing to look for: type text, or bytes in hex", "  "},
		{"3 hex digits are not whole bytes; write two for each byte, as in 4E 56", "4E 5"},
		{"'G' is no hex digit; bytes are written with 0 to 9 and A to F, ? stands for any digit", "4G"},
		{"a pattern of ? alone matches everywhere; give at least one digit", "?? ??"},
		{"257 bytes are more than the 256 that can be looked for", fmt.Sprintf("%0514d", 0)},
	} {
		_, err := search.Hex(c.input)
		require.EqualError(t, err, c.want)
	}
	_, err := search.Text("")
	require.Error(t, err)
}

func FuzzFind(f *testing.F) {
	f.Add([]byte("HALDEN HX-16"), "4? 58", uint8(1))
	f.Fuzz(func(t *testing.T, stored []byte, pattern string, order uint8) {
		p, err := search.Hex(pattern)
		if err != nil {
			return
		}
		a := arrange.All()[int(order)%len(arrange.All())]
		offsets, total := search.Find(stored, a, p, 100, nil)
		require.LessOrEqual(t, len(offsets), total)
		image := a.Apply(stored)
		for _, offset := range offsets {
			for i, value := range p.Value {
				require.Equal(t, value, image[offset+i]&p.Mask[i])
			}
		}
	})
}
