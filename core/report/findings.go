package report

import (
	"math"
	"math/bits"
	"slices"
	"strconv"

	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/sorted"
	"lunette/core/survey"
	"lunette/core/words"
)

// findingsOf asks every question in turn. A dump of one repeated byte, of a bus that nothing drove or of a few bytes shows
// nothing about lines or repeats, so there the first answer is the last but for the size.
func findingsOf(d dump.Dump, s *survey.Survey, m marks.Answer) []Finding {
	c := contentOf(s)
	var findings []Finding
	if f, found := foreignFinding(d); found {
		findings = append(findings, f)
	}
	findings = append(findings, contentFinding(s, c, m), sizeFinding(s, m))
	if d.Format != dump.Raw || len(d.Notes) > 0 {
		findings = append(findings, fileFinding(d))
	}
	if c.constant || s.Ramp.Found() || s.Size < leastSize {
		return findings
	}
	findings = append(findings, orderFinding(m), codeFinding(m, s.Size), sumFinding(m))
	if f, found := headersFinding(m, s.Size); found {
		findings = append(findings, f)
	}
	if s.Period > 0 {
		findings = append(findings, repeatFinding(s))
	}
	findings = append(findings, dataLinesFinding(s, c), addressLinesFinding(s, c, m), blankFinding(d, s))
	if f, found := tailFinding(s, m); found {
		findings = append(findings, f)
	}
	return findings
}

// content is what of a dump can bear evidence: the bytes outside runs of one repeated byte.
type content struct {
	bytes    int     // outside such runs
	entropy  float64 // of these, bits per byte
	text     int     // printable, of these
	constant bool    // the whole dump is one repeated byte

	values [2]int // different byte values at even and at odd addresses
}

func contentOf(s *survey.Survey) content {
	counts := s.Histogram
	counts[0xFF] -= s.Blank.FF
	counts[0x00] -= s.Blank.Zero
	for _, run := range s.Blank.Longest {
		if run.Value != 0xFF && run.Value != 0x00 {
			counts[run.Value] -= run.To - run.From
		}
	}
	c := content{bytes: s.Size - s.Blank.Bytes, text: s.TextBytes, entropy: survey.Entropy(&counts)}
	for value, n := range s.Histogram {
		c.constant = c.constant || n == s.Size
		if s.Even[value] > 0 {
			c.values[0]++
		}
		if n > s.Even[value] {
			c.values[1]++
		}
	}
	return c
}

// leastSize is the size in bytes below which a dump is judged by nothing else.
const leastSize = 16

// enough is how many bytes outside blank runs a check of lines needs before it says anything.
const enough = 256

