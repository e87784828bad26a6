package prepare

import (
	"strconv"
	"strings"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/words"
)

// laneOf returns which lane of how many chip i holds: of those its bank is dealt to, or the one that the dump is.
func (j *job) laneOf(i int) (lane, of int) {
	if j.plan.Lanes > 0 {
		return j.plan.Lane, j.plan.Lanes
	}
	return i % j.lanes, j.lanes
}

// laneName returns which part of the image chip i holds.
func (j *job) laneName(i int) string {
	bank := ""
	if j.banks > 1 {
		bank = [2]string{"low-", "high-"}[i/j.lanes]
	}
	lane, of := j.laneOf(i)
	switch of {
	case 2:
		return bank + [2]string{"even", "odd"}[lane]
	case 4:
		return "byte " + strconv.Itoa(lane)
	}
	return ""
}

// dataLines returns the data lines of the board that chip i drives, or "" when the plan does not say what the CPU is.
func (j *job) dataLines(i int) string {
	i, of := j.laneOf(i)
	switch {
	case j.plan.View == chips.X16:
		return "D0-D15"
	case of == 1:
		return "D0-D7"
	case j.plan.CPU == "":
		return ""
	}
	if j.plan.CPU == Big {
		i = of - 1 - i
	}
	return words.Fill("D{}-D{}", strconv.Itoa(8*i), strconv.Itoa(8*i+7))
}

// arranged says in a few words each how the bytes of a chip stand.
func (j *job) arranged() []string {
	list := []string{"in the CPU's order"}
	if order := j.bufferOrder(); order != arrange.Stored {
		list = strings.Split(order.String(), ", ")
	}
	switch {
	case j.spare == Repeat:
		list = append(list, "image "+chips.Often(j.copies()))
	case j.spare == Pad && j.plan.End == arrange.Top:
		list = append(list, words.Fill("image at the top, {} below", words.Byte(j.plan.Fill)))
	case j.spare == Pad:
		list = append(list, words.Fill("image at the bottom, {} above", words.Byte(j.plan.Fill)))
	}
	return list
}

// viewName returns a view for a sentence.
func viewName(view chips.View) string {
	switch view {
	case chips.X16:
		return "one chip of sixteen bits"
	case chips.Pair:
		return "an even and an odd chip of eight bits"
	case chips.Pairs:
		return "two pairs of chips of eight bits"
	case chips.Four:
		return "four chips of eight bits"
	}
	return "one chip of eight bits"
}

// fileName returns the name of the file of chip i: the dump, what was done, the device. What the chips of a set differ in
// and what a person may choose otherwise next time is in the name, so that files are not taken for each other. The order of
// the dump and the CPU, of which only one is right, are on the card.
func (j *job) fileName(i int) string {
	parts := []string{j.stem()}
	if lane := j.laneName(i); lane != "" {
		parts = append(parts, strings.ReplaceAll(lane, " ", ""))
	}
	if j.device.HasBits(16) {
		if j.plan.View != chips.X16 {
			parts = append(parts, "byte-mode")
		}
		parts = append(parts, string(j.plan.Buffer)+"-first")
	}
	if j.mirror {
		parts = append(parts, "crossed")
	}
	switch {
	case j.spare == Repeat && j.copies() == 2:
		parts = append(parts, "doubled")
	case j.spare == Repeat:
		parts = append(parts, strconv.Itoa(j.copies())+"-times")
	case j.spare == Pad && j.plan.End == arrange.Top:
		parts = append(parts, "pad"+words.Byte(j.plan.Fill)+"-top")
	case j.spare == Pad:
		parts = append(parts, "pad"+words.Byte(j.plan.Fill))
	}
	return strings.Join(append(parts, j.device.ID, j.ending()), ".")
}

func (j *job) ending() string {
	switch j.plan.Format {
	case HEX:
		return "hex"
	case SRecord:
		return "srec"
	}
	return "bin"
}

