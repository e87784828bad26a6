package dump

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/outside"
)

// zipped packs files by Go's archive/zip, given as names and contents in turn.
func zipped(t testing.TB, namesAndContents ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(namesAndContents); i += 2 {
		f, err := w.Create(namesAndContents[i])
		require.NoError(t, err)
		_, err = io.WriteString(f, namesAndContents[i+1])
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// summary writes down what was loaded: names, formats and packings.
func summary(dumps []Dump) (lines []string) {
	for _, d := range dumps {
		lines = append(lines, fmt.Sprintf("%s: %d bytes of %s in %s", d.Name, len(d.Bytes), d.Format, strings.Join(d.Packing, " in ")))
	}
	return lines
}

func TestZip(t *testing.T) {
	dumps, err := Load("set.zip", zipped(t,
		"u41.bin", string(noise(3000, 1)), "lanes/", "", "lanes/u7.hex", publishedHex, "lanes/deep/u8.s19", publishedSRecords,
		"../odd\\name \x01<b>.bin", "x"))
	require.NoError(t, err)
	assert.Equal(t, []string{
		"u41.bin: 3000 bytes of raw binary in zip",
		"lanes/u7.hex: 64 bytes of Intel HEX in zip",
		"lanes/deep/u8.s19: 52 bytes of Motorola S-record in zip",
		"../odd\\name \x01<b>.bin: 1 bytes of raw binary in zip",
	}, summary(dumps))
	assert.Equal(t, noise(3000, 1), dumps[0].Bytes)
}

func TestPackingInsidePacking(t *testing.T) {
	inner := string(zipped(t, "u7.hex", publishedHex))
	tests := []struct {
		want string
		name string
		data []byte
	}{
		{"u7.hex: 64 bytes of Intel HEX in gzip", "records in gzip", gzipped(t, gzip.Header{}, publishedHex)},
		{"set/u7.hex: 64 bytes of Intel HEX in zip in gzip", "gzip in zip", zipped(t, "set/u7.hex.gz", string(gzipped(t, gzip.Header{}, publishedHex)))},
		{"u7.hex: 64 bytes of Intel HEX in gzip in zip", "zip in gzip", gzipped(t, gzip.Header{}, inner)},
		{"old/set.zip/u7.hex: 64 bytes of Intel HEX in zip in zip", "zip in zip", zipped(t, "old/set.zip", inner)},
		{"set.zip/u7.hex: 64 bytes of Intel HEX in zip in gzip in zip", "zip in gzip in zip",
			zipped(t, "set.zip.gz", string(gzipped(t, gzip.Header{}, inner)))},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7.hex.gz", test.data)
			require.NoError(t, err)
			assert.Equal(t, []string{test.want}, summary(dumps))
			assert.Equal(t, loadOne(t, publishedHex).Bytes, dumps[0].Bytes)
		})
	}
	deep := zipped(t, "c.zip", string(zipped(t, "b.zip", string(zipped(t, "a.zip", inner)))), "good.bin", "x")
	dumps, err := Load("d.zip", deep)
	assert.EqualError(t, err, "c.zip/b.zip/a.zip: zip packed inside zip, zip and zip: more than 3 deep; unpack it once and open what comes out")
	assert.Equal(t, []string{"good.bin: 1 bytes of raw binary in zip"}, summary(dumps))
}

// Reference: Python's zipfile, stored and deflated, with comments, folders, and names in code page 437 and UTF-8.
func TestZipOfPython(t *testing.T) {
	const program = `import sys, zipfile
method = {"stored": zipfile.ZIP_STORED, "deflated": zipfile.ZIP_DEFLATED}[sys.argv[1]]
with zipfile.ZipFile(sys.stdout.buffer, "w", method) as z:
    z.comment = b"a comment with PK\x05\x06 in it"
    z.mkdir("lanes")
    z.writestr("lanes/u7.bin", bytes(range(256)) * 100)
    z.writestr("pr\u00fcfung \u03c0.bin", b"utf-8")
    z.writestr("bl\u00dfnk.bin", b"")
    z.writestr("end.bin", b"end")`
	const rename = `import sys
data = sys.stdin.buffer.read()
sys.stdout.buffer.write("".join(map(chr, range(1, 256))).encode("latin-1").decode("cp437").encode("utf-8"))`
	for _, method := range []string{"stored", "deflated"} {
		dumps, err := Load("set.zip", outside.Run(t, "python3", nil, "-c", program, method))
		assert.EqualError(t, err, "blßnk.bin: the file is empty; read the chip again")
		require.Equal(t, []string{
			"lanes/u7.bin: 25600 bytes of raw binary in zip",
			"prüfung π.bin: 5 bytes of raw binary in zip",
			"end.bin: 3 bytes of raw binary in zip",
		}, summary(dumps))
		for i, b := range dumps[0].Bytes {
			require.EqualValues(t, byte(i), b)
		}
	}
	every := make([]byte, 255)
	for i := range every {
		every[i] = byte(i + 1)
	}
	assert.Equal(t, string(outside.Run(t, "python3", nil, "-c", rename)), zipName(every, 0), "every character of code page 437")
	assert.Equal(t, "ü", zipName([]byte("\xC3\xBC"), 0), "UTF-8 without the flag")
}

