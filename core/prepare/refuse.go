package prepare

import (
	"errors"
	"strconv"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/words"
)

// job checks a plan against a dump and works out what follows. Every refusal says why and what to do instead.
func (plan Plan) job(stored []byte) (*job, error) {
	j := &job{plan: plan, lanes: plan.View.Lanes(), banks: plan.View.Banks()}
	device, ok := chips.ByID(plan.Device)
	j.device = device
	switch {
	case len(stored) == 0:
		return nil, errors.New("the dump is empty; there is nothing to put into a chip")
	case !ok:
		return nil, refuse("there is no device {} in the catalogue; take one of its families, as 27C400", strconv.Quote(cut(plan.Device)))
	case j.lanes == 0:
		return nil, refuse("the view {} is none of x16, x8, pair, pairs and four; say how the board sees the chips", strconv.Quote(cut(string(plan.View))))
	}
	for _, check := range []func([]byte) error{j.checkWords, j.checkLane, j.checkDevice, j.checkOrder, j.checkSize, j.checkSpare} {
		if err := check(stored); err != nil {
			return nil, err
		}
	}
	return j, nil
}

func refuse(template string, parts ...string) error {
	return errors.New(words.Fill(template, parts...))
}

// cut bounds what is quoted of an input.
func cut(text string) string {
	if len(text) > 40 {
		return text[:40]
	}
	return text
}

// checkWords refuses words that the plan's fields do not know.
func (j *job) checkWords([]byte) error {
	plan := j.plan
	for _, field := range []struct {
		name, value string
		known       []string
	}{
		{"CPU", string(plan.CPU), []string{"big", "little"}},
		{"buffer", string(plan.Buffer), []string{"low", "high"}},
		{"use of spare space", string(plan.Spare), []string{"repeat", "pad"}},
		{"bits", string(plan.Bits), []string{"straight", "crossed"}},
		{"format", string(plan.Format), []string{"raw", "hex", "srec"}},
	} {
		known := field.value == ""
		for _, word := range field.known {
			known = known || field.value == word
		}
		if !known {
			return refuse("the {} {} is not known, expected {}", field.name, strconv.Quote(cut(field.value)), words.List(field.known))
		}
	}
	if plan.End != arrange.Bottom && plan.End != arrange.Top {
		return refuse("the end {} is not known, expected bottom or top", strconv.Itoa(int(plan.End)))
	}
	return nil
}

// checkLane refuses a dump that is a lane already where a whole image is asked for.
func (j *job) checkLane([]byte) error {
	plan := j.plan
	switch {
	case plan.Lanes == 0 && plan.Lane == 0:
		return nil
	case plan.Lanes != 2 && plan.Lanes != 4, plan.Lane < 0, plan.Lane >= plan.Lanes:
		return refuse("lane {} of {} is none; lanes count from 0 and are 2 or 4 in all", strconv.Itoa(plan.Lane), strconv.Itoa(plan.Lanes))
	case plan.View != chips.X8:
		return refuse("the dump is one byte lane of {} and is to become {}; join the lanes into one image first, or prepare this lane for "+
			"one x8 chip", strconv.Itoa(plan.Lanes), viewName(plan.View))
	}
	return nil
}

// checkDevice refuses devices that cannot be written, or that do not have the lines the board reads.
func (j *job) checkDevice([]byte) error {
	d, view := j.device, j.plan.View
	switch {
	case d.Kind == chips.MaskROM:
		return refuse("a {} is a mask ROM, made with its contents; take a device that can be written with the same pins{}", d.ID,
			replacement(d))
	case view == chips.X16 && !d.HasBits(16):
		return refuse("a {} has eight data lines and the board reads sixteen from one chip; make a pair of x8 chips, or take a "+
			"x16 device{}", d.ID, suggestion(d.Capacity, true))
	case view != chips.X16 && !d.HasBits(8):
		return refuse("a {} always gives sixteen bits at a time and has no byte mode, which a board that sees {} needs; take a "+
			"device with eight data lines{}", d.ID, viewName(view), suggestion(d.Capacity, false))
	}
	wide := d.HasBits(16)
	switch {
	case view == chips.X16 && j.plan.CPU == "":
		return refuse("which byte of a word goes to D8-D15 depends on the CPU; say big-endian (68000) or little-endian (8086), or, " +
			"if the dump was read by the same reader from a chip like this one, burn the dump as it is stored")
	case wide && j.plan.Buffer == "":
		return refuse("a {} has sixteen data lines; say whether the reader's buffer keeps the low or the high byte of a word first "+
			"(read any known chip of this sort and look)", d.ID)
	}
	first := LowFirst // of the two bytes of a word in the CPU's order, which the low lines get
	if view == chips.X16 && j.plan.CPU == Big {
		first = HighFirst
	}
	j.swap = wide && j.plan.Buffer != first
	return nil
}