// stem returns the dump's name without folders and ending, of letters, digits and dashes only: it becomes a file name on
// any system.
func (j *job) stem() string {
	const longest = 40
	name := j.plan.Name[strings.LastIndexAny(j.plan.Name, `/\`)+1:]
	if dot := strings.LastIndexByte(name, '.'); dot > 0 {
		name = name[:dot]
	}
	var b strings.Builder
	dash := false
	for _, r := range name {
		letter := r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		switch {
		case !letter:
			dash = b.Len() > 0
			continue
		case dash:
			b.WriteByte('-')
			dash = false
		}
		b.WriteRune(r)
		if b.Len() >= longest {
			break
		}
	}
	if b.Len() == 0 {
		return "dump"
	}
	return b.String()
}

// steps says what happens to the bytes, in order.
func (j *job) steps() []string {
	var list []string
	switch {
	case j.plan.Lanes > 0:
		list = append(list, words.Fill("The dump is one lane already ({}) and goes into one chip.", j.laneName(0)))
	case j.plan.Order == arrange.Stored:
		list = append(list, "The dump is taken as it is stored: that is how the CPU sees it.")
	}
	if j.plan.Order != arrange.Stored {
		list = append(list, words.Fill("The dump is put into the CPU's order: {}.", j.plan.Order.String()))
	}
	if j.chips() > 1 {
		for i := range j.chips() {
			list = append(list, j.dealt(i))
		}
	}
	if j.spare != "" {
		list = append(list, j.filled())
	}
	if j.device.HasBits(16) {
		list = append(list, j.convention())
	}
	if j.mirror {
		list = append(list, "The bits of each byte are mirrored, since the board crosses the data lines.")
	}
	return list
}

// filled says what is done with the space to spare.
func (j *job) filled() string {
	what, over := "The image", j.device.Capacity-j.lane
	if j.chips() > 1 {
		what = "Each lane"
	}
	switch {
	case j.spare == Repeat:
		return words.Fill("{} goes into the chip {} and is written {}, one after the other: whatever the address lines above it are tied "+
			"to, the CPU finds it.", what, chips.Often(j.copies()), chips.Often(j.copies()))
	case j.plan.End == arrange.Top:
		return words.Fill("{} stands at the top of the chip, from {} on; {} before it are filled with {}.", what, words.Address(over),
			words.Size(over), words.Byte(j.plan.Fill))
	}
	return words.Fill("{} stands at the bottom of the chip; {} behind it, from {} on, are filled with {}.", what, words.Size(over),
		words.Address(j.lane), words.Byte(j.plan.Fill))
}

// dealt says which bytes go to chip i.
func (j *job) dealt(i int) string {
	addresses := make([]string, 0, 4)
	for n := range 3 {
		addresses = append(addresses, strconv.Itoa(i%j.lanes+n*j.lanes))
	}
	text := words.Fill("{}: the bytes at the addresses {} and so on", j.laneName(i), strings.Join(addresses, ", "))
	if bank := i / j.lanes; bank > 0 {
		text += words.Fill(" counted from {}, where the upper half of the image begins", words.Address(bank*j.lanes*j.lane))
	} else if j.banks > 1 {
		text += " of the lower half of the image"
	}
	if lines := j.dataLines(i); lines != "" {
		text += words.Fill("; this chip is the one on {} of the board", lines)
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// convention says how words are written for a device with sixteen data lines.
func (j *job) convention() string {
	first, changed := "low byte (D0-D7)", "which is the CPU's order here"
	if j.plan.Buffer == HighFirst {
		first = "high byte (D8-D15)"
	}
	if j.swap {
		changed = "so the two bytes of each word change places against the CPU's order"
	}
	text := words.Fill("The reader's buffer has the {} of each word first, {}.", first, changed)
	if j.plan.View != chips.X16 {
		text += " In byte mode A-1 low gives D0-D7 of a word and A-1 high D8-D15 (from memory, check the data sheet)."
	}
	return text
}

// cautions are what to know before burning these files.
func (j *job) cautions() []string {
	list := j.device.BurnCautions()
	if j.device.Status != chips.Confirmed {
		list = append(list, j.device.Standing)
	}
	if j.device.HasBits(16) && j.plan.View != chips.X16 {
		list = append(list, words.Fill("The board must hold BYTE of the {} low. With BYTE high the chip gives words and the board reads half of them.",
			j.device.ID))
	}
	if _, of := j.laneOf(0); of > 1 && j.plan.CPU == "" {
		list = append(list, "Which chip is on which data lines depends on the CPU: the even one is on D8-D15 of a 16-bit bus with a "+
			"big-endian CPU (68000) and on D0-D7 with a little-endian one (8086).")
	}
	if j.plan.View == chips.X8 && j.plan.Lanes == 0 && j.plan.WordCPU != "" {
		list = append(list, chips.ReadsBytes(j.plan.WordCPU))
	}
	return list
}
