package report

import (
	"math/bits"
	"strconv"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/survey"
	"lunette/core/words"
)

// dataLinesFinding judges the data lines. A line that never moves or always follows another is a bad contact or content
// that does not use it; which, depends on how much content there is and where the line stands:
//
//   - lines at the top or bottom of a byte are often unused on purpose: seven-bit text, samples, narrow tables, the empty
//     column of a font, sign bits that repeat. They are a hint at most.
//   - a line in the middle of busy bytes has no innocent reason.
//
// The thresholds are ours: common practice, no source.
func dataLinesFinding(s *survey.Survey, c content) Finding {
	f := Finding{ID: "data-lines", Question: "Data lines", Severity: Good, Sure: Strong}
	troubles := lineTroubles(s)
	if len(troubles) == 0 {
		f.Answer = "All are alive: each moves, and no two always move together."
		f.Evidence = []Evidence{quietest(s)}
		return f
	}
	worst := Note
	for _, t := range troubles {
		severity := t.weigh(c)
		if severity == Fault || severity == Warning && worst == Note {
			worst = severity
		}
		f.Evidence = append(f.Evidence, Evidence{Text: t.sentence})
	}
	f.Severity, f.Answer = worst, troubles[0].sentence+"."
	if len(troubles) > 1 {
		f.Answer = words.Fill("{}; {} in all.", troubles[0].sentence, words.Plural(len(troubles), "odd line"))
	}
	f.headline = f.Answer
	switch worst {
	case Fault:
		f.Sure = Strong
		f.Next = "Take it for a bad contact first: power off and unplug, reseat the chip, clean its pins and the socket, and read again. " +
			"If the line stays like this, the chip's output is dead; its data sheet has the pin."
	case Warning:
		f.Sure = Weak
		f.Next = "It may be content that does not use the line, or a bad contact. Clean the pins, read again and compare."
	default:
		f.Sure = CannotTell
		f.Answer = words.Fill("{}, but this content may not use it.", troubles[0].sentence)
	}
	return f
}

// trouble is one oddity of data lines: stuck ones, or ones that always equal another.
type trouble struct {
	sentence string
	lines    []int // numbers in their byte, 0 to 7
	lane     int   // 0 or 1 where only the bytes at even or odd addresses show it, else bothLanes
	lost     int   // lines that carry nothing of their own
	cross    bool  // the two are lines of different bytes of a word
	several  bool  // there are more of these: 12-bit values that are widened to 16, a sign that fills a byte
}

const bothLanes = 2

// weigh returns what the trouble means in a dump with content c.
func (t trouble) weigh(c content) Severity {
	const busy, fair = 5.0, 4.0 // bits a byte
	mostlyText := 2*c.text >= c.bytes
	switch {
	case c.bytes < enough || len(t.lines) > 2 && c.entropy < fair:
		return Note
	case t.cross && (t.several || t.lines[0]%7 == 0 && t.lines[1]%7 == 0):
		// Top and bottom lines of the two bytes meet in words: the sign of a number goes on from one byte into the other.
		if c.entropy >= fair && !mostlyText {
			return Warning
		}
		return Note
	case !t.cross && atEdge(t.lines):
		if c.entropy >= fair && !mostlyText {
			return Warning
		}
		return Note
	case c.entropy >= busy && c.bytes >= 4*enough && t.laneBusy(c):
		return Fault
	case c.entropy >= fair:
		return Warning
	}
	return Note
}

// laneBusy tells whether the bytes in which the trouble shows use the values that it leaves them. Every byte of a dump does
// in code; every second one also holds high bytes of small numbers, offsets and other narrow things, of which a table has
// few kinds.
func (t trouble) laneBusy(c content) bool {
	switch {
	case t.cross:
		return c.bytes >= 16*enough && 2*min(c.values[0], c.values[1]) >= 256
	case t.lane == bothLanes:
		return true
	}
	return c.bytes >= 16*enough && 10*c.values[t.lane] >= 7*(256>>t.lost)
}

// atEdge tells whether the lines of one byte are the top ones without a hole, or the bottom ones.
func atEdge(lines []int) bool {
	set := uint8(0)
	for _, line := range lines {
		set |= 1 << line
	}
	return bits.LeadingZeros8(^set) == len(lines) || bits.TrailingZeros8(^set) == len(lines)
}