func contentFinding(s *survey.Survey, c content, m marks.Answer) Finding {
	f := Finding{ID: "content", Question: "Content", Sure: Certain}
	size := words.Size(s.Size)
	value := s.Tail.Value
	ramp := s.Ramp
	switch {
	case s.Size < leastSize:
		f.Severity, f.Sure = Unclear, CannotTell
		f.Answer = words.Fill("{}, which is too little to judge by.", words.Plural(s.Size, "byte"))
		f.headline = words.Fill("Too little to judge by: {}. No chip is that small.", words.Plural(s.Size, "byte"))
		f.Next = "Choose the dump itself, or read the chip again."
	case c.constant && value == 0xFF:
		f.Severity, f.Answer = Empty, words.Fill("All {} read FF.", size)
		f.headline = words.Fill("Blank: all {} read FF, as an erased chip does.", size)
		f.Next = "If it is to be burnt, it is ready. If it should hold something, check that the chip is seated, powered and " +
			"selected (CE and OE low) and read again: an empty socket often reads FF too."
	case c.constant:
		f.Severity, f.Answer = Fault, words.Fill("All {} read {}.", size, words.Byte(value))
		f.headline = words.Fill("Nothing was read: all {} are {}.", size, words.Byte(value))
		f.Next = "No chip holds that on purpose. Check that it is the right way round, powered and selected, and that nothing is " +
			"shorted; switch off before touching it. Then read again."
	case ramp.Found():
		f.Severity, f.Sure = Fault, Strong
		f.Answer = words.Fill("{} of {} are {}{}.", words.Count(ramp.Matches), words.Plural(ramp.Of, "byte"), ramp.Pattern, inverted(ramp))
		f.headline = "Nothing drove the data bus: the bytes follow the address."
		f.Next = "The reader saw its own address lines. Check that the chip is seated, powered and selected, and read again."
	case 100*kindBytes(s, survey.Dense) >= 98*s.Size && c.bytes >= 4096 && !known(m, s.Size):
		f.Severity, f.Sure = Unclear, CannotTell
		f.Answer = words.Fill("Dense from end to end: {} bits a byte, like random or packed data.", words.Decimal(c.entropy, 2))
		f.headline = "These bytes look like noise: nothing in them shows whether the read is good."
		f.Next = "Packed, encrypted or sampled data looks like this, and so does an open bus. Read again: noise comes out different, " +
			"data the same."
	case c.bytes < enough:
		f.Severity, f.Sure = Unclear, CannotTell
		f.Answer = words.Fill("Only {} are anything but a repeated byte.", words.Plural(c.bytes, "byte"))
		f.headline = words.Fill("Too little to judge by: {} of content.", words.Plural(c.bytes, "byte"))
		f.Next = "Read the chip a second time and compare the sums: two equal reads say more than these bytes can."
	case 100*s.TextBytes >= 95*s.Size:
		f.Severity, f.Sure = Unclear, Strong
		f.Answer = words.Fill("Nearly all of it is readable text: {}.", words.Share(s.TextBytes, s.Size))
		f.headline = "This is text from end to end, more like a document than a chip."
		f.Next = "If it is a hex listing in a file, paste it instead. If it is a text file that strayed in, take the dump itself."
	default:
		f.Severity = Note
		f.Answer = words.Fill("{} of content, {} bits a byte.", words.Size(c.bytes), words.Decimal(c.entropy, 2))
	}
	f.Evidence = contentEvidence(s)
	return f
}

// kindBytes returns how many bytes lie in blocks of one kind.
func kindBytes(s *survey.Survey, kind survey.Kind) int {
	n := 0
	for i, block := range s.Blocks {
		if block.Kind == kind {
			from, to := s.Span(i)
			n += to - from
		}
	}
	return n
}

func inverted(ramp survey.Ramp) string {
	if ramp.Inverted {
		return ", inverted"
	}
	return ""
}

func contentEvidence(s *survey.Survey) []Evidence {
	var evidence []Evidence
	for _, kind := range []survey.Kind{survey.Mixed, survey.Printed, survey.Sparse, survey.Dense} {
		if n := kindBytes(s, kind); n > 0 {
			evidence = append(evidence, Evidence{Text: words.Fill("{} ({}) {}", words.Size(n), words.Share(n, s.Size), kind.String())})
		}
	}
	if len(s.Texts) > 0 {
		t := s.Texts[0]
		evidence = append(evidence, Evidence{Text: words.Fill("{} of text, the longest {} at {}", words.Plural(s.TextRuns, "run"),
			words.Plural(t.To-t.From, "character"), words.Address(t.From)), From: t.From, To: t.To})
	}
	return evidence
}

// proven tells whether a sum that a bad read does not pass covers the whole dump and holds.
func proven(m marks.Answer, size int) bool {
	return slices.ContainsFunc(m.Sums, func(s marks.BuiltInSum) bool {
		return s.Width == 32 && s.Bits >= 20 && s.From == 0 && s.To*max(1, s.Copies) >= size
	}) || slices.ContainsFunc(m.Headers, func(h marks.Header) bool {
		return h.Proves() && 10*h.Length >= 9*size
	})
}

// known tells whether the dump holds a pattern that is there on purpose, whatever the rest of it looks like.
func known(m marks.Answer, size int) bool {
	return proven(m, size) || slices.ContainsFunc(m.Headers, func(h marks.Header) bool { return h.Settles })
}

