// Package survey answers: what are the bytes of this dump like, block by block and line by line?
//
// Take looks at the whole dump once and counts. It claims nothing about what the bytes are for: a block of even byte
// values may be packed, encrypted or a counting table; a data line that never changes may be broken or never used. The
// findings that weigh such counts against each other are made in package report.
//
// Every number is exact and every cost is in proportion to the size of the dump, whatever it holds: one pass for the
// counts, the runs and the texts, then at most one more each for the period, the address lines and each pair of data
// lines that has not yet differed; on ordinary content those stop after a few blocks. Beside the dump, memory holds the
// blocks and the lists, which have fixed limits.
//
// Addresses and offsets are in bytes from the start of the dump, in the order in which it is stored.
package survey

// Limits of what a Survey lists. What is counted has no limit.
const (
	MaxBlocks    = 512 // blocks of one dump: its size is chosen so that there are no more
	MinBlockSize = 256 // bytes: the entropy of fewer says little
	MaxRuns      = 256 // runs of one repeated byte listed
	MinRun       = 32  // bytes: a shorter run of one repeated byte is content
	MaxTexts     = 200 // texts listed
	MinText      = 6   // bytes: a shorter printable run is more likely chance than text
)

// A Survey is what Take counts in a dump.
type Survey struct {
	Size      int     // bytes
	BlockSize int     // bytes, a power of two
	Blocks    []Block // in address order; only the last may be shorter than BlockSize

	Histogram [256]int // how often each byte value occurs
	Even      [256]int // of these, at even addresses: the low or the high bytes of a x16 chip
	Blank     Runs     // runs of one repeated byte
	Tail      Run      // the run of one repeated byte, of any length, that ends the dump; zero if the dump is empty

	Texts     []Text // the longest printable runs, longest first and of equal ones the lowest first
	TextRuns  int    // all printable runs of at least MinText bytes, listed or not
	TextBytes int    // bytes in all of them

	// Period is the smallest power of two p, smaller than Size, for which byte a equals byte a+p wherever both exist; 0
	// if there is none. Size-Period pairs speak for it: at Size/2 the second half repeats the first; at a size just
	// above a power of two it is a few bytes and may be chance. A dump of one repeated byte has period 1.
	Period int

	X8      [8]Line       // data lines D0 to D7, if the dump is of a x8 chip
	X16     [16]Line      // data lines D0 to D15, if it is of a x16 chip and the low byte of a word is stored first
	Address []AddressLine // one for each bit of a byte address, lowest first
	Bridges []Bridge      // pairs of address lines that act as one; few, if any
	// Restless of Alive address lines, those that have an effect, have much of one: of the pairs of addresses that a sample
	// looks at, and that are not FF or 00 both, at least half differ. In code nearly all are; in tables of equal records few.
	Restless, Alive int
	Ramp            Ramp // what a bus shows when nothing drives it: an address
}

// progressStride is the number of bytes between two calls of progress, a multiple of every block size up to it.
const progressStride = 256 << 10

// Take surveys data. It does not change or keep it.
//
// If progress is not nil it is called with the number of bytes done: about every 256 KiB while the blocks are counted,
// and with len(data) when all is done. The passes that follow the blocks (period, lines) are not told apart; they take a
// small part of the whole.
func Take(data []byte, progress func(done int)) *Survey {
	s := &Survey{Size: len(data), BlockSize: blockSize(len(data))}
	s.Blocks = make([]Block, 0, (s.Size+s.BlockSize-1)/s.BlockSize)

	counter := newCounter(s.BlockSize)
	runs, texts := newRunScanner(), newTextScanner()
	for from := 0; from < s.Size; from += s.BlockSize {
		to := min(from+s.BlockSize, s.Size)
		s.Blocks = append(s.Blocks, counter.block(data[from:to]))
		runs.scan(data, to)
		texts.scan(data, to)
		if progress != nil && to%progressStride == 0 && to < s.Size {
			progress(to)
		}
	}

	s.Histogram = counter.histogram()
	s.Even, _ = counter.lanes()
	s.Blank = runs.result(data)
	s.Tail = tail(data)
	s.Texts, s.TextRuns, s.TextBytes = texts.result()
	s.Period = period(data)
	s.X8 = linesX8(&s.Histogram, s.Size)
	s.X16 = linesX16(data, s, counter)
	s.Address = addressLines(data, s)
	s.Bridges = addressBridges(data, s)
	s.Restless, s.Alive = restless(data, s)
	s.Ramp = FindRamp(data)
	if progress != nil {
		progress(s.Size)
	}
	return s
}

// blockSize returns the smallest power of two, at least MinBlockSize, that divides size bytes into at most MaxBlocks.
func blockSize(size int) int {
	block := MinBlockSize
	for block*MaxBlocks < size {
		block *= 2
	}
	return block
}

// Span returns the addresses of block i, from 0: its first byte and the one after its last.
func (s *Survey) Span(i int) (from, to int) {
	from = i * s.BlockSize
	return from, min(from+s.BlockSize, s.Size)
}

// liveliest returns the address of the full block of highest entropy, the lowest of several: where two addresses or two
// lines that differ at all most likely differ. It is 0 if no block is full.
func (s *Survey) liveliest() int {
	best := 0
	for i, block := range s.Blocks[:s.Size/s.BlockSize] {
		if block.Entropy > s.Blocks[best].Entropy {
			best = i
		}
	}
	return best * s.BlockSize
}
