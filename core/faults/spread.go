package faults

// A Spread counts something over the addresses of a dump, block by block.
type Spread struct {
	BlockSize int   `json:"blockSize"` // bytes, a power of two from 256; the last block may be shorter
	Counts    []int `json:"counts"`    // one for each block, in address order; at most 512
}

// Limits of a Spread. They are those of the map of one dump, so that both are drawn alike.
const (
	maxSpread = 512 // blocks
	minSpread = 256 // bytes in a block
)

// newSpread returns a Spread of zeros for size bytes.
func newSpread(size int) Spread {
	block := minSpread
	for block*maxSpread < size {
		block *= 2
	}
	return Spread{BlockSize: block, Counts: make([]int, (size+block-1)/block)}
}

// add counts n at an offset.
func (s Spread) add(offset, n int) { s.Counts[offset/s.BlockSize] += n }

// touched returns how many blocks count anything.
func (s Spread) touched() (n int) {
	for _, count := range s.Counts {
		if count > 0 {
			n++
		}
	}
	return n
}

// ends returns the offsets of the first touched block's start and of the last one's end; both 0 if there is none.
func (s Spread) ends() (from, to int) {
	for i, count := range s.Counts {
		if count == 0 {
			continue
		}
		if to == 0 {
			from = i * s.BlockSize
		}
		to = (i + 1) * s.BlockSize
	}
	return from, to
}