// sizeFinding goes by this: memory devices hold a power of two bytes, from the 32 of a small PROM on (common practice, no
// source).
func sizeFinding(s *survey.Survey, m marks.Answer) Finding {
	f := Finding{ID: "size", Question: "Size", Sure: Certain}
	if s.Size >= 32 && bits.OnesCount(uint(s.Size)) == 1 {
		f.Severity = Good
		f.Answer = words.Fill("{}, a size that chips have.", words.Size(s.Size))
		f.Evidence = []Evidence{{Text: words.Fill("{} = 2^{}", words.Plural(s.Size, "byte"), strconv.Itoa(bits.Len(uint(s.Size))-1))}}
		return f
	}
	if ownLength(m) == s.Size {
		f.Severity = Good
		f.Answer = words.Fill("{}, as long as its own header says.", words.Size(s.Size))
		f.Next = "It is padded to a chip's size when it is burnt."
		return f
	}
	if s.Size < 32 {
		f.Severity = Warning
		f.Answer = words.Fill("{}, less than any memory chip holds.", words.Plural(s.Size, "byte"))
		f.Next = "If it was read from a chip, the read ended early: read again."
		return f
	}
	above := 1 << bits.Len(uint(s.Size))
	below := above / 2
	f.Severity = Warning
	f.Answer = words.Fill("{} is no chip's size: more than {}, less than {}.", words.Size(s.Size), words.Size(below), words.Size(above))
	f.headline = words.Fill("{} is no chip's size.", words.Size(s.Size))
	f.Evidence = []Evidence{{Text: words.Fill("{} more than {}, {} short of {}", words.Plural(s.Size-below, "byte"), words.Size(below),
		words.Plural(above-s.Size, "byte"), words.Size(above))}}
	f.Next = words.Fill("If it was read from a chip, the read ended early or the wrong device was chosen: read again. An image that was "+
		"built, not read, may well be short: it is padded to {} when it is burnt.", words.Size(above))
	return f
}

// ownLength returns the bytes that the headers of a chain speak for, one after the other from the start, as far as none fails
// its own check and the first passes it.
func ownLength(m marks.Answer) int {
	end := 0
	for grown := true; grown; {
		grown = false
		for _, h := range m.Headers {
			passes := h.SelfCheck == marks.CheckHolds || end > 0 && h.SelfCheck == marks.CheckNotAsked
			if passes && h.At == end && h.Length > 0 {
				end, grown = end+h.Length, true
			}
		}
	}
	return end
}

func fileFinding(d dump.Dump) Finding {
	f := Finding{ID: "file", Question: "File", Severity: Note, Sure: Certain, Answer: string(d.Format) + "."}
	if d.Format != dump.Raw {
		f.Answer = words.Fill("{}, addresses {} to {}.", string(d.Format), words.Hex(d.Base, 6), words.Hex(d.Base+uint64(len(d.Bytes))-1, 6))
	}
	for _, note := range d.Notes {
		f.Evidence = append(f.Evidence, Evidence{Text: note})
	}
	if len(d.Gaps) == 0 {
		return f
	}
	missing := 0
	for _, gap := range d.Gaps {
		missing += gap.Len()
		f.Evidence = append(f.Evidence, Evidence{Text: words.Fill("no data from {} to {}, {}; shown as FF", words.Address(gap.From),
			words.Address(gap.To-1), words.Size(gap.Len())), From: gap.From, To: gap.To})
	}
	f.Answer = words.Fill("{} {} without data, {} in all, shown as FF.", f.Answer, words.Plural(len(d.Gaps), "gap"), words.Size(missing))
	f.Severity = Warning
	f.headline = words.Fill("{} are missing from the file.", words.Size(missing))
	f.Next = "The gaps are what the file leaves out, not what the chip held there. If the whole chip was read, get the whole file; an " +
		"image that was built may leave out what is blank."
	return f
}

func repeatFinding(s *survey.Survey) Finding {
	times := s.Size / s.Period
	f := Finding{ID: "repeat", Question: "Repeats", Severity: Warning, Sure: Certain}
	f.Answer = words.Fill("The same {} stand {} times.", words.Size(s.Period), words.Count(times))
	if times == 2 {
		f.Answer = words.Fill("The same {} stand twice.", words.Size(s.Period))
	}
	if s.Size%s.Period != 0 {
		f.Answer = words.Fill("The same {} repeat to the end.", words.Size(s.Period))
	}
	top := bits.Len(uint(s.Period)) - 1
	f.headline = f.Answer
	f.Evidence = []Evidence{{Text: words.Fill("every byte equals the one {} further on", words.Size(s.Period)), From: 0, To: s.Period}}
	f.Next = words.Fill("If the chip holds {}, the device was set too large: keep the first {}. If it should hold {}, address line A{} of "+
		"a x8 chip (A{} of a x16 one) did nothing: clean its pin and read again.",
		words.Size(s.Period), words.Size(s.Period), words.Size(s.Size), strconv.Itoa(top), strconv.Itoa(max(0, top-1)))
	return f
}

