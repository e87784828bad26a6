package core

import (
	"errors"
	"strings"

	"lunette/core/arrange"
	"lunette/core/link"
	"lunette/core/qr"
	"lunette/core/report"
	"lunette/core/words"
)

// A Posting is a statement about a dump, ready to be passed on.
type Posting struct {
	Statement link.Statement `json:"statement"`
	Contents  []link.Content `json:"contents"` // all that is in it, as a person reads it
	Fragment  string         `json:"fragment"` // what stands after # in the link
	URL       string         `json:"url"`      // the whole link
	Texts     link.Pasted    `json:"texts"`    // the link in words, ready to paste
	Picture   []string       `json:"picture"`  // what a picture of it says: the dump, then its sums, a line each
}

// A LinkPlan says what a person wants of a link.
type LinkPlan struct {
	Title string // may be empty
	Base  string // address of the page; what follows # in it is left out
	Short bool   // the short form, for a QR code
}

// Link returns what is passed on of an open dump. It inspects the dump where that has not been done.
func (b *Bench) Link(id string, plan LinkPlan, host Host) (Posting, error) {
	s, err := b.statement(id, host)
	if err != nil {
		return Posting{}, err
	}
	s = s.Titled(plan.Title)
	if plan.Short {
		s = s.Shortened()
	}
	base, _, _ := strings.Cut(plan.Base, "#")
	p := Posting{Statement: s, Contents: s.Contents(), Fragment: link.Encode(s)}
	p.URL = base + "#" + p.Fragment
	p.Texts = link.Texts(s, p.URL)
	what := words.Size(s.Size)
	if s.CPU.Name != "" {
		what += words.Fill(" · {} code", s.CPU.Name)
	}
	if s.Order.Sure != report.CannotTell {
		what += " · " + s.Order.Name
	}
	p.Picture = []string{what, "CRC-32 " + s.CRC32, "SHA-256 " + s.SHA256}
	return p, nil
}

// statement returns what is known of a dump without a title. It is kept until the dump is inspected again, since the
// digests of a large one take their time.
func (b *Bench) statement(id string, host Host) (link.Statement, error) {
	if s, known := b.stated[id]; known {
		return s, nil
	}
	r, err := b.reportOf(id, host)
	if err != nil {
		return link.Statement{}, err
	}
	s, err := link.Of(b.dumps[id].Bytes, r, "", tellShare(host))
	if err == nil {
		b.stated[id] = s
	}
	return s, err
}

// reportOf returns the last report about an open dump, or the first.
func (b *Bench) reportOf(id string, host Host) (report.Report, error) {
	if r, inspected := b.seen[id]; inspected {
		return r, nil
	}
	return b.Inspect(id, ByHand{}, nil, host)
}

// ReadLink returns the statement in a link, which may be a whole address or what follows # in it.
func ReadLink(fragment string) (link.Statement, error) { return link.Decode(fragment) }

// Check says what an open dump is to the one that a link is about.
func (b *Bench) Check(id, fragment string, host Host) (link.Answer, error) {
	d, ok := b.dumps[id]
	if !ok {
		return link.Answer{}, errClosed
	}
	s, err := link.Decode(fragment)
	if err != nil {
		return link.Answer{}, err
	}
	return link.Check(d.Bytes, s, tellShare(host)), nil
}

// A Paper is the report for the owner of a board: in parts, and as text.
type Paper struct {
	Document report.Document `json:"document"`
	Text     string          `json:"text"`
	Name     string          `json:"name"` // of a file for it, without its ending
}

// ReportText returns the report about an open dump with what a person typed and what the sections of the page hand over.
func (b *Bench) ReportText(id string, job report.Job, sections []report.Section) (Paper, error) {
	r, err := b.reportOf(id, nil)
	if err != nil {
		return Paper{}, err
	}
	d := report.DocumentOf(r, job, sections)
	return Paper{Document: d, Text: d.Text(), Name: strings.TrimSuffix(named(b.dumps[id].Name, "report", ""), ".")}, nil
}

// Labels returns the labels of the chips that the files last prepared of a dump go into, or, with files false, that of one
// chip which holds the dump as it is stored. name is printed on each; device, its part number, is that of the files where
// there are some.
func (b *Bench) Labels(id, name, device string, files bool) ([]report.Label, error) {
	d, ok := b.dumps[id]
	if !ok {
		return nil, errClosed
	}
	if !files {
		return []report.Label{report.LabelOf(name, device, arrange.Stored, d.Bytes)}, nil
	}
	if b.prepared == nil || b.preparedOf != id {
		return nil, errors.New("no files have been made of this dump; make them under Burn first")
	}
	var labels []report.Label
	for _, file := range b.prepared.Files {
		how := file.Arranged
		if file.Lane != "" {
			lane := file.Lane
			if file.Lines != "" {
				lane += ", " + file.Lines
			}
			how = append([]string{lane}, how...)
		}
		labels = append(labels, report.LabelWith(name, b.prepared.Device, how, file.Content))
	}
	return labels, nil
}

// Bodies returns the packages that labels are cut for.
func Bodies() []report.Body { return report.Bodies() }

// QR returns the QR code of a text, most likely a link.
func QR(text string) (qr.Code, error) { return qr.Of(text) }
