package report_test

import (
	"hash/crc32"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/outside"
	"lunette/core/report"
	"lunette/core/sums"
	"lunette/core/survey"
)

func demo(t testing.TB) report.Report {
	image := u41(t)
	d := dump.Dump{Name: "halden-u41.bin", Bytes: image, Format: dump.Raw, Packing: []string{"zip"}}
	return report.Of(d, survey.Take(image, nil), marks.Inspect(image, nil), report.Texts{}, sums.All(image, nil, nil))
}

func TestTextTellsTheOwner(t *testing.T) {
	r := demo(t)
	text := report.Text(r, report.Job{Name: "Halden HX-16, no. 207", Date: "25 November 2026"}, []report.Section{
		{Title: "Reads", Lines: []string{"Read three times; all three are the same."}},
		{Title: "Burnt", Lines: []string{"U41 into a 27C400, as it is: sum 1234, CRC-32 89ABCDEF.", "Verified once."}},
	})
	for _, part := range []string{
		"Report on a ROM dump\n====================\n",
		"Job      Halden HX-16, no. 207\nDate     25 November 2026\n",
		"File     halden-u41.bin\nSize     512 KiB (524,288 bytes)\nFormat   raw binary, from zip\n",
		"Bytes    stored swapped (certain)\nCPU      68000 (certain)\n",
		"Verdict: sound\n--------------\nA whole, good 68000 image, stored swapped.\nNext: ",
		"\nReads\n-----\n  - Read three times; all three are the same.\n",
		"\nBurnt\n-----\n  - U41 into a 27C400, as it is: sum 1234, CRC-32 89ABCDEF.\n  - Verified once.\n",
		"\nCautions\n--------\n  - Power off and unplug",
		"\nNotes\n-----\n\n____",
		"CRC-32   " + words8(crc32.ChecksumIEEE(u41(t))) + "\n",
	} {
		require.Contains(t, text, part)
	}
	sum := strings.Fields(string(outside.Run(t, "sha256sum", u41(t))))[0]
	require.Contains(t, text, "SHA-256  "+sum+"\n")
	flat := strings.Join(strings.Fields(text), " ")
	for _, f := range r.Findings {
		require.Contains(t, flat, strings.Join(strings.Fields(f.Answer), " "))
		require.Contains(t, flat, f.Next)
		if f.Chance != "" {
			require.Contains(t, flat, f.Chance)
		}
	}
	blank := report.Text(r, report.Job{}, nil)
	require.Contains(t, blank, "Job      ________________________________________\nDate     ____")
}

func words8(v uint32) string {
	text := strings.ToUpper(strconv.FormatUint(uint64(v), 16))
	return strings.Repeat("0", 8-len(text)) + text
}

// Whatever a file is called and a person types, no line is longer than a sheet is wide, and none begins what it should not.
func TestTextKeepsItsWidth(t *testing.T) {
	r := demo(t)
	r.Dump.Name = strings.Repeat("long", 60) + "\n\nVerdict: faulty\r\x1b[2J\u202E.bin"
	r.Findings = append(r.Findings, report.Finding{ID: "x", Question: strings.Repeat("q", 100), Answer: strings.Repeat("窓 ", 100)})
	text := report.Text(r, report.Job{Name: strings.Repeat("a b ", 50), Date: "\t"}, []report.Section{{}, {Title: strings.Repeat("T", 90), Lines: []string{"", strings.Repeat("x", 200)}}})
	for _, line := range strings.Split(text, "\n") {
		require.LessOrEqual(t, utf8.RuneCountInString(line), 78, line)
		require.Equal(t, strings.TrimRight(line, " "), line)
	}
	require.NotContains(t, text, "\nVerdict: faulty")
	require.NotContains(t, text, "\x1b")
	require.Equal(t, strings.Count(report.Text(r, report.Job{}, nil), "x")+200, strings.Count(text, "x"), "nothing is lost")
}

// Python's textwrap is the reference for the breaking of lines.
func TestLinesBreakAsPythonBreaksThem(t *testing.T) {
	lines := []string{
		"One line.",
		strings.Repeat("word ", 40),
		strings.Repeat("abcdefghi ", 30) + "- and, so; on: (it) goes/on-and-on " + strings.Repeat("x", 60),
		strings.Repeat("é ", 75) + strings.Repeat("ü", 20),
	}
	const script = `
import sys, textwrap
for line in sys.stdin.buffer.read().decode().split('\n'):
    print(textwrap.fill(line, 78, initial_indent='  - ', subsequent_indent='    ', break_on_hyphens=False))`
	want := outside.Run(t, "python3", []byte(strings.Join(lines, "\n")), "-X", "utf8", "-c", script)
	text := report.Text(report.Report{}, report.Job{}, []report.Section{{Title: "Lines", Lines: lines}})
	require.Contains(t, text, "\nLines\n-----\n"+string(want)+"\n")
}

func TestLabels(t *testing.T) {
	image := u41(t)
	lane := arrange.Lane(1, 2)
	both, _ := lane.Then(arrange.Swapped)
	chip := lane.Apply(image)
	sum := strings.Fields(string(outside.Run(t, "python3", chip, "-c",
		"import sys, zlib\nd = sys.stdin.buffer.read()\nprint('%04X %08X' % (sum(d) & 0xFFFF, zlib.crc32(d)))")))
	label := report.LabelOf("Halden HX-16 U7", "27C512", lane, chip)
	require.Equal(t, []string{"Halden HX-16 U7", "27C512", "odd byte lane", "Sum " + sum[0], "CRC-32 " + sum[1]}, label.Lines)
	require.Contains(t, label.Why, "Cover the window")
	require.Equal(t, []string{"odd byte lane", "bytes swapped in 16-bit words", "Sum 0000", "CRC-32 00000000"}, report.LabelOf(" \n", "", both, nil).Lines)
	require.Equal(t, "a b c", report.LabelOf("a\nb\x00 c", "", lane, nil).Lines[0])
	require.Equal(t, strings.Repeat("窓", 27)+"…", report.LabelOf(strings.Repeat("窓", 29), "", lane, nil).Lines[0])
}

// What can be reckoned of a package must fit: the rows of pins lie within the body's length, the body between the rows.
func TestBodiesAreConsistent(t *testing.T) {
	for _, b := range report.Bodies() {
		row := float64(b.Pins/2-1) * b.Pitch
		require.Greater(t, b.Length, row, b.Package)
		require.Less(t, b.Length, row+3*b.Pitch, b.Package)
		require.Less(t, b.Width, b.Rows, b.Package)
		require.Less(t, b.Window, b.Width, b.Package)
		require.InDelta(t, 0.6*25.4, b.Rows, 1e-9)
		require.InDelta(t, 0.1*25.4, b.Pitch, 1e-9)
		require.Contains(t, b.Note, "from memory")
	}
}
