package dump

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/outside"
)

const (
	addressNote = "The first word of each line, %s on the first, was taken as an address."
	orderNote   = "Words were taken high byte first, as they are written; " +
		"if the listing was made on a machine that stores the low byte first, the bytes are swapped."
)

// Ways in which people write bytes down. Common practice, no source.
func TestFromHexText(t *testing.T) {
	notes := func(notes ...string) []string { return notes }
	address := func(word string) string { return fmt.Sprintf(addressNote, word) }
	tests := []struct {
		want  string // hex
		base  uint64
		notes []string
		name  string
		text  string
	}{
		{"4E56FFF8", 0, nil, "bytes", "4E 56 FF F8"},
		{"4E56FFF8", 0, nil, "lower case, commas, tabs, lines", "4e,56\tff,\r\n f8\n"},
		{"4E56FFF8", 0, nil, "words", "4E56 FFF8"},
		{"4E56FFF8", 0, nil, "one run of digits", "4E56FFF8"},
		{"4E56FFF848E7", 0, nil, "runs over lines", "4E56\nFFF8\n48E7"},
		{"4E05", 0, nil, "0x", "0x4E, 0X5,"},
		{"4E56FFF8", 0, notes(orderNote), "0x words", "0x4E56, 0xFFF8"},
		{"4E56", 0, nil, "no-break spaces", "4E\u00a056"},
		{"4E56FFF8", 0xFC00, nil, "a colon makes an address", "FC00: 4E 56 FF F8"},
		{"4E56FFF8", 0xFC, nil, "of any length", "FC: 4E56\nFE: FFF8"},
		{"4E56FFF848E7", 0xFC0030, notes(address("00FC0030")), "an address is followed by shorter words", "00FC0030 4E 56 FF F8 48 E7"},
		{"4E56FFF848E7", 0xC030, notes(address("C030")), "four digits too", "C030  4E 56 FF F8 48 E7"},
		{"4E56FFF848E73F3E", 0xC030, notes(address("C030"), orderNote), "addresses that add up", "C030 4E56 FFF8\nC034 48E7 3F3E"},
		{"4E56FFF8", 0, notes(address("0000000"), orderNote), "seven digits are an address", "0000000 4e56 fff8"},
		{"4E56FFF8", 0xFFFFFFFC, nil, "the end of 32 bits", "FFFFFFFC: 4E56FFF8"},
		{strings.Repeat("00", 32), 0, nil, "lines that do not add up are no addresses",
			strings.Repeat("00000000 00000000 00000000 00000000\n", 2)},
		{"4E562E", 0x10, nil, "text set off by a bar", "10: 4E 56 2E |AB |"},
		{"41424344", 0, nil, "text that is hex", "00: 4142 4344  ABCD"},
		{"20204142", 0, nil, "text that begins with blanks", "00: 2020 4142    AB"},
		{"41422020", 0, nil, "text that ended with blanks", "00: 4142 2020  AB"},
		{"4142E543", 0, nil, "text in another script", "00: 4142 e543  ABåC"},
		{"414207", 0, nil, "text, no address", "41 42 07  AB."},
		{"61624142", 0, nil, "without an address, hex after a gap is bytes", "6162  4142"},
		{"3333", 0, nil, "even if it is what the bytes are as text", "33  33"},
		{"7A7A3A21", 0, nil, "text that is not hex, no address", "7a7a 3a21  zz:!"},
		{"41414141414142", 0, nil, "a star", "00: 4141\n*\n06: 42"},
		{"4141", 0x20, nil, "a star for no line", "20: 4141\n*\n22:"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d, err := FromHexText("pasted", test.text)
			require.NoError(t, err)
			assert.Equal(t, test.want, strings.ToUpper(hex.EncodeToString(d.Bytes)))
			assert.Equal(t, Dump{Name: "pasted", Bytes: d.Bytes, Format: Listing, Base: test.base, Notes: test.notes}, d)
		})
	}
}

