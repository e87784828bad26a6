package link

import (
	"slices"
	"strconv"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/report"
	"lunette/core/words"
)

// Rows of these tables are known by their number: new ones go to the end. A word that is in none becomes the first, which
// says least.
var (
	states     = []string{"undecided", "blank", "suspect", "faulty", "sound"}
	severities = []string{"note", "good", "unclear", "warning", "empty", "fault"} // what weighs least first
	sures      = []string{"cannot tell", "weak", "strong", "certain", "by hand"}
	questions  = []string{"", "Finding", "content", "Content", "size", "Size", "file", "File", "byte-order", "Byte order", "code", "Code",
		"built-in-sum", "Built-in sum", "headers", "Headers", "repeat", "Repeats", "data-lines", "Data lines", "address-lines",
		"Address lines", "blank", "Blank space", "tail", "End"} // id and question by turns
)

// indexOf returns the number of word in table, 0 when it is not there.
func indexOf(table []string, word string) int {
	for i, w := range table {
		if w == word {
			return i
		}
	}
	return 0
}

// A writer writes the parts of a body in turn.
type writer struct{ b []byte }

func (w *writer) byte(c int)       { w.b = append(w.b, byte(c)) }
func (w *writer) text(text string) { w.b = appendPacked(w.b, text) }

func (w *writer) hex(digits ...string) {
	for _, d := range digits {
		w.b = appendHex(w.b, d)
	}
}

// body returns the bytes of the fragment; reader.statement reads them.
func (s *Statement) body() []byte {
	order, _ := arrange.Parse(s.Order.ID)
	flags := indexOf(states, string(s.State))<<2 | indexOf(sures, string(s.Order.Sure))<<5
	if s.Short {
		flags |= 1
	}
	if order == arrange.Stored {
		flags |= 2
	}
	w := &writer{make([]byte, 2, 1024)}
	w.byte(flags)
	size := s.Size
	for ; size >= 0x80; size >>= 7 {
		w.byte(size | 0x80)
	}
	w.byte(size)
	number, also := 0, 0
	for i, other := range arrange.Orders() {
		if other == order {
			number = i
		}
		if slices.Contains(s.Order.Also, other.ID()) {
			also |= 1 << i
		}
	}
	w.byte(number)
	w.byte(also)
	w.byte(indexOf(sures, string(s.CPU.Sure)))
	w.text(s.CPU.ID)
	w.hex(s.CRC32, s.SHA256)
	if order != arrange.Stored {
		w.hex(s.SHA256CPU)
	}
	w.hex(s.Lanes...)
	w.hex(s.Blocks...)
	w.byte(len(s.Title))
	w.b = append(w.b, s.Title...)
	w.text(s.Headline)
	w.byte(len(s.Findings))
	for i := range s.Findings {
		f := &s.Findings[i]
		w.byte(indexOf(questions, f.ID) / 2)
		w.byte(indexOf(severities, string(f.Severity))<<4 | indexOf(sures, string(f.Sure)))
		w.text(f.Answer)
	}
	w.byte(s.LeftOut)
	return seal(w.b)
}

// A reader takes the parts of a body in turn. After something wrong it gives zeros.
type reader struct {
	b     []byte
	wrong string // what, the first of it
}

func (r *reader) refuse(what string) {
	if r.wrong == "" {
		r.wrong = what
	}
	r.b = nil
}

// take returns the next n bytes.
func (r *reader) take(n int) []byte {
	if n > len(r.b) {
		r.refuse("it ends too early")
		return make([]byte, n)
	}
	taken := r.b[:n]
	r.b = r.b[n:]
	return taken
}

func (r *reader) byte() int { return int(r.take(1)[0]) }

// word returns row i of a table.
func (r *reader) word(table []string, i int) string {
	if i >= len(table) {
		r.refuse("an unknown number " + strconv.Itoa(i))
		return table[0]
	}
	return table[i]
}

func (r *reader) text() string {
	text, rest, ok := unpack(r.b)
	if !ok {
		r.refuse("a text that is too long or does not end")
		return ""
	}
	r.b = rest
	return text
}

func (r *reader) statement() Statement {
	flags := r.byte()
	s := Statement{Version: version, Short: flags&1 != 0, State: report.State(r.word(states, flags>>2&7)), Findings: []Finding{}}
	for shift, more := 0, true; more && shift < 28; shift += 7 {
		c := r.byte()
		s.Size |= c & 0x7F << shift
		more = c&0x80 != 0
	}
	if s.Size < LeastSize || s.Size > dump.MaxBytes {
		r.refuse("a dump of " + words.Size(s.Size))
		return s
	}
	orders := arrange.Orders()
	number, also := r.byte(), r.byte()
	order := orders[number&7]
	if number > 7 || (flags&2 != 0) != (order == arrange.Stored) {
		r.refuse("an unknown order of bytes")
	}
	s.Order = report.Order{ID: order.ID(), Name: report.StoredWords(order), Sure: report.Sure(r.word(sures, flags>>5))}
	for i, other := range orders {
		if also>>i&1 == 1 {
			s.Order.Also = append(s.Order.Also, other.ID())
		}
	}
	s.CPU.Sure = report.Sure(r.word(sures, r.byte()))
	s.CPU.ID = r.text()
	family, known := marks.FamilyByID(s.CPU.ID)
	if s.CPU.Name = family.Name; !known {
		s.CPU.Name = s.CPU.ID
	}
	r.sums(&s, order)
	s.Title = clean(string(r.take(r.byte())), MaxTitle)
	s.Headline = r.text()
	count := r.byte()
	if count > maxFindings || s.Short && count > 0 {
		r.refuse(words.Plural(count, "finding"))
	}
	for i := 0; i < count && r.wrong == ""; i++ {
		row, marked := 2*r.byte(), r.byte()
		f := Finding{ID: r.word(questions, row), Severity: report.Severity(r.word(severities, marked>>4)), Sure: report.Sure(r.word(sures, marked&15))}
		f.Question, f.Answer = r.word(questions, row+1), r.text()
		s.Findings = append(s.Findings, f)
	}
	s.LeftOut = r.byte()
	return s
}

// sums reads the digests and the prints, of which there are as many as a dump of this size has.
func (r *reader) sums(s *Statement, order arrange.Arrangement) {
	s.CRC32 = words.Hex(uint64(word32(r.take(4))), 8)
	s.SHA256 = hexOf(r.take(32))
	length := 32
	if s.Short {
		length = shortDigest
	}
	if s.SHA256CPU = s.SHA256[:2*length]; order != arrange.Stored {
		s.SHA256CPU = hexOf(r.take(length))
	}
	s.Lanes, s.Blocks = r.prints(len(lanes(s.Size))), []string{}
	if !s.Short {
		s.BlockSize, s.Blocks = blockSize(s.Size), r.prints(blockCount(s.Size))
	}
}

func (r *reader) prints(n int) []string {
	prints := make([]string, n)
	for i := range prints {
		prints[i] = hexOf(r.take(printBytes))
	}
	return prints
}
