package faults

import (
	"strings"

	"lunette/core/words"
)

// The steps that follow from a relation, in the order in which they are best done. Steps that need a number are made below.
var steps = map[Relation][]string{
	Identical: {"Nothing: the chip holds the master."},
	Rearranged: {"If this is the readback of a burn, burn the master in this arrangement, and it will read as it should.",
		"If it is a read of another chip, it is good: only the order of the bytes differs."},
	Doubled: {"The read is good. The device that was selected is larger than the master, or the master was written more than once: " +
		"check the device type if that was not meant."},
	Once: {"The read is good, and nothing is missing: the master repeats itself to fill a larger chip, or was read as a larger one.",
		"If it is to go into a chip of the master's size, burn the master as it is."},
	Halved: {"Check the device type: a smaller one was selected, or the chip's top address lines do not switch.",
		"If only this part was burnt on purpose, it is good; burn the other parts into their own chips."},
	Padded: {"The read is good: the master is in it whole. The device is larger than the master."},
	OneLane: {"The read is good for a chip on this byte lane. The other lanes belong into the other chips.",
		"If the chip should hold the whole, burn the whole master into a device that is large enough."},
	Offset: {"Check the start address and the buffer offset that were set for the read or the burn, and repeat it."},
	Empty:  {"Open a dump with content."},
	BlankRead: {"Check that the chip sits the right way round and in all contacts, and that the right device type is selected; " +
		"then read again.", "If it still reads blank, burn it: nothing stands in the way."},
	OneValue: {"Check that the chip sits the right way round and in all contacts, that it gets its supply, and that the right device " +
		"type is selected; then read again.", "If it stays so, and other chips read well, the chip is dead."},
	Stopped: {"Burn the master again over what is there: no bit is in the way, and it need not be erased first.",
		"If it stops at the same place again, check contacts and programming voltage, then try another chip."},
	Weak: {"Burn the master again over what is there: no bit is in the way, and it need not be erased first.",
		"If bits stay at 1, check the device type, the programming voltage and the contacts, then try another chip."},
	FewHigh: {"Read it twice more first, at the part's own supply and speed: other bits each time are a tired chip, a weak supply or a " +
		"read that is too fast for it.",
		"If the same bits stay, and it was burnt just now, burn the master again over what is there: no bit is in the way. An old chip is " +
			"better replaced: burn the master into another one."},
	Underneath: {"Keep the read; then {}, check that it is blank, and burn it again."},
	MustErase: {"Read it again first: if the same bits read 0, keep the read, {}, check that it is blank, and burn it again.",
		"If other bits read 0 each time, clean its pins and the socket."},
	Different: {"Read the chip twice more and compare the reads: bits that come and go are a contact or a tired chip.",
		"If the reads are all equal, it may be another version of the ROM, and this the only copy of it: keep the read, and see what its " +
			"own report says.", "Only if the chip was burnt from this master, {}, check that it is blank, and burn it again."},
	Shares: {"Keep the read, and see what its own report says: it may be the only copy of what it holds.",
		"If it should be a copy of the master, check which chip was read and which device type was selected."},
	TooLittle: {"Open the whole dump of a chip: from some 32 bytes of code or text on, being alike means something."},
	Unrelated: {"Check that the right two files, or the right chip, are compared.",
		"If this is the readback of a burn, check the device type and that the chip sits right, then read again."},
}

