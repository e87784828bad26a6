package report

import (
	"strings"
	"unicode/utf8"

	"lunette/core/words"
)

// A Job is what a person types onto a report.
type Job struct {
	Name string
	Date string // as typed: the core knows no clock
}

// A Section is what else there is to tell, as sentences that are made already: what was compared, what was burnt into which
// device with which sums, how it is to be seated.
type Section struct {
	Title string
	Lines []string
}

// textWidth is the most characters of a line: what fits onto A4 and Letter in a typewriter face, and into a mail unbroken.
const textWidth = 78

// printedSums are the sums of the catalogue that labels, lists and programmers' screens show (common practice, no source).
var printedSums = []string{"byte-sum-16", "crc-32", "md5", "sha-1", "sha-256"}

// cautions go with every report: whoever holds it may be about to open the machine.
var cautions = []string{
	"Power off and unplug before touching a socket; picture tubes and power supplies hold high voltage after switch-off.",
	"Wear a ground strap before you handle a chip.",
	"A chip put in the wrong way round gets hot enough to burn, and is gone: look for the notch and pin 1 twice.",
	"UV-C light of an eraser harms eyes and skin.",
	"The parts' own data sheets and local rules come first. Copy only what you have the right to copy.",
}

// Text returns r as plain text for the owner of the board, in lines of at most textWidth characters: what was read, the
// verdict with its evidence, sums, the sections as they come, cautions, and room for notes. What was not typed is a line to
// write on.
func Text(r Report, job Job, sections []Section) string {
	t := &sheet{}
	t.heading("Report on a ROM dump", "=")
	t.field("Job", orRule(job.Name))
	t.field("Date", orRule(job.Date))

	t.heading("What was read", "-")
	t.field("File", r.Dump.Name)
	size := words.Size(r.Dump.Size)
	if exact := words.Plural(r.Dump.Size, "byte"); exact != size {
		size += " (" + exact + ")"
	}
	t.field("Size", size)
	t.field("Format", strings.Join(append([]string{string(r.Dump.Format)}, r.Dump.Packing...), ", from "))
	order, cpu := "cannot tell", "cannot tell"
	if r.Order.Sure != CannotTell {
		order = words.Fill("{} ({})", r.Order.Name, string(r.Order.Sure))
	}
	if r.CPU.ID != "" {
		cpu = words.Fill("{} ({})", r.CPU.Name, string(r.CPU.Sure))
	}
	t.field("Bytes", order)
	t.field("CPU", cpu)
	for _, note := range r.Dump.Notes {
		t.item(note)
	}

	t.heading("Verdict: "+string(r.Verdict.State), "-")
	t.wrapped(r.Verdict.Headline, "", "")
	t.wrapped(r.Verdict.Next, "Next: ", "      ")
	for _, f := range r.Findings {
		if strings.HasPrefix(r.Verdict.Next, f.Next) {
			f.Next = "" // said above
		}
		t.finding(f)
	}

	t.heading("Sums", "-")
	for _, id := range printedSums {
		for _, s := range r.Sums {
			if s.ID == id {
				t.field(s.Name, s.Hex)
			}
		}
	}
	for _, s := range sections {
		t.section(s)
	}
	t.section(Section{"Cautions", cautions})
	t.heading("Notes", "-")
	for range 6 {
		t.line("\n" + strings.Repeat("_", textWidth))
	}
	return t.text.String()
}

func (t *sheet) section(s Section) {
	t.heading(s.Title, "-")
	for _, line := range s.Lines {
		t.item(line)
	}
}

func orRule(typed string) string {
	if strings.TrimSpace(typed) == "" {
		return strings.Repeat("_", 40)
	}
	return typed
}

// finding writes a finding with the first of its evidence.
func (t *sheet) finding(f Finding) {
	const listed = 6
	t.line("")
	t.wrapped(words.Fill("{} ({}, {}): {}", f.Question, string(f.Severity), string(f.Sure), f.Answer), "", "  ")
	for i, e := range f.Evidence {
		if i == listed && len(f.Evidence) > listed+1 {
			t.item(words.Fill("and {} more, in the report as JSON", words.Count(len(f.Evidence)-listed)))
			break
		}
		text := e.Text
		if e.Expected != "" || e.Found != "" {
			text = words.Fill("{}; expected {}, found {}", text, e.Expected, e.Found)
		}
		t.item(text)
	}
	if f.Chance != "" {
		t.item("by chance: " + f.Chance)
	}
	t.wrapped(f.Next, "  Next: ", "        ")
}

// A sheet is a text in the making.
type sheet struct{ text strings.Builder }

func (t *sheet) line(text string) {
	t.text.WriteString(text)
	t.text.WriteByte('\n')
}

func (t *sheet) heading(title, rule string) {
	if t.text.Len() > 0 {
		t.line("")
	}
	title = oneLine(title)
	t.wrapped(title, "", "")
	t.line(strings.Repeat(rule, min(textWidth, utf8.RuneCountInString(title))))
}

func (t *sheet) field(name, value string) { t.wrapped(value, padded(name, 9), padded("", 9)) }

func (t *sheet) item(text string) { t.wrapped(text, "  - ", "    ") }

// wrapped writes text after first, and after later in each further line; a word that is longer than a line is broken. No text
// writes no line.
func (t *sheet) wrapped(text, first, later string) {
	line, used := first, utf8.RuneCountInString(first)
	indent := used
	for _, word := range strings.Fields(oneLine(text)) {
		length := utf8.RuneCountInString(word)
		if used > indent && used+1+length > textWidth {
			t.line(line)
			line, used = later, utf8.RuneCountInString(later)
			indent = used
		}
		if used > indent {
			line, used = line+" ", used+1
		}
		for _, c := range word {
			if used == textWidth {
				t.line(line)
				line, used = later, utf8.RuneCountInString(later)
				indent = used
			}
			line, used = line+string(c), used+1
		}
	}
	if used > indent {
		t.line(line)
	}
}

// padded returns text with spaces up to a width, one at least.
func padded(text string, width int) string {
	return text + strings.Repeat(" ", max(1, width-utf8.RuneCountInString(text)))
}

// oneLine returns text with a space for every control character: file names and texts from a dump may hold any.
func oneLine(text string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c >= 0x7F && c < 0xA0 || c == '\u2028' || c == '\u2029' || c >= '\u202A' && c <= '\u202E' || c >= '\u2066' && c <= '\u2069' {
			return ' '
		}
		return c
	}, text)
}