// lineTroubles lists what is odd about the lines of a x8 chip or, if nothing is, of a x16 chip.
func lineTroubles(s *survey.Survey) []trouble {
	if troubles := byteTroubles(s.X8[:], bothLanes); len(troubles) > 0 {
		return troubles
	}
	troubles := append(byteTroubles(s.X16[:8], 0), byteTroubles(s.X16[8:], 1)...)
	return append(troubles, crossTroubles(s)...)
}

// crossTroubles lists lines of the one byte of a word that always equal a line of the other. Where all eight do, each byte
// stands twice, which is for the address lines to say.
func crossTroubles(s *survey.Survey) []trouble {
	var troubles []trouble
	for k, line := range s.X16[8:] {
		if line.SameAs >= 0 && line.SameAs < 8 {
			sentence := words.Fill("D{} and D{} of a x16 chip always read the same", strconv.Itoa(line.SameAs), strconv.Itoa(k+8))
			troubles = append(troubles, trouble{sentence: sentence, lines: []int{line.SameAs, k}, cross: true})
		}
	}
	if len(troubles) == 8 {
		return nil
	}
	for i := range troubles {
		troubles[i].several = len(troubles) > 1
	}
	return troubles
}

// byteTroubles lists what is odd about the eight lines of every byte, or of those of one lane of a x16 chip.
func byteTroubles(lines []survey.Line, lane int) []trouble {
	where := [...]string{" in the even bytes", " in the odd bytes", ""}[lane]
	first := [...]int{0, 8, 0}[lane]
	var troubles []trouble
	for _, level := range []struct {
		stuck func(survey.Line) bool
		name  string
	}{{survey.Line.StuckHigh, "high"}, {survey.Line.StuckLow, "low"}} {
		var stuck []int
		for k, line := range lines {
			if level.stuck(line) {
				stuck = append(stuck, k)
			}
		}
		if len(stuck) > 0 {
			troubles = append(troubles, trouble{sentence: words.Fill("{} never leaves {}{}", lineNames(stuck), level.name, where), lines: stuck, lane: lane, lost: len(stuck)})
		}
	}
	for _, group := range equalGroups(lines, first) {
		troubles = append(troubles, trouble{sentence: words.Fill("{} always read the same{}", lineNames(group), where), lines: group, lane: lane, lost: len(group) - 1})
	}
	return troubles
}

// equalGroups returns the sets of lines of one byte that always equal each other. first is the number of the byte's first
// line, 0 or 8: lines of another byte do not count here.
func equalGroups(lines []survey.Line, first int) [][]int {
	var groups [][]int
	grouped := uint8(0)
	for k, line := range lines {
		if line.SameAs < 0 || grouped>>k&1 == 1 {
			continue
		}
		group := []int{k}
		for other := k + 1; other < len(lines); other++ {
			if min(line.SameAs, first+k) == min(lines[other].SameAs, first+other) && lines[other].SameAs >= 0 {
				group = append(group, other)
				grouped |= 1 << other
			}
		}
		if len(group) > 1 {
			groups = append(groups, group)
		}
	}
	return groups
}

func lineNames(lines []int) string {
	names := make([]string, len(lines))
	for i, line := range lines {
		names[i] = "D" + strconv.Itoa(line)
	}
	return words.List(names)
}

// quietest says which data line moved least.
func quietest(s *survey.Survey) Evidence {
	least, ones := 0, s.Size
	for k, line := range s.X8 {
		if side := min(line.Ones, line.Of-line.Ones); side < ones {
			least, ones = k, side
		}
	}
	line := s.X8[least]
	return Evidence{Text: words.Fill("the quietest is D{}, high in {} of {} bytes", strconv.Itoa(least), words.Count(line.Ones), words.Count(line.Of))}
}

