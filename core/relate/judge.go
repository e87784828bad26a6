package relate

import (
	"math"
	"slices"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/words"
)

// judge looks at the joined image for what is there only because it was joined this way, and adds up the bits.
func (j *joining) judge() {
	parts := make([][]byte, len(j.samples))
	for k, one := range j.samples {
		parts[k] = one.data
	}
	joined := join(j.kind, parts)
	if j.kind == Halves {
		j.judgeHalves(joined)
		return
	}
	price := math.Log2(j.trials)
	code, hasCode := j.judgeCode(joined)
	hard, roleKnown := j.judgeSums(joined, price, code, hasCode)
	checked, pattern, contrary := j.judgeHeaders(joined, price)
	hard += checked
	if hasCode {
		j.bits += codeBits
	}
	j.bits += hard + pattern - price
	j.noRole = j.noRole && !roleKnown && checked == 0
	switch {
	case contrary:
		j.sure = marks.CannotTell
	case hard-price >= enoughBits && (hasCode || hard-price >= 2*enoughBits):
		j.sure = marks.Certain
	case hard-price >= enoughBits:
		j.sure = marks.Strong
	case hasCode && j.matched && len(j.samples) == 2 && (code.MayBeHalf(joined) || !code.InPlace(joined) && (j.noRole || !mostly(code))):
		// Two lanes of four hold every other word of an image. Where each word is an instruction that looks much like two
		// lanes of two, unless text, the place of constants or the words that follow each other show that none is missing.
		j.bits = 0
	case hasCode && j.matched:
		j.sure = marks.Strong
		j.tell("no sum and no self-check of the joined image closes: two versions of one ROM could look like this too")
	}
}

// mostly tells whether so many of the windows that are neither blank nor packed read as code that no half of an image does.
func mostly(code marks.Code) bool {
	return code.Windows*2 >= code.Looked || code.Windows >= 8 && code.Windows*4 >= code.Looked
}

// tell adds a sentence to the evidence.
func (j *joining) tell(template string, parts ...string) {
	j.evidence = append(j.evidence, words.Fill(template, parts...))
}

// exchanges are the orders of bytes without mirrored bits, by the exclusive-or of addresses that they are.
var exchanges = []arrange.Arrangement{arrange.Stored, arrange.Swapped, arrange.Halves, arrange.Reversed}

// exchangeOf returns the exclusive-or of addresses of an order of whole images, from 0 to 3, and -1 for a lane.
func exchangeOf(order arrange.Arrangement) int {
	if order.IsMirrored() {
		order, _ = order.Then(arrange.Mirrored) // never refused: no lane is added
	}
	return slices.Index(exchanges, order)
}

// judgeCode tells whether the joined lanes are code in this order, and no lane alone is.
func (j *joining) judgeCode(joined []byte) (code marks.Code, hasCode bool) {
	code = marks.FindCode(joined, nil)
	if code.Sure < marks.Strong || code.Shift != 0 || exchangeOf(code.Order) != 0 ||
		slices.ContainsFunc(j.samples, (*sample).isCode) {
		return code, false
	}
	if code.Order.IsMirrored() {
		j.order = arrange.Mirrored
	}
	family, _ := marks.FamilyByID(code.Family)
	j.tell("{} of the joined image read as {} code in this order, {} otherwise; no lane alone reads as code",
		words.Plural(code.Windows, "window"), family.Name, words.Count(code.Against))
	j.noRole = slices.ContainsFunc(code.Other, func(other marks.Reading) bool {
		x := exchangeOf(other.Order)
		return x > 0 && x < len(j.samples)
	})
	return code, true
}

// judgeSums adds up the 32-bit sums that close over the joined lanes, in the orders that mean this sequence of lanes.
func (j *joining) judgeSums(joined []byte, price float64, code marks.Code, hasCode bool) (bits float64, roleKnown bool) {
	stretches := map[int]bool{}
	for _, sum := range marks.FindSums(joined, nil) {
		x := exchangeOf(sum.Order)
		mirrored := sum.Order.IsMirrored()
		if sum.Width < 32 || stretches[sum.From] || !meansThis(sum, len(j.samples)) || hasCode && mirrored != code.Order.IsMirrored() ||
			slices.ContainsFunc(j.samples, func(one *sample) bool { return one.closes(sum.Row) }) {
			continue
		}
		stretches[sum.From] = true
		if mirrored {
			j.order = arrange.Mirrored
		}
		bits += sum.Bits
		roleKnown = roleKnown || len(j.samples) == 2 || hasCode && !j.noRole || sum.Settles && x == 0
		j.tell("{} over the {} gives {} only when joined: {} by chance, all ways to join counted", sum.Name, sum.Part, sum.Found,
			words.OneIn(max(sum.Bits-price, 0)))
	}
	if bits > 0 && !roleKnown {
		j.noRole = true
	}
	return bits, roleKnown
}

// meansThis tells whether a sum closes in an order that means lanes in this sequence and not another one. Lanes of a CPU
// that keeps the low byte first close in reversed words. A sum with end-around carry closes in both orders of the halves.
func meansThis(sum marks.BuiltInSum, lanes int) bool {
	x := exchangeOf(sum.Order)
	switch sum.Row {
	case "leading-words":
		return x == 0
	case "closing-longs":
		return x == 0 || x == 3
	}
	return x == 0 || lanes == 2 && x == 2
}

