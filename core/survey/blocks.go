package survey

import (
	"encoding/binary"
	"math"
)

// A Block is what is counted in one block of a dump.
type Block struct {
	Entropy float32 // Shannon entropy in bits per byte, 0 to 8 and never above log2 of the block's length in bytes
	FF      uint32  // bytes FF
	Zero    uint32  // bytes 00
	Text    uint32  // printable bytes: 20 to 7E, and tab
	Kind    Kind
}

// A Kind sorts blocks by their counts alone. It says what a block is like, not what it is for.
type Kind uint8

// The kinds. The first that holds is taken, in the order of this list; Mixed is left. The thresholds are common practice,
// no source.
const (
	// Mixed is what none of the others is: code, tables, pictures, anything.
	Mixed Kind = iota
	// BlankFF is all FF, as an erased cell reads.
	BlankFF
	// Blank00 is all 00.
	Blank00
	// Constant is all one other value.
	Constant
	// Printed is at least 85 % printable bytes; line ends and terminators may be the rest.
	Printed
	// Sparse uses few of the byte values, or one of them mostly: its entropy is below three eighths of the most that
	// its length allows, which is 3 bits per byte from 256 bytes on.
	Sparse
	// Dense uses the byte values as evenly as random bytes of that length: its entropy is at least 97 % of what those
	// are expected to have, and at most six standard deviations above it. Packed and encrypted content is so, and noise.
	// What is more even than that is no chance but, say, a counting table, and Mixed. A block of fewer than MinBlockSize
	// bytes is never Dense: it is too short to tell.
	Dense
)

// String returns the kind in the words of the map's legend.
func (k Kind) String() string {
	return [...]string{"mixed", "blank FF", "blank 00", "constant", "text", "sparse", "dense"}[k]
}

const (
	printedShare    = 0.85
	sparseShare     = 3.0 / 8
	denseShare      = 0.97
	denseDeviations = 6
)

// kind sorts a block of n bytes that are not all the same.
func (b Block) kind(n int, random random) Kind {
	entropy := float64(b.Entropy)
	switch {
	case float64(b.Text) >= printedShare*float64(n):
		return Printed
	case entropy < sparseShare*min(8, math.Log2(float64(n))):
		return Sparse
	case n >= MinBlockSize &&
		entropy >= denseShare*random.mean && entropy <= random.mean+denseDeviations*random.deviation:
		return Dense
	}
	return Mixed
}

// A counter counts byte values, block after block. It has one table for even and one for odd addresses: a processor waits
// when it adds to the number it has just stored, and the lines of a x16 chip are counted in each byte of a word alone.
type counter struct {
	even, odd [256]uint32   // how often each value has stood at an even and at an odd address
	before    [256]uint32   // their sum when the block began
	logs      [4096]float64 // countLog of small counts; few values of a block reach a larger one, and theirs are computed
	length    int           // of the last block that was not constant, in bytes
	random    random        // what is expected of so many random bytes
}

func newCounter(blockSize int) *counter {
	c := new(counter)
	for i := range min(blockSize+1, len(c.logs)) {
		c.logs[i] = countLog(i)
	}
	return c
}

// block counts the next block of the dump, at least one byte.
func (c *counter) block(data []byte) Block {
	c.add(data)
	n := uint32(len(data))
	b := Block{FF: c.since(0xFF), Zero: c.since(0), Text: c.since('\t')}
	constant := c.since(data[0]) == n
	_, low := c.close(0, ' ')
	printable, middle := c.close(' ', '~'+1)
	_, high := c.close('~'+1, 256)
	b.Text += printable

	switch {
	case b.FF == n:
		b.Kind = BlankFF
	case b.Zero == n:
		b.Kind = Blank00
	case constant:
		b.Kind = Constant
	default:
		b.Entropy = float32(entropy(low+middle+high, len(data)))
		if len(data) != c.length {
			c.length, c.random = len(data), randomBytes(len(data))
		}
		b.Kind = b.kind(len(data), c.random)
	}
	return b
}

// add counts data, which begins at an even address.
func (c *counter) add(data []byte) {
	for len(data) >= 8 {
		w := binary.LittleEndian.Uint64(data)
		c.even[uint8(w)]++
		c.odd[uint8(w>>8)]++
		c.even[uint8(w>>16)]++
		c.odd[uint8(w>>24)]++
		c.even[uint8(w>>32)]++
		c.odd[uint8(w>>40)]++
		c.even[uint8(w>>48)]++
		c.odd[uint8(w>>56)]++
		data = data[8:]
	}
	for i, value := range data {
		if i%2 == 0 {
			c.even[value]++
		} else {
			c.odd[value]++
		}
	}
}

// since returns how often value stands in the block.
func (c *counter) since(value byte) uint32 {
	return c.even[value] + c.odd[value] - c.before[value]
}

// close ends the block for the values from to before to. It returns how many bytes of the block have one of them, and the
// sum of countLog over their counts.
func (c *counter) close(from, to int) (n uint32, logs float64) {
	even, odd, before, table := &c.even, &c.odd, &c.before, &c.logs
	for i := from; i < to; i++ {
		value := byte(i)
		total := even[value] + odd[value]
		count := total - before[value]
		before[value] = total
		n += count
		if count < uint32(len(table)) {
			logs += table[count]
		} else {
			logs += countLog(int(count))
		}
	}
	return n, logs
}

// lanes returns how often each value stands at even and at odd addresses in all blocks so far.
func (c *counter) lanes() (even, odd [256]int) {
	for value := range even {
		even[value], odd[value] = int(c.even[value]), int(c.odd[value])
	}
	return even, odd
}

// histogram returns how often each value stands in all blocks so far.
func (c *counter) histogram() (counts [256]int) {
	for value := range counts {
		counts[value] = int(c.before[value])
	}
	return counts
}
