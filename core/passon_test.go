package core_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/dump"
	"lunette/core/link"
	"lunette/core/outside"
	"lunette/core/report"
)

func contentsText(all []link.Content) string {
	var b strings.Builder
	for _, c := range all {
		b.WriteString(c.Name + ": " + c.Text + "\n")
	}
	return b.String()
}

// A link goes out from one bench and is held against another dump on a second one; the sums are sha256sum's.
func TestLinkFromOneBenchToAnother(t *testing.T) {
	rom := demoROM(t)
	b := core.NewBench()
	id := opened(t, b, "s1", "secret-name.bin", rom)
	p, err := b.Link(id, core.LinkPlan{Title: "U41 of no. 207", Base: "https://example.org/a/b.html?x=1#main"}, nil)
	require.NoError(t, err)
	require.Equal(t, "https://example.org/a/b.html?x=1#"+p.Fragment, p.URL)
	require.LessOrEqual(t, len(p.Fragment), 1500)
	require.Equal(t, "U41 of no. 207", p.Statement.Title)
	require.NotContains(t, p.Texts.Plain+contentsText(p.Contents), "secret-name")

	sum := strings.Fields(string(outside.Run(t, "sha256sum", rom)))[0]
	seen := strings.Fields(string(outside.Run(t, "sha256sum", outside.Run(t, "dd", rom, "conv=swab", "status=none"))))[0]
	shown := contentsText(p.Contents)
	require.Contains(t, shown, "Title: U41 of no. 207\nSize: 524,288 bytes\nVerdict: sound: A whole, good 68000 image, stored swapped.\n")
	require.Contains(t, shown, "SHA-256: "+sum+"\nSHA-256 in the CPU's order: "+seen+"\nPrints: 64 of blocks of 8 KiB")
	require.Equal(t, []string{"CRC-32 " + p.Statement.CRC32, "SHA-256 " + sum}, p.Picture[1:])
	for _, f := range p.Statement.Findings {
		require.Contains(t, shown, f.Question+": "+f.Answer)
	}

	read, err := core.ReadLink(p.URL)
	require.NoError(t, err)
	require.Equal(t, p.Statement, read)

	swapped := outside.Run(t, "dd", rom, "conv=swab", "status=none")
	changed := bytes.Clone(rom)
	changed[0x12345] ^= 1
	other := core.NewBench()
	for name, c := range map[string]struct {
		image []byte
		want  link.Relation
	}{
		"the same": {rom, link.Identical}, "swapped": {swapped, link.Arranged}, "one bit": {changed, link.Differs},
		"half": {rom[:len(rom)/2], link.Part}, "doubled": {bytes.Repeat(rom, 2), link.Repeats},
	} {
		own, err := other.OpenOne("s"+name, name, c.image)
		require.NoError(t, err)
		answer, err := other.Check(own, p.URL, nil)
		require.NoError(t, err)
		require.Equal(t, c.want, answer.Relation, name)
	}
	_, err = other.Check("s1/7", p.URL, nil)
	require.ErrorContains(t, err, "no longer open")
	_, err = b.Check(id, p.URL[:len(p.URL)-9], nil)
	require.ErrorContains(t, err, "cut")
}

// The short form fits beside a page's address of 60 characters into 300.
func TestShortLink(t *testing.T) {
	b := core.NewBench()
	id := opened(t, b, "s1", "u41.bin", demoROM(t))
	base := "https://" + strings.Repeat("a", 51) + "/"
	p, err := b.Link(id, core.LinkPlan{Title: strings.Repeat("title ", 20), Base: base, Short: true}, nil)
	require.NoError(t, err)
	require.Less(t, len(p.URL), 300)
	require.NotContains(t, contentsText(p.Contents), "of blocks of")
	code, err := core.QR(p.URL)
	require.NoError(t, err)
	require.LessOrEqual(t, code.Side, 69)
	_, err = core.QR("é")
	require.ErrorContains(t, err, "ASCII")
}

