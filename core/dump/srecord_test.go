package dump

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The example of "M68000 Family Programmer's Reference Manual", Appendix C, "S-Record Creation", from memory; its
// checksums hold.
const publishedSRecords = "S00600004844521B\n" +
	"S1130000285F245F2212226A000424290008237C2A\n" +
	"S11300100002000800082629001853812341001813\n" +
	"S113002041E900084E42234300182342000824A952\n" +
	"S107003000144ED492\n" +
	"S9030000FC\n"

func TestSRecordsOfThePublishedExample(t *testing.T) {
	d := loadOne(t, publishedSRecords)
	assert.Equal(t, SRecord, d.Format)
	assert.EqualValues(t, 0, d.Base)
	assert.Len(t, d.Bytes, 0x34)
	assert.Equal(t, []byte{0x28, 0x5F, 0x24, 0x5F}, d.Bytes[:4])
	assert.Equal(t, []byte{0x00, 0x14, 0x4E, 0xD4}, d.Bytes[0x30:])
	assert.Nil(t, d.Gaps)
	assert.Nil(t, d.Start, "address 0 in the end record says nothing")
	assert.Equal(t, []string{"The header record says: HDR"}, d.Notes)
}

func TestSRecordRules(t *testing.T) {
	tests := []struct {
		bytes []byte
		base  uint64
		start uint64 // 0 for none
		notes []string
		name  string
		text  string
	}{
		{[]byte{1, 2}, 0xFFFE, 0x1234, nil, "S1 has 16-bit addresses, ends with S9",
			sLine('1', 2, 0xFFFE, 1, 2) + sLine('9', 2, 0x1234)},
		{[]byte{1, 2}, 0xFFFFFE, 0x123456, nil, "S2 has 24-bit addresses, ends with S8",
			sLine('2', 3, 0xFFFFFE, 1, 2) + sLine('8', 3, 0x123456)},
		{[]byte{1, 2}, 0xFFFFFFFE, 0x12345678, nil, "S3 has 32-bit addresses, ends with S7",
			sLine('3', 4, 0xFFFFFFFE, 1, 2) + sLine('7', 4, 0x12345678)},
		{[]byte{1, 2}, 0, 0, nil, "S5 counts the data records of all kinds before it",
			sLine('0', 2, 0) + sLine('1', 2, 0, 1) + sLine('3', 4, 1, 2) + sLine('5', 2, 2) + sLine('9', 2, 0)},
		{[]byte{1, 2}, 0, 0, nil, "S6 does so in 24 bits",
			sLine('2', 3, 0, 1) + sLine('2', 3, 1, 2) + sLine('6', 3, 2) + sLine('8', 3, 0)},
		{[]byte{1}, 0, 0, []string{"There is no end record; the file may have been cut short."}, "the end may be missing", sLine('1', 2, 0, 1)},
		{[]byte{1}, 0, 0, []string{"Left out: 1 line after the end record, from line 4 on; " +
			"if they hold another image, save them as a file of their own."}, "what follows the end is left out",
			sLine('1', 2, 0, 1) + sLine('9', 2, 0) + "\n" + sLine('1', 2, 8, 1)},
		{[]byte{1, 2, 3}, 0xFFFE, 0, []string{"On 1 line (the first is line 1) a record runs past the highest address of its type " +
			"and was taken to go on above it."}, "addresses go on above the field's end", sLine('1', 2, 0xFFFE, 1, 2, 3) + sLine('9', 2, 0)},
		{[]byte{1}, 0, 0, []string{"The header record says: U7.V1.2"}, "what cannot be printed in a header is a dot",
			sLine('0', 2, 0, []byte("U7\x01V1\xFF2\x00\x00")...) + sLine('1', 2, 0, 1) + sLine('9', 2, 0)},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := loadOne(t, test.text)
			assert.Equal(t, SRecord, d.Format)
			assert.Equal(t, test.bytes, d.Bytes)
			assert.Equal(t, test.base, d.Base)
			assert.Equal(t, test.notes, d.Notes)
			if test.start == 0 {
				assert.Nil(t, d.Start)
			} else {
				require.NotNil(t, d.Start)
				assert.Equal(t, test.start, *d.Start)
			}
		})
	}
}

