package report_test

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/report"
	"lunette/core/survey"
)

// u41 is the demo board's system ROM: real compiled code, text, a font and tables.
func u41(t testing.TB) []byte {
	image, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return image
}

func of(image []byte) report.Report {
	d := dump.Dump{Name: "test", Bytes: image, Format: dump.Raw}
	return report.Of(d, survey.Take(image, nil), marks.Inspect(image, nil), report.Texts{}, nil)
}

func finding(t testing.TB, r report.Report, id string) report.Finding {
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no finding "+id)
	return report.Finding{}
}

func filled(n int, f func(i int) byte) []byte {
	image := make([]byte, n)
	for i := range image {
		image[i] = f(i)
	}
	return image
}

func changed(image []byte, f func(i int, b byte) byte) []byte {
	return filled(len(image), func(i int) byte { return f(i, image[i]) })
}

func noise(n int) []byte {
	r := rand.New(rand.NewPCG(41, 41))
	return filled(n, func(int) byte { return byte(r.Uint32()) })
}

// The verdicts a person must get. What a dead line does to a read is arithmetic: a data line that is stuck reads one level
// everywhere, an address line that is open or stuck makes R(a) = M(a with that bit forced).
func TestVerdicts(t *testing.T) {
	rom := u41(t)
	code := rom[:16<<10]
	for _, c := range []struct {
		state    report.State
		headline string // a part of it
		name     string
		image    []byte
	}{
		{report.Sound, "A whole, good 68000 image, stored swapped", "the demo ROM", rom},
		{report.Sound, "A whole, good 68000 image, stored as the CPU sees it", "the demo ROM swapped", arrange.Swapped.Apply(rom)},
		{report.Sound, "Nothing wrong shows", "its even lane", arrange.Lane(0, 2).Apply(rom)},
		{report.Sound, "Nothing wrong shows", "its code alone", code},
		{report.Blank, "Blank: all 64 KiB read FF", "an erased chip", filled(64<<10, func(int) byte { return 0xFF })},
		{report.Faulty, "Nothing was read: all 64 KiB are 00", "no chip", make([]byte, 64<<10)},
		{report.Faulty, "Nothing was read: all 64 KiB are A5", "one value", filled(64<<10, func(int) byte { return 0xA5 })},
		{report.Faulty, "Nothing drove the data bus", "a floating bus", filled(64<<10, func(i int) byte { return byte(i) })},
		{report.Faulty, "D3 never leaves low", "D3 stuck low", changed(code, func(_ int, b byte) byte { return b &^ 0x08 })},
		{report.Faulty, "D5 never leaves high", "D5 stuck high", changed(code, func(_ int, b byte) byte { return b | 0x20 })},
		{report.Faulty, "D2 never leaves low in the odd bytes", "D10 of a x16 chip stuck low",
			changed(code, func(i int, b byte) byte { return b &^ (byte(i&1) << 2) })},
		{report.Faulty, "D2 and D4 always read the same", "D2 and D4 bridged", changed(code, func(_ int, b byte) byte {
			if b&0x14 != 0x14 {
				return b &^ 0x14
			}
			return b
		})},
		{report.Faulty, "(A6 of a x8 one) changes nothing", "A6 open", filled(len(code), func(i int) byte { return code[i|0x40] })},
		{report.Faulty, "D4 never leaves low", "D4 stuck low in text and code", changed(append(bytes.Clone(rom[0x12000:0x16000]), code...), func(_ int, b byte) byte { return b &^ 0x10 })},
		{report.Suspect, "The same 16 KiB stand twice", "a doubled image", arrange.Repeat(code, 2)},
		{report.Suspect, "The same 16 KiB stand 8 times", "an image eight times", arrange.Repeat(code, 8)},
		{report.Suspect, "15,000 bytes is no chip's size", "a read that was cut", code[:15_000]},
		{report.Suspect, "Content stops at 004000, half of the way", "a half of FF", append(bytes.Clone(code), bytes.Repeat([]byte{0xFF}, len(code))...)},
		{report.Suspect, "Content stops at 003E80, 3.1 % of the way; the rest is FF", "a burn that stopped",
			append(bytes.Clone(rom[:0x3E80]), bytes.Repeat([]byte{0xFF}, 512<<10-0x3E80)...)},
		{report.Undecided, "look like noise", "noise", noise(64 << 10)},
		{report.Undecided, "This is text from end to end", "a text", []byte(strings.Repeat("The quick brown fox jumps over the lazy dog, 1988. ", 656))[:32<<10]},
		{report.Undecided, "Too little to judge by", "a nearly blank chip", append(bytes.Repeat([]byte{0xFF}, 8<<10-64), noise(64)...)},
		{report.Undecided, "Too little to judge by", "one byte and another", []byte{1, 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := of(c.image)
			require.Equal(t, c.state, r.Verdict.State, r.Verdict.Headline)
			require.Contains(t, r.Verdict.Headline, c.headline)
			require.NotEmpty(t, r.Verdict.Next)
		})
	}
}

