package faults

import (
	"strings"

	"lunette/core/arrange"
	"lunette/core/words"
)

// say fills in the headline, the reasons, what to do next and the cautions of a comparison whose relation is known.
func (c *Comparison) say(t tally) {
	c.Reasons = c.reasons(t)
	if c.Exchange {
		c.Headline, c.Next, c.Cautions = c.exchangeHeadline(), c.exchangeNext(), []string{}
		return
	}
	c.Headline = c.headline()
	c.Next = c.next()
	c.Cautions = c.cautions()
}

// with returns ", with bytes swapped ..." for a master that had to be rearranged.
func (c *Comparison) with() string {
	if c.Arrangement == arrange.Stored {
		return ""
	}
	return ", with " + c.Order
}

// headline returns the relation in one sentence.
func (c *Comparison) headline() string {
	switch c.Relation {
	case Identical:
		return words.Fill("The read is the master: all {} are equal.", words.Plural(c.ReadSize, "byte"))
	case Rearranged:
		return words.Fill("The read is the master with {}.", c.Order)
	case OneValue:
		return words.Fill("The read is one value throughout, {}, where the master holds content.", c.value)
	case Doubled:
		if c.ReadSize%c.MasterSize != 0 {
			return words.Fill("The read holds the master and then begins again{}.", c.with())
		}
		return words.Fill("The read holds the master {} times{}.", words.Count(c.Repeated), c.with())
	case Once:
		return words.Fill("The read holds all there is: the master is the same {} {} times{}.", words.Size(c.ReadSize),
			words.Count(c.MasterSize/c.ReadSize), c.with())
	case Halved:
		return words.Fill("The read is {} of the master, from {} on{}.", words.Size(c.ReadSize), words.Address(c.MasterFrom), c.with())
	case Padded:
		return words.Fill("The read is the master with blank bytes {} it{}.", c.sideOfBlank(), c.with())
	case OneLane:
		return words.Fill("The read is one byte lane of the master: {}{}.", c.Order, c.times())
	case Offset:
		return c.offsetHeadline()
	case Empty:
		return "There is nothing to compare: " + c.emptyOnes() + " no bytes."
	case BlankRead:
		return "The read is blank: FF throughout, where the master holds content."
	case Stopped:
		return words.Fill("The burn stopped at {}, after {} of the image{}: from there on the chip is blank.",
			words.Address(c.StoppedAt), words.Share(c.StoppedAt, c.ReadSize), c.with())
	case LineFault, Rewired:
		return c.explainedHeadline()
	case Weak:
		return words.Fill("The chip is not fully programmed: {} 1 and should be 0, and none the other way{}.", bitsRead(c.High), c.with())
	case FewHigh:
		return words.Fill("{} 1 and should be 0, and none the other way{}: a tired chip, a weak supply, a slow read or a weak burn.",
			bitsRead(c.High), c.with())
	case Underneath:
		return words.Fill("The chip was not blank: the read is the master with older zeros in it, {} 0 and should be 1{}.",
			bitsRead(c.Low), c.with())
	case MustErase:
		return words.Fill("{} 0 and should be 1, and none the other way{}: if they stay so, the chip needs erasing.",
			bitsRead(c.Low), c.with())
	case Shares:
		return words.Fill("The read is another chip or version that shares parts with the master: {} of {} are equal{}.",
			words.Count(c.Equal), words.Plural(c.Compared, "byte"), c.with())
	case TooLittle:
		return words.Fill("This is too little to compare: {} of {} {}.", words.Count(c.Differ), words.Plural(c.Compared, "byte"),
			verb(c.Differ, "differs", "differ"))
	case Different:
		return words.Fill("The read differs from the master in {} of {}{}, and no fault of a line explains it.",
			words.Count(c.Differ), words.Plural(c.Compared, "byte"), c.with())
	}
	return words.Fill("The read is something else than the master: {} of {} differ, and the rest is no more than chance.",
		words.Count(c.Differ), words.Plural(c.Compared, "byte"))
}

// bitsRead returns "1 bit reads" or "2,088 bits read".
func bitsRead(n int) string {
	if n == 1 {
		return "1 bit reads"
	}
	return words.Count(n) + " bits read"
}

func (c *Comparison) sideOfBlank() string {
	if c.MasterFrom < 0 {
		return "before"
	}
	return "after"
}

// times returns ", written 2 times" for a master that is repeated.
func (c *Comparison) times() string {
	if c.Repeated == 1 {
		return ""
	}
	return words.Fill(", written {} times", words.Count(c.Repeated))
}

func (c *Comparison) emptyOnes() string {
	switch {
	case c.MasterSize == 0 && c.ReadSize == 0:
		return "both have"
	case c.MasterSize == 0:
		return "the master has"
	}
	return "the read has"
}

