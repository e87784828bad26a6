// Package core is the door to everything Lunette knows: a caller opens files on a Bench and asks it about the dumps in
// them. All answers are made in the packages below and are the same wherever the core runs: it reads no clock, no file and
// no network.
package core

//go:generate go run lunette/core/jsontext/generate

import (
	"errors"
	"strconv"

	"lunette/core/arrange"
	"lunette/core/demo"
	"lunette/core/dump"
	"lunette/core/faults"
	"lunette/core/link"
	"lunette/core/marks"
	"lunette/core/prepare"
	"lunette/core/relate"
	"lunette/core/report"
	"lunette/core/search"
	"lunette/core/sums"
	"lunette/core/survey"
	"lunette/core/texts"
	"lunette/core/words"
)

// A Host runs a call that may take long. Progress is told how much is done, 0 to 1, often enough that a host which must
// stay responsive can pause in it.
type Host interface{ Progress(share float64) }

// Digests returns digests of a dump that are computed elsewhere, and waits for them: a host may have them computed while
// the rest of the report is made.
type Digests func() sums.Known

// ByHand is what a person says of a dump who disagrees with the report: the id of the arrangement in which the CPU sees it,
// and the id of the CPU family. Both empty leave it to the evidence; an empty family alone means none.
type ByHand struct{ Order, Family string }

// Inspect returns the report about d. It calls digests once, when all but the sums is known, and computes those that are
// not among them. digests and host may be nil.
func Inspect(d dump.Dump, said ByHand, digests Digests, host Host) report.Report {
	// Where time goes in a dump of 64 MiB.
	const surveyed, marked = 0.2, 0.5
	size := len(d.Bytes)
	counted := survey.Take(d.Bytes, tell(host, size, 0, surveyed))
	found := marks.Inspect(d.Bytes, tell(host, size, surveyed, marked))
	if order, ok := arrange.Parse(said.Order); ok {
		found = found.Set(order, said.Family)
	}
	readable := report.Texts{}
	readable.Listed, readable.Total = texts.Find(d.Bytes, found.Order)
	var known sums.Known
	if digests != nil {
		known = digests()
	}
	checksums := sums.All(d.Bytes, known, tell(host, size, marked, 1))
	return report.Of(d, counted, found, readable, checksums)
}

// tell returns a function that tells host of bytes done as a share between from and to, or nil without a host.
func tell(host Host, size int, from, to float64) func(done int) {
	if host == nil {
		return nil
	}
	return func(done int) { host.Progress(from + (to-from)*float64(done)/float64(max(size, 1))) }
}

// A Bench holds the open dumps. A dump's id is the id of its source, which the caller chose, a slash and its number in
// that source from 0: "s1/0".
type Bench struct {
	dumps   map[string]dump.Dump
	aside   map[string]bool // sources whose dumps the others know nothing of
	related []string        // the dumps that were last asked for relations, by id
	recipes []relate.Recipe // and what can be made of them, by relation

	seen       map[string]report.Report  // the last report of each dump that has been inspected
	stated     map[string]link.Statement // what is passed on of them, where that has been asked for
	compared   *compared                 // the last comparison
	reread     *faults.Reread            // the last comparison of rereads
	prepared   *prepare.Prepared         // the files that were last made for chips
	preparedOf string                    // and of which dump
	demo       []demo.Named              // dumps of the demo board that are still to be handed out
}

// NewBench returns a bench with nothing on it.
func NewBench() *Bench {
	return &Bench{dumps: map[string]dump.Dump{}, aside: map[string]bool{}, seen: map[string]report.Report{}, stated: map[string]link.Statement{}}
}

// Loaded is what opening one source gave. Its JSON form is documented in DEVELOPERS.md.
type Loaded struct {
	Dumps    []Info   `json:"dumps"`
	Problems []string `json:"problems"` // what could not be read, a sentence each
}

// Info describes one open dump.
type Info struct {
	ID     string      `json:"id"`
	Name   string      `json:"name"`
	Size   int         `json:"size"` // bytes
	Format dump.Format `json:"format"`
}

