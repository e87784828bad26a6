package dump

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// loadOne loads a file that holds one dump and no problem.
func loadOne(t testing.TB, text string) Dump {
	t.Helper()
	dumps, err := Load("u7.hex", []byte(text))
	require.NoError(t, err)
	require.Len(t, dumps, 1)
	return dumps[0]
}

// Records as in the specification's chapters (Intel, "Hexadecimal Object File Format Specification", Rev. A, 1988); the
// example image is the one printed in encyclopaedias' articles on Intel HEX. Both from memory.
const (
	publishedHex = ":10010000214601360121470136007EFE09D2190140\n" +
		":100110002146017E17C20001FF5F16002148011928\n" +
		":10012000194E79234623965778239EDA3F01B2CAA7\n" +
		":100130003F0156702B5E712B722B732146013421C7\n" +
		":00000001FF\n"
	publishedSegmentBase = ":020000021200EA\n"
	publishedLinearStart = ":04000005000000CD2A\n"
)

func TestHexOfPublishedExamples(t *testing.T) {
	d := loadOne(t, publishedHex)
	assert.Equal(t, HEX, d.Format)
	assert.EqualValues(t, 0x100, d.Base)
	assert.Len(t, d.Bytes, 64)
	assert.Equal(t, []byte{0x21, 0x46, 0x01, 0x36}, d.Bytes[:4])
	assert.Equal(t, []byte{0x46, 0x01, 0x34, 0x21}, d.Bytes[60:])
	assert.Nil(t, d.Gaps)
	assert.Nil(t, d.Start)
	assert.Empty(t, d.Notes)

	assert.EqualValues(t, 0x12100, loadOne(t, publishedSegmentBase+publishedHex).Base, "segment 1200 begins at 12000")
	assert.EqualValues(t, 0xCD, *loadOne(t, publishedLinearStart+publishedHex).Start)
}

// Rules of the specification that no example shows.
func TestHexRules(t *testing.T) {
	end := hexLine(hexEnd, 0)
	tests := []struct {
		bytes []byte
		base  uint64
		gaps  []Range
		notes []string
		name  string
		text  string
	}{
		{[]byte{1, 2}, 0xFFFE, nil, nil, "8-bit addresses need no base", hexLine(hexData, 0xFFFE, 1, 2) + end},
		{[]byte{1, 2}, 0xFFFFE, nil, nil, "a segment base counts in 16 bytes",
			hexLine(hexSegmentBase, 0, 0xF0, 0x00) + hexLine(hexData, 0xFFFE, 1, 2) + end},
		{[]byte{1, 2}, 0x10FFEE, nil, nil, "segment and offset add up to more than 1 MiB",
			hexLine(hexSegmentBase, 0, 0xFF, 0xFF) + hexLine(hexData, 0xFFFE, 1, 2) + end},
		{[]byte{1, 2}, 0xFFFF0010, nil, nil, "a linear base is bits 16 to 31",
			hexLine(hexLinearBase, 0, 0xFF, 0xFF) + hexLine(hexData, 0x10, 1, 2) + end},
		{[]byte{1, 2, 3, 4}, 0x8000FFFE, nil, nil, "records under a linear base cross multiples of 64 KiB",
			hexLine(hexLinearBase, 0, 0x80, 0x00) + hexLine(hexData, 0xFFFE, 1, 2, 3, 4) + end},
		{[]byte{1, 2}, 0x00020000, nil, nil, "a linear base replaces a segment base",
			hexLine(hexSegmentBase, 0, 0x10, 0x00) + hexLine(hexLinearBase, 0, 0x00, 0x02) + hexLine(hexData, 0, 1, 2) + end},
		{[]byte{1, 2}, 0x00010000, nil, nil, "and a segment base replaces a linear base",
			hexLine(hexLinearBase, 0, 0x00, 0x02) + hexLine(hexSegmentBase, 0, 0x10, 0x00) + hexLine(hexData, 0, 1, 2) + end},
		{[]byte{1, 2, 0xFF, 0xFF, 5}, 0x10, []Range{{2, 4}}, nil, "a gap is kept and reads FF",
			hexLine(hexData, 0x10, 1, 2) + hexLine(hexData, 0x14, 5) + end},
		{[]byte{1, 2, 0xFF, 0xFF, 5}, 0x10, []Range{{2, 4}}, nil, "records may stand in any order",
			hexLine(hexData, 0x14, 5) + hexLine(hexData, 0x10, 1, 2) + end},
		{[]byte{1, 2}, 0, nil, nil, "a record without data covers nothing",
			hexLine(hexData, 0, 1, 2) + hexLine(hexData, 0x40) + end},
		{[]byte{1, 2}, 0, nil, []string{"There is no end record; the file may have been cut short."}, "the end record may be missing",
			hexLine(hexData, 0, 1, 2)},
		{[]byte{1, 2}, 0, nil, []string{"Left out: 2 lines after the end record, from line 3 on; " +
			"if they hold another image, save them as a file of their own."}, "lines after the end record are left out",
			hexLine(hexData, 0, 1, 2) + end + hexLine(hexData, 8, 3) + "\n:damaged\n"},
		{[]byte{1, 2, 3}, 0x20, nil, []string{"On 2 lines (the first is line 2) bytes are given a second time, with the same values."},
			"the same bytes twice are odd but no error", hexLine(hexData, 0x20, 1, 2) + strings.Repeat(hexLine(hexData, 0x21, 2, 3), 2) + end},
		{[]byte{1, 2}, 0, nil, []string{"The end record holds the address 0100; older writers put the start address there."},
			"an address in the end record is told", hexLine(hexData, 0, 1, 2) + hexLine(hexEnd, 0x100)},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := loadOne(t, test.text)
			assert.Equal(t, test.bytes, d.Bytes)
			assert.Equal(t, test.base, d.Base)
			assert.Equal(t, test.gaps, d.Gaps)
			assert.Equal(t, test.notes, d.Notes)
		})
	}
}

