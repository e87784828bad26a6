package link

import (
	"math"
	"strconv"
	"strings"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/words"
)

func (h *hasher) sayIdentical(s *Statement) *Answer {
	return &Answer{Relation: Identical, Same: true, Order: s.Order.ID,
		Sentence: words.Fill("The same dump: all {} agree, in the same order.", words.Size(s.Size)),
		Evidence: []string{"SHA-256 as stored agrees, in full"},
		Next:     "What is said there about the dump is said about yours too."}
}

func (h *hasher) sayArranged(s *Statement, view arrange.Arrangement) *Answer {
	return &Answer{Relation: Arranged, Same: true, Order: view.ID(),
		Sentence: words.Fill("The same content in another arrangement: your dump is the posted one{}.", with(view, s)),
		Evidence: []string{words.Fill("SHA-256 in the CPU's order agrees, in {} bits", strconv.Itoa(4*len(s.SHA256CPU)))},
		Next: "What is said there about the content is said about yours too. What is said about byte order and burning holds once " +
			"yours is in the same arrangement: Bytes shows it so and saves it."}
}

// with says how the own dump, whose view is the posted image in the CPU's order, is arranged against the posted dump.
func with(view arrange.Arrangement, s *Statement) string {
	posted, _ := arrange.Parse(s.Order.ID)
	between, _ := view.Then(posted)
	lane := laneOf(view)
	for _, other := range arrange.Orders()[1:] {
		if both, _ := lane.Then(other); both == between {
			return " with " + order(other)
		}
	}
	return ""
}

// laneOf returns which lane a view takes, without its order.
func laneOf(view arrange.Arrangement) arrange.Arrangement { return arrange.Lane(view.Lanes()) }

// laneName names a lane as a part of a dump.
func laneName(lane arrange.Arrangement) string {
	number, of := lane.Lanes()
	if of == 2 {
		return "the " + lane.String()
	}
	return words.Fill("byte lane {} (of lanes 0 to {})", strconv.Itoa(number), strconv.Itoa(of-1))
}

// order names an arrangement in the middle of a sentence.
func order(a arrange.Arrangement) string { return strings.ReplaceAll(a.String(), ", ", " and ") }

// byPrints completes an answer that rests on prints.
func (h *hasher) byPrints(a *Answer) *Answer {
	a.Evidence = append(a.Evidence, words.Fill("by prints of {} bits, {} compared", strconv.Itoa(PrintBits), words.Count(h.compared)))
	a.Chance = words.OneIn(PrintBits - math.Log2(float64(max(1, h.compared))))
	return a
}

func (h *hasher) sayLane(s *Statement, view, lane arrange.Arrangement) *Answer {
	a := &Answer{Relation: Lane, Same: true, Order: view.ID(),
		Evidence: []string{words.Fill("the print of that lane agrees, over all {}", words.Size(len(h.stored)))},
		Next:     "To have the whole, join it with the other lanes: open them all, and Lunette offers it."}
	seen, arranged := "", ""
	if s.Order.ID != arrange.Stored.ID() {
		seen = " as the CPU sees it"
	}
	if view != arrange.Stored {
		arranged = ", with " + order(view)
	}
	a.Sentence = words.Fill("Your dump is {} of the posted one{}{}.", laneName(lane), seen, arranged)
	return h.byPrints(h.unlessFill(a))
}

// unlessFill takes an answer back when the own dump is one repeated byte: any blank chip would get it.
func (h *hasher) unlessFill(a *Answer) *Answer {
	if h.isFill(arrange.Stored, 0, len(h.stored)) {
		a.Relation, a.Sentence = Unknown, words.Fill("Cannot tell: your dump is {} throughout, and so is a part of the posted one.", words.Byte(h.stored[0]))
		a.Next = "If it should hold something, check that the chip is seated, powered and selected, and read again."
	}
	return a
}

// partName names part i of so many, from 0.
func partName(i, of int) string {
	if of == 2 {
		return [...]string{"first half", "second half"}[i]
	}
	return [...]string{"first quarter", "second quarter", "third quarter", "fourth quarter"}[i]
}

func partNames(parts []int, of int) string {
	names := make([]string, len(parts))
	for i, part := range parts {
		names[i] = partName(part, of)
	}
	return words.List(names)
}

func (h *hasher) sayPart(s *Statement, o *outcome, parts []int, of int) *Answer {
	a := h.blocks(o)
	a.Relation = Part
	a.Sentence = words.Fill("Your dump is the {} of the posted one{}.", partNames(parts, of), with(o.view, s))
	a.Next = "If your chip should hold all of it, the reader was set to a smaller device, or an address line at the top did nothing."
	if len(parts) == of {
		a.Sentence = words.Fill("Your dump once is what the posted one holds {}{}.", often(of), with(o.view, s))
		a.Next = "The posted dump was read as if its chip were larger, or the image was repeated to fill one: yours has all of it."
	}
	return h.byPrints(h.unlessFill(a))
}

