package marks

import (
	"cmp"
	"math"

	"lunette/core/arrange"
	"lunette/core/sorted"
	"lunette/core/words"
)

// A BuiltInSum is a sum over an image, or a half or quarter of it, that comes out as a maker would have made it come
// out.
type BuiltInSum struct {
	Row      string // ID of its SumRow
	Name     string // the row's name
	Source   string
	Memory   bool                  // the row was written down from memory
	Order    arrange.Arrangement   // the arrangement in which it closes, words and longs with the high byte first
	Also     []arrange.Arrangement // further ones in which it closes as well
	From, To int                   // the stretch it covers, as offsets into the arranged image and into the stored bytes alike
	Part     string                // the same in words: "whole image", "first half", "third quarter"
	Copies   int                   // how often the covered image stands in the dump, 1 or a power of two; From and To are in the first
	At       int                   // offset in the arranged image of the stored value, -1 when any bytes may balance the sum
	Width    int                   // bits that have to come out right: 8, 16 or 32
	Bits     float64               // evidence: a sum of this width closes in random data once in 2^Bits dumps, all tries counted
	Tries    int                   // sums of this width that were computed
	Expected string                // hex
	Found    string                // hex
	Detail   []string              // plain sentences
	Family   string                // CPU family it hints at, empty for none
	Settles  bool                  // decides the arrangement alone: 20 bits of evidence, closing in one arrangement only
}

// leastSumBits is what a built-in sum must reach to be reported: by chance in one of 16 dumps. Eight bits get no
// further than to a hint.
const leastSumBits = 4

// FindSums looks for every row of SumRows over the whole image, its halves and its quarters, in every order that makes
// a difference, and returns those that close, strongest evidence first. A dump that is one image written several times
// over is one image here. Stretches of little information (blank, constant, ramps, tables that repeat) give no sum:
// theirs close by themselves. progress, when not nil, is told how many bytes have been counted, of len(data).
//
// Bits are the width of the sum less log2 of the number of sums of that width that were computed; for a leading sum its
// stored bytes also must be rare enough in the dump. Sums of 8 and of 16 bits say nothing of the order of bytes.
func FindSums(data []byte, progress func(done int)) []BuiltInSum {
	found, _ := findSums(data, progress)
	return found
}

// findSums is FindSums and returns what it counted of data, nil when that was only a part.
func findSums(data []byte, progress func(done int)) (found []BuiltInSum, counted *sumTally) {
	image := onceOnly(data)
	parts := sumParts(image, func(done int) {
		if progress != nil {
			progress(int(int64(done) * int64(len(data)) / int64(len(image))))
		}
	})
	if progress != nil {
		progress(len(data))
	}
	search := sumSearch{image: image, parts: parts, tries: map[int]int{}, rich: map[int]bool{}}
	search.copies = len(data) / max(len(image), 1)
	for r := range SumRows {
		search.row(&SumRows[r])
	}
	if len(parts) > 0 && search.copies == 1 {
		counted = &parts[0].tally
	}
	return search.results(), counted
}

// onceOnly returns the image that data repeats a power of two times, or data itself.
func onceOnly(data []byte) []byte {
	for len(data) >= 2*leastPart && len(data)%8 == 0 {
		half := len(data) / 2
		if string(data[:half]) != string(data[half:]) { // compares in place
			break
		}
		data = data[:half]
	}
	return data
}

// partNames are the stretches, in the order of sumParts.
var partNames = []string{"whole image", "first half", "second half",
	"first quarter", "second quarter", "third quarter", "last quarter"}

// sumParts counts the bytes of the whole image, and of its halves and quarters when they are multiples of four bytes.
func sumParts(image []byte, progress func(done int)) []sumPart {
	n := len(image)
	if n < leastPart {
		return nil
	}
	pieces := 1
	if n%16 == 0 && n >= 4*leastPart {
		pieces = 4
	}
	parts := make([]sumPart, 2*pieces-1)
	for i := range pieces {
		part := &parts[pieces-1+i]
		part.from, part.to = n/pieces*i, n/pieces*(i+1)
		const step = 1 << 20
		for from := part.from; from < part.to; from += step {
			part.tally.add(image[from:min(from+step, part.to)])
			progress(min(from+step, part.to))
		}
	}
	for i := pieces - 2; i >= 0; i-- {
		left, right := &parts[2*i+1], &parts[2*i+2]
		parts[i].from, parts[i].to, parts[i].tally = left.from, right.to, left.tally
		parts[i].tally.join(&right.tally)
	}
	for i := range parts {
		parts[i].name = partNames[i]
	}
	return parts
}

// A sumSearch is one search for sums, with what it has computed so far.
type sumSearch struct {
	image  []byte
	copies int
	parts  []sumPart // as a heap: the halves of part i are 2i+1 and 2i+2
	tries  map[int]int
	rich   map[int]bool // by part: whether it holds enough information
	found  []foundSum
}

type foundSum struct {
	BuiltInSum
	part int
	row  *SumRow
}

// row tries one kind over all parts and orders.
func (s *sumSearch) row(r *SumRow) {
	closed := map[int]bool{}
	for i := len(s.parts) - 1; i >= 0; i-- {
		part := &s.parts[i]
		if r.whole && i > 2 || r.Width > 8 && (part.to-part.from)%4 != 0 {
			continue
		}
		best := -1
		for _, mirrored := range r.mirrors {
			set := part.tally.set(part.to-part.from, mirrored)
			for _, x := range r.exchanges {
				s.tries[r.Width]++
				order := sumOrder(x, mirrored)
				stored := s.long(order, part.from)
				found, expected := r.sum(set.exchanged(x), stored)
				if found != expected {
					continue
				}
				switch {
				case best >= 0:
					s.found[best].Also = append(s.found[best].Also, order)
				case !closed[2*i+1] && !closed[2*i+2] && s.holdsEnough(i):
					best = len(s.found)
					s.found = append(s.found, s.sum(r, i, order, found, expected))
				}
			}
		}
		closed[i] = best >= 0 || closed[2*i+1] || closed[2*i+2]
	}
}

