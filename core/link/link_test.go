package link

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/outside"
	"lunette/core/report"
	"lunette/core/sums"
	"lunette/core/survey"
)

// u41 is the demo board's system ROM.
func u41(t testing.TB) []byte {
	image, err := os.ReadFile(filepath.Join("..", "..", "testdata", "halden", "u41.bin"))
	require.NoError(t, err)
	return image
}

func reportOf(image []byte) report.Report {
	d := dump.Dump{Name: "halden-u41.bin", Bytes: image, Format: dump.Raw}
	return report.Of(d, survey.Take(image, nil), marks.Inspect(image, nil), report.Texts{}, sums.All(image, nil, nil))
}

// of returns the statement about an image whose CPU sees it in the given order.
func of(t testing.TB, image []byte, order arrange.Arrangement) Statement {
	s, err := Of(image, report.Report{Verdict: report.Verdict{State: report.Sound, Headline: "Nothing wrong shows."},
		Order: report.Order{ID: order.ID(), Sure: report.Certain}, CPU: report.CPU{ID: "m68k", Name: "68000", Sure: report.Certain}}, "", nil)
	require.NoError(t, err)
	return s
}

func random(n int) []byte {
	r := rand.New(rand.NewPCG(6, uint64(n)))
	image := make([]byte, n)
	for i := range image {
		image[i] = byte(r.Uint32())
	}
	return image
}

// samples are images with every verdict, and so with nearly every sentence that a report has.
func samples(t testing.TB) map[string][]byte {
	rom := u41(t)
	code := rom[:16<<10]
	images := map[string][]byte{
		"demo ROM": rom, "even lane": arrange.Lane(0, 2).Apply(rom), "code": code, "noise": random(64 << 10), "least": random(LeastSize),
		"erased": bytes.Repeat([]byte{0xFF}, 64<<10), "no chip": make([]byte, 4096), "cut": code[:15_000], "twice": arrange.Repeat(code, 2),
		"burn stopped": append(bytes.Clone(rom[:0x3E80]), bytes.Repeat([]byte{0xFF}, 512<<10-0x3E80)...),
		"text":         []byte(strings.Repeat("The quick brown fox jumps over the lazy dog, 1988. ", 656))[:32<<10],
	}
	for _, order := range arrange.Orders() {
		images["demo ROM, "+order.String()] = order.Apply(rom)
	}
	stuck := bytes.Clone(code)
	for i := range stuck {
		stuck[i] &^= 0x18
	}
	images["two lines stuck"] = stuck
	return images
}

func TestStatementsTravelUnchanged(t *testing.T) {
	longest := 0
	for name, image := range samples(t) {
		t.Run(name, func(t *testing.T) {
			s, err := Of(image, reportOf(image), "U41 of a Halden HX-16", nil)
			require.NoError(t, err)
			require.Zero(t, s.LeftOut, "room for every finding")
			for _, s := range []Statement{s, s.Shortened()} {
				fragment := Encode(s)
				require.LessOrEqual(t, len(fragment), MaxChars)
				back, err := Decode(fragment)
				require.NoError(t, err)
				require.Equal(t, s, back)
				require.Equal(t, fragment, Encode(back))
			}
			longest = max(longest, len(Encode(s)))
			require.Less(t, len(Encode(s.Shortened()))+60+1, 300)
		})
	}
	t.Logf("the longest link has %d characters", longest)
}

// What was posted is what was found: the sums are held against Go's own and coreutils', the text against the report's.
func TestStatementSaysWhatTheReportSays(t *testing.T) {
	image := u41(t)
	r := reportOf(image)
	s, err := Of(image, r, " U41 ", nil)
	require.NoError(t, err)
	require.Equal(t, "U41", s.Title)
	require.Equal(t, r.Verdict.Headline, s.Headline)
	require.Equal(t, "swap16", s.Order.ID)
	for _, sum := range r.Sums {
		switch sum.ID {
		case "crc-32":
			require.Equal(t, sum.Hex, s.CRC32)
		case "sha-256":
			require.Equal(t, sum.Hex, s.SHA256)
		}
	}
	cpu := outside.Run(t, "dd", image, "conv=swab", "status=none")
	require.Equal(t, strings.Fields(string(outside.Run(t, "sha256sum", cpu)))[0], s.SHA256CPU)
	require.Len(t, s.Blocks, 64)
	for i, print := range s.Blocks {
		sum := sha256.Sum256(cpu[8192*i:][:8192])
		require.Equal(t, hex.EncodeToString(sum[:6]), print)
	}
	require.Len(t, s.Lanes, 6)
	for i, lane := range append(arrange.Split(cpu, 2), arrange.Split(cpu, 4)...) {
		sum := sha256.Sum256(lane)
		require.Equal(t, hex.EncodeToString(sum[:6]), s.Lanes[i])
	}
	require.Len(t, s.Findings, len(r.Findings))
	for i, f := range r.Findings {
		if f.ID != "built-in-sum" {
			require.Equal(t, Finding{f.ID, f.Severity, f.Question, f.Answer, f.Sure}, s.Findings[i])
		}
	}
}