// next returns what to do.
func (c *Comparison) next() []string {
	if !c.relationOfLines() {
		next := c.steps()
		if c.asksForMaster() && c.options.Master != NotJudged && c.options.Master != LooksProven {
			next = append([]string{"Nothing in the master proves it: make sure first that it is the right one of the two."}, next...)
		}
		if c.MasterSize != c.ReadSize && c.Differ > 0 && !c.areStrangers() {
			next = append([]string{"The sizes differ: check first that the two belong together, and that the right device type is selected."}, next...)
		}
		return next
	}
	first := c.Explanations[0]
	if first.onlyOrder() {
		next := []string{words.Fill("Check the adapter or the wiring: {}.", words.List(firstOf(lineNames(first.Lines), 8)))}
		if first.Repairable {
			next = append(next, "Nothing is lost: the master's bytes can be made of this read and saved as a new file.")
		}
		return append(next, "Do not burn through this wiring before it is mended, unless the chip will be used through it too.")
	}
	next := []string{}
	if c.hasSelection() {
		next = append(next, "Check first which part the chip is and which type was selected: a chip of half the size reads the same.")
	}
	next = append(next,
		words.Fill("Clean the chip's pins and the socket's contacts of {}, seat the chip again, and read once more.",
			words.List(lineNames(c.namedLines()))),
		"If the fault stays, read a chip that is known to be good: if that shows it too, it is the socket, the adapter or the reader; "+
			"if not, it is the chip, and another one is needed.")
	if c.Low > 0 {
		next = append(next, "Do not erase or burn before the lines read right: what the chip holds is not known yet.")
	}
	return next
}

// hasSelection tells whether another size of chip explains the read as well as a line does.
func (c *Comparison) hasSelection() bool {
	for _, e := range c.Explanations {
		if e.Kind == Selection {
			return true
		}
	}
	return false
}

// asksForMaster tells whether the steps take the master for right and the chip for wrong, so that a good chip would be lost by
// them if it is the other way round.
func (c *Comparison) asksForMaster() bool {
	switch c.Relation {
	case Weak, FewHigh, Underneath, MustErase, Different:
		return true
	}
	return false
}

// steps returns the steps of the relation as the chip is erased and burnt.
func (c *Comparison) steps() []string {
	next := []string{}
	never := c.options.Erase == EraseNever
	switch {
	case never && (c.asksForMaster() || c.Relation == Stopped):
		return []string{"Check the device type, clean its pins and the socket, and read it again: a mask ROM can be neither erased nor burnt.",
			"If the reads are all equal, it is another version of the ROM, or the chip has failed. Keep the read, and burn the master into " +
				"a chip that takes its place."}
	case never && c.Relation == BlankRead:
		return append(next, steps[BlankRead][0], "If it still reads blank, the chip has failed: no mask ROM is made blank.")
	}
	for _, step := range steps[c.Relation] {
		if c.Relation == Different && c.CanStillBurn && strings.Contains(step, "{}") {
			step = "Only if the chip was burnt from this master, burn it again over what is there: no bit is in the way."
		}
		next = append(next, words.Fill(step, c.options.Erase.step()))
	}
	return next
}

// onlyOrder tells whether the explanation is one of lines in another order, by which nothing is lost.
func (e *Explanation) onlyOrder() bool {
	for _, t := range e.Troubles {
		if t.Kind != Exchanged {
			return false
		}
	}
	return e.Kind == Wiring || len(e.Troubles) > 0
}

// namedLines returns the lines of the first explanation and of those that blame the same trouble on another kind of device, no
// name twice, up to 8.
func (c *Comparison) namedLines() (lines []Line) {
	const most = 8
	seen := map[string]bool{}
	for _, e := range c.Explanations {
		for _, line := range e.Lines {
			if !seen[line.String()] && len(lines) < most {
				seen[line.String()] = true
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// cautions returns those of the steps that next names.
func (c *Comparison) cautions() []string {
	switch c.Relation {
	case Underneath:
		return append(append([]string{}, c.options.Erase.cautions()...), CautionSocket)
	case MustErase, Different:
		if c.CanStillBurn {
			return []string{CautionSocket}
		}
		return append([]string{CautionSocket}, c.options.Erase.cautions()...)
	case LineFault, Rewired, BlankRead, OneValue, Weak, FewHigh, Stopped, Unrelated:
		return []string{CautionSocket}
	}
	return []string{}
}