// listingErrors is what is wrong with a text and what is said about it.
var listingErrors = []struct{ want, name, text string }{
	{"the text holds no bytes; paste hex digits such as 4E 56 FF F8", "nothing", ""},
	{"the text holds no bytes; paste hex digits such as 4E 56 FF F8", "blanks", " \r\n\t\n"},
	{"the text holds no bytes; paste hex digits such as 4E 56 FF F8", "an address alone", "0000:"},
	{`line 2, column 5: "5G" is not hex; leave out everything but bytes, addresses and the text beside them`, "a wrong digit", "4E\n56,5G"},
	{`line 1, column 8: "bytes" is not hex; leave out everything but bytes, addresses and the text beside them`, "a word", "4E 56 bytes"},
	{`line 1, column 3: "0xyz" is not hex; leave out everything but bytes, addresses and the text beside them`, "0x and no digits", "0xyz"},
	{`line 1, column 4: "5" has 1 hex digit, an odd number; write each byte with two`, "a digit lost", "4E 5 FF"},
	{`line 1, column 1: "0x123" has 3 hex digits, an odd number; write each byte with two`, "0x and three digits", "0x123"},
	{`line 1, column 1: "4E56" may be an address or bytes; put a colon after it if it is an address, or write all words with the same number of digits`,
		"an address or a word", "4E56 FF F8"},
	{`line 1, column 1: "0123456789ABCDEF0123..." may be an address or bytes; put a colon after it if it is an address, or write all words with the same number of digits`,
		"a long word", "0123456789ABCDEF01234567 4E"},
	{"line 3, column 1: address is 00000030, expected 00000020 after the 32 bytes before it; a line is missing, doubled or cut", "a missing line",
		"00000000: " + strings.Repeat("4E56 ", 8) + "\n00000010: " + strings.Repeat("4E56 ", 8) + "\n00000030: 4E56"},
	{"line 2, column 1: address is 00000010, expected 0000000E after the 14 bytes before it; a line is missing, doubled or cut", "a byte missing",
		"00000000: " + strings.Repeat("4E56 ", 7) + "\n00000010: 4E56"},
	{"line 2, column 1: \"4E56\" is not an address like the one that the first line begins with; paste whole lines", "a line without address",
		"00: 4E56\n4E56"},
	{"line 1, column 1: \"u7:\" is not an address like the one that the first line begins with; paste whole lines", "a label", "u7: 4E56"},
	{`line 2, column 1: "*" stands for repeated lines, but no address says how many; print the listing again with all its lines`,
		"a star without addresses", "4E 56\n*\n4E 57"},
	{`line 1, column 1: "*" stands for repeated lines, but no address says how many; print the listing again with all its lines`,
		"a star at the beginning", "*\n4E 57"},
	{`line 2, column 2: "*" stands for repeated lines, but no address after it says how many; paste the next line too`,
		"a star at the end", "00: 4E 56\n *\n"},
	{`line 3, column 1: address is 05; no number of lines of 2 bytes in place of the "*" leads there from 02`, "a star for half a line",
		"00: 4E 56\n*\n05: 01"},
	{`line 3, column 1: address is 01; no number of lines of 2 bytes in place of the "*" leads there from 02`, "a star backwards",
		"00: 4E 56\n*\n01: 01"},
	{`line 3, column 1: address is FFFFFFFE; no number of lines of 2 bytes in place of the "*" leads there from 00000002`, "a star for 4 GiB",
		"00000000: 4E 56\n*\nFFFFFFFE: 01"},
	{"the addresses make 4,096 bytes if they are of base 16, 512 bytes if of base 8; print the listing again with all its lines",
		"a star and addresses of any base", "0000000 " + strings.Repeat("00 ", 16) + "\n*\n0001000\n"},
	{"line 2: record checksum is 41, computed 40", "records", "\n" + strings.Replace(publishedHex, "D2190140\n", "D2190141\n", 1)},
	{"the records lie so far apart that they make 2 dumps; save the text as a file and open that", "records far apart",
		sLine('3', 4, 0, 1) + sLine('3', 4, 0x80000000, 1) + sLine('7', 4, 0)},
}

func TestFromHexTextErrors(t *testing.T) {
	for _, test := range listingErrors {
		t.Run(test.name, func(t *testing.T) {
			d, err := FromHexText("pasted", test.text)
			assert.EqualError(t, err, test.want)
			assert.Zero(t, d)
			var wrong *FormatError
			assert.ErrorAs(t, err, &wrong)
		})
	}
}

