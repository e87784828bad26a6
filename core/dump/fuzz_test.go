package dump

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The fuzz targets leave room for images of 1 MiB only, so that a few lines do not make each try fill 64 MiB.
const fuzzRoom = 1 << 20

// loadSmall is Load with fuzzRoom.
func loadSmall(data []byte) ([]Dump, Errors) {
	l := loader{room: fuzzRoom}
	l.load(file{name: "fuzz", data: data})
	return l.dumps, l.problems
}

// checkDump holds what is promised of every dump.
func checkDump(t *testing.T, d Dump) {
	t.Helper()
	require.NotEmpty(t, d.Bytes)
	require.LessOrEqual(t, len(d.Bytes), MaxBytes)
	require.LessOrEqual(t, len(d.Packing), MaxDepth)
	before := -1
	for _, gap := range d.Gaps {
		require.Greater(t, gap.From, before, "gaps ascend and do not touch")
		require.Greater(t, gap.To, gap.From)
		require.Less(t, gap.To, len(d.Bytes), "what lies behind the last record is no gap")
		require.Equal(t, bytes.Repeat([]byte{0xFF}, gap.Len()), d.Bytes[gap.From:gap.To])
		before = gap.To
	}
}

func FuzzLoad(f *testing.F) {
	for _, text := range seedTexts() {
		f.Add([]byte(text))
	}
	f.Add(zipped(f, "a/u7.hex", publishedHex, "b.gz", string(gzipped(f, gzip.Header{Name: "n"}, publishedSRecords))))
	f.Add(gzipped(f, gzip.Header{Comment: "c", Extra: []byte("e")}, "content"))
	for _, test := range append(gzipErrors(f), zipErrors(f)...) {
		f.Add(test.data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<18 {
			t.Skip("large")
		}
		dumps, problems := loadSmall(data)
		require.NotZero(t, len(dumps)+len(problems), "a file is loaded or there is a reason")
		require.LessOrEqual(t, len(dumps), MaxDumps)
		for _, d := range dumps {
			checkDump(t, d)
		}
		for _, problem := range problems {
			require.NotEmpty(t, problem.Error())
		}
	})
}

// seedTexts are the texts of all tables of tests.
func seedTexts() []string {
	texts := []string{publishedHex, publishedSRecords, publishedSegmentBase + publishedHex, publishedLinearStart,
		strings.ReplaceAll(publishedHex, "\n", "\r"), writeHex(withGaps(1, 300, 0x1FFF0), 16), writeSRecords(withGaps(2, 300, 0x1FFF0), 16)}
	for _, test := range hexErrors {
		texts = append(texts, test.text)
	}
	for _, test := range sRecordErrors {
		texts = append(texts, test.text)
	}
	return texts
}

func FuzzHex(f *testing.F)     { fuzzRecords(f, HEX, writeHex) }
func FuzzSRecord(f *testing.F) { fuzzRecords(f, SRecord, writeSRecords) }

// fuzzRecords checks that what can be read can be written and is then read the same.
func fuzzRecords(f *testing.F, format Format, write func(Dump, int) string) {
	for _, text := range seedTexts() {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<18 {
			t.Skip("large")
		}
		images, said, wrong := layOut(text, format, fuzzRoom)
		if wrong != nil {
			require.Empty(t, images)
			require.LessOrEqual(t, wrong.Line, bytes.Count(text, []byte("\n"))+bytes.Count(text, []byte("\r"))+1)
			return
		}
		for _, image := range images {
			d := Dump{Base: image.base, Bytes: image.bytes, Gaps: image.gaps, Start: said.start}
			checkDump(t, d)
			if d.Base+uint64(len(d.Bytes)) > 1<<32 {
				continue // a record that runs past the top cannot be written
			}
			again, saidAgain, wrong := layOut([]byte(write(d, 16)), format, fuzzRoom)
			require.Nil(t, wrong)
			require.Equal(t, []imageView{{image.base, string(image.bytes), fmt.Sprint(image.gaps)}}, views(again))
			if format == HEX || said.start != nil {
				require.Equal(t, said.start, saidAgain.start)
			}
		}
	})
}

// An imageView is an image in a form that a failed test prints.
type imageView struct {
	base        uint64
	bytes, gaps string
}

func views(images []image) (views []imageView) {
	for _, image := range images {
		views = append(views, imageView{image.base, string(image.bytes), fmt.Sprint(image.gaps)})
	}
	return views
}

// FuzzZip compares with Go's archive/zip: what both can read, they read the same.
func FuzzZip(f *testing.F) {
	stored, _, _, _, _ := storedZip(f)
	f.Add(stored)
	f.Add(zipped(f, "a.bin", strings.Repeat("content", 100), "b/", "", "b/c.bin", "x"))
	for _, test := range zipErrors(f) {
		f.Add(test.data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<18 {
			t.Skip("large")
		}
		entries, end, wrong := zipDirectory(data)
		require.LessOrEqual(t, end, len(data))
		if wrong != nil {
			return
		}
		theirs, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			return
		}
		var files []*zip.File
		for _, file := range theirs.File {
			if !strings.HasSuffix(file.Name, "/") {
				files = append(files, file)
			}
		}
		l := loader{room: fuzzRoom}
		for i, entry := range entries {
			content, wrong := l.zipMember(data, entry)
			if wrong != nil || i >= len(files) {
				continue
			}
			file := files[i]
			if offset, err := file.DataOffset(); err != nil || int(offset) > len(data) || file.CRC32 != entry.crc {
				continue
			}
			r, err := file.Open()
			if err != nil {
				continue
			}
			want, err := io.ReadAll(io.LimitReader(r, fuzzRoom))
			if err == nil {
				require.True(t, bytes.Equal(want, content), entry.name)
			}
		}
	})
}

// FuzzHexText checks that the bytes of a listing, written plainly, are read as the same.
func FuzzHexText(f *testing.F) {
	for _, test := range listingErrors {
		f.Add(test.text)
	}
	for _, text := range []string{
		"4E 56 FF F8", "0x4E56, 0xFFF8", "00: 4142 2020  AB", "00: 4141\n*\n06: 42", "C030 4E56 FFF8\nC034 48E7 3F3E",
		"00000000  41 42 43 44 45 46 47 48  49 4a 4b 4c 4d 4e 4f 50  |ABCDEFGHIJKLMNOP|\n00000010\n", "0000000 101\n0000001 *\n",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			t.Skip("large")
		}
		if format, ok := recordText([]byte(text)); ok {
			t.Skip(format, " has a target of its own")
		}
		d, err := FromHexText("fuzz", text)
		if err != nil {
			require.Zero(t, d)
			return
		}
		if len(d.Bytes) > 1<<18 {
			t.Skip("many stars")
		}
		again, err := FromHexText("again", fmt.Sprintf("% X", d.Bytes))
		require.NoError(t, err)
		require.True(t, bytes.Equal(d.Bytes, again.Bytes))
		assert.Zero(t, again.Base)
	})
}
