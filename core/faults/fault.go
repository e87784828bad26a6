package faults

import (
	"encoding/binary"
	"math/bits"
)

// A fault is a hypothesis about lines as they stand in a dump. Of data lines, i and j are bits of a word: 0 to 7 of a byte, or
// of a x16 word 0 to 7 of its even byte and 8 to 15 of its odd one. Of address lines they are bits of the byte offset.
type fault struct {
	kind    FaultKind
	address bool
	i, j    int // i is below j; equal when there is only one line
}

// pairKinds are the kinds of faults between two lines, stuckKinds those of one.
var (
	stuckKinds = []FaultKind{StuckLow, StuckHigh}
	pairKinds  = []FaultKind{Exchanged, BridgedLow, BridgedHi}
)

// both returns the lines of f as set bits.
func (f fault) both() int { return 1<<f.i | 1<<f.j }

// source returns the offset that the chip sees when the reader asks for offset a and f is a fault of address lines.
func (f fault) source(a int) int {
	both := f.both()
	switch held := a & both; {
	case f.kind == StuckLow, f.kind == BridgedLow && held != both:
		return a &^ both
	case f.kind == StuckHigh, f.kind == BridgedHi && held != 0:
		return a | both
	case f.kind == Exchanged && held != 0 && held != both:
		return a ^ both
	}
	return a
}

// moved fills dst with what is read of src through address fault f. Offsets beyond the end of src read FF, as the rest of a
// larger chip would. Both have the same length.
func (f fault) moved(dst, src []byte) {
	step := 1 << f.i // so many bytes stay together
	for a := 0; a < len(dst); a += step {
		from := f.source(a)
		end := min(a+step, len(dst))
		copied := 0
		if from < len(src) {
			copied = copy(dst[a:end], src[from:])
		}
		fill(dst[a+copied : end])
	}
}

func fill(blank []byte) {
	for i := range blank {
		blank[i] = 0xFF
	}
}

// ones returns the lowest bit of every word of the given width, in bits, of a 64-bit group.
func ones(width int) uint64 {
	if width == 8 {
		return 0x0101_0101_0101_0101
	}
	return 0x0001_0001_0001_0001
}

// read returns what is read of the words in group through data fault f, whose width gave every.
func (f fault) read(group, every uint64) uint64 {
	lowest := group >> f.i & every
	other := group >> f.j & every
	switch f.kind {
	case StuckLow:
		lowest, other = 0, 0
	case StuckHigh:
		lowest, other = every, every
	case Exchanged:
		lowest, other = other, lowest
	case BridgedLow:
		lowest &= other
		other = lowest
	case BridgedHi:
		lowest |= other
		other = lowest
	}
	return group&^(every<<f.i|every<<f.j) | lowest<<f.i | other<<f.j
}

// gives tells whether the lines of data fault f in words of the given width read exactly as f says. Both have the same length.
func (f fault) gives(master, read []byte, width int) bool {
	every := ones(width)
	lines := every<<f.i | every<<f.j
	for len(master) >= 8 {
		if (f.read(group(master), every)^group(read))&lines != 0 {
			return false
		}
		master, read = master[8:], read[8:]
	}
	whole := uint64(1)<<(8*len(master)) - 1
	return (f.read(group(master), every)^group(read))&lines&whole == 0
}

// group returns the first 8 bytes of data as a number, the first byte lowest; what is missing is 0.
func group(data []byte) (g uint64) {
	if len(data) >= 8 {
		return binary.LittleEndian.Uint64(data)
	}
	for i, b := range data {
		g |= uint64(b) << (8 * i)
	}
	return g
}

// A wrongLines says which data lines differ anywhere: of the bytes at even and at odd offsets, a bit a line.
type wrongLines struct{ even, odd uint8 }

// add adds the lines that differ in the byte at offset a.
func (w *wrongLines) add(a int, differ byte) {
	if a&1 == 0 {
		w.even |= differ
	} else {
		w.odd |= differ
	}
}

// x8 returns the lines of a x8 device, x16 those of a x16 device, even byte low.
func (w wrongLines) x8() uint16  { return uint16(w.even | w.odd) }
func (w wrongLines) x16() uint16 { return uint16(w.even) | uint16(w.odd)<<8 }

// of returns the lines of a device with width data lines.
func (w wrongLines) of(width int) uint16 {
	if width == 8 {
		return w.x8()
	}
	return w.x16()
}

// wrong returns the lines on which two images of the same length differ.
func wrong(master, read []byte) wrongLines {
	all := uint64(0)
	for len(master) >= 8 && len(read) >= 8 {
		all |= group(master) ^ group(read)
		master, read = master[8:], read[8:]
	}
	all |= group(master) ^ group(read)
	all |= all >> 32
	all |= all >> 16
	return wrongLines{even: uint8(all), odd: uint8(all >> 8)}
}

// few tells whether at most most lines are wrong on a x8 or on a x16 device.
func (w wrongLines) few(most int) bool { return bits.OnesCount16(w.x8()) <= most }