// A long title takes the room of findings, and the title that comes after it gives them back.
func TestTitlesLeaveNothingBehind(t *testing.T) {
	b := core.NewBench()
	id := opened(t, b, "s1", "u41.bin", demoROM(t))
	plain, err := b.Link(id, core.LinkPlan{}, nil)
	require.NoError(t, err)
	_, err = b.Link(id, core.LinkPlan{Title: strings.Repeat("窓", 80)}, nil)
	require.NoError(t, err)
	again, err := b.Link(id, core.LinkPlan{}, nil)
	require.NoError(t, err)
	require.Equal(t, plain, again)

	// As Of does it from the start.
	r := core.Inspect(dumpOf("u41.bin", demoROM(t)), core.ByHand{}, nil, nil)
	for _, title := range []string{"", "short", strings.Repeat("a long one ", 7), strings.Repeat("窓", 80)} {
		want, err := link.Of(demoROM(t), r, title, nil)
		require.NoError(t, err)
		got, err := b.Link(id, core.LinkPlan{Title: title}, nil)
		require.NoError(t, err)
		require.Equal(t, want, got.Statement)
	}

	// What a person says by hand goes into the link.
	_, err = b.Inspect(id, core.ByHand{Order: "stored"}, nil, nil)
	require.NoError(t, err)
	byHand, err := b.Link(id, core.LinkPlan{}, nil)
	require.NoError(t, err)
	require.Equal(t, report.ByHand, byHand.Statement.Order.Sure)
	b.Close("s1")
	_, err = b.Link(id, core.LinkPlan{}, nil)
	require.Error(t, err)
}

func TestReportText(t *testing.T) {
	b := core.NewBench()
	id := opened(t, b, "s1", "folder/u41.bin", demoROM(t))
	paper, err := b.ReportText(id, report.Job{Name: "HX-16 no. 207", Owner: "A. Person", Date: "today", Reads: "3 times, all the same", Notes: "one\n\ntwo\x00"},
		[]report.Section{{Title: "Compared", Lines: []string{"All agree."}}})
	require.NoError(t, err)
	require.Equal(t, "u41.report", paper.Name)
	require.Contains(t, paper.Text, "Job      HX-16 no. 207\nDate     today\nOwner    A. Person\n")
	require.Contains(t, paper.Text, "Read     3 times, all the same\n")
	require.Contains(t, paper.Text, "\nCompared\n--------\n  - All agree.\n")
	require.Contains(t, paper.Text, "\nNotes\n-----\n  - one\n  - two\n\n____")
	digest := sha256.Sum256(demoROM(t))
	require.Contains(t, paper.Text, hex.EncodeToString(digest[:]))
	// Everything in the parts is in the text.
	flat := strings.Join(strings.Fields(paper.Text), " ")
	for _, part := range paper.Document.Parts {
		for _, row := range part.Rows {
			require.Contains(t, flat, row.Name+" "+row.Value)
		}
		for _, line := range append([]string{part.Title, part.Lead, part.Next}, part.Items...) {
			require.Contains(t, flat, strings.Join(strings.Fields(line), " "))
		}
	}
}

// Labels of two byte lanes say which is which, with the sums that the reader shows of each file.
func TestLabelsOfPreparedFiles(t *testing.T) {
	b := core.NewBench()
	id := opened(t, b, "s1", "u41.bin", demoROM(t))
	_, err := b.Labels(id, "U41", "", true)
	require.ErrorContains(t, err, "Burn first")
	prepared, err := b.Prepare(id, core.BurnPlan{Device: "27C020", View: "pair", Order: "swap16", CPU: "big", Format: "hex"})
	require.NoError(t, err)
	labels, err := b.Labels(id, "HX-16 U41", "ignored", true)
	require.NoError(t, err)
	require.Len(t, labels, 2)
	for i, lane := range []string{"even, D8-D15", "odd, D0-D7"} {
		file := prepared.Files[i]
		require.Equal(t, []string{"HX-16 U41", "27C020", lane, "in the CPU's order", "Sum " + file.ByteSum, "CRC-32 " + file.CRC}, labels[i].Lines)
	}
	whole, err := b.Labels(id, "HX-16 U41", "27C400", false)
	require.NoError(t, err)
	require.Equal(t, []string{"HX-16 U41", "27C400", "as stored"}, whole[0].Lines[:3])
	require.Len(t, core.Bodies(), len(report.Bodies()))

	prepared, err = b.Prepare(id, core.BurnPlan{Device: "27C800", View: "x16", Order: "swap16", CPU: "big", Buffer: "low", Spare: "repeat"})
	require.NoError(t, err)
	labels, err = b.Labels(id, "", "", true)
	require.NoError(t, err)
	require.Equal(t, []string{"27C800", "bytes swapped in 16-bit words", "image twice", "Sum " + prepared.Files[0].ByteSum}, labels[0].Lines[:4])
}

func dumpOf(name string, image []byte) dump.Dump {
	return dump.Dump{Name: name, Bytes: image, Format: dump.Raw}
}