// twice says that two pairs hold what a pair does not, where that is so.
func (j *job) twice() string {
	if j.plan.View == chips.Pair && j.lane <= 2*j.device.Capacity && j.lane&1 == 0 {
		return ", or make two pairs of these if the board has sockets for four"
	}
	return ""
}

// suggestion names the first device that can be written and holds size bytes, or nothing.
func suggestion(size int, wide bool) string {
	for _, d := range chips.All() {
		if d.Capacity == size && d.Kind != chips.MaskROM && d.HasBits(16) == wide {
			return ", as the " + d.ID
		}
	}
	return ""
}

// replacement names the first device that can be written and has every address, data and supply line where mask has it, or
// nothing.
func replacement(mask chips.Device) string {
	for _, d := range chips.All() {
		if d.Capacity != mask.Capacity || d.Kind == chips.MaskROM || d.PinCount != mask.PinCount {
			continue
		}
		same := true
		for i, pin := range mask.Pins {
			if role := pin.Role; role == chips.Address || role == chips.Data || role == chips.Supply || role == chips.Ground {
				same = same && d.Pins[i].Signal == pin.Signal
			}
		}
		if same {
			return ", as the " + d.ID
		}
	}
	return ""
}

// checkOrder refuses orders that leave bytes out, and mirrored bits of which nobody said whether the board crosses its lines.
func (j *job) checkOrder([]byte) error {
	if lane, of := j.plan.Order.Lanes(); of > 1 {
		return refuse("the order takes byte lane {} of 0 to {} only and would leave the rest of the dump out; save that lane as a dump "+
			"of its own and prepare that", strconv.Itoa(lane), strconv.Itoa(of-1))
	}
	if j.plan.Order.IsMirrored() && j.plan.Bits == "" {
		return refuse("the bits of the dump are mirrored, so the old chip or the reader's adapter crosses the data lines; say crossed if " +
			"the board does (the chip then holds mirrored bits) or straight if it does not")
	}
	j.mirror = j.plan.Bits == Crossed
	return nil
}

// checkSize refuses dumps that cannot be dealt to the chips, or that are larger than they.
func (j *job) checkSize(stored []byte) error {
	size, d := len(stored), j.device
	switch {
	case size%j.chips() != 0:
		return refuse("the dump has {}, which {} chips cannot share evenly; look whether a byte at its end is missing or too many, and "+
			"mend that first", words.Plural(size, "byte"), strconv.Itoa(j.chips()))
	case size/j.chips()&1 == 1 && d.HasBits(16):
		return refuse("the dump has {}, which leaves half a 16-bit word; look whether a byte at its end is missing or too many, and mend "+
			"that first", words.Plural(size, "byte"))
	}
	j.lane = size / j.chips()
	if j.lane > d.Capacity {
		return refuse("a {} holds {}, and each of {} would have to hold {}; take a larger device{}", d.ID, words.Size(d.Capacity),
			words.Plural(j.chips(), "chip"), words.Size(j.lane), suggestion(j.lane, d.HasBits(16))+j.twice())
	}
	if j.banks > 1 && j.lane&(j.lane-1) != 0 {
		return refuse("the dump has {}, and no address line changes over from the lower pair to the upper one at half of that; pad the dump "+
			"to a power of two first, or make one pair of larger chips", words.Size(size))
	}
	return nil
}

// checkSpare refuses to repeat what does not go into the chip a whole number of times.
func (j *job) checkSpare([]byte) error {
	even := j.device.Capacity%j.lane == 0
	switch {
	case j.lane == j.device.Capacity:
		return nil
	case j.plan.Spare == Repeat && !even:
		return refuse("{} do not go into the {} of a {} a whole number of times; pad the image instead", words.Size(j.lane),
			words.Size(j.device.Capacity), j.device.ID)
	case j.plan.Spare == Pad, !even:
		j.spare = Pad
	default:
		j.spare = Repeat
	}
	return nil
}