func (c *Comparison) offsetHeadline() string {
	if c.MasterFrom < 0 {
		return words.Fill("The master begins {} into the read, at {}.", words.Plural(-c.MasterFrom, "byte"), words.Address(-c.MasterFrom))
	}
	return words.Fill("The read begins {} into the master, at {}.", words.Plural(c.MasterFrom, "byte"), words.Address(c.MasterFrom))
}

// explainedHeadline returns the first explanation, and that there are others.
func (c *Comparison) explainedHeadline() string {
	sentence := c.Explanations[0].Sentence
	switch c.Causes {
	case 1:
		return sentence
	case 2:
		return sentence + " Another cause explains it as well."
	}
	return words.Fill("{} {} other causes explain it as well.", sentence, words.Count(c.Causes-1))
}

// reasons returns what was counted.
func (c *Comparison) reasons(t tally) (reasons []string) {
	reasons = []string{}
	add := func(template string, parts ...string) { reasons = append(reasons, words.Fill(template, parts...)) }
	if c.MasterSize != c.ReadSize {
		add("The master has {}, the read {}.", words.Size(c.MasterSize), words.Size(c.ReadSize))
	}
	if c.Relation == Empty {
		return reasons
	}
	if c.Compared < c.ReadSize {
		add("{} of the read stand against bytes of the master.", words.Plural(c.Compared, "byte"))
	}
	if c.Relation == Once {
		add("Every part of the master of that size is equal to the read, byte for byte.")
	}
	if c.Differ == 0 {
		return reasons
	}
	if c.Repeated > 1 {
		add("The master is laid over the read {} times{}.", words.Count(c.Repeated), c.with())
	} else if c.MasterSize > c.ReadSize {
		add("The read is laid over the master from {} on{}.", words.Address(c.MasterFrom), c.with())
	}
	if c.otherWay != "" && (!c.Exchange || c.options.readIsBetter()) {
		add("With the two exchanged, one thing explains every byte: {}.", c.otherWay)
	}
	add("{} of {} differ ({}), {}.", words.Count(c.Differ), words.Plural(c.Compared, "byte"), words.Share(c.Differ, c.Compared),
		c.fromTo())
	add("{} 1 and should be 0; {} 0 and should be 1.", bitsRead(c.High), bitsRead(c.Low))
	if c.FirstLow >= 0 {
		add("The first bit that is 0 and should be 1 stands at {}, on {}.", words.Address(c.FirstLow), c.lowLines(t.lowThere))
	}
	for _, e := range c.Explanations[min(1, len(c.Explanations)):] {
		if e.Cause == 0 && len(e.Troubles) > 0 {
			add("The same by the names of another device: {}", e.Sentence)
		}
	}
	for _, e := range c.Explanations {
		if e.Unexplained == 0 && c.relationOfLines() && e.Kind != SingleBits && e.Kind != SomeContact {
			add("What is named gives every byte of the read from the master.")
			break
		}
	}
	if line, share := c.busiestLine(); share != "" && !c.relationOfLines() {
		add("{} of the bits that differ are on {}.", share, line)
	}
	return reasons
}

// fromTo says where the differences are.
func (c *Comparison) fromTo() string {
	if c.Runs.Total > len(c.Runs.Listed) {
		return "the first at " + words.Address(c.FirstDiffer)
	}
	last := c.Runs.Listed[len(c.Runs.Listed)-1].To - 1
	if c.FirstDiffer == last {
		return "at " + words.Address(last)
	}
	return words.Fill("from {} to {}", words.Address(c.FirstDiffer), words.Address(last))
}

// lowLines names the data lines of some bits of the byte at FirstLow, by every device that the read may come from.
func (c *Comparison) lowLines(there byte) string {
	var names []string
	for _, count := range c.Buses {
		buses := []Bus{count.Bus}
		if count.Bus.Width == 16 && !c.options.LowFirst {
			buses = append(buses, X16High)
		}
		for _, bus := range buses {
			var lines []Line
			for bit := range 8 {
				if there>>bit&1 == 1 {
					lines = append(lines, bus.data(bit+(bus.Width-8)*(c.FirstLow&1)))
				}
			}
			name := words.List(lineNames(lines))
			if len(c.Buses) > 1 || len(buses) > 1 {
				name += " (" + bus.String() + ")"
			}
			names = append(names, name)
		}
	}
	return strings.Join(names, " or ")
}

// relationOfLines tells whether lines are to blame.
func (c *Comparison) relationOfLines() bool { return c.Relation == LineFault || c.Relation == Rewired }

// busiestLine returns the data line of a x8 device with more than half of the bits that differ, and its share; none for few.
func (c *Comparison) busiestLine() (line, share string) {
	bits := c.High + c.Low
	if bits < leastContact || len(c.Buses) == 0 {
		return "", ""
	}
	bus := c.Buses[0]
	for _, d := range bus.Data {
		if n := d.High + d.Low; n*2 > bits {
			return d.Line.String() + " (" + bus.Bus.String() + ")", words.Share(n, bits)
		}
	}
	return "", ""
}
