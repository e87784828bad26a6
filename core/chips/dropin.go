package chips

import (
	"strconv"
	"strings"

	"lunette/core/words"
)

// A Drop is two pinouts side by side: the old one, which a socket has, and a new one that is to take its place.
type Drop struct {
	Old       string    `json:"old"`
	New       string    `json:"new"`
	Answer    string    `json:"answer"`  // whether the new chip takes the old one's place, for reading
	Verdict   Agreement `json:"verdict"` // the worst agreement of all rows; wrong also when new holds less than old
	Rows      []DropRow `json:"rows"`    // one for each pin of the new chip in order, then the places without one
	Same      int       `json:"same"`    // rows with the same signal
	Differ    int       `json:"differ"`  // rows with another one
	Matter    int       `json:"matter"`  // of these, how many matter while reading
	Remarks   []string  `json:"remarks"` // capacities, modes, how far the pin lists are known
	Adapter   Adapter   `json:"adapter"`
	SamePlugs bool      `json:"samePlugs"` // both are DIPs or both SOPs with as many pins
}

// A DropRow is a pin of the new chip over a place of the old one, as the packages lie on each other at the end away from
// pin 1. A pin number of 0 is none.
type DropRow struct {
	OldPin    int       `json:"oldPin"`
	OldSignal string    `json:"oldSignal"`
	NewPin    int       `json:"newPin"`
	NewSignal string    `json:"newSignal"`
	Agreement Agreement `json:"agreement"`
	Why       string    `json:"why"` // what the difference means while reading; "" for the same signal
}

// DropIn compares the pinouts of old and new, and says how an adapter is wired that carries new in the place of old.
func DropIn(old, new Device) Drop {
	d := Drop{
		Old: old.ID, New: new.ID, Remarks: []string{}, Adapter: adapter(old, new),
		SamePlugs: old.PinCount == new.PinCount && isDIP(old) == isDIP(new),
	}
	list, empty := meetings(new, old, Straps{}, false, (old.PinCount-new.PinCount)/2)
	for i := range list {
		m := &list[i]
		row := DropRow{m.at.Number, m.at.Signal, m.chip.Number, m.chip.Signal, Wrong, "this pin has no place under it"}
		if m.at.Number > 0 {
			row.Agreement, row.Why = agree(m.chip, m.at)
		} else {
			row.Agreement, row.Why = hanging(m.chip)
		}
		d.add(row)
	}
	for _, place := range empty {
		row := DropRow{OldPin: place.Number, OldSignal: place.Signal}
		row.Agreement, row.Why = left(place)
		d.add(row)
	}
	if d.Verdict = d.worstPin(); new.Capacity < old.Capacity {
		d.Verdict = Wrong // whatever the pins say, a part of the ROM is missing
	}
	d.remark(old, new)
	d.Answer = d.answer(old, new)
	return d
}

// hanging returns what it means that a pin of the new chip has no place under it.
func hanging(pin Pin) (Agreement, string) {
	switch pin.Role {
	case Unwired:
		return Alike, "the chip does not use this pin"
	case Ready:
		return Alike, "an output that nobody listens to"
	case Address, Control, Program:
		return Fixed, "it has no place under it and must be tied to a level"
	}
	return Wrong, "it has no place under it"
}

// left returns what it means that a place has no pin of the new chip over it.
func left(place Pin) (Agreement, string) {
	switch place.Role {
	case Data:
		return Wrong, "the board reads a bit here that the new chip does not give"
	case Address:
		return Alike, "stays open: the new chip does not take this line here"
	case Supply, Ground:
		return Alike, "stays open: the new chip takes its supply elsewhere"
	}
	return Alike, "stays open"
}

// add counts a row in.
func (d *Drop) add(row DropRow) {
	d.Rows = append(d.Rows, row)
	if row.Agreement == Same {
		d.Same++
	} else {
		d.Differ++
	}
	if row.Agreement == Fixed || row.Agreement == Wrong {
		d.Matter++
	}
}

// grade orders agreements, the best first.
func grade(a Agreement) int {
	for i, known := range [...]Agreement{Same, Alike, Fixed, Wrong} {
		if a == known {
			return i
		}
	}
	return 0
}

// answer says whether new takes the place of old: by its pins, and by what it holds.
func (d *Drop) answer(old, new Device) string {
	counts := words.Fill("{} of {} pins have the same signal", strconv.Itoa(d.Same), strconv.Itoa(new.PinCount))
	if d.Same == new.PinCount {
		counts = words.Fill("all {} pins have the same signal", strconv.Itoa(new.PinCount))
	}
	pins := grade(d.worstPin())
	switch {
	case isDIP(old) != isDIP(new), new.PinCount > old.PinCount:
		return words.Fill("A {} does not go into the place of a {}, {} against {}: {} where the rows lie on each other.",
			new.ID, old.ID, new.Package, old.Package, counts) + d.byAdapter() + holds(old, new)
	case pins == grade(Wrong):
		matter := "1 of the others matters"
		if d.Matter > 1 {
			matter = strconv.Itoa(d.Matter) + " of the others matter"
		}
		return words.Fill("A {} does not drop into the place of a {}: {}, and {}.", new.ID, old.ID, counts, matter) + d.byAdapter() +
			holds(old, new)
	}
	rest := ", the others make no difference"
	if pins == grade(Fixed) {
		rest = words.Fill(", and {} a fixed level that the board may or may not give. Look at these first", needs(d.Matter))
	} else if d.Same == new.PinCount {
		rest = ""
	}
	if new.Capacity < old.Capacity {
		return words.Fill("A {} does not take the place of a {}: it holds {} where the board reads {}, so {} of the ROM are missing. As to the "+
			"pins, {}{}.", new.ID, old.ID, words.Size(new.Capacity), words.Size(old.Capacity), words.Size(old.Capacity-new.Capacity), counts, rest)
	}
	drops := "drops"
	if pins == grade(Fixed) {
		drops = "may drop"
	}
	return words.Fill("A {} {} into the place of a {} for reading: {}{}.", new.ID, drops, old.ID, counts, rest) + holds(old, new)
}

