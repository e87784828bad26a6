package survey

import (
	"bytes"
	"cmp"
	"debug/elf"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lunette/core/outside"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ownCode returns the machine code of this test program, the nearest foreign content there is; nil if it is in no ELF
// file that can be read.
func ownCode() []byte {
	path, err := os.Executable()
	if err != nil {
		return nil
	}
	file, err := elf.Open(path)
	if err != nil {
		return nil
	}
	defer file.Close()
	text := file.Section(".text")
	if text == nil {
		return nil
	}
	code, err := text.Data()
	if err != nil {
		return nil
	}
	return code
}

// foreign returns contents for the comparisons with other programs.
func foreign() [][]byte {
	samples := [][]byte{nil, []byte("short"), []byte("sixsix"), []byte("\x00tab\tbed\x7f six six\r\nABCDEF")}
	for _, content := range contents {
		samples = append(samples, content.fill(40007))
	}
	if path, err := os.Executable(); err == nil {
		if program, err := os.ReadFile(path); err == nil {
			begin, middle := program[:len(program)/16], program[len(program)/2:]
			samples = append(samples, begin, middle[:len(middle)/8])
		}
	}
	return samples
}

// TestTextsAgainstStrings compares with strings of the GNU binutils: the same texts at the same addresses.
func TestTextsAgainstStrings(t *testing.T) {
	for _, data := range foreign() {
		output := outside.Run(t, "strings", data, "-a", "-n", strconv.Itoa(MinText), "-t", "x")
		var want []Text
		total := 0
		for line := range strings.Lines(string(output)) {
			offset, text, _ := strings.Cut(strings.TrimLeft(strings.TrimSuffix(line, "\n"), " "), " ")
			from, err := strconv.ParseInt(offset, 16, 64)
			require.NoError(t, err, line)
			require.Equal(t, text, string(data[from:int(from)+len(text)]))
			want = append(want, Text{From: int(from), To: int(from) + len(text)})
			total += len(text)
		}
		s := Take(data, nil)
		require.Equal(t, len(want), s.TextRuns)
		require.Equal(t, total, s.TextBytes)
		slices.SortFunc(want, func(a, b Text) int { return cmp.Or(b.Len()-a.Len(), a.From-b.From) })
		require.Equal(t, want[:min(len(want), MaxTexts)], s.Texts)
	}
}

// TestRunsAgainstPython compares with a regular expression of Python's: any byte, and the same 31 times or more.
func TestRunsAgainstPython(t *testing.T) {
	const program = `
import sys, re
for m in re.finditer(rb"(.)\1{31,}", sys.stdin.buffer.read(), re.DOTALL):
    print(m.start(), m.end(), m.group(1)[0])
`
	for _, data := range foreign() {
		fields := strings.Fields(string(outside.Run(t, "python3", data, "-c", program)))
		var want Runs
		for i := 0; i < len(fields); i += 3 {
			from, err1 := strconv.Atoi(fields[i])
			to, err2 := strconv.Atoi(fields[i+1])
			value, err3 := strconv.Atoi(fields[i+2])
			require.NoError(t, cmp.Or(err1, err2, err3))
			want.Longest = append(want.Longest, Run{From: from, To: to, Value: byte(value)})
			want.Count++
			want.Bytes += to - from
			switch value {
			case 0xFF:
				want.FF += to - from
			case 0:
				want.Zero += to - from
			}
		}
		slices.SortFunc(want.Longest, func(a, b Run) int { return cmp.Or(b.Len()-a.Len(), a.From-b.From) })
		want.Longest = want.Longest[:min(len(want.Longest), MaxRuns)]
		slices.SortFunc(want.Longest, func(a, b Run) int { return a.From - b.From })
		require.Equal(t, want, Take(data, nil).Blank)
	}
}

// TestListsHaveLimits holds that more runs and texts than are listed are still counted, and that the lowest of equally
// long ones are listed.
func TestListsHaveLimits(t *testing.T) {
	one := append([]byte("TEXT IN ROM\x00"), bytes.Repeat([]byte{0xFF}, MinRun)...)
	data := bytes.Repeat(one, 3000)
	copy(data[len(data)-len(one):], "TEXT IN ROM, THE END")
	s := Take(data, nil)

	assert.Equal(t, 3000, s.TextRuns)
	assert.Len(t, s.Texts, MaxTexts)
	last := len(data) - len(one)
	assert.Equal(t, []Text{{last, last + 20}, {0, 11}, {len(one), len(one) + 11}}, s.Texts[:3])

	assert.Equal(t, 2999, s.Blank.Count, "the last is eight bytes short")
	assert.Len(t, s.Blank.Longest, MaxRuns)
	assert.Equal(t, Run{12, 44, 0xFF}, s.Blank.Longest[0])
	assert.Equal(t, Run{12 + 255*44, 44 + 255*44, 0xFF}, s.Blank.Longest[255])
	assert.Equal(t, 2999*MinRun, s.Blank.FF)
	assert.Equal(t, Run{len(data) - 24, len(data), 0xFF}, s.Tail)
}
