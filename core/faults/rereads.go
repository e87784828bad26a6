package faults

import (
	"bytes"
	"encoding/binary"
	"math/bits"
	"strconv"

	"lunette/core/words"
)

// A RereadState says in one word what several reads of one chip are to each other.
type RereadState string

// The states of rereads.
const (
	TooFew    RereadState = "too few"   // fewer than two reads
	Stable    RereadState = "stable"    // all are equal
	Unstable  RereadState = "unstable"  // they differ as reads of one chip do
	Strangers RereadState = "strangers" // they differ too much for one chip, or in size
)

// A Reread says what several reads of one chip show together. Offsets and sizes are bytes in the dumps as stored.
//
// An unstable bit is one that not all reads agree on. Only in an Unstable result are the counts filled in and is there a
// Consensus.
type Reread struct {
	State    RereadState `json:"state"`
	Headline string      `json:"headline"` // one sentence
	Trouble  Trouble     `json:"trouble"`  // what it looks like; empty unless unstable
	Sure     string      `json:"sure"`     // of the trouble: "strong", "weak", "cannot tell"
	Reasons  []string    `json:"reasons"`  // what was counted, the most telling first
	Doubt    string      `json:"doubt"`    // what else it may be, or how little it says
	Next     []string    `json:"next"`     // what to do next, a sentence or two each
	Cautions []string    `json:"cautions"`
	Lines    []Line      `json:"lines"` // the lines that are named, as a x8 and as a x16 device has them

	Reads []ReadCount `json:"reads"`
	Size  int         `json:"size"`  // bytes of each read; 0 when they differ in size
	Bytes int         `json:"bytes"` // bytes with unstable bits
	Bits  int         `json:"bits"`  // unstable bits

	// Against the consensus, counted in every read: bits that read 1 where it has 0, and 0 where it has 1. Tied bits, for
	// which as many reads say 1 as 0, count in neither.
	ToOne  int `json:"toOne"`
	ToZero int `json:"toZero"`
	Tied   int `json:"tied"`

	X8      []UnstableLine    `json:"x8"`      // D0 to D7 of a x8 device
	X16     []UnstableLine    `json:"x16"`     // D0 to D15 of a x16 device, the low byte stored first
	Address []UnstableAddress `json:"address"` // one for each bit of the byte offset, the lowest first
	Map     Spread            `json:"map"`     // unstable bits by region

	Listed    []UnstableByte `json:"listed"`    // the first MaxListed of Bytes, in address order
	Agreement string         `json:"agreement"` // how the consensus came about, in a sentence or two; empty if there is none
	Consensus []byte         `json:"-"`         // what the chip most likely holds; nil if there is none. Save it with List

	reads   [][]byte
	names   []string
	options Options
}

// A ReadCount is one of the reads.
type ReadCount struct {
	Name string `json:"name"`
	Size int    `json:"size"` // bytes
	Odd  int    `json:"odd"`  // bytes in which it differs from the consensus
	Ones int    `json:"ones"` // unstable bits that it reads as 1
}

// An UnstableLine counts the unstable bits of one data line.
type UnstableLine struct {
	Line   Line `json:"line"`
	Bits   int  `json:"bits"`   // unstable
	ToOne  int  `json:"toOne"`  // as in Reread, on this line
	ToZero int  `json:"toZero"` //
}

// An UnstableAddress counts unstable bytes by one bit of their offset. Bit 0 is A0 of a x8 device; bit 1 is A1 of it and
// A0 of a x16 one.
type UnstableAddress struct {
	Bit  int `json:"bit"`
	Ones int `json:"ones"` // unstable bytes at offsets in which the bit is 1
}

// MaxListed is how many unstable bytes a Reread lists. List writes them all.
const MaxListed = 1000

