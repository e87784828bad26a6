package survey

import (
	"encoding/binary"
	"math/bits"

	"lunette/core/sorted"
)

// A Run is a stretch of one repeated byte.
type Run struct {
	From, To int // addresses of its first byte and of the one after its last
	Value    byte
}

// Len returns the run's length in bytes.
func (r Run) Len() int { return r.To - r.From }

// Runs are the stretches of at least MinRun times the same byte.
type Runs struct {
	Longest []Run // the MaxRuns longest, of equal ones the lowest; in address order
	Count   int   // all of them
	Bytes   int   // bytes in all of them
	FF      int   // bytes in those of FF
	Zero    int   // bytes in those of 00
}

// A runScanner finds the runs of a dump, a part at a time.
type runScanner struct {
	at      int // no run that has not been found begins below
	runs    Runs
	longest longest
}

func newRunScanner() *runScanner { return &runScanner{longest: longest{limit: MaxRuns}} }

// scan finds the runs of data that begin before to.
//
// Of 25 neighbouring groups of eight bytes, any run of 32 contains one whole: where the last of them is not all one byte,
// none of the 25 addresses begins a run. So most bytes of ordinary content need no look.
func (r *runScanner) scan(data []byte, to int) {
	for r.at < to {
		probe := r.at + MinRun - 8
		if probe+8 > len(data) {
			r.at = len(data)
			return
		}
		if w := binary.LittleEndian.Uint64(data[probe:]); w != bits.RotateLeft64(w, 8) {
			r.at = probe + 1
			continue
		}
		value := data[probe]
		from := probe
		for from > r.at && data[from-1] == value {
			from--
		}
		r.at = runEnd(data, probe+8, value)
		if r.at-from >= MinRun {
			r.add(from, r.at, value)
		}
	}
}

func (r *runScanner) add(from, to int, value byte) {
	r.longest.add(from, to)
	r.runs.Count++
	r.runs.Bytes += to - from
	switch value {
	case 0xFF:
		r.runs.FF += to - from
	case 0:
		r.runs.Zero += to - from
	}
}

// result returns what was found in data.
func (r *runScanner) result(data []byte) Runs {
	for _, s := range r.longest.result() {
		r.runs.Longest = append(r.runs.Longest, Run{From: s.from, To: s.to, Value: data[s.from]})
	}
	sorted.By(r.runs.Longest, func(a, b Run) int { return a.From - b.From })
	return r.runs
}

// runEnd returns the first address from at on where data has another byte than value, or its length.
func runEnd(data []byte, at int, value byte) int {
	all := uint64(value) * 0x0101010101010101
	for at+8 <= len(data) {
		if apart := binary.LittleEndian.Uint64(data[at:]) ^ all; apart != 0 {
			return at + bits.TrailingZeros64(apart)/8
		}
		at += 8
	}
	for at < len(data) && data[at] == value {
		at++
	}
	return at
}

// tail returns the run of one repeated byte that ends data.
func tail(data []byte) Run {
	to := len(data)
	if to == 0 {
		return Run{}
	}
	value := data[to-1]
	all := uint64(value) * 0x0101010101010101
	from := to
	for from >= 8 && binary.LittleEndian.Uint64(data[from-8:]) == all {
		from -= 8
	}
	for from > 0 && data[from-1] == value {
		from--
	}
	return Run{From: from, To: to, Value: value}
}

// A span is a stretch of addresses.
type span struct{ from, to int }

// longest keeps the longest of the spans that are added to it in address order, of equal ones the lowest, in memory for
// twice its limit.
type longest struct {
	limit int
	spans []span
	floor int // a span of this length or less is not among them
}

func (l *longest) add(from, to int) {
	if to-from <= l.floor {
		return
	}
	l.spans = append(l.spans, span{from, to})
	if len(l.spans) == 2*l.limit {
		l.prune()
	}
}

// prune drops all but the longest.
func (l *longest) prune() {
	sorted.By(l.spans, func(a, b span) int {
		if byLength := (b.to - b.from) - (a.to - a.from); byLength != 0 {
			return byLength
		}
		return a.from - b.from
	})
	if len(l.spans) >= l.limit {
		l.spans = l.spans[:l.limit]
		last := l.spans[l.limit-1]
		l.floor = last.to - last.from
	}
}

// result returns the spans, longest first and of equal ones the lowest first.
func (l *longest) result() []span {
	l.prune()
	return l.spans
}