// Offsets wrap round within a segment of 64 KiB and within the linear space of 4 GiB (specification, data record and the
// two base records). Such a record leaves two pieces far apart.
func TestHexWraps(t *testing.T) {
	const note = "On 1 line (the first is line 2) a record runs over the end of the 64 KiB segment or of the 4 GiB address space and goes on at its " +
		"beginning, as the specification says."
	d := loadOne(t, hexLine(hexSegmentBase, 0, 0x20, 0x00)+hexLine(hexData, 0xFFFE, 1, 2, 3, 4)+hexLine(hexEnd, 0))
	assert.EqualValues(t, 0x20000, d.Base)
	assert.Equal(t, []byte{3, 4}, d.Bytes[:2])
	assert.Equal(t, []byte{1, 2}, d.Bytes[0xFFFE:])
	assert.Equal(t, []Range{{2, 0xFFFE}}, d.Gaps)
	assert.Equal(t, []string{note}, d.Notes)

	dumps, err := Load("top.hex", []byte(hexLine(hexLinearBase, 0, 0xFF, 0xFF)+hexLine(hexData, 0xFFFE, 1, 2, 3, 4)+hexLine(hexEnd, 0)))
	require.NoError(t, err)
	require.Len(t, dumps, 2, "4 GiB apart")
	assert.Equal(t, []byte{3, 4}, dumps[0].Bytes)
	assert.EqualValues(t, 0, dumps[0].Base)
	assert.Equal(t, []byte{1, 2}, dumps[1].Bytes)
	assert.EqualValues(t, 0xFFFFFFFE, dumps[1].Base)
	assert.Equal(t, "top.hex at FFFFFFFE", dumps[1].Name)
	assert.Equal(t, []string{note, "The records span more than the 64 MiB that one dump holds; they were cut at the widest gaps into 2 dumps."},
		dumps[1].Notes)
}

// CS:IP of an 8086 names a byte at 16 times CS plus IP (start segment address record); EIP is linear.
func TestHexStart(t *testing.T) {
	data := hexLine(hexData, 0, 1)
	assert.EqualValues(t, 0x3800, *loadOne(t, ":0400000300003800C1\n"+data).Start, "published example, from memory")
	assert.EqualValues(t, 0xFFFF0, *loadOne(t, hexLine(hexSegmentStart, 0, 0xFF, 0xFF, 0, 0)+data).Start, "the 8086's reset")
	assert.EqualValues(t, 0xFFFFFFF0, *loadOne(t, hexLine(hexLinearStart, 0, 0xFF, 0xFF, 0xFF, 0xF0)+data).Start)
}

func TestHexFormsOfText(t *testing.T) {
	want := loadOne(t, publishedHex).Bytes
	tests := []struct{ name, text string }{
		{"CRLF", strings.ReplaceAll(publishedHex, "\n", "\r\n")},
		{"CR", strings.ReplaceAll(publishedHex, "\n", "\r")},
		{"LF and blank lines", strings.ReplaceAll(publishedHex, "\n", "\n\n")},
		{"no line end at the end", strings.TrimSuffix(publishedHex, "\n")},
		{"lower case", strings.ToLower(publishedHex)},
		{"blanks around lines", strings.ReplaceAll(publishedHex, ":", "  :") + " \t"},
		{"blanks behind lines", strings.ReplaceAll(publishedHex, "\n", " \t\n")},
		{"1A at the end", publishedHex + "\x1A"},
		{"NUL up to a block's end", publishedHex + strings.Repeat("\x00", 1000)},
		{"1A up to a block's end", publishedHex + strings.Repeat("\x1A", 100_000)},
		{"NULs before, as on a tape's leader", strings.Repeat("\x00", 100) + publishedHex},
		{"UTF-8 byte order mark", "\xEF\xBB\xBF" + publishedHex},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := loadOne(t, test.text)
			assert.Equal(t, HEX, d.Format)
			assert.Equal(t, want, d.Bytes)
			assert.Empty(t, d.Notes)
		})
	}
}