func blankFinding(d dump.Dump, s *survey.Survey) Finding {
	f := Finding{ID: "blank", Question: "Blank space", Severity: Note, Sure: Certain}
	if s.Blank.Count == 0 {
		f.Answer = words.Fill("None: no byte repeats {} times in a row.", strconv.Itoa(survey.MinRun))
		return f
	}
	f.Answer = words.Fill("{} in {}: {}.", words.Share(s.Blank.Bytes, s.Size), words.Plural(s.Blank.Count, "run"), blankKinds(s))
	for _, run := range longest(s.Blank.Longest, 5) {
		text := words.Fill("{} of {} from {} to {}", words.Size(run.To-run.From), words.Byte(run.Value), words.Address(run.From), words.Address(run.To-1))
		f.Evidence = append(f.Evidence, Evidence{Text: text, From: run.From, To: run.To})
	}
	return f
}

func blankKinds(s *survey.Survey) string {
	var kinds []string
	for _, k := range []struct {
		bytes int
		name  string
	}{{s.Blank.FF, "FF"}, {s.Blank.Zero, "00"}, {s.Blank.Bytes - s.Blank.FF - s.Blank.Zero, "other repeated bytes"}} {
		if k.bytes > 0 {
			kinds = append(kinds, words.Size(k.bytes)+" of "+k.name)
		}
	}
	return words.List(kinds)
}

// longest returns the n longest of runs, longest first.
func longest(runs []survey.Run, n int) []survey.Run {
	ordered := slices.Clone(runs)
	sorted.By(ordered, func(a, b survey.Run) int { return (b.To - b.From) - (a.To - a.From) })
	return ordered[:min(n, len(ordered))]
}

// tailFinding looks at the run of one byte that ends the dump. Padding may begin anywhere. A read that stopped ends at a
// round address, so a tail that begins at an exact eighth of the dump is worth a second look, and so is one that takes
// most of it: a burn that stopped looks like a small image in a large chip. What is proven to be whole needs neither.
func tailFinding(s *survey.Survey, m marks.Answer) (Finding, bool) {
	length := s.Tail.To - s.Tail.From
	if length < survey.MinRun {
		return Finding{}, false
	}
	f := Finding{ID: "tail", Question: "End", Severity: Note, Sure: Certain,
		Evidence: []Evidence{{Text: words.Fill("{} of {} from {} to the end", words.Size(length), words.Byte(s.Tail.Value), words.Address(s.Tail.From)),
			From: s.Tail.From, To: s.Tail.To}}}
	f.Answer = words.Fill("Padded with {}: the last {} hold nothing else.", words.Byte(s.Tail.Value), words.Size(length))
	eighth := s.Size / 8
	// The last bytes before the end may have been FF themselves.
	const near = 16
	eighthsIn := (s.Tail.From + near) / max(1, eighth)
	atEighth := s.Size%8 == 0 && eighth >= 1024 && eighthsIn*eighth-s.Tail.From >= 0
	mostly := s.Size >= 8<<10 && length >= s.Size/4*3
	way := words.Share(s.Tail.From, s.Size)
	switch {
	case proven(m, s.Size) || !atEighth && !mostly:
		return f, true
	case atEighth:
		way = eighths[eighthsIn]
		f.Chance = words.OneIn(math.Log2(float64(eighth) / (near + 1)))
	}
	f.Severity, f.Sure = Warning, Weak
	f.Answer = words.Fill("Content stops at {}, {} of the way; the rest is {}.", words.Address(s.Tail.From), way, words.Byte(s.Tail.Value))
	f.headline = f.Answer
	f.Next = "Read again. If it stops at the same address it is a small image in a larger chip, or a burn that stopped there; if " +
		"not, the read was cut short."
	return f, true
}

var eighths = [9]string{"none", "an eighth", "a quarter", "three eighths", "half", "five eighths", "three quarters", "seven eighths", "all"}
