package dump

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The writers against objcopy (binutils) and against the readers of this package.

// recordSizes are lengths at which something changes: none, short lines, the ends of 64 KiB, of 1 MiB and of S1 and S2.
var recordSizes = []int{1, 15, 16, 17, 255, 256, 65535, 65536, 65537, 131072, 1 << 20, 1<<20 + 5}

// What objcopy reads out of our files are the bytes that went in, at every size.
func TestObjcopyReadsWhatIsWritten(t *testing.T) {
	for _, n := range recordSizes {
		content := noise(n, 7)
		require.True(t, bytes.Equal(content, objcopy(t, AppendHEX(nil, content), "-I", "ihex", "-O", "binary")), "Intel HEX of %d bytes", n)
		require.True(t, bytes.Equal(content, objcopy(t, AppendSRecords(nil, content, "x"), "-I", "srec", "-O", "binary")), "S-records of %d bytes", n)
	}
}

// Byte for byte what objcopy writes: Intel HEX up to 64 KiB, above which objcopy takes the older segment base records (02)
// up to 1 MiB; S-records but for the header, in which objcopy puts the name of its file, and the count, which it leaves out.
func TestRecordsAreThoseOfObjcopy(t *testing.T) {
	for _, n := range recordSizes {
		content := noise(n, 8)
		if n <= 1<<16 {
			require.Equal(t, string(objcopy(t, content, "-I", "binary", "-O", "ihex")), string(AppendHEX(nil, content)), "%d bytes", n)
		}
		theirs := withoutRecords(objcopy(t, content, "-I", "binary", "-O", "srec"), "S0")
		ours := withoutRecords(AppendSRecords(nil, content, "title"), "S0", "S5")
		require.Equal(t, theirs, ours, "%d bytes", n)
	}
}

func withoutRecords(text []byte, kinds ...string) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(string(text), "\n") {
		left := false
		for _, kind := range kinds {
			left = left || strings.HasPrefix(line, kind)
		}
		if !left {
			b.WriteString(line)
		}
	}
	return b.String()
}

// The records that change with the size, by the specifications.
func TestRecordsOfEachWidth(t *testing.T) {
	for _, c := range []struct {
		size              int
		first, count, end string
	}{
		{16, "S113", "S5030001FB\r\n", "S9030000FC\r\n"},
		{1 << 16, "S113", "S5031000EC\r\n", "S9030000FC\r\n"},
		{1<<16 + 1, "S214", "S5031001EB\r\n", "S804000000FB\r\n"},
		{1 << 20, "S214", "", "S804000000FB\r\n"}, // 65,536 records: one more than the count can say
		{1<<24 + 1, "S315", "", "S70500000000FA\r\n"},
	} {
		text := string(AppendSRecords(nil, make([]byte, c.size), ""))
		assert.True(t, strings.HasPrefix(text, "S0030000FC\r\n"+c.first), "%d: %.20s", c.size, text)
		assert.True(t, strings.HasSuffix(text, c.count+c.end), "%d: %s", c.size, text[len(text)-40:])
		assert.Equal(t, c.count != "", strings.Contains(text, "\nS5"), "%d", c.size)
	}
	text := string(AppendHEX(nil, make([]byte, 1<<17)))
	assert.Equal(t, 1, strings.Count(text, ":020000040001F9\r\n"))
	assert.Equal(t, 1, strings.Count(text, ":02000004"))
	assert.True(t, strings.HasSuffix(text, ":00000001FF\r\n"))
}

// Load reads both back, with nothing to remark but the header's text.
func TestRecordsAreReadBack(t *testing.T) {
	for _, n := range recordSizes {
		content := noise(n, 9)
		for format, text := range map[Format][]byte{
			HEX: AppendHEX(nil, content), SRecord: AppendSRecords([]byte{}, content, strings.Repeat("long title ", 10)),
		} {
			dumps, err := Load("x", text)
			require.NoError(t, err)
			require.Len(t, dumps, 1)
			require.True(t, bytes.Equal(content, dumps[0].Bytes), "%s of %d bytes", format, n)
			require.Equal(t, format, dumps[0].Format)
			require.Zero(t, dumps[0].Base)
			require.Empty(t, dumps[0].Gaps)
			if format == HEX {
				require.Empty(t, dumps[0].Notes)
			} else {
				require.Equal(t, []string{"The header record says: " + strings.Repeat("long title ", 10)[:40]}, dumps[0].Notes)
			}
		}
	}
}

func TestRecordsOfNothing(t *testing.T) {
	assert.Equal(t, ":00000001FF\r\n", string(AppendHEX(nil, nil)))
	assert.Equal(t, "before S0030000FC\r\nS5030000FC\r\nS9030000FC\r\n", string(AppendSRecords([]byte("before "), nil, "")))
}

func BenchmarkAppendHEX(b *testing.B) {
	content := noise(512<<10, 1)
	b.SetBytes(int64(len(content)))
	for b.Loop() {
		AppendHEX(nil, content)
	}
}
