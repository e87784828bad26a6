package main

import (
	"bytes"
	"fmt"
	"slices"

	"lunette/core/faults"
)

// A truth is what was done to the master to make a read.
type truth struct {
	group    string // of the table that is printed
	order    order
	width    int
	high     bool // the high byte of a word stands first
	troubles []faults.LineTrouble
	address  []int // of a wiring
	data     []int
}

func (t truth) String() string {
	return fmt.Sprintf("%s: order %s, x%d, high first %v, %v, address %v, data %v", t.group, t.order.id, t.width, t.high, t.troubles,
		t.address, t.data)
}

// read returns the read that the truth makes of a master.
func (t truth) read(master []byte) []byte {
	b := board{width: t.width, highFirst: t.high}
	for _, trouble := range t.troubles {
		b.trouble(trouble.Kind, trouble.Lines)
	}
	if t.address != nil {
		b.connect(t.address, t.data)
	}
	return b.read(t.order.of(master))
}

// A score counts the cases of one group.
type score struct{ cases, unseen, exact, inSet, simpler, unexplained, wrong int }

// namesLines tells whether a comparison blames lines.
func namesLines(c faults.Comparison) bool {
	return slices.ContainsFunc(c.Explanations, func(e faults.Explanation) bool { return len(e.Lines) > 0 })
}

// judge compares the read of a truth with its master and adds to the score. It returns what is wrong, or nothing.
func (s *score) judge(t truth, master []byte) (complaint string) {
	s.cases++
	read := t.read(master)
	c := faults.Compare(master, read, faults.Options{}, nil)
	if complaint := reproduced(c, master, read); complaint != "" {
		s.wrong++
		return complaint
	}
	matching := slices.IndexFunc(c.Explanations, func(e faults.Explanation) bool { return t.named(e) })
	switch {
	case bytes.Equal(master, read): // the content does not exercise the fault
		s.unseen++
		if c.Relation != faults.Identical || namesLines(c) {
			s.wrong++
			return "equal to its master, and called " + c.Headline
		}
	case matching >= 0 && c.Found == 1:
		s.exact++
	case matching >= 0:
		s.inSet++
	case c.Found > len(c.Explanations) && namesLines(c):
		s.inSet++ // more are equally good than are listed
	case c.Relation == faults.Rearranged || namesLines(c) && c.Explanations[0].Unexplained == 0 && t.size() > size(c.Explanations[0]):
		s.simpler++ // the content does not exercise all of it; reproduced has checked what is named
	case !namesLines(c):
		s.unexplained++
		return "not named: " + c.Headline
	case t.address != nil:
		s.inSet++ // another wiring, which gives the read exactly
	default:
		if c.Explanations[0].Unexplained > 0 && t.names(c.Explanations[0]) {
			s.unexplained++
			return "one of two named, with a count: " + c.Headline
		}
		s.wrong++
		return "named otherwise: " + c.Headline
	}
	return ""
}

// size returns how many things the truth holds: faults, and another order. A wiring holds more than any two.
func (t truth) size() (n int) {
	if t.address != nil {
		return 3
	}
	if t.order.id != "stored" {
		n++
	}
	return n + len(t.troubles)
}

// size returns how many things an explanation names.
func size(e faults.Explanation) (n int) {
	if len(e.Wires) > 0 {
		return 3
	}
	if e.Arrangement.ID() != "stored" {
		n++
	}
	return n + len(e.Troubles)
}

// named tells whether an explanation is the truth.
func (t truth) named(e faults.Explanation) bool {
	if e.Bus.Width != t.width || e.Arrangement.ID() != t.order.id {
		return false
	}
	usesData := slices.ContainsFunc(t.troubles, func(one faults.LineTrouble) bool { return one.Lines[0].Kind == faults.Data })
	if usesData && e.Bus.HighFirst != t.high {
		return false
	}
	if t.address != nil {
		return wiredAs(e, t)
	}
	if len(e.Troubles) != len(t.troubles) {
		return false
	}
	for _, one := range t.troubles {
		if !contains(e.Troubles, one) {
			return false
		}
	}
	return true
}

// names tells whether all that an explanation names is true.
func (t truth) names(e faults.Explanation) bool {
	for _, one := range e.Troubles {
		if !contains(t.troubles, one) {
			return false
		}
	}
	return e.Bus.Width == t.width && e.Arrangement.ID() == t.order.id
}

func contains(troubles []faults.LineTrouble, one faults.LineTrouble) bool {
	return slices.ContainsFunc(troubles, func(other faults.LineTrouble) bool {
		return other.Kind == one.Kind && slices.Equal(other.Lines, one.Lines)
	})
}

// wiredAs tells whether the wiring table of an explanation is that of the truth.
func wiredAs(e faults.Explanation, t truth) bool {
	if len(e.Wires) != len(t.address)+len(t.data) {
		return false
	}
	for _, w := range e.Wires {
		to := t.address
		if w.Reader.Kind == faults.Data {
			to = t.data
		}
		if to[w.Reader.Number] != w.Chip.Number {
			return false
		}
	}
	return true
}

// reproduced simulates every explanation on the board and holds it against the read, byte by byte; what can be repaired must
// give the master.
func reproduced(c faults.Comparison, master, read []byte) (complaint string) {
	for _, e := range c.Explanations {
		o, known := orderByID(e.Arrangement.ID())
		if e.Kind == faults.SingleBits || e.Kind == faults.Selection || e.Kind == faults.NotBurnt || e.Kind == faults.SomeContact || !known {
			continue
		}
		b := board{width: max(8, e.Bus.Width), highFirst: e.Bus.HighFirst}
		for _, t := range e.Troubles {
			b.trouble(t.Kind, t.Lines)
		}
		if len(e.Wires) > 0 {
			address, data := make([]int, len(e.Wires)-e.Bus.Width), make([]int, e.Bus.Width)
			for _, w := range e.Wires {
				if w.Reader.Kind == faults.Address {
					address[w.Reader.Number] = w.Chip.Number
				} else {
					data[w.Reader.Number] = w.Chip.Number
				}
			}
			b.connect(address, data)
		}
		left := 0
		for i, x := range b.read(o.of(master)) {
			if x != read[i] {
				left++
			}
		}
		if left != e.Unexplained {
			return fmt.Sprintf("%d bytes are left by %q, which says %d", left, e.Sentence, e.Unexplained)
		}
		if e.Repairable {
			if repaired, err := e.Repair(read); err != nil || !bytes.Equal(repaired, master) {
				return fmt.Sprintf("%q does not repair the read: %v", e.Sentence, err)
			}
		}
	}
	return ""
}
