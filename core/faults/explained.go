package faults

import (
	"strconv"

	"lunette/core/arrange"
	"lunette/core/words"
)

// fewBytes is how many differing bytes are so few that a fault of a line, which would give just these, is no surer than that
// as many single bits are wrong.
const fewBytes = 4

// explainAll puts the causes into words. f is the frame of the comparison.
func (c *Comparison) explainAll(d *doctor, f frame) {
	number := map[string]int{}
	for _, one := range d.causes {
		n, known := number[one.key()]
		if !known {
			n = c.Causes
			number[one.key()] = n
			c.Causes++
		}
		for _, bus := range one.buses(d.lowFirst) {
			e := one.explanation(bus, f, len(d.widths) > 1)
			e.Cause = n
			c.add(e)
		}
	}
	c.addSelections(d)
	lineNamed := len(d.causes) > 0 && d.causes[0].kind != Reordering
	if lineNamed && c.Relation == Stopped {
		c.addOther(NotBurnt, words.Fill("The burn stopped at {}.", words.Address(c.StoppedAt)))
	} else if lineNamed && c.Relation == BlankRead {
		c.addOther(NotBurnt, "The chip is blank, or was not there.")
	} else if lineNamed && c.Relation == OneValue {
		c.addOther(NotBurnt, "Nothing drives the data lines.")
	} else if lineNamed && c.Differ > 0 && c.Differ < fewBytes && d.causes[0].unexplained == 0 {
		c.addOther(SingleBits, words.Fill("{} wrong, and no line is at fault.", bitsAre(c.High+c.Low)))
	}
}

// addSelections notes what gives a read as exactly as the top address line being stuck does: then both of its halves are one
// half of the master.
func (c *Comparison) addSelections(d *doctor) {
	if len(d.causes) == 0 || c.Relation != LineFault {
		return
	}
	one := d.causes[0]
	if len(one.faults) != 1 || one.unexplained > 0 || !one.faults[0].isTop(c.ReadSize) {
		return
	}
	half, size := "lower", words.Size(c.ReadSize/2)
	if one.faults[0].kind == StuckHigh {
		half = "upper"
	}
	c.addOther(Selection, words.Fill("The chip holds {}, the {} half of the master, and was read as one of {}: it is smaller, or the "+
		"wrong type was selected.", size, half, words.Size(c.ReadSize)))
	c.addOther(Selection, words.Fill("The chip was burnt with the {} half of the master twice.", half))
}

// isTop tells whether f is the top address line of a dump of size bytes being stuck.
func (f fault) isTop(size int) bool {
	return f.address && (f.kind == StuckLow || f.kind == StuckHigh) && 2<<f.i == size
}

// addOther notes a cause that is no fault of a line.
func (c *Comparison) addOther(kind ExplanationKind, sentence string) {
	c.add(Explanation{Cause: c.Causes, Kind: kind, Sentence: sentence})
	c.Causes++
}

// key returns what is the same for a cause whatever the device is: a fault of address lines has the same offset bits on a x8
// and on a x16 device. All wirings that give a read are one.
func (c cause) key() string {
	if c.kind == Wiring {
		return string(c.kind)
	}
	key := c.order.ID()
	for _, f := range c.faults {
		key += "," + string(f.kind) + strconv.Itoa(f.both())
		if !f.address {
			key += "x" + strconv.Itoa(c.width)
		}
	}
	return key
}

func bitsAre(n int) string {
	if n == 1 {
		return "1 single bit is"
	}
	return words.Count(n) + " single bits are"
}

// add notes an explanation, the first of which are listed.
func (c *Comparison) add(e Explanation) {
	if c.Found++; c.Found > mostExplanations {
		return
	}
	if e.Troubles == nil {
		e.Troubles = []LineTrouble{}
	}
	if e.Lines == nil {
		e.Lines = []Line{}
	}
	if e.Wires == nil {
		e.Wires = []Wire{}
	}
	c.Explanations = append(c.Explanations, e)
}

// buses returns the buses for which the cause has different lines: which byte of a x16 word holds D0 to D7 is not seen in a dump,
// but may be known.
func (c cause) buses(lowFirst bool) []Bus {
	switch {
	case c.width == 8:
		return []Bus{X8}
	case c.width == 16 && c.namesData() && !lowFirst:
		return []Bus{X16Low, X16High}
	case c.width == 16:
		return []Bus{X16Low}
	}
	return []Bus{{}}
}

// namesData tells whether the cause names a data line.
func (c cause) namesData() bool {
	for _, f := range c.faults {
		if !f.address {
			return true
		}
	}
	for d, from := range c.wiring.data {
		if d != from {
			return true
		}
	}
	return false
}

