package dump

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"hash/crc32"
	"io"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/outside"
)

// gzipped packs content by Go's compress/gzip.
func gzipped(t testing.TB, header gzip.Header, content string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Header = header
	_, err := io.WriteString(w, content)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestGzip(t *testing.T) {
	rom := string(noise(100_000, 1))
	tests := []struct {
		name  string // of the dump
		claim string
		outer string
		data  []byte
	}{
		{"u7.bin", "the header's name counts", "other.gz", gzipped(t, gzip.Header{Name: "u7.bin"}, rom)},
		{"set/u7.bin", "the folder is that of the outer name", "set/other.gz", gzipped(t, gzip.Header{Name: "u7.bin"}, rom)},
		{"prüfung.bin", "names are Latin-1", "x.gz", gzipped(t, gzip.Header{Name: "prüfung.bin"}, rom)},
		{"u7.bin", "without a name, .gz goes", "u7.bin.gz", gzipped(t, gzip.Header{}, rom)},
		{"u7", "in capitals too", "u7.GZ", gzipped(t, gzip.Header{}, rom)},
		{"u7.bin", "or the name stays", "u7.bin", gzipped(t, gzip.Header{}, rom)},
		{".gz", "also if nothing else would be left", ".gz", gzipped(t, gzip.Header{}, rom)},
		{"n", "all optional parts", "x.gz", gzipped(t, gzip.Header{Name: "n", Comment: "c", Extra: []byte("extra")}, rom)},
		{"u7", "several members make one file", "u7.gz", append(gzipped(t, gzip.Header{}, rom[:1000]), gzipped(t, gzip.Header{Name: "later"}, rom[1000:])...)},
		{"u7", "an empty member first", "u7.gz", append(gzipped(t, gzip.Header{}, ""), gzipped(t, gzip.Header{}, rom)...)},
		{"u7", "zeros after the end are padding", "u7.gz", append(gzipped(t, gzip.Header{}, rom), make([]byte, 600)...)},
	}
	for _, test := range tests {
		t.Run(test.claim, func(t *testing.T) {
			dumps, err := Load(test.outer, test.data)
			require.NoError(t, err)
			require.Len(t, dumps, 1)
			assert.Equal(t, test.name, dumps[0].Name)
			assert.Equal(t, []string{"gzip"}, dumps[0].Packing)
			assert.Equal(t, Raw, dumps[0].Format)
			assert.Empty(t, dumps[0].Notes)
			assert.True(t, rom == string(dumps[0].Bytes))
		})
	}
}

// A chip may hold a gzip stream and blank space behind it; that is told.
func TestGzipWithSomethingBehindIt(t *testing.T) {
	data := gzipped(t, gzip.Header{}, "content")
	dumps, err := Load("u7.gz", append(data, "\xFF\xFF\xFF"...))
	require.NoError(t, err)
	assert.Equal(t, "content", string(dumps[0].Bytes))
	assert.Equal(t, []string{"Left out: 3 bytes after the end of the gzip data, from offset " + hexOffset(len(data)) + " on."}, dumps[0].Notes)
}

// Reference: Python's gzip module, with and without a name in the header.
func TestGzipOfPython(t *testing.T) {
	const program = `import gzip, sys
data = sys.stdin.buffer.read()
with gzip.GzipFile(filename="u8.bin", mode="wb", fileobj=sys.stdout.buffer, compresslevel=int(sys.argv[1])) as f:
    f.write(data)`
	rom := []byte(writeHex(Dump{Bytes: noise(5000, 3)}, 16))
	for _, level := range []string{"0", "1", "9"} {
		dumps, err := Load("x.gz", outside.Run(t, "python3", rom, "-c", program, level))
		require.NoError(t, err)
		require.Len(t, dumps, 1)
		assert.Equal(t, "u8.bin", dumps[0].Name)
		assert.Equal(t, HEX, dumps[0].Format)
		assert.Equal(t, noise(5000, 3), dumps[0].Bytes)
	}
}

// Reference: gzip itself, the program.
func TestGzipOfTheProgram(t *testing.T) {
	rom := noise(70_000, 4)
	dumps, err := Load("u7.gz", outside.Run(t, "gzip", rom, "-9c"))
	require.NoError(t, err)
	assert.Equal(t, rom, dumps[0].Bytes)
}

// countless writes N for how much came out before damaged data was met: it depends on how the packer saw the data.
func countless(message string) string {
	return regexp.MustCompile("after [0-9]+ bytes came out").ReplaceAllString(message, "after N bytes came out")
}

// goodGzip is a file that can be read.
func goodGzip(t testing.TB) []byte {
	return gzipped(t, gzip.Header{Name: "u7.bin"}, string(noise(1000, 5)))
}

// gzipErrors is what can be wrong with a gzip file.
func gzipErrors(t testing.TB) []damagedFile {
	good := goodGzip(t)
	changed := func(at int, value byte) []byte {
		if at < 0 {
			at += len(good)
		}
		data := bytes.Clone(good)
		data[at] = value
		return data
	}
	withHeaderSum := append([]byte("\x1F\x8B\x08\x02\x00\x00\x00\x00\x00\xFF\x12\x34"), good[17:]...)
	return []damagedFile{
		{"offset 0x3: the file ends within the gzip header; get the file again", nil, "three bytes", good[:3]},
		{"offset 0xC: the file ends within the gzip header; get the file again", nil, "cut in the name", good[:12]},
		{"offset 0x11: the file ends within the gzip header; get the file again", nil, "nothing after the header", good[:17]},
		{"offset 0x1F4: the packed data breaks off here, after N bytes came out; get the file again", nil, "cut in the data", good[:500]},
		{"offset " + hexOffset(len(good)-8) + ": the file ends before the checksum of its 1,000 unpacked bytes; get the file again", nil,
			"no trailer", good[:len(good)-8]},
		{"offset " + hexOffset(len(good)-1) + ": the file ends before the checksum of its 1,000 unpacked bytes; get the file again", nil,
			"cut in the trailer", good[:len(good)-1]},
		{fmt.Sprintf("offset 0x%X: CRC-32 is 00000000, computed %08X over 1,000 unpacked bytes; get the file again", len(good)-8, crc32.ChecksumIEEE(noise(1000, 5))), nil,
			"checksum", append(bytes.Clone(good[:len(good)-8]), "\x00\x00\x00\x00\xE8\x03\x00\x00"...)},
		{"offset " + hexOffset(len(good)-4) + ": unpacked length is given as 1,001 bytes, but 1,000 came out; get the file again", nil,
			"length", changed(-4, 0xE9)},
		{"offset 0x12: the packed data is damaged here, after N bytes came out; get the file again", nil, "a block of no type", changed(17, 0x07)},
		{"offset 0xA: header checksum is 3412, computed C990; get the file again", nil, "header checksum", withHeaderSum},
		{"the file is empty; read the chip again", nil, "nothing inside", gzipped(t, gzip.Header{}, "")},
		{"offset " + hexOffset(len(good)+12) + ": the file ends within the gzip header; get the file again", nil, "cut in the second member",
			append(bytes.Clone(good), good[:12]...)},
	}
}

func TestGzipErrors(t *testing.T) {
	for _, test := range gzipErrors(t) {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7.gz", test.data)
			require.Error(t, err)
			assert.Equal(t, test.want, countless(err.Error()))
			assert.Empty(t, dumps)
		})
	}
	good := goodGzip(t)
	for n := len(gzipMark); n < len(good); n++ {
		_, err := Load("u7.gz", good[:n])
		assert.Error(t, err, "cut to %d bytes", n)
	}
}

// A header checksum that holds: the low half of the CRC-32 of the header (RFC 1952, 2.3.1), as Python's zlib.crc32 has it.
func TestGzipHeaderChecksum(t *testing.T) {
	plain := gzipped(t, gzip.Header{}, "content")
	data := append([]byte("\x1F\x8B\x08\x02\x00\x00\x00\x00\x00\xFF\x90\xC9"), plain[10:]...)
	dumps, err := Load("u7.gz", data)
	require.NoError(t, err)
	assert.Equal(t, "content", string(dumps[0].Bytes))
}