// hexErrors is what is wrong with a text and what is said about it.
var hexErrors = []struct{ want, name, text string }{
	{"line 2: record checksum is 29, computed 28", "checksum", strings.Replace(publishedHex, "1928\n", "1929\n", 1)},
	{"line 1: record checksum is 40, computed 3F", "a changed digit", strings.Replace(publishedHex, ":1001000021", ":1001000022", 1)},
	{`line 3, column 12: "O" is not a hex digit; correct it or read the chip again`, "a letter for a digit",
		strings.Replace(publishedHex, ":10012000194E", ":1001200019OE", 1)},
	{"line 4, column 9: byte B0 is not a hex digit; correct it or read the chip again", "parity left in a byte",
		strings.Replace(publishedHex, ":100130003F", ":1001300\xB03F", 1)},
	{"line 4: record has 40 hex digits, its length field 10 asks for 42; the line was cut or joined", "short line",
		strings.Replace(publishedHex, "13421C7", "13421", 1)},
	{"line 1: record has 84 hex digits, its length field 10 asks for 42; the line was cut or joined", "a lost line end and mark",
		strings.Replace(publishedHex, "40\n:", "40", 1)},
	{`line 1, column 44: ":" is not a hex digit; correct it or read the chip again`, "a lost line end",
		strings.Replace(publishedHex, "40\n:", "40:", 1)},
	{`line 1, column 3: found "1" where a record begins with ":"; if the line is a remark, delete it`, "a lost mark, indented",
		"  " + publishedHex[1:]},
	{`line 1, column 1: found ";" where a record begins with ":"; if the line is a remark, delete it`, "a remark", "; u7\n" + publishedHex},
	{"line 5: the line ends before the record's length; get the file again", "a mark alone", strings.Replace(publishedHex, ":00000001FF", ":", 1)},
	{"line 5: record type is 06, expected 00 to 05; the specification knows no other", "unknown type",
		strings.Replace(publishedHex, ":00000001FF", ":00000006FA", 1)},
	{"line 1: record of type 02 holds 3 data bytes, expected 2; get the file again", "segment base too long",
		hexLine(hexSegmentBase, 0, 1, 2, 3) + publishedHex},
	{"line 1: record of type 04 holds 0 data bytes, expected 2; get the file again", "linear base empty", hexLine(hexLinearBase, 0) + publishedHex},
	{"line 1: record of type 03 holds 1 data byte, expected 4; get the file again", "start too short", hexLine(hexSegmentStart, 0, 1) + publishedHex},
	{"line 1: record of type 05 holds 5 data bytes, expected 4; get the file again", "start too long",
		hexLine(hexLinearStart, 0, 1, 2, 3, 4, 5) + publishedHex},
	{"line 1: record of type 01 holds 1 data byte, expected 0; get the file again", "data in the end record", hexLine(hexEnd, 0, 1) + publishedHex},
	{"line 3: address 000012 is 22 here, but 03 on line 2; keep the record that is right", "a contradiction",
		hexLine(hexData, 0x20, 9) + hexLine(hexData, 0x10, 1, 2, 3, 4) + hexLine(hexData, 0x11, 2, 0x22, 0x33) + hexLine(hexEnd, 0)},
	{"the file holds no data records; read the chip again", "nothing but the end", hexLine(hexEnd, 0)},
}

func TestHexErrors(t *testing.T) {
	for _, test := range hexErrors {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7.hex", []byte(test.text))
			assert.EqualError(t, err, test.want)
			assert.Empty(t, dumps)
			var wrong *FormatError
			require.ErrorAs(t, err, &wrong)
			assert.Equal(t, HEX, wrong.Format)
		})
	}
}

// Every way of cutting a file short gives an error or a note, never a silent loss.
func TestHexCutAnywhere(t *testing.T) {
	for n := 1; n < len(publishedHex)-1; n++ {
		dumps, err := Load("u7.hex", []byte(publishedHex[:n]))
		if err != nil {
			continue
		}
		require.Len(t, dumps, 1)
		if n < 9 { // ":1001000" could be anything
			continue
		}
		assert.Equal(t, HEX, dumps[0].Format, "cut to %d", n)
		assert.NotEmpty(t, dumps[0].Notes, "cut to %d", n)
	}
}