// worstPin is the worst agreement of all rows.
func (d *Drop) worstPin() Agreement {
	worst := Same
	for _, row := range d.Rows {
		if grade(row.Agreement) > grade(worst) {
			worst = row.Agreement
		}
	}
	return worst
}

// byAdapter says whether wires do what the pins do not.
func (d *Drop) byAdapter() string {
	if d.Adapter.Refusal != "" {
		return " No adapter of wires alone does it: " + d.Adapter.Refusal + "."
	}
	return words.Fill(" An adapter of {} does it, see the wiring.", words.Plural(d.Adapter.wires(), "wire"))
}

// holds says what it means for the answer that new holds more or less than old; nothing when it holds as much.
func holds(old, new Device) string {
	switch {
	case new.Capacity < old.Capacity:
		return words.Fill(" It holds only {} of the {} that the board reads: {} of the ROM would be missing.", words.Size(new.Capacity),
			words.Size(old.Capacity), words.Size(old.Capacity-new.Capacity))
	case new.Capacity > old.Capacity:
		return words.Fill(" It holds {} and the board reads {}: write the image {}.", words.Size(new.Capacity), words.Size(old.Capacity),
			Often(new.Capacity/old.Capacity))
	}
	return ""
}

func needs(pins int) string {
	if pins == 1 {
		return "1 pin needs"
	}
	return strconv.Itoa(pins) + " pins need"
}

// remark adds what the rows do not say.
func (d *Drop) remark(old, new Device) {
	if new.Capacity < old.Capacity {
		d.Remarks = append(d.Remarks, words.Fill("The {} holds {}, the {} {}: what lies above is missing and the board reads the lower part "+
			"again in its place.", new.ID, words.Size(new.Capacity), old.ID, words.Size(old.Capacity)))
	}
	if new.Capacity > old.Capacity {
		d.Remarks = append(d.Remarks, words.Fill("The {} holds {}, the {} {}: write the image {}, or pad it and tie the spare address lines "+
			"to match.", new.ID, words.Size(new.Capacity), old.ID, words.Size(old.Capacity), Often(new.Capacity/old.Capacity)))
	}
	if len(old.Pin("OE")) > 0 && len(new.Pin("OE")) == 0 {
		d.Remarks = append(d.Remarks, words.Fill("The {} has no OE: it answers whenever CE is low. On a board that holds CE low and "+
			"switches with OE it fights whoever else is on the bus.", new.ID))
	}
	if old.HasBits(16) && old.HasBits(8) && new.HasBits(16) && !new.HasBits(8) {
		d.Remarks = append(d.Remarks, words.Fill("The {} has no byte mode: it serves only a board that reads words.", new.ID))
	}
	for _, chip := range []Device{old, new} {
		if chip.Status != Confirmed {
			d.Remarks = append(d.Remarks, chip.ID+": "+chip.Standing)
		}
	}
	d.Remarks = append(d.Remarks, "This compares pins for reading. Speed, supply voltage and the levels of a mask ROM's enables are in the "+
		"data sheets. Never put a chip into a reader set to another one.")
}

// text writes the wiring list in columns.
func (a *Adapter) text(old, new Device) string {
	if a.Refusal != "" {
		return ""
	}
	var b strings.Builder
	b.WriteString(words.Fill("Adapter: {} ({}) in the place of {} ({})\n\n", new.ID, new.Package, old.ID, old.Package))
	column := func(text string, width int) {
		b.WriteString(text + strings.Repeat(" ", max(width-len(text), 1)))
	}
	column("chip pin", 16)
	b.WriteString("to\n")
	for _, wire := range a.Wires {
		column(pad(wire.NewPin)+" "+wire.NewSignal, 16)
		if wire.Why == "" {
			b.WriteString(wire.To + "\n")
			continue
		}
		column(wire.To, 27)
		b.WriteString(wire.Why + "\n")
	}
	if len(a.Open) > 0 {
		var names []string
		for _, place := range a.Open {
			names = append(names, strconv.Itoa(place.Number)+" "+place.Signal)
		}
		b.WriteString("\nSocket pins left open: " + strings.Join(names, ", ") + "\n")
	}
	return b.String()
}

// pad returns a pin number in two columns.
func pad(pin int) string {
	if pin < 10 {
		return " " + strconv.Itoa(pin)
	}
	return strconv.Itoa(pin)
}
