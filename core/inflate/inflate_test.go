package inflate_test

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math/bits"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
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
	plain := contents(t)["rom"][:32<<10]
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

// With the room there nothing is allocated, whatever the stream is; without it, each room is at least twice the last one.
func TestRoom(t *testing.T) {
	for name, plain := range contents(t) {
		packed, room := pack(t, plain, 9), make([]byte, 0, len(plain))
		require.Zero(t, testing.AllocsPerRun(3, func() { _, _, _ = inflate.Append(room, packed, len(plain)) }), name)
		for _, begun := range []int{0, 1, 1000} {
			out, unpacked := make([]byte, begun), []byte(nil)
			moves := testing.AllocsPerRun(3, func() { unpacked, _, _ = inflate.Append(out, packed, len(plain)) })
			require.LessOrEqual(t, moves, float64(bits.Len(uint(len(plain)/max(512, begun)))+1), name)
			require.LessOrEqual(t, cap(unpacked), begun+len(plain))
		}
	}
}

// most is what may come out where any input is tried.
const most = 1 << 20

// agrees holds Append against compress/flate on any input: both unpack it to the same, or both refuse it.
func agrees(t *testing.T, packed []byte) {
	source := bytes.NewReader(packed)
	want, theirs := io.ReadAll(io.LimitReader(flate.NewReader(source), most+1))
	out, used, err := inflate.Append(nil, packed, most)
	require.LessOrEqual(t, used, len(packed))
	require.LessOrEqual(t, len(out), most)
	require.LessOrEqual(t, cap(out), most)
	if theirs != nil || len(want) > most {
		require.Error(t, err)
		return
	}
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, out))
	require.Equal(t, len(packed)-source.Len(), used)
}

// agreesWithZlib does the same with Python's zlib, which also tells a stream that breaks off from a damaged one.
func agreesWithZlib(t *testing.T, streams [][]byte) {
	const script = `import sys, zlib
source, most = sys.stdin.buffer, int(sys.argv[1])
while head := source.read(4):
    d = zlib.decompressobj(-15)
    try:
        out = d.decompress(source.read(int.from_bytes(head, "little")), most + 1)
        print("long" if len(out) > most else "good" if d.eof else "cut", len(d.unused_data), zlib.crc32(out))
    except zlib.error:
        print("damaged 0 0")`
	var input bytes.Buffer
	for _, stream := range streams {
		_ = binary.Write(&input, binary.LittleEndian, uint32(len(stream)))
		input.Write(stream)
	}
	verdicts := strings.Split(string(outside.Run(t, "python3", input.Bytes(), "-c", script, strconv.Itoa(most))), "\n")
	counts := map[string]int{}
	for i, stream := range streams {
		out, used, err := inflate.Append(nil, stream, most)
		ours := fmt.Sprint("good ", len(stream)-used, " ", crc32.ChecksumIEEE(out))
		theirs := verdicts[i]
		kind, _, _ := strings.Cut(theirs, " ")
		switch counts[kind]++; err {
		case nil:
		case inflate.ErrDamaged:
			ours, theirs = "damaged", kind
		case inflate.ErrTruncated:
			ours, theirs = "cut", kind
		case inflate.ErrTooLong:
			ours, theirs = "long", kind
		}
		require.Equal(t, theirs, ours, "stream %d: %x", i, stream[:min(len(stream), 100)])
	}
	t.Logf("%d streams: %v", len(streams), counts)
}

func damagedStreams(t *testing.T) (all [][]byte) {
	r := rand.New(rand.NewPCG(2, 2))
	for _, plain := range contents(t) {
		for _, level := range []int{0, 1, 9} {
			packed := pack(t, plain[:min(len(plain), 50_000)], level)
			for i := range 100 {
				damaged := bytes.Clone(packed)
				reach := len(damaged)
				if i%2 == 0 {
					reach = min(reach, 80) // the codes of the first block
				}
				damaged[r.IntN(reach)] ^= 1 << r.IntN(8)
				all = append(all, damaged)
			}
		}
	}
	return all
}

func TestDamagedStreams(t *testing.T) {
	for _, damaged := range damagedStreams(t) {
		agrees(t, damaged)
	}
}

func TestDamagedStreamsAsZlibSeesThem(t *testing.T) { agreesWithZlib(t, damagedStreams(t)) }

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
		room := make([]byte, 0, len(plain)) // the reference throws away what comes out
		for b.Loop() {
			_, _, _ = inflate.Append(room, packed, len(plain))
		}
	})
	b.Run("reference", func(b *testing.B) {
		b.SetBytes(int64(len(plain)))
		for b.Loop() {
			_, _ = io.Copy(io.Discard, flate.NewReader(bytes.NewReader(packed)))
		}
	})
}
