package faults

import (
	"bytes"
	"strconv"
	"strings"

	"lunette/core/words"
)

func (r *Reread) sayTooFew() {
	r.Headline = "One read alone cannot show whether a chip reads steadily."
	if len(r.reads) == 0 {
		r.Headline = "There is no read to compare."
	}
	r.Next = []string{"Read the same chip at least once more, better twice, and open all the files together."}
}

func (r *Reread) saySizes() {
	r.Headline = "These reads are not of one chip with one setting: their sizes differ."
	first := r.reads[0]
	for i, read := range r.reads {
		switch {
		case len(read) == 0:
			r.Headline = "There is nothing in " + r.names[i] + "."
			r.Reasons = append(r.Reasons, r.names[i]+" is empty")
			continue
		}
		text := words.Fill("{}: {}", r.names[i], words.Size(len(read)))
		short, long := first, read
		if len(short) > len(long) {
			short, long = long, short
		}
		if i > 0 && len(short) > 0 && len(short) < len(long) && bytes.Equal(short, long[:len(short)]) {
			text += words.Fill(", the same as {} as far as the shorter one goes", r.names[0])
		}
		r.Reasons = append(r.Reasons, text)
	}
	r.Next = []string{"Set the reader to the same device each time and read again; a short file is a read that was cut."}
}

func (r *Reread) sayStable() {
	r.Headline = words.Fill("Stable over {}: all {} are equal.", words.Plural(len(r.reads), "read"), words.Plural(r.Size, "byte"))
	r.Reasons = append(r.Reasons, words.Fill("no byte differs in {}", words.Plural(len(r.reads), "read")))
	chance := "one time in two"
	if len(r.reads) > 2 {
		unseen := min(len(r.reads)-1, 62)
		chance = words.Fill("all but one time in {}", words.Count(1<<unseen))
	}
	r.Doubt = words.Fill("Equal reads prove a steady contact, not right content: a line that is stuck or open reads the same every time. "+
		"A cell that wavers evenly shows in so many reads {}.", chance)
	if constant(r.reads[0]) {
		r.Doubt = words.Fill("All of it is {}: so reads an empty socket, and that is steady too.", words.Byte(r.reads[0][0]))
	}
	r.Next = []string{"Keep one of them; look at its verdict for lines and sums. The most telling second read is one after the chip was taken out " +
		"and put back, for two copies of one file are equal as well."}
	r.Cautions = append(r.Cautions, CautionSocket)
}

func constant(data []byte) bool {
	return len(data) > 0 && bytes.Count(data, data[:1]) == len(data)
}

// sayStrangers words reads that differ too much, with the reads that are alike among them.
func (r *Reread) sayStrangers() {
	r.Headline = words.Fill("These are not steady reads of one chip: {} of {} differ.", words.Count(r.Bytes), words.Plural(r.Size, "byte"))
	for i, read := range r.reads {
		if constant(read) {
			r.Reasons = append(r.Reasons, words.Fill("{} is {} from end to end", r.names[i], words.Byte(read[0])))
			continue
		}
		for j := range i {
			if bytes.Equal(read, r.reads[j]) {
				r.Reasons = append(r.Reasons, words.Fill("{} and {} are equal", r.names[j], r.names[i]))
				break
			}
		}
	}
	r.Reasons = append(r.Reasons, r.where(), words.Fill("on all lines, the busiest with {} of the differing bits", words.Share(mostBits(r.X8), r.Bits)))
	r.Doubt = "Different chips or versions, a bus that nothing drives, or a chip that is seated wrongly: the bytes do not show which. " +
		"No consensus is made of them."
	r.Next = []string{"Make sure that the files belong together. If they do, check the device setting and how the chip is seated, and read again."}
	r.Cautions = append(r.Cautions, CautionSocket)
}

func mostBits(lines []UnstableLine) int {
	_, line := busiest(lines)
	return line.Bits
}

// sayUnstable words the headline and what to do, by the trouble.
func (r *Reread) sayUnstable() {
	r.Headline = words.Fill("{} {} between {}: {}.", words.Plural(r.Bits, "bit"), verb(r.Bits, "differs", "differ"),
		words.Plural(len(r.reads), "read"), r.likeness())
	again := "Read it three times and more, and take the consensus with its list."
	if len(r.reads) >= 3 {
		again = "Save the consensus with its list."
	}
	switch r.Trouble {
	case Leaking:
		r.Next = []string{again + " Then burn a fresh chip from what its own sums prove, and retire this one: it gets no better."}
		if r.options.Erase != EraseByReader {
			r.Next = append(r.Next, "Do not put it under UV light.")
		}
	case DataContact, AddrContact:
		r.Next = []string{"Power off and unplug, clean the pin and the socket, reseat the chip and read again. If the same line stays, try another " +
			"adapter or reader before the chip is blamed."}
		r.Cautions = append(r.Cautions, CautionSocket)
	case Slow:
		r.Next = []string{"Set the reader to a slower access, or to the part's rated time, and read again at the supply that the data sheet names."}
	case Supply:
		r.Next = []string{"Power off and unplug, check the supply pins, the decoupling and the seating, and read again. Where the reads differ they are " +
			"not to be trusted."}
		r.Cautions = append(r.Cautions, CautionSocket)
	default:
		r.Next = []string{"Power off and unplug, clean the pins, reseat the chip and read it three times more; what stays, and where, tells more."}
		r.Cautions = append(r.Cautions, CautionSocket)
	}
}

// likeness returns the trouble in words, with its doubt.
func (r *Reread) likeness() string {
	perhaps := "it looks like "
	if r.Sure != sureStrong {
		perhaps = "it may be "
	}
	switch r.Trouble {
	case Leaking:
		return perhaps + "leaking cells of a tired chip"
	case DataContact:
		return perhaps + "one bad contact, " + lineOrLine(r.Lines)
	case AddrContact:
		return perhaps + "a bad contact of an address line, " + lineOrLine(r.Lines)
	case Slow:
		return perhaps + "a chip that is read faster than it can answer"
	case Supply:
		return perhaps + "the supply or the seating"
	}
	return "the bits do not show which trouble it is"
}

// lineOrLine names the one line that is meant by lines, which are its numbers on the devices that the dump can be from.
func lineOrLine(lines []Line) string {
	names := make([]string, len(lines))
	for i, l := range lines {
		names[i] = words.Fill("{} of a x{} chip", l.String(), strconv.Itoa(l.Width))
	}
	return strings.Join(names, " or ")
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
