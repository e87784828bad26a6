package arrange

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSplitIsUndoneByJoin(t *testing.T) {
	for _, n := range lengths() {
		image := random(n)
		for of := 1; of <= 17; of++ {
			lanes := Split(image, of)
			require.Len(t, lanes, of)
			joined, err := Join(lanes)
			require.NoError(t, err, "%d bytes, %d lanes", n, of)
			require.Equal(t, image, joined, "%d bytes, %d lanes", n, of)
		}
	}
}

func TestSplitDealsInTurn(t *testing.T) {
	assert.Equal(t, [][]byte{[]byte("adg"), []byte("be"), []byte("cf")}, Split([]byte("abcdefg"), 3))
	assert.Equal(t, [][]byte{{'a'}, {}, {}}, Split([]byte("a"), 3))
	for _, n := range lengths() {
		image := random(n)
		for _, of := range []int{1, 2, 4} {
			for i, lane := range Split(image, of) {
				require.Equal(t, Lane(i, of).Apply(image), lane, "lane %d of %d from %d bytes", i, of, n)
			}
		}
	}
}

func TestSplitAndJoinKeepTheirInput(t *testing.T) {
	image := []byte("abcdef")
	lanes := Split(image, 2)
	clear(lanes[0])
	assert.Equal(t, "abcdef", string(image))
	joined, err := Join([][]byte{[]byte("ac"), []byte("bd")})
	require.NoError(t, err)
	assert.Equal(t, "abcd", string(joined))
	single := [][]byte{[]byte("abc")}
	joined, err = Join(single)
	require.NoError(t, err)
	clear(joined)
	assert.Equal(t, "abc", string(single[0]))
}

// Join takes exactly the lengths that Split makes, which is checked with every set of up to four lanes of 0 to 4 bytes.
func TestJoinTakesOnlyWhatSplitMakes(t *testing.T) {
	var sets func(lengths []int)
	sets = func(lengths []int) {
		if len(lengths) > 0 {
			lanes, total := make([][]byte, len(lengths)), 0
			for i, n := range lengths {
				lanes[i] = random(n)
				total += n
			}
			fits := true
			for i, lane := range Split(make([]byte, total), len(lengths)) {
				fits = fits && len(lane) == lengths[i]
			}
			joined, err := Join(lanes)
			if fits {
				require.NoError(t, err, "%v", lengths)
				require.Equal(t, lanes, Split(joined, len(lanes)), "%v", lengths)
			} else {
				require.Error(t, err, "%v", lengths)
				require.Nil(t, joined)
			}
		}
		if len(lengths) < 4 {
			for n := range 5 {
				sets(append(lengths[:len(lengths):len(lengths)], n))
			}
		}
	}
	sets(nil)
}

func TestJoinSaysWhichLane(t *testing.T) {
	for _, c := range []struct {
		want  string
		sizes []int
	}{
		{"no lanes to join; take at least one", nil},
		{"lane 1 has 64 KiB, lane 0 has 32 KiB; take lanes of equal size", []int{32 << 10, 64 << 10}},
		{"lane 1 has 32 KiB, lane 0 has 64 KiB; take lanes of equal size", []int{64 << 10, 32 << 10}},
		{"lane 1 has 3 bytes, lane 0 has 2 bytes; take lanes of equal size", []int{2, 3, 2}},
		{"lane 2 has 3 bytes, lane 1 has 2 bytes; take lanes of equal size", []int{3, 2, 3}},
		{"lane 2 has 1 byte, lane 1 has 2 bytes; take lanes of equal size", []int{3, 2, 1}},
		{"lane 3 has 0 bytes, lane 2 has 1,000 bytes; take lanes of equal size", []int{1000, 1000, 1000, 0}},
	} {
		var lanes [][]byte
		for _, n := range c.sizes {
			lanes = append(lanes, make([]byte, n))
		}
		joined, err := Join(lanes)
		assert.EqualError(t, err, c.want)
		assert.Nil(t, joined)
	}
}

func TestRepeat(t *testing.T) {
	assert.Equal(t, "abc", string(Repeat([]byte("abc"), 1)))
	assert.Equal(t, "abcabcabcabc", string(Repeat([]byte("abc"), 4)))
	assert.Empty(t, Repeat(nil, 8))
	image := random(4097)
	assert.Equal(t, strings.Repeat(string(image), 16), string(Repeat(image, 16)))
	once := Repeat(image, 1)
	clear(once)
	assert.Equal(t, random(4097), image, "the image is copied, not handed on")
}

func TestPad(t *testing.T) {
	for _, c := range []struct {
		want, image string
		size        int
		fill        byte
		at          End
	}{
		{"abc..", "abc", 5, '.', Bottom},
		{"..abc", "abc", 5, '.', Top},
		{"abc", "abc", 3, '.', Bottom},
		{"abc", "abc", 3, '.', Top},
		{"\xFF\xFF", "", 2, 0xFF, Bottom},
		{"\x00\x00", "", 2, 0x00, Top},
		{"", "", 0, 0xFF, Top},
	} {
		padded, err := Pad([]byte(c.image), c.size, c.fill, c.at)
		require.NoError(t, err)
		assert.Equal(t, c.want, string(padded))
	}
	image := random(1000)
	for _, at := range []End{Bottom, Top} {
		padded, err := Pad(image, 1000, 0xFF, at)
		require.NoError(t, err)
		clear(padded)
		assert.Equal(t, random(1000), image, "the image is copied, not handed on")
	}
}

func TestPadRefusesWhatDoesNotFit(t *testing.T) {
	for _, c := range []struct {
		want        string
		image, size int
	}{
		{"an image of 1 byte does not fit into 0 bytes; take a larger device", 1, 0},
		{"an image of 1 MiB does not fit into 512 KiB; take a larger device", 1 << 20, 512 << 10},
		{"an image of 65,537 bytes does not fit into 64 KiB; take a larger device", 65537, 65536},
		{"an image of 0 bytes does not fit into -1 bytes; take a larger device", 0, -1},
	} {
		for _, at := range []End{Bottom, Top} {
			padded, err := Pad(make([]byte, c.image), c.size, 0xFF, at)
			assert.EqualError(t, err, c.want)
			assert.Nil(t, padded)
		}
	}
}