// data returns the data line that is bit i of a word as it stands in the dump.
func (b Bus) data(i int) Line {
	if b.HighFirst {
		i ^= 8
	}
	return DataLine(i, b.Width)
}

// address returns the address line that is bit i of the byte offset.
func (b Bus) address(i int) Line { return AddressLine(i-b.Width/16, b.Width) }

// lines returns the lines of f.
func (f fault) lines(bus Bus) []Line {
	name := bus.data
	if f.address {
		name = bus.address
	}
	if f.i == f.j {
		return []Line{name(f.i)}
	}
	first, second := name(f.i), name(f.j)
	if second.Number < first.Number {
		first, second = second, first
	}
	return []Line{first, second}
}

// explanation puts the cause into words, of a device whose words stand in the dump as bus says. The kind of device is said when
// it is not known.
func (c cause) explanation(bus Bus, f frame, sayBus bool) Explanation {
	e := Explanation{Kind: c.kind, Bus: bus, Arrangement: c.order, Unexplained: c.unexplained, rewiring: c.wiring}
	whole := f.isOrder()
	switch c.kind {
	case Reordering:
		e.Sentence = words.Fill("The read is the master with {}.", c.order.String())
		e.Repairable = whole
		return e
	case Wiring:
		e.wire(c.wiring)
		e.Repairable = whole
	default:
		e.blame(c)
		e.rewiring = c.asWiring(f.length)
		e.Repairable = whole && c.unexplained == 0 && e.rewiring.width != 0
	}
	if c.order != arrange.Stored {
		e.Sentence = words.Fill("With {}: {}", c.order.String(), e.Sentence)
	}
	if sayBus {
		e.Sentence += " (" + c.device(bus) + ")"
	}
	if c.unexplained > 0 {
		e.Sentence += words.Fill("; {} not explained by it", bytesAre(c.unexplained))
	}
	e.Sentence += "."
	return e
}

func bytesAre(n int) string {
	if n == 1 {
		return "1 byte is"
	}
	return words.Count(n) + " bytes are"
}

// device names the kind of device to which the lines belong, and where its low byte stands if that matters.
func (c cause) device(bus Bus) string {
	switch {
	case bus == X8:
		return "x8 device"
	case !c.namesData():
		return "x16 device"
	case bus.HighFirst:
		return "x16 device, high byte first"
	}
	return "x16 device, low byte first"
}

// blame names the faults of a cause.
func (e *Explanation) blame(c cause) {
	for n, f := range c.faults {
		lines := f.lines(e.Bus)
		e.Troubles = append(e.Troubles, LineTrouble{f.kind, lines})
		e.Lines = append(e.Lines, lines...)
		if n > 0 {
			e.Sentence += ", and "
		}
		e.Sentence += trouble(f, lines)
	}
}

// trouble returns a fault in words, without a full stop.
func trouble(f fault, lines []Line) string {
	name := words.List(lineNames(lines))
	switch f.kind {
	case Exchanged:
		return name + " are exchanged"
	case BridgedLow:
		return name + " are bridged, and low wins"
	case BridgedHi:
		return name + " are bridged, and high wins"
	case Unsteady:
		return name + " is right at some addresses and wrong at others"
	}
	return name + " is " + string(f.kind)
}

// wire fills in the wiring table and names the lines that are connected to others.
func (e *Explanation) wire(w rewiring) {
	const most = 8 // that are told in the sentence; the table has all
	var changed []string
	connect := func(reader, chip Line) {
		e.Wires = append(e.Wires, Wire{Reader: reader, Chip: chip})
		if reader != chip {
			e.Lines = append(e.Lines, reader)
			changed = append(changed, reader.String()+" to "+chip.String())
		}
	}
	for i, to := range w.address {
		connect(AddressLine(i, w.width), AddressLine(to, w.width))
	}
	wires := make([]Wire, w.width)
	for d, to := range w.data {
		reader := e.Bus.data(d)
		wires[reader.Number] = Wire{reader, e.Bus.data(to)}
	}
	for _, one := range wires {
		connect(one.Reader, one.Chip)
	}
	e.Sentence = "Lines are connected in another order: the reader's " + words.List(firstOf(changed, most)) + " of the chip"
}

// firstOf returns the first items of a list, and how many more there are as the last one.
func firstOf(items []string, most int) []string {
	if n := len(items); n > most {
		return append(items[:most:most], strconv.Itoa(n-most)+" more")
	}
	return items
}
