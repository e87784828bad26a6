package report

import (
	"strings"

	"lunette/core/words"
)

// A Job is what a person types onto a report.
type Job struct {
	Name  string
	Owner string
	Date  string // as typed: the core knows no clock
	Reads string // how often the chip was read
	Notes string // may have several lines
}

// A Section is what else there is to tell, as sentences that are made already: what was compared, what was burnt into which
// device with which sums, how it is to be seated.
type Section struct {
	Title string
	Lines []string
}

// A Document is the report for the owner of the board: the page shows and prints it, Text writes it.
type Document struct {
	Title string `json:"title"`
	Parts []Part `json:"parts"`
}

// A Part is what stands under one heading, in the order of its fields; what it does not have is empty.
type Part struct {
	Title    string   `json:"title"`
	Rows     []Row    `json:"rows"`
	Lead     string   `json:"lead"` // the answer
	Next     string   `json:"next"` // what to do
	Findings []Told   `json:"findings"`
	Items    []string `json:"items"`
	Blank    int      `json:"blank"` // lines to write on
}

// A Row is a name and its value.
type Row struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Typed bool   `json:"typed"` // by a person; where it is empty there is a line to write on
}

// Told is a finding in words, with the first of its evidence.
type Told struct {
	Text  string   `json:"text"`
	Items []string `json:"items"`
	Next  string   `json:"next"`
}

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

// DocumentOf returns r for the owner of the board: what was read, the verdict with its evidence, sums, the sections as they
// come, cautions, and notes or room for them.
func DocumentOf(r Report, job Job, sections []Section) Document {
	d := Document{Title: "Report on a ROM dump"}
	d.Parts = append(d.Parts, Part{Rows: []Row{typed("Job", job.Name), typed("Date", job.Date), typed("Owner", job.Owner)}},
		whatWasRead(r, job), verdictPart(r), sumsPart(r))
	for _, s := range sections {
		d.Parts = append(d.Parts, Part{Title: s.Title, Items: s.Lines})
	}
	d.Parts = append(d.Parts, Part{Title: "Cautions", Items: cautions}, notesPart(job.Notes))
	for i := range d.Parts {
		d.Parts[i].complete()
	}
	return d
}

// complete makes empty lists of those that are not there.
func (p *Part) complete() {
	if p.Rows == nil {
		p.Rows = []Row{}
	}
	if p.Findings == nil {
		p.Findings = []Told{}
	}
	if p.Items == nil {
		p.Items = []string{}
	}
}

func typed(name, value string) Row { return Row{name, strings.TrimSpace(oneLine(value)), true} }

func whatWasRead(r Report, job Job) Part {
	size := words.Size(r.Dump.Size)
	if exact := words.Plural(r.Dump.Size, "byte"); exact != size {
		size += " (" + exact + ")"
	}
	order, cpu := "cannot tell", "cannot tell"
	if r.Order.Sure != CannotTell {
		order = words.Fill("{} ({})", r.Order.Name, string(r.Order.Sure))
	}
	if r.CPU.ID != "" {
		cpu = words.Fill("{} ({})", r.CPU.Name, string(r.CPU.Sure))
	}
	return Part{Title: "What was read", Items: r.Dump.Notes, Rows: []Row{
		{Name: "File", Value: oneLine(r.Dump.Name)},
		{Name: "Size", Value: size},
		{Name: "Format", Value: strings.Join(append([]string{string(r.Dump.Format)}, r.Dump.Packing...), ", from ")},
		{Name: "Bytes", Value: order},
		{Name: "CPU", Value: cpu},
		typed("Read", job.Reads),
	}}
}

func verdictPart(r Report) Part {
	p := Part{Title: "Verdict: " + string(r.Verdict.State), Lead: r.Verdict.Headline, Next: r.Verdict.Next}
	for _, f := range r.Findings {
		if strings.HasPrefix(r.Verdict.Next, f.Next) {
			f.Next = "" // said above
		}
		p.Findings = append(p.Findings, told(f))
	}
	return p
}

// told returns a finding with the first of its evidence.
func told(f Finding) Told {
	const listed = 6
	t := Told{Text: words.Fill("{} ({}, {}): {}", f.Question, string(f.Severity), string(f.Sure), f.Answer), Items: []string{}, Next: f.Next}
	for i, e := range f.Evidence {
		if i == listed && len(f.Evidence) > listed+1 {
			t.Items = append(t.Items, words.Fill("and {} more, in the report as JSON", words.Count(len(f.Evidence)-listed)))
			break
		}
		text := e.Text
		if e.Expected != "" || e.Found != "" {
			text = words.Fill("{}; expected {}, found {}", text, e.Expected, e.Found)
		}
		t.Items = append(t.Items, text)
	}
	if f.Chance != "" {
		t.Items = append(t.Items, "by chance: "+f.Chance)
	}
	return t
}

func sumsPart(r Report) Part {
	p := Part{Title: "Sums"}
	for _, id := range printedSums {
		for _, s := range r.Sums {
			if s.ID == id {
				p.Rows = append(p.Rows, Row{Name: s.Name, Value: s.Hex})
			}
		}
	}
	return p
}

// notesPart has the notes that were typed, a line each, and room for more.
func notesPart(notes string) Part {
	p := Part{Title: "Notes", Blank: 6}
	for _, line := range strings.Split(notes, "\n") {
		if line = strings.TrimSpace(oneLine(line)); line != "" {
			p.Items = append(p.Items, line)
		}
	}
	if len(p.Items) > 0 {
		p.Blank = 2
	}
	return p
}