// Rereads compares reads of one chip. It does not change them, and keeps them for List. names are for the sentences; where
// there are too few, "read 2" is taken. Of the options Width, LowFirst and Erase matter. The cost is linear in the size of the
// reads, whatever they hold.
func Rereads(reads [][]byte, names []string, options Options) Reread {
	r := Reread{options: options, reads: reads, Reasons: []string{}, Cautions: []string{}, Lines: []Line{}, Reads: []ReadCount{}, Listed: []UnstableByte{},
		X8: []UnstableLine{}, X16: []UnstableLine{}, Address: []UnstableAddress{}, Map: Spread{Counts: []int{}}}
	for i, read := range reads {
		name := "read " + strconv.Itoa(i+1)
		if i < len(names) && names[i] != "" {
			name = names[i]
		}
		r.names = append(r.names, name)
		r.Reads = append(r.Reads, ReadCount{Name: name, Size: len(read)})
	}
	switch {
	case len(reads) < 2:
		r.State = TooFew
		r.sayTooFew()
		return r
	case !r.sameSize():
		r.State = Strangers
		r.saySizes()
		return r
	}
	r.Size = len(reads[0])
	r.Map = newSpread(r.Size)
	r.walk(func(int, uint64) { r.Bytes++ })
	switch {
	case r.Bytes == 0:
		r.State = Stable
		r.sayStable()
		return r
	case r.rearranged():
		r.State = Strangers
		return r
	}
	d := r.count()
	r.judge(d)
	if r.State == Strangers {
		return r
	}
	r.State = Unstable
	r.settle()
	r.sayUnstable()
	return r
}

func (r *Reread) sameSize() bool {
	for _, read := range r.reads {
		if len(read) != len(r.reads[0]) || len(read) == 0 {
			return false
		}
	}
	return true
}

// walk visits the bytes that not all reads agree on, in address order, with a mask of the bits that differ. All reads are
// of one size.
func (r *Reread) walk(visit func(at int, apart uint64)) {
	first := r.reads[0]
	at := 0
	for ; at+8 <= len(first); at += 8 {
		w, apart := binary.LittleEndian.Uint64(first[at:]), uint64(0)
		for _, read := range r.reads[1:] {
			apart |= w ^ binary.LittleEndian.Uint64(read[at:])
		}
		for apart != 0 {
			k := bits.TrailingZeros64(apart) / 8
			visit(at+k, apart>>(8*k)&0xFF)
			apart &^= 0xFF << (8 * k)
		}
	}
	for ; at < len(first); at++ {
		apart := byte(0)
		for _, read := range r.reads[1:] {
			apart |= first[at] ^ read[at]
		}
		if apart != 0 {
			visit(at, uint64(apart))
		}
	}
}

// chosen returns the consensus of one byte and the mask of its tied bits: by majority, bit by bit, and 0 where as many
// reads say 1 as 0. An ageing UV EPROM cell leaks from 0 towards 1, for an erased one reads 1 (common practice; the erased
// state stands in any UV EPROM's data sheet).
func (r *Reread) chosen(at int) (value, tied byte) {
	switch len(r.reads) {
	case 2:
		a, b := r.reads[0][at], r.reads[1][at]
		return a & b, a ^ b
	case 3:
		a, b, c := r.reads[0][at], r.reads[1][at], r.reads[2][at]
		return a&b | b&c | a&c, 0
	}
	for bit := range 8 {
		ones := 0
		for _, read := range r.reads {
			ones += int(read[at] >> bit & 1)
		}
		switch {
		case 2*ones > len(r.reads):
			value |= 1 << bit
		case 2*ones == len(r.reads):
			tied |= 1 << bit
		}
	}
	return value, tied
}

// A byteCount counts bytes by their value, at even and at odd offsets; the bytes are masks of bits.
type byteCount [2][256]int

// ones returns how often a bit of the bytes at even or odd offsets is 1.
func (c *byteCount) ones(lane, bit int) (n int) {
	for value, count := range c[lane] {
		n += count * (value >> bit & 1)
	}
	return n
}

