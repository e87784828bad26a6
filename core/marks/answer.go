package marks

import (
	"strconv"

	"lunette/core/arrange"
	"lunette/core/sorted"
	"lunette/core/words"
)

// An Answer says, from all the evidence, which way round a dump is stored and whose code it holds.
type Answer struct {
	// Order is the arrangement in which the CPU sees the image: what must be done with the stored bytes. It is as stored
	// when Sure is CannotTell.
	Order arrange.Arrangement
	Sure  Sure
	Also  []arrange.Arrangement // orders that the evidence does not tell from Order

	Family     string // ID of the CPU family, "" when it is not known
	FamilySure Sure
	Shift      int  // bytes at the start to leave out before Order reads right, 0 to 3
	ByHand     bool // Order and Family are what a person said, see Set

	Clues     []Clue    // what speaks for Order, the strongest first
	Conflicts []Clue    // what speaks for another order, the strongest first; Sure is Weak at most when there are any
	Code      Code      // whose code, and where
	Text      TextOrder // in which order text reads right
	Headers   []Header  // known patterns, as FindHeaders returns them
	Sums      []BuiltInSum
}

// A Clue is one thing that speaks for an order, or for several that it does not tell apart.
type Clue struct {
	Kind     string // "code", "text", "header" or "sum"
	Orders   []arrange.Arrangement
	Sure     Sure    // how far it could be relied on alone
	Bits     float64 // evidence, in bits
	Sentence string  // what was counted, without a full stop
	From, To int     // stored offsets of an example, both 0 for none
}

// Inspect looks for every kind of mark and weighs what it finds. progress, which may be nil, is told about how many bytes
// are done, of len(data).
func Inspect(data []byte, progress func(done int)) Answer {
	// The parts take about so many percent of the time.
	part := func(from, to int) func(done int) {
		if progress == nil {
			return nil
		}
		return func(done int) { progress(from*len(data)/100 + (to-from)*min(done, len(data))/100) }
	}
	var a Answer
	var counted *sumTally
	a.Sums, counted = findSums(data, part(0, 10))
	a.Headers = findHeaders(data, counted, part(10, 30))
	a.Text = FindText(data)
	a.Code = FindCode(data, part(30, 100))
	a.weigh()
	return a
}

// Set returns the answer of a person who disagrees: this order and this family, "" for none. What speaks for the order and
// what against stands in Clues and Conflicts as before.
func (a Answer) Set(order arrange.Arrangement, family string) Answer {
	all := append(a.Clues, a.Conflicts...)
	a.Order, a.Sure, a.Also, a.Shift, a.ByHand = order, Certain, nil, 0, true
	a.Family, a.FamilySure = family, CannotTell
	if family != "" {
		a.FamilySure = Certain
	}
	a.Clues, a.Conflicts = nil, nil
	for _, clue := range all {
		if includes(clue.Orders, order) {
			a.Clues = append(a.Clues, clue)
		} else {
			a.Conflicts = append(a.Conflicts, clue)
		}
	}
	return a
}

// weigh lets every clue speak for its orders; the order with the most bits wins, counting of each kind of clue the
// strongest alone, since two headers or two sums are seldom independent.
func (a *Answer) weigh() {
	clues := a.clues()
	var best arrange.Arrangement
	most := 0.0
	for _, order := range arrange.Orders() {
		if bits := support(clues, order); bits > most {
			best, most = order, bits
		}
	}
	left := arrange.Orders()
	for _, clue := range clues {
		if includes(clue.Orders, best) {
			a.Clues = append(a.Clues, clue)
			left = common(left, clue.Orders)
		} else if clue.Sure >= Strong {
			a.Conflicts = append(a.Conflicts, clue)
		}
	}
	a.name()
	if len(a.Clues) == 0 {
		return
	}
	a.Order, a.Shift = best, a.Code.Shift
	for _, clue := range a.Clues {
		a.Sure = max(a.Sure, clue.Sure)
	}
	for _, order := range left {
		if order != best {
			a.Also = append(a.Also, order)
		}
	}
	if len(a.Conflicts) > 0 || len(a.Also) > 0 {
		a.Sure = min(a.Sure, Weak)
	}
}

func support(clues []Clue, order arrange.Arrangement) (bits float64) {
	strongest := map[string]float64{}
	for _, clue := range clues {
		if includes(clue.Orders, order) {
			strongest[clue.Kind] = max(strongest[clue.Kind], clue.Bits)
		}
	}
	for _, b := range strongest {
		bits += b
	}
	return bits
}

