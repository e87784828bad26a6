package main

import (
	"bytes"
	"fmt"
	"slices"

	"lunette/core/faults"
)

// copies compares an image with clean copies of it: no line may be blamed, and the relation must be right.
func (m *matrix) copies(of image) {
	master := of.bytes
	check := func(group, what string, read []byte, wanted ...faults.Relation) {
		s := m.score(group)
		s.cases++
		c := faults.Compare(master, read, faults.Options{}, nil)
		for _, relation := range wanted {
			if c.Relation != relation {
				continue
			}
			if !namesLines(c) {
				s.exact++
				return
			}
			// Of a half blank image a line that is stuck reads as blank as a chip that was not burnt: both must be named.
			if relation == faults.BlankRead && notBurnt(c) {
				s.inSet++
				return
			}
		}
		s.wrong++
		m.note(group, of, what, fmt.Sprintf("called %s: %s", c.Relation, c.Headline))
	}
	check("clean copies", "itself", bytes.Clone(master), faults.Identical)
	for _, o := range orders[1:] {
		read := o.of(master)
		if bytes.Equal(read, master) {
			check("clean copies", o.id, read, faults.Identical)
			continue
		}
		check("rearranged copies", o.id, read, faults.Rearranged)
	}
	half, quarter := len(master)/2, len(master)/4
	// A part of a sparse image may hold too little to be called anything: blank, or something else, but with no line at fault.
	lean := []faults.Relation{faults.BlankRead, faults.Unrelated, faults.Different, faults.Weak, faults.FewHigh, faults.Underneath,
		faults.MustErase, faults.Shares, faults.OneValue}
	part := func(read []byte, wanted ...faults.Relation) []faults.Relation {
		if content(read) < 64 {
			return append(wanted, lean...)
		}
		return wanted
	}
	for lane := range 2 {
		read := make([]byte, half)
		for j := range read {
			read[j] = master[2*j+lane]
		}
		check("lanes", fmt.Sprint("lane ", lane), read, part(read, faults.OneLane, faults.Halved, faults.Once)...)
	}
	check("doubled and halved", "twice", append(bytes.Clone(master), master...), faults.Doubled)
	check("doubled and halved", "first half", master[:half], part(master[:half], faults.Halved, faults.Once, faults.OneLane)...)
	check("doubled and halved", "second half", master[half:], part(master[half:], faults.Halved, faults.Once, faults.OneLane)...)
	check("doubled and halved", "third quarter", master[half:half+quarter],
		part(master[half:half+quarter], faults.Halved, faults.Once, faults.OneLane)...)
	padded := append(bytes.Clone(master), bytes.Repeat([]byte{0xFF}, len(master))...)
	check("doubled and halved", "padded", padded, faults.Padded)

	// Burns that stopped, and chips that were not blank.
	for _, percent := range []int{3, 50, 97} {
		at := len(master) * percent / 100
		read := bytes.Repeat([]byte{0xFF}, len(master))
		copy(read, master[:at])
		if bytes.Equal(read, master) {
			continue
		}
		check("stopped burns", fmt.Sprint(percent, " percent"), read, part(master[:at], faults.Stopped)...)
	}
}

func notBurnt(c faults.Comparison) bool {
	return slices.ContainsFunc(c.Explanations, func(e faults.Explanation) bool { return e.Kind == faults.NotBurnt })
}

// content counts the bytes of data that are not its commonest one.
func content(data []byte) int {
	var counts [256]int
	most := 0
	for _, b := range data {
		counts[b]++
		most = max(most, counts[b])
	}
	return len(data) - most
}

// strangers compares two images that have nothing to do with each other: no line may be blamed.
func (m *matrix) strangers(a, b image) {
	s := m.score("unrelated images")
	s.cases++
	c := faults.Compare(a.bytes, b.bytes, faults.Options{}, nil)
	switch {
	case namesLines(c):
		s.wrong++
		m.note("unrelated images", a, "against "+b.name, c.Headline)
	case c.Relation == faults.Unrelated:
		s.exact++
	default:
		s.inSet++ // something in common was seen, and no line blamed
		m.note("unrelated images", a, "against "+b.name, "called "+string(c.Relation)+": "+c.Headline)
	}
}
