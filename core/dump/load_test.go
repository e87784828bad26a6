package dump

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestRawIsNotCopied(t *testing.T) {
	data := noise(1000, 1)
	dumps, err := Load("U41.bin", data)
	require.NoError(t, err)
	require.Len(t, dumps, 1)
	assert.Equal(t, Dump{Name: "U41.bin", Bytes: data, Format: Raw}, dumps[0])
	assert.Same(t, &data[0], &dumps[0].Bytes[0])
}

// What a file is follows from its bytes; its name is wrong here throughout.
func TestRecognition(t *testing.T) {
	rom := noise(64<<10, 7)
	with := func(head string) []byte { return append([]byte(head), rom...) }
	tests := []struct {
		want Format
		name string
		data []byte
	}{
		{Raw, "noise", rom},
		{Raw, "a ROM that begins with 3A", with(":")},
		{Raw, "a ROM that begins with a record", with(publishedHex[:44])},
		{Raw, "a ROM that begins with an S-record", with(publishedSRecords[:17])},
		{Raw, "a ROM that begins with a page of records", with(strings.Repeat(publishedHex[:44], 100))},
		{Raw, "a ROM that ends with a page of records", append(noise(64<<10, 8), strings.Repeat(publishedHex[:44], 100)...)},
		{Raw, "four bytes of a zip's mark too few", []byte("PK\x03")},
		{Raw, "a blank chip", bytes.Repeat([]byte{0xFF}, 4096)},
		{Raw, "a chip full of 00", make([]byte, 4096)},
		{Raw, "a chip full of 3A", bytes.Repeat([]byte(":"), 4096)},
		{Raw, "text", []byte(strings.Repeat("Sooner or later a bench needs light.\r\n", 100))},
		{Raw, "one byte", []byte{0x3A}},
		{HEX, "records", []byte(publishedHex)},
		{HEX, "one record", []byte(publishedHex[:44])},
		{HEX, "many records", []byte(writeHex(Dump{Bytes: rom}, 16))},
		{HEX, "records padded with NULs to a larger file", []byte(publishedHex + strings.Repeat("\x00", 64<<10))},
		{HEX, "the longest records", []byte(writeHex(Dump{Bytes: rom}, 255))},
		{SRecord, "S-records", []byte(publishedSRecords)},
		{SRecord, "the longest S-records", []byte(writeSRecords(Dump{Bytes: rom}, 250))},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			for _, name := range []string{"u7.bin", "u7.hex", "u7.s19", "u7.zip", ""} {
				dumps, err := Load(name, test.data)
				require.NoError(t, err)
				require.Len(t, dumps, 1)
				assert.Equal(t, test.want, dumps[0].Format)
				assert.Equal(t, name, dumps[0].Name)
				if test.want == Raw {
					assert.True(t, bytes.Equal(test.data, dumps[0].Bytes))
				}
			}
		})
	}
}

// Text that is plainly records is never taken as raw bytes because it is damaged, wherever the damage is.
func TestDamagedRecordsAreNotRaw(t *testing.T) {
	whole := writeHex(Dump{Bytes: noise(64<<10, 9)}, 16)
	length := len(whole)
	middle := length/2 - 2048
	tests := []struct{ want, name, text string }{
		{"line 1, column 4: byte 00 is not a hex digit; correct it or read the chip again", "the head is noughts",
			whole[:3] + strings.Repeat("\x00", 5000) + whole[5003:]},
		{"line 1, column 1: found byte FF where a record begins with \":\"; if the line is a remark, delete it", "the head is blank",
			strings.Repeat("\xFF", 5000) + whole[5000:]},
		{"line 2002, column 27: byte FF is not a hex digit; correct it or read the chip again", "the middle is blank",
			whole[:middle] + strings.Repeat("\xFF", 4096) + whole[middle+4096:]},
		{"line 4093: record has 29 hex digits, its length field 10 asks for 42; the line was cut or joined", "the end is cut off",
			whole[:length-11-3*44-15]},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7.bin", []byte(test.text))
			assert.EqualError(t, err, test.want)
			assert.Empty(t, dumps)
		})
	}
}

// What raw binary looks like besides is told.
func TestNotesOfRaw(t *testing.T) {
	wide := func(low, high int) []byte {
		var b []byte
		for _, c := range utf16.Encode([]rune("\uFEFF" + publishedHex)) {
			pair := [2]byte{}
			pair[low], pair[high] = byte(c), byte(c>>8)
			b = append(b, pair[:]...)
		}
		return b
	}
	const wideNote = "It is text of records in 16-bit characters (UTF-16), taken as raw binary; to read the records, save the text in plain ASCII and open that."
	tests := []struct {
		note, name string
		data       []byte
	}{
		{wideNote, "UTF-16, low byte first", wide(0, 1)},
		{wideNote, "UTF-16, high byte first", wide(1, 0)},
		{"It is text of hex digits, taken as raw binary; to read the bytes that it lists, paste the text.", "hex digits",
			[]byte("4E 56 FF F8\r\n48 E7 3F 3E\r\n")},
		{"It begins with the mark of gzip, 1F 8B 08, but with reserved flags; it was taken as raw binary.", "a gzip mark by chance",
			append([]byte("\x1F\x8B\x08\xFF"), noise(1000, 3)...)},
		{"It ends as a zip archive does but begins with something else; it was taken as raw binary. To reach the archive's members, unpack them first.",
			"a self-unpacking program", append(noise(1000, 4), zipped(t, "u7.bin", "content")...)},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7.bin", test.data)
			require.NoError(t, err)
			require.Len(t, dumps, 1)
			assert.Equal(t, Raw, dumps[0].Format)
			assert.Equal(t, []string{test.note}, dumps[0].Notes)
		})
	}
}

func TestEmptyAndTooLarge(t *testing.T) {
	for _, test := range []struct {
		want string
		data []byte
	}{
		{"the file is empty; read the chip again", nil},
		{"the file is empty; read the chip again", []byte{}},
		{"the file holds 67,108,865 bytes, a dump at most 64 MiB; cut it into parts", make([]byte, MaxBytes+1)},
	} {
		dumps, err := Load("u7.bin", test.data)
		assert.EqualError(t, err, test.want)
		assert.Empty(t, dumps)
	}
}

func TestProblemsAreListedOneByOne(t *testing.T) {
	_, err := Load("set.zip", zipped(t, "a.hex", publishedHex[:40], "b.bin", "", "c.bin", "good"))
	require.Error(t, err)
	assert.Equal(t, "a.hex: line 1: record has 39 hex digits, its length field 10 asks for 42; the line was cut or joined\n"+
		"b.bin: the file is empty; read the chip again", err.Error())
	problems := Problems(err)
	require.Len(t, problems, 2)
	var wrong *FormatError
	require.ErrorAs(t, problems[0], &wrong)
	assert.Equal(t, FormatError{Name: "a.hex", Format: HEX, Line: 1, Offset: -1, Message: wrong.Message}, *wrong)

	assert.Empty(t, Problems(nil))
	_, err = FromHexText("pasted", "4E 5")
	assert.Equal(t, []error{err}, Problems(err))
}
