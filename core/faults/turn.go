package faults

import "lunette/core/words"

// turn asks whether the two should be exchanged, and how the master then comes of the read. image is the master as it lies
// over the read.
//
// A master that lost something, by a burn that stopped or a line that was stuck when it was read, makes a good read look as if
// bits were in the way of a burn.
func (c *Comparison) turn(d *doctor, master, image, read []byte) {
	if c.Relation == Unrelated && c.ReadSize > c.MasterSize {
		c.turnSizes(master, read)
		return
	}
	if c.Differ == 0 || c.areStrangers() || c.Compared < c.ReadSize {
		return
	}
	better := c.options.readIsBetter()
	if better || c.options.Read >= c.options.Master && !c.exact() {
		c.otherWay = d.otherWay(read, image)
	}
	// All on one line is an unsteady contact of the read as well as a stuck line of the master, and few bytes may be anything.
	c.Exchange = better || c.otherWay != "" && c.Relation != LineFault && c.Differ >= leastNearly
}

// turnSizes looks whether the master is a part of a larger read, such as a byte lane of it.
func (c *Comparison) turnSizes(master, read []byte) {
	other := Compare(read, master, Options{Width: c.options.Width, LowFirst: c.options.LowFirst}, nil)
	switch other.Relation {
	case OneLane, Halved, Shares, Different, Weak, FewHigh, MustErase, LineFault:
		c.Relation, c.Exchange = Shares, true
	}
}

// areStrangers tells whether the two have so little to do with each other that neither is the better one.
func (c *Comparison) areStrangers() bool {
	return c.Relation == Unrelated || c.Relation == TooLittle || c.Relation == Shares && c.MasterSize != c.ReadSize
}

// exact tells whether what is named gives every byte of the read from the master.
func (c *Comparison) exact() bool {
	switch c.Relation {
	case Weak, FewHigh, Underneath, MustErase, Shares, Different:
		return false
	case LineFault:
		return c.Explanations[0].Unexplained == 0 && c.Explanations[0].Kind != SomeContact
	}
	return true
}

// otherWay returns a sentence on how one image comes of another of the same size, by a burn that stopped or one fault of a line;
// empty where neither gives every byte.
func (d *doctor) otherWay(good, bad []byte) string {
	other := &doctor{widths: d.widths, lowFirst: d.lowFirst, progress: func(float64) {}}
	if at, stopped := stoppedAt(good, bad, Span{0, len(good)}); stopped {
		return words.Fill("the burn stopped at {}, after {} of the image", words.Address(at), words.Share(at, len(good)))
	}
	const singlesOnly = true
	other.explain(good, bad, differing(good, bad), singlesOnly)
	if len(other.causes) == 0 {
		return ""
	}
	one := other.causes[0]
	sentence := one.explanation(one.buses(d.lowFirst)[0], storedFrame(len(good), len(bad)), len(d.widths) > 1).Sentence
	return sentence[:len(sentence)-1]
}

// exchangeHeadline says that the read is the better one, or why it may be.
func (c *Comparison) exchangeHeadline() string {
	if c.areStrangers() {
		return "The read is larger than the master and shares parts with it. Exchange the two to see which."
	}
	if c.options.readIsBetter() {
		return words.Fill("The read is the better one of the two: it {}, and the master {}. Exchange them.",
			c.options.Read.words(), c.options.Master.words())
	}
	return words.Fill("The master looks like the faulty one: with the two exchanged, one thing explains every byte: {}.", c.otherWay)
}

// exchangeNext says what to do where the two should be exchanged.
func (c *Comparison) exchangeNext() []string {
	if c.areStrangers() {
		return []string{"Exchange the two, and see what is said of them then."}
	}
	if c.options.readIsBetter() {
		return []string{"Exchange the two, and see what is said of them then.",
			"Leave the chip of this read as it is: by what is in it, it is the better one."}
	}
	return []string{"Exchange the two, see what is said of them then, and look at the report of each.",
		"Leave both chips as they are until it is known which of the two is right."}
}