// name tells the CPU family: by its code, or by a header that is sure enough of itself.
func (a *Answer) name() {
	if a.Code.Sure >= Strong {
		a.Family, a.FamilySure = a.Code.Family, a.Code.Sure
		return
	}
	for _, h := range a.Headers {
		if h.Family != "" && h.Settles {
			a.Family, a.FamilySure = h.Family, Strong
			return
		}
	}
	if a.Code.Sure == Weak {
		a.Family, a.FamilySure = a.Code.Family, Weak
	}
}

// clues lists what speaks for an order of the whole image, the strongest first.
func (a *Answer) clues() []Clue {
	var clues []Clue
	if a.Code.Sure > CannotTell {
		clues = append(clues, a.codeClue())
	}
	if a.Text.Sure > CannotTell {
		clues = append(clues, a.textClue())
	}
	for _, h := range a.Headers {
		if sure := headerSure(h); sure > CannotTell {
			clues = append(clues, headerClue(h, sure))
		}
	}
	for _, s := range a.Sums {
		if s.Width == 32 && s.Settles {
			clues = append(clues, sumClue(s))
		}
	}
	sorted.By(clues, func(x, y Clue) int { return int(y.Bits) - int(x.Bits) })
	return clues
}

// headerSure grades a header as evidence for the order of the whole image. A header in a lane is none.
func headerSure(h Header) Sure {
	const weakBits = 10 // by chance once in a thousand dumps
	_, lanes := h.Order.Lanes()
	switch {
	case lanes > 1 || h.SelfCheck == CheckFails:
		return CannotTell
	case h.Settles:
		return Certain
	case h.Bits >= weakBits:
		return Weak
	}
	return CannotTell
}

func (a *Answer) codeClue() Clue {
	c := a.Code
	clue := Clue{Kind: "code", Orders: []arrange.Arrangement{c.Order}, Sure: c.Sure, Bits: c.Bits}
	for _, other := range c.Other {
		clue.Orders = append(clue.Orders, other.Order)
	}
	var counts []string
	for _, seen := range c.Seen[:min(3, len(c.Seen))] {
		counts = append(counts, words.Fill("{} {} ({})", words.Count(seen.Count), seen.Mnemonic, seen.Pattern))
	}
	clue.Sentence = words.List(counts)
	if len(c.Seen) > 0 {
		rivals := make([]string, 0, 3)
		for _, seen := range c.Seen[:min(3, len(c.Seen))] {
			rivals = append(rivals, words.Count(seen.RivalCount))
		}
		clue.Sentence += words.Fill(" in this order, {} in the next best", words.List(rivals))
		if first := c.Seen[0].First; len(first) > 0 {
			clue.From, clue.To = first[0], first[0]+max(1, len(c.Seen[0].Pattern)/2)
		}
	}
	return clue
}

func (a *Answer) textClue() Clue {
	t := a.Text
	clue := Clue{Kind: "text", Orders: []arrange.Arrangement{t.Order}, Sure: t.Sure, Bits: t.Bits}
	clue.Sentence = words.Fill("letters stand as in words {} times in this order, {} times in the next best",
		words.Count(t.Hits), words.Count(t.Next))
	if len(t.Where) > 0 {
		clue.From, clue.To = max(0, t.Where[0]-8), t.Where[0]+8
	}
	return clue
}

func headerClue(h Header, sure Sure) Clue {
	clue := Clue{Kind: "header", Orders: append([]arrange.Arrangement{h.Order}, h.Also...), Sure: sure, Bits: h.Bits,
		From: h.Stored, To: h.Stored + 1}
	clue.Sentence = words.Fill("{} at {} reads right in this order", h.Name, words.Address(h.At))
	if h.SelfCheck == CheckHolds {
		clue.Sentence += ", and passes its own check"
	}
	return clue
}

func sumClue(s BuiltInSum) Clue {
	sure := Certain
	return Clue{Kind: "sum", Orders: append([]arrange.Arrangement{s.Order}, s.Also...), Sure: sure, Bits: s.Bits,
		Sentence: words.Fill("the {} over the {} closes in this order, a {}-bit value", s.Name, s.Part, strconv.Itoa(s.Width)),
		From:     s.From, To: s.To}
}