// Nothing of the file may be in a link: not its name, and not the value of a sum that stands in the dump itself.
func TestStatementHoldsNoContentAndNoName(t *testing.T) {
	image := u41(t)
	r := reportOf(image)
	s, err := Of(image, r, "", nil)
	require.NoError(t, err)
	body := string(s.body())
	require.NotContains(t, body, "halden")
	for _, f := range r.Findings {
		for _, e := range f.Evidence {
			if len(e.Found) >= 8 {
				require.NotContains(t, body, e.Found)
			}
		}
	}
	for at := 0; at+4 <= len(image); at += 2 { // no four bytes of it that are not fill
		if four := image[at : at+4]; bytes.Count(four, four[:1]) < 2 && bytes.Contains([]byte(body), four) {
			assert.Fail(t, "content", "% X at %X", four, at)
		}
	}
	_, err = Of(random(LeastSize-1), r, "", nil)
	require.EqualError(t, err, "31 bytes are too few for a link: the sums would give them away; links begin at 32 bytes")
	for n := LeastSize; n < 300_000; n = n*5/4 + 1 { // no print of less than LeastBlock, but of a whole small dump
		s := of(t, random(n), arrange.Stored)
		end := 0
		for i := range s.Blocks {
			from, to := s.span(i)
			require.Equal(t, end, from)
			require.GreaterOrEqual(t, to-from, min(n, LeastBlock))
			end = to
		}
		require.Equal(t, n, end)
		require.LessOrEqual(t, len(s.Blocks), MaxBlocks)
		require.Equal(t, map[bool]int{true: 6, false: map[bool]int{true: 2}[n >= 2048]}[n >= 4096], len(s.Lanes))
	}
}

// Every finding's id and question must have a row in the table, or it would arrive as "Finding".
func TestTablesHaveEveryWord(t *testing.T) {
	for _, image := range samples(t) {
		r := reportOf(image)
		require.Contains(t, states, string(r.Verdict.State))
		for _, f := range r.Findings {
			i := indexOf(questions, f.ID)
			require.Positive(t, i, f.ID)
			require.Equal(t, f.Question, questions[i+1])
			require.Contains(t, severities, string(f.Severity))
			require.Contains(t, sures, string(f.Sure))
		}
	}
	for _, s := range []report.State{report.Faulty, report.Blank, report.Suspect, report.Undecided, report.Sound} {
		require.Contains(t, states, string(s))
	}
	for _, s := range []report.Sure{report.Certain, report.Strong, report.Weak, report.CannotTell, report.ByHand} {
		require.Contains(t, sures, string(s))
	}
	for _, s := range []report.Severity{report.Good, report.Note, report.Unclear, report.Warning, report.Empty, report.Fault} {
		require.Contains(t, severities, string(s))
	}
	require.LessOrEqual(t, len(phraseList), 31+129)
}

// However much there is to say, the link stays within its length, what is left out is counted, and the worst stays.
func TestWhatFindsNoRoomIsLeftOutAndCounted(t *testing.T) {
	image := u41(t)
	r := reportOf(image)
	for range 9 {
		r.Findings = append(r.Findings, report.Finding{ID: "tail", Severity: report.Note, Question: "End", Sure: report.Weak,
			Answer: "Zyxwv " + strings.Repeat("qjkz ", 40)})
	}
	r.Findings = append(r.Findings, report.Finding{ID: "tail", Severity: report.Fault, Question: "End", Sure: report.Weak, Answer: "Fault!"})
	r.Verdict.Headline = strings.Repeat("jqx", 200)
	s, err := Of(image, r, strings.Repeat("窓", 100), nil)
	require.NoError(t, err)
	require.Positive(t, s.LeftOut)
	require.Equal(t, len(r.Findings), len(s.Findings)+s.LeftOut)
	require.Equal(t, "Fault!", s.Findings[len(s.Findings)-1].Answer)
	for _, s := range []Statement{s, s.Shortened()} {
		fragment := Encode(s)
		require.LessOrEqual(t, len(fragment), MaxChars)
		back, err := Decode(fragment)
		require.NoError(t, err)
		require.Equal(t, s, back)
	}
	require.Less(t, len(Encode(s.Shortened()))+60+1, 300)
}