// count fills in the counts by line, address, direction and region, and returns what else the judgement needs.
func (r *Reread) count() disorder {
	d := disorder{stride: max(1, r.Bytes/maxSample), last: -1}
	var unstable, toOne, toZero byteCount
	var inPage [256]int // unstable bytes by the low byte of their offset
	var above [64]int   // and by the bits above it
	page, pageBytes, nth := 0, 0, 0
	closePage := func() {
		for rest := page; rest != 0; rest &= rest - 1 {
			above[bits.TrailingZeros(uint(rest))] += pageBytes
		}
		pageBytes = 0
	}
	r.walk(func(at int, apart uint64) {
		value, tied := r.chosen(at)
		n := bits.OnesCount64(apart)
		r.Bits += n
		r.Tied += bits.OnesCount8(tied)
		r.Map.add(at, n)
		if at>>8 != page {
			closePage()
			page = at >> 8
		}
		pageBytes++
		inPage[at&0xFF]++
		unstable[at&1][apart]++
		for i, read := range r.reads {
			r.Reads[i].Ones += bits.OnesCount8(read[at] & byte(apart))
			if read[at] != value {
				r.Reads[i].Odd++
			}
			if odd := (read[at] ^ value) &^ tied; odd != 0 {
				toOne[at&1][odd&read[at]]++
				toZero[at&1][odd&^read[at]]++
			}
		}
		// What the steady bits of these bytes are like: a disturbance that does not ask for content meets as many zeros.
		d.steady += 8 - n
		d.steadyZeros += 8 - n - bits.OnesCount8(value&^byte(apart))
		d.place(at)
		if nth%d.stride == 0 {
			d.sample = append(d.sample, at)
		}
		nth++
	})
	closePage()
	d.closeBurst()
	r.X8, r.X16 = unstableLines(8), unstableLines(16)
	for k := range r.X16 {
		lane, bit := k/8, k%8
		line := UnstableLine{Bits: unstable.ones(lane, bit), ToOne: toOne.ones(lane, bit), ToZero: toZero.ones(lane, bit)}
		r.X16[k].add(line)
		r.X8[bit].add(line)
		r.ToOne += line.ToOne
		r.ToZero += line.ToZero
	}
	for bit := range bits.Len(uint(r.Size - 1)) {
		ones := 0
		if bit >= 8 {
			ones = above[bit-8]
		} else {
			for low, n := range inPage {
				ones += n * (low >> bit & 1)
			}
		}
		r.Address = append(r.Address, UnstableAddress{Bit: bit, Ones: ones})
	}
	return d
}

func (l *UnstableLine) add(more UnstableLine) {
	l.Bits += more.Bits
	l.ToOne += more.ToOne
	l.ToZero += more.ToZero
}

func unstableLines(width int) []UnstableLine {
	lines := make([]UnstableLine, width)
	for k := range lines {
		lines[k].Line = DataLine(k, width)
	}
	return lines
}

// settle makes the consensus and lists the first bytes that were not unanimous.
func (r *Reread) settle() {
	r.Consensus = bytes.Clone(r.reads[0])
	r.walk(func(at int, _ uint64) {
		r.Consensus[at], _ = r.chosen(at)
		if len(r.Listed) < MaxListed {
			r.Listed = append(r.Listed, r.unstableByte(at))
		}
	})
	r.Agreement = words.Fill("{} of {} were unanimous.", words.Count(r.Size-r.Bytes), words.Plural(r.Size, "byte"))
	switch {
	case len(r.reads) == 2:
		r.Agreement += " With two reads there is no majority: where they differ 0 was taken, which is the more likely for a tired UV " +
			"EPROM and no more than a guess for any other trouble."
	case r.Tied > 0:
		r.Agreement += words.Fill(" The others went by majority, bit by bit; {} were tied and taken as 0, which is the more likely for "+
			"a tired UV EPROM and no more than a guess for any other trouble.", words.Plural(r.Tied, "bit"))
	default:
		r.Agreement += " The others went by majority, bit by bit."
	}
	if r.Trouble == Leaking && len(r.reads) > 2 {
		r.Agreement += " A cell that leaks in most of the reads is taken as 1: see whether the sums of the consensus hold."
	}
	if r.Tied > 0 && r.Trouble != Leaking && r.Trouble != CannotTell && r.Trouble != DataContact {
		r.Agreement += " Here whole bytes are wrong, and such a guess may be what no read had: read again before it is burnt."
	}
}
