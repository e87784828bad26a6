package prepare

import (
	"bytes"
	"errors"

	"lunette/core/arrange"
	"lunette/core/chips"
)

// A job is a plan that was found to make sense, with what follows from it.
type job struct {
	plan   Plan
	device chips.Device
	lanes  int   // chips that share a bank of the image byte by byte
	banks  int   // stretches of equal size that the image is cut into, each for so many chips
	lane   int   // bytes of the image in each chip
	spare  Spare // Repeat, Pad, or "" when the chip is full
	swap   bool  // the reader wants the two bytes of each word of a chip exchanged
	mirror bool  // the board crosses the data lines
}

// copies is how often the image stands in a chip.
func (j *job) copies() int {
	if j.spare == Repeat {
		return j.device.Capacity / j.lane
	}
	return 1
}

// chips is how many chips the image is dealt to.
func (j *job) chips() int { return j.lanes * j.banks }

// contents returns what goes into each chip: the image as the CPU sees it, cut into banks and dealt to the chips of each,
// filled up to their size, then turned into the order of the reader's buffer and of the board's data lines.
func (j *job) contents(stored []byte) [][]byte {
	image := j.plan.Order.Apply(stored)
	var contents [][]byte
	for bank := range j.banks {
		size := len(image) / j.banks
		contents = append(contents, arrange.Split(image[bank*size:(bank+1)*size], j.lanes)...)
	}
	for i, content := range contents {
		if j.spare == Repeat {
			content = arrange.Repeat(content, j.copies())
		} else if j.spare == Pad {
			content, _ = arrange.Pad(content, j.device.Capacity, j.plan.Fill, j.plan.End) // the size was checked
		}
		contents[i] = j.buffered(content)
	}
	return contents
}

// buffered turns a chip's bytes from the CPU's order into that of the reader's buffer, or back: it is its own inverse.
func (j *job) buffered(content []byte) []byte {
	order := j.bufferOrder()
	if order == arrange.Stored {
		return content
	}
	return order.Apply(content)
}

// bufferOrder is how the bytes in the reader's buffer stand against the CPU's order.
func (j *job) bufferOrder() arrange.Arrangement {
	order := arrange.Stored
	if j.swap {
		order, _ = order.Then(arrange.Swapped)
	}
	if j.mirror {
		order, _ = order.Then(arrange.Mirrored)
	}
	return order
}

// undo returns the dump that the chips' contents were made of. It fails when they cannot have been: copies that differ,
// padding that is none.
func (j *job) undo(contents [][]byte) ([]byte, error) {
	lanes := make([][]byte, len(contents))
	for i, content := range contents {
		content = j.buffered(content)
		if len(content) != j.device.Capacity {
			return nil, errors.New("a file does not have the size of the chip; nothing was made, please report this plan as a fault of Lunette")
		}
		from := j.from()
		lane := content[from : from+j.lane]
		if !j.fillsWith(content, from, lane) {
			return nil, errors.New("the space to spare is not filled as planned; nothing was made, please report this plan as a fault of Lunette")
		}
		lanes[i] = lane
	}
	image, err := j.join(lanes)
	if err != nil {
		return nil, err
	}
	back, _ := j.plan.Order.Inverse() // lanes were refused
	return back.Apply(image), nil
}

// from is where in a chip the image begins, its first copy if there are more.
func (j *job) from() int {
	if j.spare == Pad && j.plan.End == arrange.Top {
		return j.device.Capacity - j.lane
	}
	return 0
}

// join interleaves the lanes of each bank and puts the banks one after the other.
func (j *job) join(lanes [][]byte) ([]byte, error) {
	var image []byte
	for ; len(lanes) > 0; lanes = lanes[j.lanes:] {
		bank, err := arrange.Join(lanes[:j.lanes])
		if err != nil {
			return nil, err
		}
		image = append(image, bank...)
	}
	return image, nil
}

// fillsWith tells whether all of content but the lane at from is what the plan fills it with.
func (j *job) fillsWith(content []byte, from int, lane []byte) bool {
	if j.spare == Repeat {
		for at := 0; at < len(content); at += len(lane) {
			if !bytes.Equal(content[at:at+len(lane)], lane) {
				return false
			}
		}
		return true
	}
	for i, b := range content {
		if (i < from || i >= from+len(lane)) && b != j.plan.Fill {
			return false
		}
	}
	return true
}

// place returns where the byte at a CPU address of the image goes: which chip, and the offset in its file.
func (j *job) place(address int) (chip, offset int) {
	size := j.lane * j.lanes // of a bank
	bank, within := address/size, address%size
	chip, offset = bank*j.lanes+within%j.lanes, within/j.lanes+j.from()
	if j.swap {
		offset ^= 1
	}
	return chip, offset
}