func often(n int) string {
	if n == 2 {
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

func (h *hasher) sayHolds(s *Statement, t trial, found []int, times int) *Answer {
	a := &Answer{Relation: Holds, Same: true, Order: t.view.ID(),
		Evidence: []string{words.Fill("SHA-256 in the CPU's order agrees, in {} bits", strconv.Itoa(4*len(s.SHA256CPU)))},
		Next:     "What is said there is said about that part of yours only."}
	_, lanes := t.view.Lanes()
	switch {
	case lanes > 1:
		a.Sentence = words.Fill("The posted dump is {} of yours{}.", laneName(laneOf(t.view)), with(t.view, s))
	case len(found) == times:
		a.Relation = Repeats
		a.Sentence = words.Fill("Your dump is the posted one {} over{}.", often(times), with(t.view, s))
		a.Next = "If your chip has the posted size, the reader was set to a larger device: keep the first part."
	default:
		a.Sentence = words.Fill("The posted dump is the {} of yours{}.", partNames(found, times), with(t.view, s))
	}
	return h.unlessFill(a)
}

func (h *hasher) sayBeginning(s *Statement, o *outcome) *Answer {
	a := h.blocks(o)
	n := len(h.stored)
	if n < s.Size {
		a.Relation = Part
		a.Sentence = words.Fill("Your dump is the beginning of the posted one{}: {} of {} agree.", with(o.view, s), words.Size(o.bytes), words.Size(s.Size))
		a.Next = "A read that was cut short looks like this: read your chip again, with the device set to its full size."
		return h.byPrints(h.unlessFill(a))
	}
	a.Relation = Holds
	a.Sentence = words.Fill("Your dump begins with the posted one{}; {} more follow.", with(o.view, s), words.Size(n-s.Size))
	a.Next = "What is said there is said about the beginning of yours only."
	return h.byPrints(a)
}

// blocks begins an answer that goes by blocks.
func (h *hasher) blocks(o *outcome) *Answer {
	a := &Answer{Same: o.complete(), Order: o.view.ID(), Blocks: o.blocks, Agree: o.agree()}
	a.Evidence = []string{words.Fill("{} of {} agree; {} of them are more than one repeated byte", words.Count(o.agree()),
		words.Plural(o.blocks, "block"), words.Count(o.told))}
	if rest := o.length - o.bytes; rest > 0 {
		a.Evidence = append(a.Evidence, words.Fill("{} lie in blocks that reach beyond, and could not be compared", words.Plural(rest, "byte")))
	}
	return a
}

// sayDiffers says where a dump differs; part is what of the posted one it was compared with, or the posted one with, "" for
// all.
func (h *hasher) sayDiffers(s *Statement, o *outcome, part string) *Answer {
	a := h.blocks(o)
	if o.told == 0 {
		return h.sayDifferent(s, o, a)
	}
	a.Relation = Differs
	a.Own, a.Posted = o.ranges(s)
	if part != "" {
		part = " of what would be " + part
	}
	if arranged := with(o.view, s); arranged != "" {
		part += ", compared" + arranged
	}
	a.Sentence = words.Fill("Different in {} of {}{}: {}.", words.Count(len(o.differ)), words.Plural(o.blocks, "block"), part, places(a.Own))
	a.Evidence = append(a.Evidence, words.Fill("a block is {}; how many bytes of it differ, the link does not show", words.Size(s.BlockSize)))
	a.Next = "Read your chip again. If other stretches differ then, the read is not stable; if the same do, it is another revision, " +
		"or one of the two dumps is wrong: compare it byte by byte with whoever posted it."
	return h.byPrints(a)
}

// places lists the first stretches.
func places(stretches []dump.Range) string {
	const listed = 4
	var all []string
	for i, r := range stretches {
		if i == listed && len(stretches) > listed+1 {
			all = append(all, words.Count(len(stretches)-listed)+" more stretches")
			break
		}
		all = append(all, words.Address(r.From)+" to "+words.Address(r.To-1))
	}
	return words.List(all)
}

func (h *hasher) sayDifferent(s *Statement, o *outcome, a *Answer) *Answer {
	n := len(h.stored)
	a.Relation, a.Order = Different, ""
	a.Sentence = "Different throughout: no block with content agrees, in any of the eight orders."
	a.Next = "A bad line or a wrong device setting can change every block: look at the verdict on yours. Else it is another chip, or " +
		"another revision."
	a.Evidence = append(a.Evidence, words.Fill("yours has {}, the posted one {}", words.Size(n), words.Size(s.Size)))
	if n == s.Size {
		a.Own, a.Posted = o.ranges(s)
		return h.byPrints(a)
	}
	a.Sentence = "Different: no part of one is found in the other, as far as the link can show."
	a.Evidence = append(a.Evidence[1:], "compared were lanes, halves and quarters where the sizes allow them, else the beginning")
	a.Blocks, a.Agree = 0, 0
	return h.byPrints(a)
}

func (h *hasher) sayContradiction(o *outcome) *Answer {
	a := h.blocks(o)
	a.Relation, a.Same = Unknown, false
	a.Sentence = "The link contradicts itself: the prints of all its blocks agree with your dump, its SHA-256 does not."
	a.Next = "Do not rely on it: no page of ours makes such a link. Ask whoever posted it."
	return a
}

// sayShort is the answer where only prints of blocks could tell, and the link has none that do.
func (h *hasher) sayShort(s *Statement) *Answer {
	n := len(h.stored)
	a := &Answer{Relation: Different, Sentence: "Not the same dump, in any of the eight orders.",
		Evidence: []string{words.Fill("yours has {}, the posted one {}", words.Size(n), words.Size(s.Size))},
		Next:     "Where they differ, this short link cannot show: ask for the full one."}
	switch {
	case n == s.Size:
	case s.Short:
		a.Sentence = "Not the same dump: the sizes differ."
		a.Next = "Whether one holds a part of the other, this short link cannot show: ask for the full one."
	default:
		a.Sentence = "Not the same dump: the sizes differ, and yours is smaller than anything the link has a print of."
		a.Next = "Read your chip again, with the device set to its full size."
	}
	return a
}