// closes tells whether a sum of the row closes over a sample, or a part of it, alone.
func (a *sample) closes(row string) bool {
	if a.closing == nil {
		a.closing = map[string]bool{}
		for _, sum := range marks.FindSums(a.data, nil) {
			a.closing[sum.Row] = true
		}
	}
	return a.closing[row]
}

// judgeHeaders adds up the headers that are in the joined lanes in this order and in no lane alone: those with a
// self-check that holds, and patterns that have none. contrary tells of one that holds in another sequence of the lanes.
func (j *joining) judgeHeaders(joined []byte, price float64) (checked, pattern float64, contrary bool) {
	for _, h := range marks.FindHeaders(joined, nil) {
		x := exchangeOf(h.Order)
		alone := slices.ContainsFunc(j.samples, func(one *sample) bool {
			return slices.ContainsFunc(one.heads(), func(other marks.Header) bool { return other.Row == h.Row })
		})
		switch {
		case x < 0 || alone || h.SelfCheck == marks.CheckFails:
		case x == 0 && h.SelfCheck == marks.CheckHolds:
			checked = max(checked, h.Bits)
			j.tell("{} at {}: its self-check holds, only when joined: {} by chance, all ways to join counted", h.Name,
				words.Address(h.At), words.OneIn(max(h.Bits-price, 0)))
		case x == 0:
			pattern = max(pattern, min(h.Bits, enoughBits))
			j.tell("{} at {}, only when joined", h.Name, words.Address(h.At))
		case x < len(j.samples) && h.SelfCheck == marks.CheckHolds && h.Settles:
			contrary = true
		}
	}
	return checked, pattern, contrary
}

const (
	leastStart = 8 // bits of a header at the start, or the end, that tells which half comes first
	clearStart = 6 // and by so many it must exceed one that says the other
)

// judgeHalves looks for what is there only in this sequence: a sum that is stored at the start, a header that covers both
// halves. Where only a sum closes that would in the other sequence too, the start or the end of the image must be known.
func (j *joining) judgeHalves(joined []byte) {
	a, b := j.samples[0], j.samples[1]
	price := math.Log2(j.trials)
	proven := false
	for _, sum := range marks.FindSums(joined, nil) {
		if sum.Width < 32 || sum.From != 0 || sum.To != len(joined) || a.closes(sum.Row) || b.closes(sum.Row) || j.bits > 0 {
			continue
		}
		j.bits = sum.Bits
		proven = sum.At == 0
		j.tell("{} over both gives {} with {}, and over neither alone: {} by chance, all ways to join counted", sum.Name, sum.Found,
			sum.Order.String(), words.OneIn(max(sum.Bits-price, 0)))
	}
	for _, h := range marks.FindHeaders(joined, nil) {
		if exchangeOf(h.Order) < 0 || h.SelfCheck != marks.CheckHolds || h.At >= len(a.data) || h.At+h.Length <= len(a.data) || proven {
			continue
		}
		j.bits += h.Bits
		proven = h.Bits-price >= enoughBits
		j.tell("{} at {} covers {}, and its self-check holds only when joined in this sequence", h.Name, words.Address(h.At),
			words.Size(h.Length))
	}
	j.bits -= price
	switch {
	case j.bits < enoughBits:
	case proven:
		j.sure = marks.Certain
	default:
		here, there := ends(a, b), ends(b, a)
		if here.Bits >= leastStart && here.Bits >= there.Bits+clearStart {
			j.sure = marks.Strong
			j.bits += clearStart
			j.tell("{} tells which comes first: it belongs at the start or the end of an image", here.Name)
		}
	}
}

// ends returns the strongest header at the start of a first half or at the end of a second.
func ends(first, second *sample) (strongest marks.Header) {
	const end = 64 // bytes before the end in which a header that belongs there begins
	for _, h := range first.heads() {
		if h.At == 0 && exchangeOf(h.Order) >= 0 && h.SelfCheck != marks.CheckFails && h.Bits > strongest.Bits {
			strongest = h
		}
	}
	for _, h := range second.heads() {
		if h.At >= len(second.data)-end && exchangeOf(h.Order) >= 0 && h.SelfCheck != marks.CheckFails && h.Bits > strongest.Bits {
			strongest = h
		}
	}
	return strongest
}

// tellJoining tells of a joining that has enough evidence.
func (s *search) tellJoining(j joining) {
	r := Relation{Kind: j.kind, Sure: j.sure, Bits: j.bits, Evidence: j.evidence, Open: j.noRole}
	var names []string
	for _, one := range j.samples {
		r.Dumps = append(r.Dumps, one.index)
		names = append(names, one.name)
	}
	r.Recipe = Recipe{Join: Interleave, Dumps: r.Dumps, Arrangement: j.order, Name: newName("joined", names...)}
	switch {
	case j.kind == Halves:
		r.Sentence = words.Fill("{} and {} are the first and the second half of one image.", names[0], names[1])
		r.Recipe.Join = InSequence
	case j.noRole && len(names) == 2:
		r.Sentence = words.Fill("{} are the two byte lanes of one image; which is the even one cannot be told.", words.List(names))
	case j.noRole:
		r.Sentence = words.Fill("{} are the byte lanes of one image, in this sequence or the reverse.", words.List(names))
	default:
		r.Sentence = words.Fill("{} are the {} of one image.", words.List(names), laneNames(len(names)))
	}
	s.add(r)
}
