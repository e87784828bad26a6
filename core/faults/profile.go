package faults

import "math/bits"

// A profile counts the ones on every data line of an image, over all of it and over the half where an address line is 1. Lines
// that are connected in another order take their counts with them, which is how they are recognised.
type profile struct {
	width int         // data lines
	lines int         // address lines, of the device's own words
	ones  [16]int     // by data line
	with  [16][32]int // by data line and address line that is 1
}

// A laneCount holds the ones of each data line in some stretch.
type laneCount [16]uint32

// profileOf counts image, whose size is a power of two of at least 16 bytes, as words of width data lines. Stretches of
// 4 KiB are folded one after the other, then their sums.
func profileOf(image []byte, width int) *profile {
	p := &profile{width: width, lines: bits.Len(uint(len(image)/(width/8) - 1))}
	const stretch = 4 << 10
	inGroup := bits.TrailingZeros(uint(64 / width)) // address lines within 8 bytes
	groups := make([]laneCount, min(len(image), stretch)/8)
	sums := make([]laneCount, 0, max(1, len(image)/stretch))
	for ; len(image) > 0; image = image[len(groups)*8:] {
		for g := range groups {
			groups[g] = p.group(group(image[8*g:]))
		}
		sums = append(sums, p.fold(groups, inGroup))
	}
	whole := p.fold(sums, inGroup+bits.TrailingZeros(uint(len(groups))))
	for d := range width {
		p.ones[d] = int(whole[d])
	}
	return p
}

// group counts the ones of 8 bytes by data line, and adds those at addresses where a line within them is 1.
func (p *profile) group(g uint64) (sum laneCount) {
	if g == 0 {
		return sum
	}
	every := ones(p.width)
	for d := range p.width {
		line := g >> d & every
		sum[d] = uint32(bits.OnesCount64(line))
		with := &p.with[d]
		if p.width == 8 {
			with[0] += bits.OnesCount64(line & 0xFF00_FF00_FF00_FF00)
			with[1] += bits.OnesCount64(line & 0xFFFF_0000_FFFF_0000)
			with[2] += bits.OnesCount64(line >> 32)
		} else {
			with[0] += bits.OnesCount64(line & 0xFFFF_0000_FFFF_0000)
			with[1] += bits.OnesCount64(line >> 32)
		}
	}
	return sum
}

// fold adds neighbours until one sum is left, and the odd ones of each round to the counts of one more address line, from
// line on. The number of counts is a power of two; they are overwritten.
func (p *profile) fold(counts []laneCount, line int) laneCount {
	for ; len(counts) > 1; line++ {
		half := len(counts) / 2
		for i := range half {
			even, odd := &counts[2*i], &counts[2*i+1]
			var sum laneCount
			for d := range p.width {
				p.with[d][line] += int(odd[d])
				sum[d] = even[d] + odd[d]
			}
			counts[i] = sum
		}
		counts = counts[:half]
	}
	return counts[0]
}