// sumOrder returns the order with exchange x.
func sumOrder(x int, mirrored bool) arrange.Arrangement {
	order := []arrange.Arrangement{arrange.Stored, arrange.Swapped, arrange.Halves, arrange.Reversed}[x]
	if mirrored {
		order, _ = order.Then(arrange.Mirrored) // never refused: no lane is added
	}
	return order
}

// long returns the 32-bit word at from in an order, high byte first.
func (s *sumSearch) long(order arrange.Arrangement, from int) (value uint32) {
	var window [4]byte
	order.Copy(window[:], s.image, from)
	for _, b := range window {
		value = value<<8 | uint32(b)
	}
	return value
}

// sum describes one that closed. What depends on all tries is added by results.
func (s *sumSearch) sum(r *SumRow, i int, order arrange.Arrangement, found, expected uint64) foundSum {
	part := &s.parts[i]
	b := BuiltInSum{
		Row: r.ID, Name: r.Name, Source: r.Source, Memory: r.Memory, Family: r.Family, Width: r.Width,
		Order: order, From: part.from, To: part.to, Part: part.name, Copies: s.copies, At: -1,
		Found: words.Hex(found, r.Width/4), Expected: words.Hex(expected, r.Width/4), Bits: float64(r.Width),
	}
	if r.leading {
		b.At = part.from
		b.Bits = s.storedBits(order, part.from)
	}
	if r.xor {
		b.Bits = float64(r.Width / 8 * part.tally.livelyBits(part.to-part.from))
	}
	if s.copies > 1 {
		b.Detail = append(b.Detail, words.Fill("the dump is {} copies of this image", words.Count(s.copies)))
	}
	return foundSum{b, i, r}
}

// storedBits returns the bits of the four bytes at from having the values they have: eight each, or fewer for a value
// that is common in the image or around.
func (s *sumSearch) storedBits(order arrange.Arrangement, from int) (sum float64) {
	v := newHeaderView(s.image, order, oddsOf(s.image, &s.parts[0].tally))
	v.weigh(headerSpan{from, v.n}, atStart)
	for i := range 4 {
		sum += must(v.odds().among(byte(v.at(from + i))))
	}
	return sum
}

// results finishes what was found, now that the number of tries is known.
func (s *sumSearch) results() []BuiltInSum {
	var sums []BuiltInSum
	for _, f := range s.found {
		b := f.BuiltInSum
		b.Tries = s.tries[b.Width]
		b.Bits -= math.Log2(float64(b.Tries))
		s.tellOrder(&b, f.row)
		if b.Bits < leastSumBits {
			continue
		}
		sums = append(sums, b)
	}
	sorted.By(sums, func(a, b BuiltInSum) int { return cmp.Compare(b.Bits, a.Bits) })
	return sums
}

// tellOrder says in which arrangements a sum closes and whether that decides.
func (s *sumSearch) tellOrder(b *BuiltInSum, r *SumRow) {
	if b.Width < 32 {
		b.Also = alikeOrders(b, r)
		b.Detail = append(b.Detail, "so narrow a sum is a hint that the image is whole, and no evidence of the order of its bytes")
		return
	}
	switch r.ID {
	case "closing-ones":
		s.tellHalves(b)
	case "leading-words", "closing-longs":
		b.Detail = append(b.Detail, words.Fill("high byte first in this order, which is low byte first with {}",
			otherEnd(b.Order).String()))
	}
	b.Settles = r.settles && len(b.Also) == 0 && b.Bits >= settleBits
}

// alikeOrders returns the orders besides b's own in which a narrow sum closes: for 16-bit words those that only
// exchange the halves of a long, for bytes all that do not mirror bits, for an exclusive-or all.
func alikeOrders(b *BuiltInSum, r *SumRow) (alike []arrange.Arrangement) {
	switch {
	case len(r.exchanges) > 1:
		for _, order := range append([]arrange.Arrangement{b.Order}, b.Also...) {
			twin, _ := order.Then(arrange.Halves) // never refused: no lane is added
			alike = append(alike, twin)
		}
		return append(alike, b.Also...)
	case r.xor:
		return arrange.Orders()[1:]
	}
	return arrange.Orders()[1:4]
}

// tellHalves tells the two orders of 16-bit halves apart, which a sum with end-around carry cannot: by the size of the
// image, which commonly stands 20 bytes before its end.
func (s *sumSearch) tellHalves(b *BuiltInSum) {
	twin, _ := b.Order.Then(arrange.Halves) // never refused: no lane is added
	size := uint32(b.To - b.From)
	here, there := s.long(b.Order, b.To-20) == size, s.long(twin, b.To-20) == size
	switch {
	case here == there:
		b.Also = append(b.Also, twin)
		b.Detail = append(b.Detail, "it closes in either order of the 16-bit halves, and nothing else tells them apart")
		return
	case there:
		b.Order = twin
	}
	b.Detail = append(b.Detail, words.Fill("it closes in either order of the 16-bit halves; "+
		"the image's size, {}, 20 bytes before its end, reads right in this one", words.Hex(uint64(size), 8)))
}
