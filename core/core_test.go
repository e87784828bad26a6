package core_test

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/arrange"
	"lunette/core/outside"
	"lunette/core/sums"
)

func zipped(t *testing.T, members map[string][]byte) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, content := range members {
		member, err := w.Create(name)
		require.NoError(t, err)
		_, err = member.Write(content)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestOpenOne(t *testing.T) {
	one, other := bytes.Repeat([]byte{1, 2}, 512), bytes.Repeat([]byte{3}, 512)
	b := core.NewBench()

	id, err := b.OpenOne("i1", "u41.bin", one)
	require.NoError(t, err)
	size, err := b.Size(id, "stored")
	require.NoError(t, err)
	require.Equal(t, len(one), size)

	id, err = b.OpenOne("i2", "board.zip", zipped(t, map[string][]byte{"u41.bin": one}))
	require.NoError(t, err)
	require.Equal(t, "i2/0", id)

	_, err = b.OpenOne("i3", "board.zip", zipped(t, map[string][]byte{"u41.bin": one, "u42.bin": other}))
	require.EqualError(t, err, "board.zip holds 2 dumps; open it and ask for the report of each")
	for _, closed := range []string{"i3/0", "i3/1"} {
		_, err = b.Size(closed, "stored")
		require.ErrorContains(t, err, "no longer open", "of several none stays")
	}

	// Computed by hand: 01+00+00+00+AB adds up to AC, which 54 brings to 00, and the record says 53.
	_, err = b.OpenOne("i4", "u41.hex", []byte(":01000000AB53\n:00000001FF\n"))
	require.ErrorContains(t, err, "53")
	require.ErrorContains(t, err, "54")
}

// What the host knows is asked for once, when the survey is done, and taken; the rest is computed.
func TestInspectTakesDigests(t *testing.T) {
	b := core.NewBench()
	data := bytes.Repeat([]byte("HALDEN HX-16 "), 100_000)
	id, err := b.OpenOne("i1", "u41.bin", data)
	require.NoError(t, err)

	var host progress
	asked, surveyed := 0, 0.0
	told := hex.EncodeToString(bytes.Repeat([]byte{0xA5}, 20)) // a value that nothing computes from data
	report, err := b.Inspect(id, core.ByHand{}, func() sums.Known {
		asked++
		require.NotEmpty(t, host)
		surveyed = slices.Max(host)
		return sums.Known{"sha-1": told}
	}, &host)
	require.NoError(t, err)
	require.Equal(t, 1, asked)
	require.Greater(t, slices.Max(host), surveyed, "the sums tell how far they are, and had not begun")
	sha256 := sha256.Sum256(data) // Go's crypto/sha256 is the reference
	values := map[string]string{}
	for _, sum := range report.Sums {
		values[sum.ID] = sum.Hex
	}
	require.Equal(t, told, values["sha-1"])
	require.Equal(t, hex.EncodeToString(sha256[:]), values["sha-256"])
}

// progress keeps what it is told.
type progress []float64

func (p *progress) Progress(share float64) { *p = append(*p, share) }

func TestBytesAreTheArrangedImage(t *testing.T) {
	b := core.NewBench()
	data := []byte{0, 1, 2, 3, 4, 5, 6, 7}
	id, err := b.OpenOne("i1", "u41.bin", data)
	require.NoError(t, err)
	for _, c := range []struct {
		want     []byte
		a        arrange.Arrangement
		from, to int
	}{
		{data, arrange.Stored, 0, -1},
		{data[2:5], arrange.Stored, 2, 5},
		{data[6:], arrange.Stored, 6, 100},
		{[]byte{}, arrange.Stored, 100, -1},
		{[]byte{0, 3, 2, 5}, arrange.Swapped, 1, 5},
		{[]byte{1, 3, 5, 7}, arrange.Lane(1, 2), 0, -1},
	} {
		got, err := b.Bytes(id, c.a.ID(), c.from, c.to)
		require.NoError(t, err)
		require.Equal(t, c.want, got, "%v from %d to %d", c.a, c.from, c.to)
		require.Equal(t, len(got), cap(got), "appending to a part must not reach what follows it")
	}
	_, err = b.Bytes("i2/0", "stored", 0, -1)
	require.ErrorContains(t, err, "no longer open")
}

func u41(t *testing.T) []byte {
	rom, err := os.ReadFile(filepath.Join("..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return rom
}

func TestPlaceHoldsTheStretch(t *testing.T) {
	rom := u41(t)[:4096]
	b := core.NewBench()
	id, err := b.OpenOne("i", "u41.bin", rom)
	require.NoError(t, err)
	for _, a := range arrange.All() {
		for _, stretch := range [][2]int{{0, 1}, {3, 5}, {0, 4096}, {100, 400}, {4000, 4096}, {7, 7}} {
			place, err := b.Place(id, a.ID(), stretch[0], stretch[1])
			require.NoError(t, err)
			from, to := 0, 0 // found byte by byte
			for offset := stretch[0]; offset < stretch[1]; offset++ {
				if j, ok := a.Place(offset, len(rom)); ok && (to == 0 || j < from) {
					from = j
				}
				if j, ok := a.Place(offset, len(rom)); ok {
					to = max(to, j+1)
				}
			}
			require.Equal(t, from, place.From, "%s %v", a, stretch)
			require.Equal(t, to, place.To, "%s %v", a, stretch)
		}
	}
}

// Two byte lanes, as objcopy cuts them, are known for what they are and give back the image.
func TestRelationsOfLanes(t *testing.T) {
	rom := u41(t)
	b := core.NewBench()
	for lane, name := range []string{"u7.bin", "u8.bin"} {
		path := filepath.Join(t.TempDir(), name)
		outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "binary", "--interleave=2", "--byte="+string(rune('0'+lane)),
			filepath.Join("..", "testdata", "halden", "u41.bin"), path)
		image, err := os.ReadFile(path)
		require.NoError(t, err)
		_, err = b.OpenOne(name, name, image)
		require.NoError(t, err)
	}
	relations := b.Relations(nil)
	require.NotEmpty(t, relations)
	require.NotEmpty(t, relations[0].Makes)
	joined, err := b.Make(0)
	require.NoError(t, err)
	require.True(t, bytes.Equal(joined, rom) || bytes.Equal(joined, arrange.Swapped.Apply(rom)))

	b.Close("u7.bin")
	_, err = b.Make(0)
	require.ErrorContains(t, err, "no longer open")
	_, err = b.Make(99)
	require.ErrorContains(t, err, "no longer known")
	require.Empty(t, b.Relations(nil))
}

// A dump that is set aside is inspected as any other, and the others know nothing of it.
func TestOpenAside(t *testing.T) {
	rom := demoROM(t)
	b := core.NewBench()
	first := opened(t, b, "s1", "u41.bin", rom)
	id, err := b.OpenAside("i1", "copy.bin", rom)
	require.NoError(t, err)
	require.Empty(t, b.Relations(nil))
	require.Equal(t, first, b.Pair("").Read, "there is no other")
	r, err := b.Inspect(id, core.ByHand{}, nil, nil)
	require.NoError(t, err)
	require.True(t, r.Verdict.Proven)
	b.Close("i1")
	opened(t, b, "i1", "copy.bin", rom)
	require.Len(t, b.Relations(nil), 1, "opened anew it is one of them")
	_, err = b.OpenAside("i2", "nothing.hex", []byte(":00000001FF\n"))
	require.Error(t, err)
}