// An S5 counts as far as its 16 bits reach: 65,537 records are 0001.
func TestSRecordCountBeyondItsField(t *testing.T) {
	var b strings.Builder
	for address := range uint64(1<<16 + 1) {
		b.WriteString(sLine('3', 4, address, byte(address)))
	}
	assert.Len(t, loadOne(t, b.String()+sLine('5', 2, 1)).Bytes, 1<<16+1)
	assert.Len(t, loadOne(t, b.String()+sLine('6', 3, 1<<16+1)).Bytes, 1<<16+1)
	_, err := Load("u7.s19", []byte(b.String()+sLine('6', 3, 1)))
	assert.EqualError(t, err, "line 65538: count record says 1 data record, found 65,537; lines are missing or doubled")
}

// sRecordErrors is what is wrong with a text and what is said about it.
var sRecordErrors = []struct{ want, name, text string }{
	{"line 3: record checksum is 14, computed 13", "checksum", strings.Replace(publishedSRecords, "1813\n", "1814\n", 1)},
	{"line 1: record checksum is 1B, computed 1C", "header checksum", strings.Replace(publishedSRecords, "484452", "474452", 1)},
	{"line 6: record checksum is FD, computed FC", "end checksum", strings.Replace(publishedSRecords, "FC\n", "FD\n", 1)},
	{`line 5, column 5: "O" is not a hex digit; correct it or read the chip again`, "a letter for a digit",
		strings.Replace(publishedSRecords, "S10700", "S107O0", 1)},
	{"line 5: record has 14 hex digits, its length field 07 asks for 16; the line was cut or joined", "short line",
		strings.Replace(publishedSRecords, "D492", "D4", 1)},
	{"line 2: record type S4 is reserved and has no meaning; get the file again", "S4", strings.Replace(publishedSRecords, "S1130000", "S4130000", 1)},
	{`line 2, column 2: record type is "A", expected 0 to 9`, "a letter for the type", strings.Replace(publishedSRecords, "S1130000", "SA130000", 1)},
	{"line 6: the line ends before the record's type; get the file again", "S alone", strings.Replace(publishedSRecords, "S9030000FC", "S", 1)},
	{`line 3, column 1: found "1" where a record begins with "S"; if the line is a remark, delete it`, "a lost mark",
		strings.Replace(publishedSRecords, "S1130010", "1130010", 1)},
	{"line 6: count record says 5 data records, found 4; lines are missing or doubled", "S5",
		strings.Replace(publishedSRecords, "S9", sLine('5', 2, 5)+"S9", 1)},
	{"line 6: count record says 65,540 data records, found 4; lines are missing or doubled", "S6",
		strings.Replace(publishedSRecords, "S9", sLine('6', 3, 0x10004)+"S9", 1)},
	{"line 1: length field of an S3 record is 04, expected at least 05; get the file again", "no room for the address",
		"S304000000FB\n" + publishedSRecords},
	{"line 6: length field of an S9 record is 04, expected 03: it holds no data", "data in the end record",
		strings.Replace(publishedSRecords, "S9030000FC", sLine('9', 2, 0, 1), 1)},
	{"line 1: length field of an S5 record is 05, expected 03: it holds no data", "data in a count record", sLine('5', 2, 0, 1, 2) + publishedSRecords},
	{"line 3: address 000002 is 09 here, but 03 on line 1; keep the record that is right", "a contradiction",
		sLine('1', 2, 0, 1, 2, 3) + sLine('1', 2, 4, 5) + sLine('1', 2, 2, 9) + sLine('9', 2, 0)},
	{"the file holds no data records; read the chip again", "no data", "S00600004844521B\nS9030000FC\n"},
}

func TestSRecordErrors(t *testing.T) {
	for _, test := range sRecordErrors {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7.s19", []byte(test.text))
			assert.EqualError(t, err, test.want)
			assert.Empty(t, dumps)
			var wrong *FormatError
			require.ErrorAs(t, err, &wrong)
			assert.Equal(t, SRecord, wrong.Format)
		})
	}
}

func TestSRecordFormsOfText(t *testing.T) {
	want := loadOne(t, publishedSRecords)
	for _, text := range []string{
		strings.ReplaceAll(publishedSRecords, "\n", "\r\n"),
		strings.ReplaceAll(publishedSRecords, "\n", "\r"),
		strings.ToLower(publishedSRecords),
		strings.ReplaceAll(publishedSRecords, "\n", "  \n\n"),
		publishedSRecords + "\x1A\x00\x00",
	} {
		assert.Equal(t, want, loadOne(t, text))
	}
}