func TestBrokenLinksAreNoticed(t *testing.T) {
	s, err := Of(u41(t), reportOf(u41(t)), "U41", nil)
	require.NoError(t, err)
	fragment := Encode(s)
	t.Run("cut", func(t *testing.T) {
		for n := range len(fragment) {
			_, err := Decode(fragment[:n])
			require.Error(t, err, "%d characters", n)
			if n > 10 && n < len(fragment)-2 {
				require.ErrorContains(t, err, "this link was cut: "+group(n)+" of its "+group(len(fragment))+" characters arrived")
			}
		}
	})
	t.Run("altered", func(t *testing.T) {
		for n := range len(fragment) {
			for _, c := range "A9_e.%" {
				if altered := fragment[:n] + string(c) + fragment[n+1:]; altered != fragment {
					_, err := Decode(altered)
					require.Error(t, err, "%q at %d", c, n)
				}
			}
			_, err := Decode(fragment[:n] + "A" + fragment[n:])
			require.Error(t, err, "one more at %d", n)
			_, err = Decode(fragment[:n] + fragment[n+1:])
			require.Error(t, err, "one less at %d", n)
		}
	})
	for _, c := range []struct{ want, link string }{
		{"nothing stands after #", ""},
		{"nothing stands after #", "https://example.org/#"},
		{"this is no link of ours", "verdict"},
		{"this is no link of ours", "s0.AAAA"},
		{"this is no link of ours", "s-2.AAAA"},
		{"this is no link of ours", "\x00\xff<script>alert(1)</script>"},
		{"of version 2, and this page reads version 1 only", "s2." + fragment[3:]},
		{"nearly all of it is missing", "s1."},
		{"nearly all of it is missing", "s"},
		{"none of ours has more than 1,500", "s1." + strings.Repeat("A", 1500)},
		{"characters that no link of ours has", "s1.%41%42e"},
		{"this link is not whole", "s1.AAAAAAAAe"},
	} {
		_, err := Decode(c.link)
		require.ErrorContains(t, err, c.want, c.link)
	}
}

func group(n int) string {
	if n < 1000 {
		return itoa(n)
	}
	return itoa(n/1000) + "," + itoa(n + 1000)[len(itoa(n+1000))-3:]
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + string(rune('0'+n%10))
}

// A link as it stands in a text arrives too: with the page's address, white space around and inside, punctuation after it.
func TestLinksComeAsTheyStandInTexts(t *testing.T) {
	s := of(t, random(5000), arrange.Swapped)
	fragment := Encode(s)
	for _, text := range []string{"#" + fragment, "https://example.org/lunette/#" + fragment, " \n" + fragment + "\r\n", fragment + ").",
		fragment[:100] + "\n" + fragment[100:]} {
		back, err := Decode(text)
		require.NoError(t, err)
		require.Equal(t, s, back)
	}
}

// What was written by hand is sealed rightly and still refused, or bounded.
func TestHostileLinksEndInASentence(t *testing.T) {
	s := of(t, random(5000), arrange.Swapped)
	good := s.body()
	good = good[:len(good)-4]
	for i := 2; i < len(good); i++ {
		for _, c := range []byte{0, 0xFF, good[i] + 1} {
			b := bytes.Clone(good)
			b[i] = c
			check(t, opening+base64url(seal(b))+closing)
		}
		check(t, opening+base64url(seal(bytes.Clone(good[:i])))+closing)
		check(t, opening+base64url(seal(append(bytes.Clone(good[:i]), 0)))+closing)
	}
	s.Title = "a\u202Eb\x00c\n<b>\U000E0041" // past clean, as a hand would write it
	back, err := Decode(Encode(s))
	require.NoError(t, err)
	require.Equal(t, "a b c <b>", back.Title)
}

// check requires of any text that it is refused in plain words, or read as something bounded that can be passed on again.
func check(t *testing.T, fragment string) {
	s, err := Decode(fragment)
	if err != nil {
		require.Zero(t, s)
		require.NotContains(t, err.Error(), "\x00")
		require.Less(t, len(err.Error()), 250)
		return
	}
	require.LessOrEqual(t, len(s.Findings), maxFindings)
	require.LessOrEqual(t, len([]rune(s.Title)), MaxTitle)
	for _, text := range []string{s.Headline, s.CPU.ID, s.CPU.Name} {
		require.Equal(t, ascii(text, maxText), text[:min(len(text), maxText-3)])
		require.LessOrEqual(t, len(text), maxText)
	}
	for _, f := range s.Findings {
		require.LessOrEqual(t, len(f.Answer), maxText)
	}
	require.GreaterOrEqual(t, s.Size, LeastSize)
	require.LessOrEqual(t, s.Size, dump.MaxBytes)
	require.Equal(t, s.Title, clean(s.Title, MaxTitle))
	again, err := Decode(Encode(s))
	require.NoError(t, err)
	require.Equal(t, s, again)
}

