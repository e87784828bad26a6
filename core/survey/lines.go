package survey

import "encoding/binary"

// A Line is what one data line shows over the whole dump.
type Line struct {
	Ones   int // times it read 1
	Of     int // times it was read: bytes of a x8 chip, whole words of a x16 chip
	SameAs int // the lowest other line that always read the same; -1 if none, and for a line that never changes
}

// StuckHigh tells whether the line never read 0: it is stuck high, or the content never needs it low.
func (l Line) StuckHigh() bool { return l.Of > 0 && l.Ones == l.Of }

// StuckLow tells whether the line never read 1: it is stuck low, or the content never needs it high.
func (l Line) StuckLow() bool { return l.Of > 0 && l.Ones == 0 }

// linesX8 returns the data lines of a x8 chip from the counts of byte values in its dump.
func linesX8(histogram *[256]int, size int) (lines [8]Line) {
	countLines(lines[:], histogram, size)
	var apart [8]uint16
	for value, count := range histogram {
		if count == 0 {
			continue
		}
		for j := range apart {
			if value>>j&1 == 0 {
				apart[j] |= uint16(value)
			} else {
				apart[j] |= ^uint16(value)
			}
		}
	}
	matchLines(lines[:], apart[:])
	return lines
}

// linesX16 returns the data lines of a x16 chip: D0 to D7 in the even bytes of data, D8 to D15 in the odd ones. A last byte
// that is not a whole word does not count.
func linesX16(data []byte, s *Survey, counts *counter) (lines [16]Line) {
	even, odd := counts.lanes()
	words := len(data) / 2
	if len(data)%2 == 1 {
		even[data[len(data)-1]]--
	}
	countLines(lines[:8], &even, words)
	countLines(lines[8:], &odd, words)
	steady := uint16(0)
	for i, line := range lines {
		if line.StuckHigh() || line.StuckLow() {
			steady |= 1 << i
		}
	}
	apart := pairsApart(data, s, steady)
	matchLines(lines[:], apart[:])
	return lines
}

// countLines fills in how often each of eight lines read 1, from how often each byte value was read.
func countLines(lines []Line, counts *[256]int, of int) {
	for i := range lines {
		lines[i] = Line{Of: of, SameAs: -1}
		for value, count := range counts {
			lines[i].Ones += count * (value >> i & 1)
		}
	}
}

// matchLines fills in SameAs. Bit k of apart[j] tells that line k once read another value than line j.
func matchLines(lines []Line, apart []uint16) {
	for j, line := range lines {
		if line.Ones == 0 || line.Ones == line.Of {
			continue
		}
		for k := range lines {
			if k != j && apart[j]>>k&1 == 0 {
				lines[j].SameAs = k
				break
			}
		}
	}
}

// pairsApart tells which lines of the 16-bit words in data differ in at least one word: bit k of [j] for lines j and k.
// Lines in steady never change in the whole of data and may be said to differ or not.
//
// A word XOR itself rotated by r shows each line against the one r below it, and r from 1 to 8 meets every pair. Four words
// go at a time. A rotation is done with when its sixteen pairs have differed, on ordinary content within one block; blank
// blocks show no difference and are left out. What is slow is thus only content with lines that are alike almost
// everywhere, at one short pass for each rotation that meets such a pair.
func pairsApart(data []byte, s *Survey, steady uint16) (apart [16]uint16) {
	for r := 1; r <= 8; r++ {
		met := steady | rotate16(steady, r)
		for i := 0; i < len(s.Blocks) && met != 0xFFFF; i++ {
			if kind := s.Blocks[i].Kind; kind != BlankFF && kind != Blank00 {
				from, to := s.Span(i)
				met |= rotationApart(data[from:to], r)
			}
		}
		for k := range apart {
			if j := (k - r) & 15; met>>k&1 == 1 {
				apart[j] |= 1 << k
				apart[k] |= 1 << j
			}
		}
	}
	return apart
}

// rotationApart returns in bit k whether line k differs from line k-r in any whole word of data.
func rotationApart(data []byte, r int) uint16 {
	const lanes = 0x0001_0001_0001_0001
	keep := uint64(0xFFFF<<r&0xFFFF) * lanes
	all := uint64(0)
	for len(data) >= 8 {
		w := binary.LittleEndian.Uint64(data)
		all |= w ^ (w<<r&keep | w>>(16-r)&^keep)
		data = data[8:]
	}
	for ; len(data) >= 2; data = data[2:] {
		w := binary.LittleEndian.Uint16(data)
		all |= uint64(w ^ rotate16(w, r))
	}
	return uint16(all | all>>16 | all>>32 | all>>48)
}

func rotate16(w uint16, r int) uint16 { return w<<r | w>>(16-r) }