// addressLinesFinding judges the address lines below those that a repeat already explains.
func addressLinesFinding(s *survey.Survey, c content, m marks.Answer) Finding {
	f := Finding{ID: "address-lines", Question: "Address lines", Severity: Good, Sure: Strong}
	alive, silent := 0, []int{}
	for _, line := range s.Address {
		switch {
		case s.Period > 0 && 1<<line.Bit >= s.Period:
		case line.NoEffect():
			silent = append(silent, line.Bit)
		default:
			alive++
		}
	}
	if len(silent) == 0 {
		if bridged, found := bridgedFinding(s, c, f); found {
			return bridged
		}
	}
	switch {
	case len(silent) == 0 && c.bytes < enough:
		f.Severity, f.Sure = Note, CannotTell
		f.Answer = words.Fill("{} of content are too few to tell.", words.Plural(c.bytes, "byte"))
		return f
	case len(silent) == 0:
		f.Answer = words.Fill("All {} change what is read.", words.Count(alive))
		if s.Period > 0 {
			f.Answer = words.Fill("The lower {} change what is read; for those above see Repeats.", words.Count(alive))
		}
		return f
	}
	for _, bit := range silent {
		f.Evidence = append(f.Evidence, Evidence{Text: words.Fill("every byte equals the one {} further on or back: A{} of a x8 chip{}",
			words.Size(1<<bit), strconv.Itoa(bit), x16Name(bit))})
	}
	f.Answer = words.Fill("{} changes nothing.", silentNames(silent, m.Order == arrange.Swapped && m.Sure >= marks.Strong))
	f.headline = f.Answer
	f.Severity, f.Sure = Fault, Strong
	if c.bytes < enough || c.entropy < 2 || regular(s, 0) {
		f.Severity, f.Sure = Warning, Weak
	}
	f.Next = "The line is open, stuck or not connected, or the reader was set to another device. Power off and unplug, clean that pin " +
		"and the socket, check the device setting, and read again."
	return f
}

// regular tells whether the content is laid out in equal records, so that many address lines have little effect and one
// without any is no wonder. Lines that are known to be odd are allowed for.
func regular(s *survey.Survey, odd int) bool {
	return 8*(s.Alive-s.Restless-odd) > s.Alive
}

// bridgedFinding judges pairs of address lines that act as one, if there are any; f is the finding to fill in. Where the two
// are among the highest lines it is no more than three equal parts of the dump beside another one, which an image may hold
// on purpose.
func bridgedFinding(s *survey.Survey, c content, f Finding) (Finding, bool) {
	worst := Note
	for _, b := range s.Bridges {
		if b.Busy < enough || c.entropy < 2 {
			continue
		}
		severity, wins := Fault, "none"
		if b.TopLines(s.Size) || len(s.Bridges) > 1 || regular(s, 2) {
			severity = Warning
		}
		if !b.LowWins {
			wins = "both"
		}
		text := words.Fill("with either of A{} and A{} high every byte is the same, and the same as with {} of them: {} of content say so",
			strconv.Itoa(b.Low), strconv.Itoa(b.High), wins, words.Plural(b.Busy, "byte"))
		if b.Low > 0 {
			text += words.Fill("; on a x16 chip they are A{} and A{}", strconv.Itoa(b.Low-1), strconv.Itoa(b.High-1))
		}
		f.Evidence = append(f.Evidence, Evidence{Text: text})
		if worst == Note || severity == Fault && worst == Warning {
			worst = severity
			f.Answer = words.Fill("Address lines A{} and A{} act as one.", strconv.Itoa(b.Low), strconv.Itoa(b.High))
		}
	}
	if worst == Note {
		return f, false
	}
	f.Severity, f.Sure, f.headline = worst, Strong, f.Answer
	f.Next = "The two touch somewhere: in the adapter, in the socket or by solder. Power off and unplug, look for the bridge and clean the " +
		"pins, and read again."
	if worst == Warning {
		f.Sure = Weak
		f.Next = "The two may touch, or the content is so on purpose. Power off and unplug, look at those pins, and read again."
	}
	return f, true
}

func x16Name(bit int) string {
	if bit == 0 {
		return " (on a x16 chip both bytes of every word are equal)"
	}
	return words.Fill(", A{} of a x16 chip", strconv.Itoa(bit-1))
}

// silentNames names lines by their bits of the byte offset. A dump that is stored swapped comes of a x16 chip, most likely.
func silentNames(silent []int, swapped bool) string {
	names := make([]string, len(silent))
	for i, bit := range silent {
		names[i] = "A" + strconv.Itoa(bit)
		if swapped && bit > 0 {
			names[i] = words.Fill("A{} of a x16 chip (A{} of a x8 one)", strconv.Itoa(bit-1), strconv.Itoa(bit))
		}
	}
	if len(names) == 1 {
		return "Address line " + names[0]
	}
	return "Each of address lines " + words.List(names)
}