// A zip written to a pipe has its sizes after the data; the central directory has them anyway.
func TestZipWithDataDescriptors(t *testing.T) {
	const program = `import sys, zipfile
class Pipe:
    def write(self, data): return sys.stdout.buffer.write(data)
    def flush(self): pass
with zipfile.ZipFile(Pipe(), "w", zipfile.ZIP_DEFLATED) as z:
    z.writestr("u7.bin", b"content" * 1000)`
	dumps, err := Load("set.zip", outside.Run(t, "python3", nil, "-c", program))
	require.NoError(t, err)
	assert.Equal(t, strings.Repeat("content", 1000), string(dumps[0].Bytes))
}

// storedZip is an archive of two stored members, and where their parts are.
func storedZip(t testing.TB) (data []byte, secondLocal, firstEntry, secondEntry, end int) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range []string{"a.bin", "b.bin"} {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		require.NoError(t, err)
		_, err = io.WriteString(f, "the content of "+name)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	data = b.Bytes()
	end = bytes.Index(data, zipEndMark)
	firstEntry = bytes.Index(data, zipEntryMark)
	return data, bytes.LastIndex(data, zipLocalMark), firstEntry, bytes.LastIndex(data, zipEntryMark), end
}

func TestZipStoredIsNotCopied(t *testing.T) {
	data, _, _, _, _ := storedZip(t)
	dumps, err := Load("set.zip", data)
	require.NoError(t, err)
	assert.Same(t, &data[bytes.Index(data, []byte("the content"))], &dumps[0].Bytes[0])
	assert.Equal(t, len(dumps[0].Bytes), cap(dumps[0].Bytes), "appending must not run into the next member")
}

// A damagedFile is a packed file, what is said of it and what is loaded all the same.
type damagedFile struct {
	want string
	left []string
	name string
	data []byte
}

// zipErrors is what can be wrong with an archive.
func zipErrors(t testing.TB) []damagedFile {
	const other = "b.bin: 20 bytes of raw binary in zip" // is read whatever is wrong with a.bin
	const first = "a.bin: 20 bytes of raw binary in zip"
	good, secondLocal, firstEntry, secondEntry, end := storedZip(t)
	with := func(at int, values ...byte) []byte {
		data := bytes.Clone(good)
		copy(data[at:], values)
		return data
	}
	deflated := zipped(t, "a.bin", strings.Repeat("content", 100), "b.bin", strings.Repeat("c", 20))
	directory := bytes.Index(deflated, zipEntryMark)
	deflatedWith := func(at int, values ...byte) []byte {
		data := bytes.Clone(deflated)
		copy(data[directory+at:], values)
		return data
	}
	return []damagedFile{
		{"a.bin: offset 0x0: CRC-32 is 00000000, computed " + fmt.Sprintf("%08X", crc32.ChecksumIEEE([]byte("the content of a.bin"))) + " over 20 bytes; get the file again", []string{other}, "checksum",
			with(firstEntry+16, 0, 0, 0, 0)},
		{"a.bin: offset 0x0: the member's length is given as 21 bytes, but 20 came out; get the file again", []string{other}, "length",
			with(firstEntry+24, 21)},
		{"a.bin: offset 0x0: the member's length is given as 699 bytes, but 700 came out; get the file again", []string{other},
			"length of a deflated member", deflatedWith(24, 0xBB, 2)},
		{"a.bin: offset 0x2A: the packed data breaks off here, after N bytes came out; get the file again", []string{other},
			"packed length too small", deflatedWith(20, 7, 0)},
		{"a.bin: offset 0x0: the member is encrypted; unpack it with its password and open what comes out", []string{other}, "encrypted",
			with(firstEntry+8, 1)},
		{"a.bin: offset 0x0: the member is packed by method 6 (imploded), which is not read here; unpack it first", []string{other}, "imploded",
			with(firstEntry+10, 6)},
		{"a.bin: offset 0x0: the member is packed by method 97, which is not read here; unpack it first", []string{other}, "a method without a name",
			with(firstEntry+10, 97)},
		{"a.bin: the member is of the zip64 kind, for larger files than are read here; unpack it first", []string{other}, "zip64 member",
			with(firstEntry+24, 0xFF, 0xFF, 0xFF, 0xFF)},
		{"a.bin: offset 0x1: the member's header is damaged or missing; get the file again", []string{other}, "offset of the header",
			with(firstEntry+42, 1)},
		{"a.bin: offset 0xFFFFFFFE: the member's header is damaged or missing; get the file again", []string{other}, "offset beyond the file",
			with(firstEntry+42, 0xFE, 0xFF, 0xFF, 0xFF)},
		{"a.bin: offset 0x0: the member is to end at offset 0x1000023, the file ends at 0x10A; get it again", []string{other}, "end beyond the file",
			with(firstEntry+20, 0, 0, 0, 1)},
		{"b.bin: offset " + hexOffset(secondLocal) + ": the member's header is damaged or missing; get the file again", []string{first},
			"damaged header", with(secondLocal, 0)},
		{"offset " + hexOffset(secondEntry) + ": entry 2 of 2 of the central directory is damaged or missing; get the file again", []string{first},
			"damaged entry", with(secondEntry, 0)},
		{"offset " + hexOffset(end) + ": entry 3 of 3 of the central directory is damaged or missing; get the file again", []string{first, other},
			"an entry too few", with(end+10, 3)},
		{"offset 0x4000: entry 1 of 2 of the central directory is damaged or missing; get the file again", nil, "directory beyond the file",
			with(end+16, 0, 0x40, 0, 0)},
		{"offset " + hexOffset(end) + ": the archive is of the zip64 kind, for more or larger files than are read here; unpack it first", nil,
			"zip64 archive", with(end+10, 0xFF, 0xFF)},
		{"offset " + hexOffset(end) + ": the archive goes on over several files, this is number 2; unpack it first", nil,
			"one of several parts", with(end+4, 1)},
		{"offset " + hexOffset(len(good)-1) + ": the file ends without the archive's central directory; it was cut short, get it again", nil,
			"one byte cut off", good[:len(good)-1]},
		{"the archive holds no files", nil, "no members", zipped(t)},
		{"the archive holds no files", nil, "only folders", zipped(t, "a/", "", "a/b/", "")},
	}
}