func TestFromHexTextOfRecords(t *testing.T) {
	for _, text := range []string{publishedHex, publishedSRecords} {
		d, err := FromHexText("pasted", text)
		require.NoError(t, err)
		want := loadOne(t, text)
		want.Name = "pasted"
		assert.Equal(t, want, d)
	}
}

// Reference: what xxd, hexdump and od print is read back as the bytes they printed. Their gutters are in the way where
// the bytes are text, the more so if that is hex.
func TestFromHexTextOfOtherPrograms(t *testing.T) {
	contents := map[string][]byte{
		"noise":    noise(1003, 1),
		"text":     []byte(strings.Repeat("The quick brown fox  jumps over the lazy dog. ", 20)),
		"hex":      []byte(strings.Repeat("DE AD BE EF 00 12  ", 30)),
		"digits":   []byte(strings.Repeat("0123456789ABCDEF", 9) + "AB"),
		"blanks":   []byte(strings.Repeat("  ", 33)),
		"repeats":  append(bytes.Repeat([]byte{0xFF}, 0x1000), noise(100, 2)...),
		"zeros":    append(noise(7, 3), make([]byte, 0x800)...),
		"one byte": {0x41},
		"counting": {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32},
	}
	commands := []struct {
		program string
		args    []string
		base    uint64
		words   bool // of two bytes, which a last odd byte does not fill
	}{
		{program: "xxd"},
		{program: "xxd", args: []string{"-p"}},
		{program: "xxd", args: []string{"-u", "-g1"}},
		{program: "xxd", args: []string{"-c", "32", "-g", "4"}},
		{program: "xxd", args: []string{"-c", "7", "-g", "0"}},
		{program: "xxd", args: []string{"-d"}},
		{program: "xxd", args: []string{"-a"}},
		{program: "xxd", args: []string{"-o", "0x8000"}, base: 0x8000},
		{program: "hexdump", args: []string{"-C"}},
		{program: "hexdump", args: []string{"-vC"}},
		{program: "od", args: []string{"-t", "x1"}},
		{program: "od", args: []string{"-v", "-t", "x1z"}},
		{program: "od", args: []string{"-A", "x", "-t", "x1z"}},
		{program: "od", args: []string{"-v", "-A", "d", "-t", "x1"}},
		{program: "od", args: []string{"-v", "-A", "n", "-t", "x1"}},
		{program: "od", args: []string{"-v", "-A", "x", "-t", "x2", "--endian=big"}, words: true},
		{program: "od", args: []string{"-v", "-t", "x4", "--endian=big"}, words: true},
	}
	for _, command := range commands {
		for name, content := range contents {
			t.Run(command.program+" "+strings.Join(command.args, " ")+", "+name, func(t *testing.T) {
				if command.words {
					content = content[:len(content)&^3]
				}
				if len(content) == 0 {
					t.Skip("nothing to print")
				}
				text := string(outside.Run(t, command.program, content, command.args...))
				d, err := FromHexText("pasted", text)
				if err != nil && strings.Contains(err.Error(), "print the listing again with all its lines") {
					assert.Contains(t, text, "*") // "*" and addresses that two bases allow: cannot tell, and says so
					return
				}
				require.NoError(t, err, text)
				require.Equal(t, content, d.Bytes, text)
				assert.Equal(t, command.base, d.Base)
			})
		}
	}
}

// Blanks at line ends may be lost, and runs of blanks become other blanks, on the way through a page.
func TestFromHexTextAfterAPage(t *testing.T) {
	content := []byte("blanks at the   and more of the        same    ")
	text := string(outside.Run(t, "xxd", content))
	var trimmed strings.Builder
	for line := range strings.Lines(text) {
		trimmed.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
	for _, text := range []string{trimmed.String(), strings.ReplaceAll(text, " ", "\u00a0"), strings.ReplaceAll(text, "\n", "\r\n")} {
		d, err := FromHexText("pasted", text)
		require.NoError(t, err)
		assert.Equal(t, content, d.Bytes, text)
	}
}