// Open puts the dumps in a file on the bench. The bench keeps data; the caller must not change it.
func (b *Bench) Open(source, name string, data []byte) Loaded {
	dumps, err := dump.Load(name, data)
	return b.put(source, dumps, err)
}

// OpenOne puts the dump in a file on the bench and returns its id. A file with none or with several is an error, and none
// of them stays open.
func (b *Bench) OpenOne(source, name string, data []byte) (id string, err error) {
	loaded := b.Open(source, name, data)
	if len(loaded.Dumps) == 1 {
		return loaded.Dumps[0].ID, nil
	}
	b.Close(source)
	if len(loaded.Problems) > 0 {
		return "", errors.New(loaded.Problems[0])
	}
	return "", errors.New(words.Fill("{} holds {} dumps; open it and ask for the report of each", name,
		strconv.Itoa(len(loaded.Dumps))))
}

// OpenAside is OpenOne for a dump that is to be asked about alone: the others know nothing of it.
func (b *Bench) OpenAside(source, name string, data []byte) (id string, err error) {
	b.aside[source] = true // before it is there: other calls have their turn in between
	id, err = b.OpenOne(source, name, data)
	if err != nil {
		delete(b.aside, source)
	}
	return id, err
}

// OpenText puts the dump in a pasted text on the bench.
func (b *Bench) OpenText(source, name, text string) Loaded {
	d, err := dump.FromHexText(name, text)
	if err != nil {
		return b.put(source, nil, err)
	}
	return b.put(source, []dump.Dump{d}, nil)
}

func (b *Bench) put(source string, dumps []dump.Dump, err error) Loaded {
	loaded := Loaded{Dumps: []Info{}, Problems: problems(err)}
	for i, d := range dumps {
		if len(b.dumps) >= dump.MaxDumps {
			loaded.Problems = append(loaded.Problems, words.Fill("{} was left out: {} dumps are open, which is the limit; close some and open it again",
				d.Name, strconv.Itoa(dump.MaxDumps)))
			continue
		}
		id := source + "/" + strconv.Itoa(i)
		b.dumps[id] = d
		loaded.Dumps = append(loaded.Dumps, Info{ID: id, Name: d.Name, Size: len(d.Bytes), Format: d.Format})
	}
	return loaded
}

// problems returns a sentence for each thing that err is about.
func problems(err error) []string {
	sentences := []string{}
	for _, problem := range dump.Problems(err) {
		sentences = append(sentences, problem.Error())
	}
	return sentences
}

// Close takes all dumps of a source off the bench.
func (b *Bench) Close(source string) {
	for i := range dump.MaxDumps {
		id := source + "/" + strconv.Itoa(i)
		delete(b.dumps, id)
		delete(b.seen, id)
		delete(b.stated, id)
	}
	delete(b.aside, source)
}

// Inspect returns the report about an open dump.
func (b *Bench) Inspect(id string, said ByHand, digests Digests, host Host) (report.Report, error) {
	d, ok := b.dumps[id]
	if !ok {
		return report.Report{}, errClosed
	}
	r := Inspect(d, said, digests, host)
	b.seen[id] = r
	delete(b.stated, id)
	return r, nil
}

// orderIsFirm tells whether the order in which the CPU sees a dump is more than a hint; it is not of a dump that has not been
// inspected.
func orderIsFirm(r report.Report) bool {
	return r.Order.Sure != "" && r.Order.Sure != report.Weak && r.Order.Sure != report.CannotTell
}

var errClosed = errors.New("this dump is no longer open; open its file again")

// Choice is one of several things to choose from, by id.
type Choice struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Arrangements returns every arrangement a dump can be looked at in, "as stored" first.
func Arrangements() []Choice {
	var all []Choice
	for _, a := range arrange.All() {
		all = append(all, Choice{a.ID(), a.String()})
	}
	return all
}

// Families returns the CPU families whose code Lunette knows.
func Families() []Choice {
	var all []Choice
	for _, f := range marks.Families() {
		all = append(all, Choice{f.ID, f.Name})
	}
	return all
}

