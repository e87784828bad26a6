package faults

import "math"

// leastBits is the information that content must hold before anything is concluded from two images being equal in an
// unusual way: 32 bytes of text or code have it, and no blank or constant image and no ramp.
const leastBits = 64

// information returns an estimate of the bits of information in data: of its different groups of 8 bytes, up to 4,096 of
// them, the entropy of the bytes or that of the steps from byte to byte, whichever is less.
func information(data []byte) float64 {
	const most = 4096
	seen := make(map[uint64]bool)
	var values, steps [256]int
	n := 0
	count := func(part []byte) {
		for i, b := range part {
			values[b]++
			if i > 0 {
				steps[b-part[i-1]]++
			}
		}
		n += len(part)
	}
	for ; len(data) >= 8 && len(seen) < most; data = data[8:] {
		if g := group(data); !seen[g] {
			seen[g] = true
			count(data[:8])
		}
	}
	if len(seen) < most {
		count(data)
	}
	return float64(n) * min(entropy(&values), entropy(&steps))
}

// speaking returns the bits by which data can speak for a fault of a line: its information, or two bits for each byte that is
// not as the one before, since it must stand where it stands.
func speaking(data []byte) float64 {
	changes := 0
	for i := 1; i < len(data); i++ {
		if data[i] != data[i-1] {
			changes++
		}
	}
	return max(information(data), 2*float64(changes))
}

// entropy returns the entropy of counted bytes in bits a byte, 0 to 8.
func entropy(counts *[256]int) (bits float64) {
	total := 0
	for _, n := range counts {
		total += n
	}
	for _, n := range counts {
		if n > 0 {
			p := float64(n) / float64(total)
			bits -= p * math.Log2(p)
		}
	}
	return max(0, bits)
}

// orderBits returns the choice among all orders of n lines, in bits.
func orderBits(n int) (bits float64) {
	for i := 2; i <= n; i++ {
		bits += math.Log2(float64(i))
	}
	return bits
}