func TestZipErrors(t *testing.T) {
	for _, test := range zipErrors(t) {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("set.zip", test.data)
			require.Error(t, err)
			assert.Equal(t, test.want, countless(err.Error()))
			assert.Equal(t, test.left, summary(dumps))
		})
	}
	good, _, _, _, _ := storedZip(t)
	for n := 4; n < len(good); n++ {
		_, err := Load("set.zip", good[:n])
		assert.Error(t, err, "cut to %d bytes", n)
	}
}

func TestZipWithSomethingAround(t *testing.T) {
	good, _, _, _, end := storedZip(t)
	for _, padding := range []string{"\x00\x00\x00", "\x1A\x1A"} { // of transfers in blocks
		dumps, err := Load("set.zip", append(bytes.Clone(good), padding...))
		require.NoError(t, err)
		assert.Empty(t, dumps[0].Notes)
	}
	dumps, err := Load("set.zip", append(bytes.Clone(good), "more"...))
	require.NoError(t, err)
	assert.Equal(t, []string{"Left out: 4 bytes after the end of the zip archive, from offset 0x10A on."}, dumps[1].Notes)

	for _, mark := range []string{"PK\x07\x08", "PK00"} { // of a split archive that fitted into one file: offsets count it
		data := append([]byte(mark), good...)
		for at := 4; ; {
			next := bytes.Index(data[at:], zipEntryMark)
			if next < 0 {
				break
			}
			at += next + 42
			binary.LittleEndian.PutUint32(data[at:], binary.LittleEndian.Uint32(data[at:])+4)
		}
		binary.LittleEndian.PutUint32(data[4+end+16:], binary.LittleEndian.Uint32(data[4+end+16:])+4)
		dumps, err := Load("set.zip", data)
		require.NoError(t, err)
		assert.Len(t, dumps, 2)
	}
}

// What was odd about the packings is told of each member, and what is odd about one member of that one only.
func TestNotesOfMembers(t *testing.T) {
	inner := append(zipped(t, "a.txt", "4E 56 FF F8", "b.bin", "x", "c.bin", "\x1F\x8B\x08\xFF"), "more"...)
	middle := append(gzipped(t, gzip.Header{}, string(inner)), "more"...)
	dumps, err := Load("set.zip.gz.gz", append(gzipped(t, gzip.Header{}, string(middle)), "more"...))
	require.NoError(t, err)
	require.Len(t, dumps, 3)
	for i, count := range []int{4, 3, 4} {
		assert.Len(t, dumps[i].Notes, count, dumps[i].Name)
		assert.Equal(t, dumps[1].Notes, dumps[i].Notes[:3])
	}
	assert.Contains(t, dumps[0].Notes[3], "hex digits")
	assert.Contains(t, dumps[2].Notes[3], "mark of gzip")
}

