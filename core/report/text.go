package report

import (
	"strings"
	"unicode/utf8"
)

// textWidth is the most characters of a line: what fits onto A4 and Letter in a typewriter face, and into a mail unbroken.
const textWidth = 78

// Text returns the report of DocumentOf as plain text, in lines of at most textWidth characters.
func Text(r Report, job Job, sections []Section) string { return DocumentOf(r, job, sections).Text() }

// Text returns d as plain text, in lines of at most textWidth characters. What was not typed is a line to write on.
func (d Document) Text() string {
	t := &sheet{}
	t.heading(d.Title, "=")
	for i, part := range d.Parts {
		if i > 0 || part.Title != "" {
			t.heading(part.Title, "-")
		}
		t.part(part)
	}
	return t.text.String()
}

func (t *sheet) part(p Part) {
	for _, row := range p.Rows {
		if row.Typed && row.Value == "" {
			row.Value = strings.Repeat("_", 40)
		}
		t.field(row.Name, row.Value)
	}
	t.wrapped(p.Lead, "", "")
	t.wrapped(p.Next, "Next: ", "      ")
	for _, told := range p.Findings {
		t.line("")
		t.wrapped(told.Text, "", "  ")
		for _, item := range told.Items {
			t.item(item)
		}
		t.wrapped(told.Next, "  Next: ", "        ")
	}
	for _, item := range p.Items {
		t.item(item)
	}
	for range p.Blank {
		t.line("\n" + strings.Repeat("_", textWidth))
	}
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