func FuzzDecode(f *testing.F) {
	s := of(f, random(5000), arrange.Swapped)
	long, err := Of(u41(f), reportOf(u41(f)), "U41", nil)
	require.NoError(f, err)
	for _, s := range []Statement{s, s.Shortened(), long, long.Shortened()} {
		f.Add(Encode(s))
		f.Add(string(s.body()))
	}
	f.Add("s2.AAAA")
	f.Fuzz(func(t *testing.T, text string) {
		check(t, text)
		if b := []byte(text); len(b) >= 6 && len(b) <= maxBytes { // the same bytes, rightly sealed
			check(t, opening+base64url(seal(b[:len(b)-4:len(b)-4]))+closing)
		}
	})
}

// Go's encoding/base64 is the reference (RFC 4648).
func TestBase64urlIsThatOfRFC4648(t *testing.T) {
	for n := range 300 {
		b := random(n)
		text := base64.RawURLEncoding.EncodeToString(b)
		require.Equal(t, text, base64url(b))
		back, ok := fromBase64url(text)
		require.True(t, ok)
		require.True(t, bytes.Equal(b, back))
	}
	for _, text := range []string{"=", "AA==", "+", "/", " ", "ä"} {
		_, ok := fromBase64url(text)
		require.False(t, ok, text)
	}
}

func TestPackedTextsComeOutAgain(t *testing.T) {
	texts := append([]string{"", " ", "~", "zyx", strings.Repeat("q", maxText), "All All are alive: each moves"}, phraseList...)
	for _, text := range texts {
		out, rest, ok := unpack(append(appendPacked(nil, text), "rest"...))
		require.True(t, ok, text)
		require.Equal(t, text, out)
		require.Equal(t, "rest", string(rest))
	}
	for c := range 256 {
		p := phraseAt(byte(c))
		require.Equal(t, p, ascii(p, maxText))
	}
	for _, b := range [][]byte{nil, []byte("abc"), bytes.Repeat([]byte("a"), maxText+1), {0xFF, 0}, append(bytes.Repeat([]byte{1}, 20), 0)} {
		_, _, ok := unpack(b)
		require.False(t, ok, "%q", b)
	}
}

func TestTitlesAreOneBoundedLine(t *testing.T) {
	for _, c := range []struct{ want, title string }{
		{"", ""},
		{"", " \t\n\x00\u200B"},
		{"U41 Halden", "  U41 \r\n Halden "},
		{"a b", "a\u202Eb"},
		{"a\uFFFDb", "a\xFFb"},
		{"<b>[url]", "<b>[url]"},
		{strings.Repeat("x", 80), strings.Repeat("x", 81)},
		{strings.Repeat("x", 78) + " y", strings.Repeat("x", 78) + "  yz"},
		{strings.Repeat("x", 79), strings.Repeat("x", 79) + " y"},
		{strings.Repeat("\U0001F600", 60), strings.Repeat("\U0001F600", 70)},
	} {
		require.Equal(t, c.want, clean(c.title, MaxTitle))
		require.Equal(t, c.want, clean(c.want, MaxTitle))
	}
}

// Links that were posted must be read for ever. This one was made when version 1 began: it and the phrases may never change.
func TestLinksOfVersion1StayReadable(t *testing.T) {
	s, err := Decode("s1.AJloxBMFAgNtNjhrACGZSFLETU1K5LXeUdiEs3Q9LgLq59ibWWT3kQFzg0ryFORO2CTv_mb-qvi5tYTbx5t0CA1685ekn_h79K4i7c76JACdYTWzGdIyvJt8HUyz" +
		"aPLMWIF9FXynmHp_BlU3IOeqkws2ODAwMAwNAAICMzIsNTAw3cjJMt7KNN4uAAwBrEZGrTY03a4AAOQ166Ae")
	require.NoError(t, err)
	order := arrange.Orders()[5]
	want := of(t, random(2500), order)
	want.Title, want.State, want.Headline = "U7 窓", report.Suspect, "Nothing wrong shows in this 68000 image, stored swapped."
	want.Order.Also = []string{"swap16"}
	want.Findings = []Finding{
		{"size", report.Warning, "Size", "2,500 bytes is no chip's size: more than 2 KiB, less than 4 KiB.", report.Certain},
		{"tail", report.Note, "End", "Padded with FF: the last 64 bytes hold nothing else.", report.Weak},
	}
	require.Equal(t, want, s)
	require.Equal(t, Identical, Check(random(2500), s, nil).Relation)
	require.Equal(t, uint32(0xCCCF5938), crc32.ChecksumIEEE([]byte(phrases)))
}
