package report_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/report"
	"lunette/core/survey"
)

// What the order of a dump means for burning: a x16 reader keeps the low byte first, a big-endian CPU's image the high
// byte (common practice, as in the support notes of one reader's maker).
func TestByteOrderInWords(t *testing.T) {
	rom := u41(t)
	for _, c := range []struct {
		order        arrange.Arrangement // further applied to the stored ROM
		answer, next string              // parts of them
	}{
		{arrange.Stored, "Stored swapped", "for one x16 chip burn it as it is"},
		{arrange.Swapped, "Stored as the CPU sees it", "For x8 chips use it as it is, split into lanes"},
		{arrange.Reversed, "Stored with 16-bit halves exchanged in 32-bit words", "Put it into the CPU's order"},
		{arrange.Mirrored, "Stored with bytes swapped in 16-bit words and bits mirrored in each byte", "Put it into the CPU's order"},
	} {
		f := finding(t, of(c.order.Apply(rom)), "byte-order")
		require.Contains(t, f.Answer, c.answer)
		require.Contains(t, f.Next, c.next)
		require.Equal(t, report.Certain, f.Sure)
		require.Equal(t, report.Good, f.Severity)
	}
}

func TestBuiltInSumIsTold(t *testing.T) {
	r := of(u41(t))
	f := finding(t, r, "built-in-sum")
	require.Equal(t, "Holds: the leading sum of 16-bit words over the second half, 88D8D60B.", f.Answer) // testdata/halden/README.md
	require.Contains(t, f.Chance, "1 in ")
	require.Len(t, f.Evidence, 2, "the closing sum holds too")
	require.Equal(t, "m68k", r.CPU.ID)
	require.Equal(t, "swap16", r.Order.ID)
}

func TestConflictMakesSuspect(t *testing.T) {
	rom := u41(t)
	straight := arrange.Swapped.Apply(rom)
	r := of(append(bytes.Clone(straight[:0x8000]), rom[0x50000:0x58000]...))
	require.Equal(t, report.Suspect, r.Verdict.State)
	require.Equal(t, "Two byte orders stand in this one dump.", r.Verdict.Headline)
	require.Contains(t, finding(t, r, "byte-order").Answer, "The evidence disagrees")
}

func TestSetByHand(t *testing.T) {
	rom := u41(t)
	found := marks.Inspect(rom, nil)
	r := report.Of(dump.Dump{Bytes: rom, Format: dump.Raw}, survey.Take(rom, nil), found.Set(arrange.Stored, "z80"), report.Texts{}, nil)
	f := finding(t, r, "byte-order")
	require.Equal(t, "Set by hand: stored as the CPU sees it.", f.Answer)
	require.Equal(t, report.ByHand, f.Sure)
	require.Contains(t, f.Evidence[0].Text, "Against it: ")
	require.Equal(t, report.Order{ID: "stored", Name: "stored as the CPU sees it", Sure: report.ByHand}, r.Order)
	require.Equal(t, "z80", r.CPU.ID)
}

// Nothing is claimed of what holds no code and no text.
func TestNoOrderOfNoise(t *testing.T) {
	r := of(noise(256 << 10))
	f := finding(t, r, "byte-order")
	require.Equal(t, report.CannotTell, f.Sure)
	require.Equal(t, "stored", r.Order.ID)
	require.Empty(t, r.CPU.ID)
	require.Empty(t, r.Marks)
}