func TestZipOfTooManyFiles(t *testing.T) {
	var files []string
	for i := range MaxDumps + 10 {
		files = append(files, fmt.Sprintf("%03d.bin", i), []string{"x", ""}[i%2])
	}
	dumps, err := Load("set.zip", zipped(t, files...))
	assert.Len(t, dumps, MaxDumps/2)
	problems := Problems(err)
	require.Len(t, problems, MaxDumps/2+1)
	assert.EqualError(t, problems[0], "001.bin: the file is empty; read the chip again")
	assert.EqualError(t, problems[MaxDumps/2], "only 256 of 266 of its files were looked at: one file may hold 256 dumps; unpack it and open some of them")
}

// gzipBomb packs n zeros, in a few hundred bytes for each MiB.
func gzipBomb(t testing.TB, n int) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	require.NoError(t, err)
	zeros := make([]byte, 1<<20)
	for range n >> 20 {
		_, err := w.Write(zeros)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// allocated returns how many bytes a call allocates in all.
func allocated(call func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	call()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

func TestBombs(t *testing.T) {
	bomb := gzipBomb(t, 200<<20)
	used := allocated(func() {
		dumps, err := Load("zeros.gz", bomb)
		require.Error(t, err)
		assert.Empty(t, dumps)
		assert.Regexp(t, `^offset 0x[0-9A-F]+: more than 64 MiB come out of the packed data, stopped after [0-9,]+ of [0-9,]+ packed bytes; a dump holds no more$`,
			err.Error())
	})
	assert.Less(t, used, uint64(MaxBytes+1<<20))

	lying := bytes.Clone(bomb)
	copy(lying[len(lying)-4:], "\x01\x00\x00\x00") // so that the room must grow as it comes
	used = allocated(func() {
		_, err := Load("zeros.gz", lying)
		assert.Error(t, err)
	})
	assert.Less(t, used, uint64(3*MaxBytes), "each time at least twice the room before, of which the last two are there at once")

	small := gzipped(t, gzip.Header{}, "small")
	copy(small[len(small)-4:], "\xFF\xFF\xFF\x7F")
	used = allocated(func() {
		_, err := Load("small.gz", small)
		assert.EqualError(t, err, "offset 0x19: unpacked length is given as 2,147,483,647 bytes, but 5 came out; get the file again")
	})
	assert.Less(t, used, uint64(1<<20), "a declared size is not believed")
}

// All that comes out of one file is bounded, not only each member; what was unpacked before that is kept.
func TestBombOfManyMembers(t *testing.T) {
	packed := zipped(t, "0.bin", strings.Repeat("\x00", 60<<20))
	one, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	require.NoError(t, err)
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := range 6 { // packed once
		member := *one.File[0]
		member.Name = fmt.Sprintf("%d.bin", i)
		require.NoError(t, w.Copy(&member))
	}
	require.NoError(t, w.Close())
	dumps, err := Load("set.zip", b.Bytes())
	assert.Len(t, dumps, 4)
	problems := Problems(err)
	require.Len(t, problems, 2)
	for _, problem := range problems {
		assert.Regexp(t, `^[45].bin: offset 0x[0-9A-F]+: more than 16 MiB come out of the packed data, stopped after [0-9,]+ of [0-9,]+ packed bytes; `+
			`that is what was left of 256 MiB for one file$`, problem.Error())
	}
}

// Text of records may be larger than a dump, packed too.
func TestLargeTextInGzip(t *testing.T) {
	block := bytes.Repeat(noise(250, 6), 263)[:1<<16] // lines alike, which are packed fast
	lines := strings.TrimSuffix(writeHex(Dump{Bytes: block}, 250), hexLine(hexEnd, 0))
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	require.NoError(t, err)
	blocks := MaxBytes/len(lines) + 1
	for i := range blocks {
		_, err = io.WriteString(w, hexLine(hexLinearBase, 0, byte(i>>8), byte(i))+lines)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	dumps, err := Load("u7.gz", b.Bytes())
	require.NoError(t, err)
	assert.True(t, bytes.Equal(bytes.Repeat(block, blocks), dumps[0].Bytes))
}

// Reference: Go's archive/zip reads the same members with the same contents.
func TestZipAgainstGo(t *testing.T) {
	var files []string
	for i := range 40 {
		files = append(files, fmt.Sprintf("%d/%d.bin", i%3, i), string(noise(1+i*i*37, uint64(i)))+strings.Repeat("text", i))
	}
	data := zipped(t, files...)
	dumps, err := Load("set.zip", data)
	require.NoError(t, err)
	theirs, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	require.Len(t, dumps, len(theirs.File))
	for i, f := range theirs.File {
		r, err := f.Open()
		require.NoError(t, err)
		content, err := io.ReadAll(r)
		require.NoError(t, err)
		assert.Equal(t, f.Name, dumps[i].Name)
		assert.True(t, bytes.Equal(content, dumps[i].Bytes))
	}
}
