package marks

import "bytes"

// Sums close by themselves over data of little information: blank stretches, ramps, tables that repeat, an image
// followed by its complement. This file tells such stretches.

const (
	richSample = 64 << 10 // bytes of a stretch that are looked at, at most
	richBlock  = 512      // in pieces of so many bytes, all different
	leastRich  = 512      // different sequences of four bytes that a stretch must hold
	leastOther = 64       // bytes that must differ from the commonest one
)

// holdsEnough tells whether part i holds so much information that its sums do not close by themselves.
func (s *sumSearch) holdsEnough(i int) bool {
	rich, known := s.rich[i]
	if !known {
		part := &s.parts[i]
		data := s.image[part.from:part.to]
		rich = len(data)-part.tally.commonest() >= leastOther && !complementary(data) && leastVariety(sampled(data)) >= leastRich
		s.rich[i] = rich
	}
	return rich
}

// sampled returns blocks from all over data that are neither constant nor the same as another one.
func sampled(data []byte) []byte {
	blocks := (len(data) + richBlock - 1) / richBlock
	step := max(1, blocks/(4*richSample/richBlock))
	sample := make([]byte, 0, richSample)
	seen := map[string]bool{}
	for i := 0; i < blocks && len(sample)+richBlock <= richSample; i += step {
		block := data[i*richBlock : min((i+1)*richBlock, len(data))]
		if bytes.Count(block, block[:1]) < len(block) && !seen[string(block)] {
			seen[string(block)] = true
			sample = append(sample, block...)
		}
	}
	return sample
}

// leastVariety returns how many different sequences of four bytes data holds, leastRich at most, or how many the differences of its bytes
// to those 1, 2 or 4 before if they are fewer: a ramp of bytes, words or longs is all one difference.
func leastVariety(data []byte) int {
	least := sequences(data)
	differences := make([]byte, len(data))
	for _, distance := range []int{1, 2, 4} {
		for i := distance; i < len(data); i++ {
			differences[i] = data[i] - data[i-distance]
		}
		least = min(least, sequences(differences))
	}
	return least
}

// sequences returns how many different sequences of four bytes data holds, leastRich at most: more need not be counted.
// Some that share a hash of 16 bits count as one.
func sequences(data []byte) (different int) {
	var seen [1 << 16]bool
	for i := 0; i+4 <= len(data) && different < leastRich; i++ {
		long := uint32(data[i])<<24 | uint32(data[i+1])<<16 | uint32(data[i+2])<<8 | uint32(data[i+3])
		if slot := long * 0x9E3779B1 >> 16; !seen[slot] {
			seen[slot] = true
			different++
		}
	}
	return different
}

// complementary tells whether the second half of data is the complement, or the negative, of the first, by four blocks
// from all over it.
func complementary(data []byte) bool {
	half := len(data) / 2
	for piece := range 4 {
		from := (half - 1) * piece / 4
		complement, negative := true, true
		for i := from; i < min(from+richBlock, half); i++ {
			complement = complement && data[i]^data[half+i] == 0xFF
			negative = negative && data[i]+data[half+i] == 0
		}
		if !complement && !negative {
			return false
		}
	}
	return true
}
