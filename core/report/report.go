// Package report answers: what is to be said about this dump, how sure is it, and what should the person do next?
//
// It turns what the other packages counted into findings, a question and its answer each, and the findings into one
// verdict. Nothing is measured here. Findings come in the order in which a person asks; the verdict is the worst of them.
package report

//go:generate go run lunette/core/jsontext/generate

import (
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/sums"
	"lunette/core/survey"
	"lunette/core/texts"
)

// Version is the version of the JSON form. A field may be added under the same version; one that changes or goes raises it.
const Version = 1

// A State is what a dump is, in one word.
type State string

// The states, from the worst on.
const (
	Faulty    State = "faulty"    // something is wrong with the read
	Blank     State = "blank"     // an erased chip, or none
	Suspect   State = "suspect"   // something is odd that may have a good reason
	Undecided State = "undecided" // too little to go by
	Sound     State = "sound"     // nothing wrong shows
)

// A Severity says how much a finding weighs in the verdict.
type Severity string

// The severities. Empty and Unclear are about the whole dump and decide alone unless there is a fault.
const (
	Good    Severity = "good"    // as it should be
	Note    Severity = "note"    // worth knowing, no judgement
	Unclear Severity = "unclear" // the checks that rest on this cannot tell
	Warning Severity = "warning" // makes the dump suspect
	Empty   Severity = "empty"   // makes the dump blank
	Fault   Severity = "fault"   // makes the dump faulty
)

// Sure says how certain a finding is.
type Sure string

// The degrees of certainty.
const (
	Certain    Sure = "certain"     // counted, or by chance less often than once in 2^32
	Strong     Sure = "strong"      // no innocent reason is likely
	Weak       Sure = "weak"        // a hint
	CannotTell Sure = "cannot tell" // the dump does not show it
	ByHand     Sure = "by hand"     // a person said so
)

// A Finding is one question about a dump and its answer.
type Finding struct {
	ID       string     `json:"id"`                 // stable: "size", "data-lines"
	Severity Severity   `json:"severity"`           // its weight in the verdict
	Question string     `json:"question"`           // two or three words
	Answer   string     `json:"answer"`             // one plain sentence
	Sure     Sure       `json:"sure"`               //
	Evidence []Evidence `json:"evidence,omitempty"` // what was counted, most telling first
	Chance   string     `json:"chance,omitempty"`   // how likely this is by chance, "1 in 65,536"; only where it is known
	Next     string     `json:"next,omitempty"`     // what to do, if something is to be done

	headline string // the verdict's headline if this finding decides it; Answer when empty
	burning  bool   // Next says how the dump is burnt
}

// Evidence is one thing that was counted or read. From and To are offsets in the stored bytes, To not included; both are
// 0 where it is about no place.
type Evidence struct {
	Text     string `json:"text"`
	From     int    `json:"from,omitempty"`
	To       int    `json:"to,omitempty"`
	Expected string `json:"expected,omitempty"`
	Found    string `json:"found,omitempty"`
}

// A Verdict is the answer to "can I trust this read?".
type Verdict struct {
	State    State  `json:"state"`
	Headline string `json:"headline"` // one sentence
	Next     string `json:"next"`     // one or two sentences
	Proven   bool   `json:"proven"`   // of a sound dump: something in it proves the whole, as a sum over all of it does
}

// A Report is all that is known about one dump. Its JSON form is documented in DEVELOPERS.md.
type Report struct {
	Version  int        `json:"version"`
	Dump     Source     `json:"dump"`
	Verdict  Verdict    `json:"verdict"`
	Findings []Finding  `json:"findings"`
	Order    Order      `json:"order"`
	CPU      CPU        `json:"cpu"`
	Marks    []Mark     `json:"marks"` // places worth a look, ascending
	Map      Map        `json:"map"`
	Texts    Texts      `json:"texts"`
	Lines    Lines      `json:"lines"`
	Sums     []sums.Sum `json:"sums"`
}

// An Order says in which arrangement the CPU sees the dump.
type Order struct {
	ID   string   `json:"id"`   // of the arrangement to apply to the stored bytes; "stored" when it cannot be told
	Name string   `json:"name"` // how it is stored, in words
	Sure Sure     `json:"sure"`
	Also []string `json:"also,omitempty"` // arrangements that the evidence does not tell from it
}

// A CPU is the family whose code the dump holds; its strings are empty when that cannot be told.
type CPU struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Sure Sure   `json:"sure"`
}

// A Mark is one place that says something about the dump.
type Mark struct {
	Offset int    `json:"offset"` // in the stored bytes
	Text   string `json:"text"`
}

// A Source says which file a report is about.
type Source struct {
	Name    string       `json:"name"`
	Size    int          `json:"size"` // bytes
	Format  dump.Format  `json:"format"`
	Packing []string     `json:"packing,omitempty"`
	Base    string       `json:"base,omitempty"`  // address of the first byte in hex, where the file says so
	Start   string       `json:"start,omitempty"` // start address in hex, where the file says so
	Gaps    []dump.Range `json:"gaps,omitempty"`  // offsets without data, shown as FF
	Notes   []string     `json:"notes,omitempty"`
}

// A Map describes a dump block by block, in address order, one entry a block in each list.
type Map struct {
	BlockSize int       `json:"blockSize"` // bytes; the last block may be shorter
	Kinds     []string  `json:"kinds"`     // what kind of content, in the words of survey.Kind
	Entropy   []float32 `json:"entropy"`   // bits per byte, 0 to 8
	FF        []uint32  `json:"ff"`        // bytes that are FF
	Zero      []uint32  `json:"zero"`      // bytes that are 00
	Text      []uint32  `json:"text"`      // bytes that are printable
	Blank     []Stretch `json:"blank"`     // the longest runs of one byte
}

// A Stretch is a run of one repeated byte.
type Stretch struct {
	From  int    `json:"from"`
	To    int    `json:"to"`
	Value string `json:"value"` // two hex digits
}

// Texts are the readable texts of a dump in the order in which the CPU sees it, the most telling first.
type Texts struct {
	Total  int          `json:"total"` // how many there are
	Listed []texts.Text `json:"listed"`
}

// Lines is the activity of every data line, for a x8 chip and for a x16 chip, in order from D0, and the address lines
// without effect, as bit numbers of the byte address.
type Lines struct {
	X8     []Line `json:"x8"`
	X16    []Line `json:"x16"`
	Silent []int  `json:"silent"`
}

// A Line is the activity of one data line.
type Line struct {
	Ones   int `json:"ones"`   // how often it was high
	Of     int `json:"of"`     // how often it was read
	SameAs int `json:"sameAs"` // the lowest other line that was always equal, -1 if none
}

// Of returns the report about d, of which s, m, t and checksums were counted.
func Of(d dump.Dump, s *survey.Survey, m marks.Answer, t Texts, checksums []sums.Sum) Report {
	findings := findingsOf(d, s, m)
	verdict := verdictOf(s.Size, findings, m)
	if verdict.State == Faulty || verdict.State == Suspect {
		withholdBurning(findings)
	}
	return Report{
		Version:  Version,
		Dump:     sourceOf(d),
		Verdict:  verdict,
		Findings: findings,
		Order:    orderOf(m),
		CPU:      cpuOf(m),
		Marks:    marksOf(m),
		Map:      mapOf(s),
		Texts:    t,
		Lines:    linesOf(s),
		Sums:     checksums,
	}
}
