package inflate_test

import (
	"bytes"
	"compress/flate"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/inflate"
	"lunette/core/outside"
)

func pack(t testing.TB, plain []byte, level int) []byte {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, level)
	require.NoError(t, err)
	_, err = w.Write(plain)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return packed.Bytes()
}

func contents(t testing.TB) map[string][]byte {
	rom, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(1, 1))
	noise, skewed := make([]byte, 100_000), make([]byte, 100_000)
	for i := range noise {
		noise[i] = byte(r.Uint32())
		skewed[i] = byte(1 << (uint(r.ExpFloat64()*2) & 7)) // codes of very different lengths
	}
	return map[string][]byte{"empty": {}, "one byte": {7}, "blank": bytes.Repeat([]byte{0xFF}, 200_000), "rom": rom,
		"noise": noise, "skewed": skewed}
}

// Go's compress/flate packs; what comes back must be the original, whatever kinds of blocks it chose.
func TestAppendUndoesCompressFlate(t *testing.T) {
	for name, plain := range contents(t) {
		for level := flate.HuffmanOnly; level <= flate.BestCompression; level++ {
			packed := pack(t, plain, level)
			out, used, err := inflate.Append([]byte("before"), append(bytes.Clone(packed), "after"...), len(plain))
			require.NoError(t, err, "%s, level %d", name, level)
			require.Equal(t, len(packed), used)
			require.True(t, bytes.Equal(append([]byte("before"), plain...), out), "%s, level %d", name, level)
		}
	}
}

// Python's zlib, another implementation, packs with its strategies: fixed codes, Huffman only, runs.
func TestAppendUndoesZlib(t *testing.T) {
	const script = `import sys, zlib
c = zlib.compressobj(9, zlib.DEFLATED, -15, 9, int(sys.argv[1]))
sys.stdout.buffer.write(c.compress(sys.stdin.buffer.read()) + c.flush())`
	plain := contents(t)["rom"][:128<<10]
	for _, strategy := range []string{"0", "1", "2", "3", "4"} {
		packed := outside.Run(t, "python3", plain, "-c", script, strategy)
		out, used, err := inflate.Append(nil, packed, len(plain))
		require.NoError(t, err)
		require.Equal(t, len(packed), used)
		require.True(t, bytes.Equal(plain, out))
	}
}

func TestLimitAndTruncation(t *testing.T) {
	for name, plain := range contents(t) {
		if len(plain) < 2 {
			continue
		}
		packed := pack(t, plain, 6)
		out, _, err := inflate.Append(nil, packed, len(plain)-1)
		require.ErrorIs(t, err, inflate.ErrTooLong, name)
		require.True(t, bytes.Equal(plain[:len(plain)-1], out), name)
		for _, cut := range []int{0, 1, len(packed) / 2, len(packed) - 1} {
			out, used, err := inflate.Append(nil, packed[:cut], len(plain))
			require.ErrorIs(t, err, inflate.ErrTruncated, "%s cut to %d", name, cut)
			require.LessOrEqual(t, used, cut)
			require.True(t, bytes.HasPrefix(plain, out), name)
		}
	}
}

// agrees holds Append against compress/flate on any input: both fail or both give the same. Go's reader is laxer in one
// place, so that side is not asked: it takes incomplete distance codes that are never used.
func agrees(t *testing.T, packed []byte) {
	const limit = 1 << 20
	want, theirs := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), limit+1))
	out, used, err := inflate.Append(nil, packed, limit)
	require.LessOrEqual(t, used, len(packed))
	require.LessOrEqual(t, len(out), limit)
	if err == nil {
		require.NoError(t, theirs)
		require.True(t, bytes.Equal(want, out))
	}
}

func TestDamagedStreams(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for _, plain := range contents(t) {
		for _, level := range []int{0, 1, 9} {
			packed := pack(t, plain, level)
			for range 60 {
				damaged := bytes.Clone(packed)
				damaged[r.IntN(len(damaged))] ^= 1 << r.IntN(8)
				agrees(t, damaged)
			}
		}
	}
}

func FuzzAppend(f *testing.F) {
	for _, plain := range contents(f) {
		f.Add(pack(f, plain[:min(len(plain), 2000)], 9))
	}
	f.Fuzz(func(t *testing.T, packed []byte) { agrees(t, packed) })
}

func BenchmarkAppend(b *testing.B) {
	plain := contents(b)["rom"]
	packed := pack(b, plain, 9)
	b.Run("ours", func(b *testing.B) {
		b.SetBytes(int64(len(plain)))
		for b.Loop() {
			inflate.Append(make([]byte, 0, len(plain)), packed, len(plain))
		}
	})
	b.Run("reference", func(b *testing.B) {
		b.SetBytes(int64(len(plain)))
		for b.Loop() {
			_, _ = io.Copy(io.Discard, flate.NewReader(bytes.NewReader(packed)))
		}
	})
}
