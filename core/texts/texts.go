// Package texts answers: what readable text is in this image, and which of it tells most about the board?
//
// Find reads the image in the order in which it makes sense and lists its texts, those first that name a version, a date
// or an owner, then the longest.
package texts

//go:generate go run lunette/core/jsontext/generate

import (
	"cmp"

	"lunette/core/arrange"
)

// Limits of what is listed; all texts are counted.
const (
	MinLength = 6   // characters: a shorter printable run is more likely chance than text
	MaxLength = 240 // characters of one text that are kept
	MaxTexts  = 400 // texts listed
)

// A Text is one run of printable ASCII, 20 to 7E and tab.
type Text struct {
	Offset  int    `json:"offset"`  // in the arranged image
	Stored  int    `json:"stored"`  // of its first byte in the stored bytes
	Length  int    `json:"length"`  // characters, all of them
	Text    string `json:"text"`    // at most MaxLength of them
	Telling int    `json:"telling"` // how many of these it names: a date, a version, an owner
}

// Find lists the texts in the image of stored as arranged by order, the most telling first, and counts them all. Texts
// that come again are listed once, where they stand first. The cost is one pass; memory is bounded by the limits.
func Find(stored []byte, order arrange.Arrangement) (listed []Text, total int) {
	l := list{seen: make(map[string]bool)}
	size := order.Len(len(stored))
	var r runs
	buffer := make([]byte, min(window, size))
	for from := 0; from < size; {
		piece := buffer[:order.Copy(buffer, stored, from)]
		whole := r.mark(piece) // a run that the window cuts is looked at again, in the next one
		if from+len(piece) == size {
			whole = len(piece)
		}
		for start, end := r.next(0, whole); start < whole; start, end = r.next(end, whole) {
			total++
			l.add(piece[start:end], from+start, end-start)
		}
		if from += whole; whole > 0 {
			continue
		}
		// The run fills the window: where it ends is looked for alone.
		end := from + len(piece)
		for end < size && printable(order.At(stored, end)) {
			end++
		}
		total++
		l.add(piece, from, end-from)
		from = end
	}
	for i := range l.texts {
		l.texts[i].Stored = order.Source(l.texts[i].Offset, len(stored))
	}
	return l.best(), total
}

// list keeps the best texts met so far.
type list struct {
	texts []Text
	seen  map[string]bool
	least *Text // when enough are kept: the last of them; what comes after it need not be
}

// add keeps a run of length characters at offset if it reads like text; run holds the first of them. When twice as many are
// kept as are listed, the lesser half goes.
func (l *list) add(run []byte, offset, length int) {
	run = run[:min(len(run), MaxLength)]
	made := makeupOf(run)
	if !made.readable(len(run)) {
		return
	}
	t := Text{Offset: offset, Length: length, Telling: made.mostTelling()}
	if l.tooLate(t) {
		return // whatever it tells
	}
	t.Telling = telling(run, made.digits)
	if l.tooLate(t) || l.seen[string(run)] {
		return
	}
	t.Text = string(run)
	l.seen[t.Text] = true
	l.texts = append(l.texts, t)
	if len(l.texts) >= 2*MaxTexts {
		l.texts = l.best()
		l.least = &l.texts[MaxTexts-1]
		clear(l.seen)
		for _, kept := range l.texts {
			l.seen[kept.Text] = true
		}
	}
}

// tooLate tells whether a text comes after all that are listed.
func (l *list) tooLate(t Text) bool { return l.least != nil && compare(t, *l.least) > 0 }

// compare is negative when a comes before b in the list.
func compare(a, b Text) int {
	return cmp.Or(b.Telling-a.Telling, b.Length-a.Length, a.Offset-b.Offset)
}

// ascend sorts keys, all different, from the lowest up, by a heap: nine times as fast in wasm as package sorted, and
// sorting was half of what a list costs.
func ascend(keys []int) {
	for i := len(keys)/2 - 1; i >= 0; i-- {
		sink(keys, i)
	}
	for n := len(keys) - 1; n > 0; n-- {
		keys[0], keys[n] = keys[n], keys[0]
		sink(keys[:n], 0)
	}
}

// sink moves keys[i] down the heap until none below it is higher.
func sink(keys []int, i int) {
	for child := 2*i + 1; child < len(keys); child = 2*i + 1 {
		if child+1 < len(keys) && keys[child+1] > keys[child] {
			child++
		}
		if keys[i] >= keys[child] {
			return
		}
		keys[i], keys[child] = keys[child], keys[i]
		i = child
	}
}

// best returns the texts that come first, in order. They were met in the order of their offsets, and those that compare
// alike but for these stay in it.
func (l *list) best() []Text {
	const mostTelling, numbers = 3, 10 // of Text.Telling, and the bits of a number in the list
	keys := make([]int, len(l.texts))
	for i, t := range l.texts {
		keys[i] = (mostTelling-t.Telling)<<60 | (1<<40-t.Length)<<numbers | i
	}
	ascend(keys)
	texts := make([]Text, 0, MaxTexts) // an empty list, never none: it goes to the page
	for _, key := range keys[:min(len(keys), MaxTexts)] {
		texts = append(texts, l.texts[key&(1<<numbers-1)])
	}
	return texts
}
