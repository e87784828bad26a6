package prepare

import "lunette/core/words"

// A Picture shows the first bytes as the CPU sees them and where each of them goes; for two pairs the first of either half. Even
// addresses have tint 0, odd ones 1.
type Picture struct {
	CPU   []Cell `json:"cpu"`
	Chips []Row  `json:"chips"` // one a file
}

// A Cell is one byte with its place.
type Cell struct {
	Address int    `json:"address"` // as the CPU counts, from 0
	Stored  int    `json:"stored"`  // its offset in the dump
	Offset  int    `json:"offset"`  // its offset in the chip's file; that of the first copy, if there are more
	Value   string `json:"value"`   // two hex digits, as they stand in this row
	Tint    int    `json:"tint"`
}

// A Row is a stretch of one file, in the order of the file.
type Row struct {
	File  string `json:"file"`
	From  int    `json:"from"` // offset of the first cell in the file
	Cells []Cell `json:"cells"`
}

// shown is how many bytes the picture has: two 32-bit words.
const shown = 8

// picture draws the first bytes of the image. Where a byte goes is reckoned from its address (place), what stands there is
// read from the chips' contents.
func (j *job) picture(contents [][]byte, stored []byte, files []File) Picture {
	picture := Picture{CPU: []Cell{}, Chips: make([]Row, len(contents))}
	for i, f := range files {
		picture.Chips[i] = Row{File: f.Name, Cells: []Cell{}}
	}
	for n := range min(shown, len(stored)) {
		each := shown / j.banks // of a bank, which has more: a chip holds at least that
		address := n%each + n/each*(len(stored)/j.banks)
		chip, offset := j.place(address)
		cell := Cell{
			Address: address, Stored: j.plan.Order.Source(address, len(stored)), Offset: offset,
			Value: words.Byte(j.plan.Order.At(stored, address)), Tint: address & 1,
		}
		picture.CPU = append(picture.CPU, cell)
		cell.Value = words.Byte(contents[chip][offset])
		row := &picture.Chips[chip]
		at := len(row.Cells)
		for at > 0 && row.Cells[at-1].Offset > offset {
			at--
		}
		row.Cells = append(row.Cells, Cell{})
		copy(row.Cells[at+1:], row.Cells[at:])
		row.Cells[at] = cell
	}
	for i := range picture.Chips {
		if cells := picture.Chips[i].Cells; len(cells) > 0 {
			picture.Chips[i].From = cells[0].Offset
		}
	}
	return picture
}