// Content that does not use a line must not be taken for a fault of the line: the worst defect is a confident wrong answer.
func TestInnocentContentIsNoFault(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	sample := func(bits int) []byte { return filled(32<<10, func(int) byte { return byte(r.IntN(1 << bits)) }) }
	font := filled(4<<10, func(i int) byte { return byte(r.IntN(256)) & 0x7E & byte(r.IntN(256)) })
	for name, image := range map[string][]byte{
		"seven-bit samples":    sample(7),
		"six-bit samples":      sample(6),
		"four-bit PROM":        sample(4),
		"samples at the top":   changed(sample(6), func(_ int, b byte) byte { return b << 2 }),
		"signed small samples": changed(sample(6), func(_ int, b byte) byte { return b - 32 }),
		"a font":               font,
		"12-bit microcode":     changed(sample(8), func(i int, b byte) byte { return b & (0xFF >> (i & 1 * 4)) }),
		"upper-case text":      []byte(strings.Repeat("PRESS RETURN TO GO ON. ERROR 12 ON DRIVE 3. ", 800))[:16<<10],
	} {
		t.Run(name, func(t *testing.T) {
			got := of(image)
			require.NotEqual(t, report.Faulty, got.Verdict.State, got.Verdict.Headline)
			require.NotEqual(t, report.Fault, finding(t, got, "data-lines").Severity)
		})
	}
}

// Every single stuck data line and every silent address line in real code is seen, and nothing else is called a fault.
func TestEverySingleLine(t *testing.T) {
	code := u41(t)[:64<<10]
	for bit := range 8 {
		for level, read := range map[string]func(i int, b byte) byte{
			"low":  func(_ int, b byte) byte { return b &^ (1 << bit) },
			"high": func(_ int, b byte) byte { return b | 1<<bit },
		} {
			r := of(changed(code, read))
			f := finding(t, r, "data-lines")
			require.Contains(t, f.Answer, "D"+string(rune('0'+bit))+" never leaves "+level)
			require.Contains(t, []report.State{report.Faulty, report.Suspect}, r.Verdict.State)
			require.Equal(t, report.Good, finding(t, r, "address-lines").Severity)
		}
	}
	for bit := range 15 {
		r := of(filled(len(code), func(i int) byte { return code[i&^(1<<bit)] }))
		require.Equal(t, []int{bit}, r.Lines.Silent)
		require.Equal(t, report.Faulty, r.Verdict.State, "A%d", bit)
		require.Equal(t, report.Good, finding(t, r, "data-lines").Severity, "A%d", bit)
	}
}

// Open firmware that this project did not make: none of it may be called faulty. LUNETTE_FIRMWARE names the folder
// (`make test` fetches it from Debian's packages).
func TestNoFaultInFirmware(t *testing.T) {
	folder := os.Getenv("LUNETTE_FIRMWARE")
	if folder == "" {
		t.Skip("LUNETTE_FIRMWARE names no folder of firmware; make test does")
	}
	seen := 0
	err := filepath.Walk(folder, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() || info.Size() < 1024 {
			return err
		}
		image, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, a := range arrange.All() {
			r := of(a.Apply(image))
			require.NotEqual(t, report.Faulty, r.Verdict.State, "%s, %s: %s", path, a, r.Verdict.Headline)
		}
		seen++
		return nil
	})
	require.NoError(t, err)
	require.Positive(t, seen)
	t.Logf("%d images in %d arrangements each", seen, len(arrange.All()))
}

func TestGapsAndNotesAreTold(t *testing.T) {
	image := u41(t)[:4<<10]
	d := dump.Dump{Name: "u41.hex", Bytes: image, Format: dump.HEX, Base: 0xF00000, Gaps: []dump.Range{{From: 0x100, To: 0x180}}, Notes: []string{"there is no end record"}}
	r := report.Of(d, survey.Take(image, nil), marks.Inspect(image, nil), report.Texts{}, nil)
	f := finding(t, r, "file")
	require.Equal(t, "Intel HEX, addresses F00000 to F00FFF. 1 gap without data, 128 bytes in all, shown as FF.", f.Answer)
	require.Equal(t, "F00000", r.Dump.Base)
	require.Contains(t, f.Evidence[1].Text, "no data from 000100 to 00017F, 128 bytes")
}

func FuzzOf(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{0xFF})
	f.Add(u41(f)[:2048])
	f.Fuzz(func(t *testing.T, image []byte) {
		r := of(image)
		require.NotEmpty(t, r.Verdict.Headline)
		for _, finding := range r.Findings {
			require.NotContains(t, finding.Answer+finding.Next, "{}", finding.ID)
			for _, e := range finding.Evidence {
				require.LessOrEqual(t, e.To, len(image))
				require.LessOrEqual(t, e.From, e.To)
			}
		}
	})
}

// A dump that is not good gets no advice on burning it, and a bus that nothing drove none on its lines.
func TestBadDumpsAreNotToBeBurnt(t *testing.T) {
	rom := u41(t)
	open := changed(rom, func(i int, _ byte) byte { return rom[i|0x800] })
	require.Equal(t, report.Faulty, of(open).Verdict.State)
	require.Contains(t, finding(t, of(open), "byte-order").Next, "Burn nothing of this dump")
	require.Contains(t, finding(t, of(rom), "byte-order").Next, "burn it as it is")
	ramp := filled(64<<10, func(i int) byte { return byte(i) })
	require.Len(t, of(ramp).Findings, 2)
	require.True(t, of(rom).Verdict.Proven)
	require.False(t, of(changed(rom, func(i int, b byte) byte { return b ^ byte(i>>18&1) })).Verdict.Proven)
}
