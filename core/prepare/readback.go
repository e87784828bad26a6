package prepare

import (
	"bytes"
	"strings"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/words"
)

// What a burnt chip reads back as, and what that is to the dump. A reader shows the file that it was given, whatever the CPU
// or the dump looks like: to say otherwise would send people looking for a fault that is none.

// numbers of chips, for the beginning of a sentence and for its middle.
var (
	counted = map[int]string{1: "One file for one {}", 2: "Two files for two {}", 4: "Four files for four {}"}
	joined  = map[int]string{2: "the two joined", 4: "the four joined"}
)

// headline says what was made.
func (j *job) headline(same bool) string {
	text := words.Fill(counted[j.chips()], j.device.ID)
	switch {
	case j.plan.View == chips.Pairs:
		text += ", in two pairs"
	case same && j.chips() == 1:
		text += ": the dump as it stands, byte for byte"
	}
	return text + "."
}

// readback says what the burnt chips read back as, and what that is to the dump.
func (j *job) readback(same bool, how string) string {
	switch {
	case j.chips() == 1 && same:
		return "The burnt chip reads back as this file, and so as the dump."
	case j.chips() == 1:
		return words.Fill("The burnt chip reads back as this file, which is not the dump as it stands: it is the dump {}.", how)
	case same:
		return words.Fill("Each burnt chip reads back as its own file; {} are the dump as it stands, byte for byte.", joined[j.chips()])
	}
	return words.Fill("Each burnt chip reads back as its own file; {} are not the dump as it stands but the dump {}.", joined[j.chips()], how)
}

// against tells whether the files, joined if they are several, are the dump as it is stored, and if not, what they are to it:
// "with bytes swapped in 16-bit words (the CPU's order), twice". It is "" only when they are the dump.
func (j *job) against(contents [][]byte, stored []byte) (same bool, how string) {
	whole, err := j.join(contents)
	if err == nil && bytes.Equal(whole, stored) {
		return true, ""
	}
	order, chipwise := j.plan.Order, ""
	if j.swap && j.lanes == 1 {
		order, _ = order.Then(arrange.Swapped)
	} else if j.swap {
		chipwise = "with the two bytes of each word of a chip exchanged"
	}
	if j.mirror {
		order, _ = order.Then(arrange.Mirrored)
	}
	var list []string
	if order != arrange.Stored {
		text := "with " + order.String()
		if j.bufferOrder() == arrange.Stored {
			text += " (the CPU's order)"
		}
		list = append(list, text)
	}
	if chipwise != "" {
		list = append(list, chipwise)
	}
	if text := j.filledBriefly(); text != "" {
		list = append(list, text)
	}
	return false, strings.Join(list, ", ")
}

// filledBriefly says what is done with the space to spare, or nothing.
func (j *job) filledBriefly() string {
	each := ""
	if j.chips() > 1 {
		each = " in each chip"
	}
	switch {
	case j.spare == Repeat && each != "":
		return "with the part of each chip in it " + chips.Often(j.copies())
	case j.spare == Repeat:
		return chips.Often(j.copies())
	case j.spare == Pad && j.plan.End == arrange.Top:
		return words.Fill("with {} below it{}", words.Byte(j.plan.Fill), each)
	case j.spare == Pad:
		return words.Fill("with {} above it{}", words.Byte(j.plan.Fill), each)
	}
	return ""
}

// next is what to do with the files, in order.
func (j *job) next() []string {
	file, chip := "the file", "the chip"
	if j.chips() > 1 {
		file, chip = "each file", "each chip"
	}
	return []string{
		words.Fill("Load {} into the reader and compare the reader's sum with the card before anything is burnt; a reader that shows another "+
			"kind of sum shows another number, and the CRC-32 decides.", file),
		words.Fill("After burning, read {} back and compare it with its file, not with the dump.", chip),
	}
}

// checked says what was checked of the files before they were handed out, and against what.
func (j *job) checked() string {
	what := "Put back into the dump's order, the file equals the dump"
	if j.chips() > 1 {
		what = "Joined and put back into the dump's order, the files equal the dump"
	}
	return what + ": checked before the offer was made. Size and sums are those of the whole chip, as the reader will show them."
}