// image returns an open dump's stored bytes and the arrangement with the given id.
func (b *Bench) image(id, arrangement string) ([]byte, arrange.Arrangement, error) {
	d, ok := b.dumps[id]
	if !ok {
		return nil, arrange.Stored, errClosed
	}
	a, ok := arrange.Parse(arrangement)
	if !ok {
		return nil, a, errors.New(words.Fill("there is no arrangement {}", strconv.Quote(arrangement)))
	}
	return d.Bytes, a, nil
}

// Size returns how many bytes an open dump has in an arrangement.
func (b *Bench) Size(id, arrangement string) (int, error) {
	stored, a, err := b.image(id, arrangement)
	return a.Len(len(stored)), err
}

// Bytes returns the arranged image from one offset to another, the last not included; a negative end means the end of the
// image. Offsets beyond the image are cut to it. As stored they are the bench's own bytes, which may be large, and not to
// be changed; in any other arrangement they are a copy.
func (b *Bench) Bytes(id, arrangement string, from, to int) ([]byte, error) {
	stored, a, err := b.image(id, arrangement)
	if err != nil {
		return nil, err
	}
	from, to = stretch(from, to, a.Len(len(stored)))
	if a == arrange.Stored {
		return stored[from:to:to], nil
	}
	window := make([]byte, to-from)
	a.Copy(window, stored, from)
	return window, nil
}

// stretch cuts a stretch of an image to its size; a negative end means the image's.
func stretch(from, to, size int) (int, int) {
	if to < 0 || to > size {
		to = size
	}
	return min(max(from, 0), to), to
}

// Place returns the stretch of the arranged image that holds the stored bytes from one offset to another, the last not
// included; it is empty when all of them are in another lane.
func (b *Bench) Place(id, arrangement string, from, to int) (dump.Range, error) {
	stored, a, err := b.image(id, arrangement)
	if err != nil {
		return dump.Range{}, err
	}
	from, to = stretch(from, to, len(stored))
	var places dump.Range
	// Bytes change places within a few of their neighbours, so the ends of the stretch decide.
	const ends = 64
	for offset := from; offset < to; offset++ {
		if offset == from+ends && to-ends > offset {
			offset = to - ends
		}
		j, ok := a.Place(offset, len(stored))
		switch {
		case !ok:
		case places.Len() == 0:
			places = dump.Range{From: j, To: j + 1}
		default:
			places = dump.Range{From: min(places.From, j), To: max(places.To, j+1)}
		}
	}
	return places, nil
}

// Hits are the matches of a search: offsets in the arranged image.
type Hits struct {
	Offsets []int `json:"offsets"` // the first of them, ascending
	Total   int   `json:"total"`   // all of them
}

// maxHits is how many matches are listed; all are counted.
const maxHits = 10_000

// Find looks for a text, letters in either case, or for bytes in hex in the arranged image. kind is "text" or "hex".
func (b *Bench) Find(id, arrangement, kind, pattern string, host Host) (Hits, error) {
	stored, a, err := b.image(id, arrangement)
	if err != nil {
		return Hits{}, err
	}
	parse := search.Text
	if kind == "hex" {
		parse = search.Hex
	}
	p, err := parse(pattern)
	if err != nil {
		return Hits{}, err
	}
	offsets, total := search.Find(stored, a, p, maxHits, tell(host, a.Len(len(stored)), 0, 1))
	return Hits{append([]int{}, offsets...), total}, nil
}

// Sums returns the catalogue of sums over a stretch of the arranged image; a negative end means the end of the image.
func (b *Bench) Sums(id, arrangement string, from, to int, known sums.Known, host Host) ([]sums.Sum, error) {
	stored, a, err := b.image(id, arrangement)
	if err != nil {
		return nil, err
	}
	from, to = stretch(from, to, a.Len(len(stored)))
	return sums.Over(stored, a, from, to, known, tell(host, to-from, 0, 1)), nil
}

// Explain returns what a printed value is a sum of.
func (b *Bench) Explain(id, value string, host Host) (sums.Explanation, error) {
	d, ok := b.dumps[id]
	if !ok {
		return sums.Explanation{}, errClosed
	}
	var progress func(float64)
	if host != nil {
		progress = host.Progress
	}
	return sums.Explain(d.Bytes, value, nil, progress)
}
