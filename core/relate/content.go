package relate

import (
	"encoding/binary"
	"math"

	"lunette/core/arrange"
	"lunette/core/sorted"
	"lunette/core/words"
)

// leastBits is the information that content must hold before it is related to anything. It is reached by 32 bytes of
// text or code, and by no blank or constant dump and no ramp.
const leastBits = 64

// mostBits bounds what is said of chance: beyond, it is none.
const mostBits = 128

const (
	groupBytes = 8    // content is looked at in groups of so many bytes, each different one once
	mostGroups = 4096 // different groups that are looked at; a dump that has as many holds plenty
)

// information returns an estimate, on the low side, of the bits of information in data. Groups of 8 bytes that come again
// tell nothing new, and of the others it takes the entropy of the bytes, or of their differences to those 1, 2, 4 or 8
// before, or of the differences of words, if that is less: a ramp of bytes, words or longs is all one difference.
func information(data []byte) (bits float64) {
	seen := make(map[uint64]bool)
	var sample []byte
	for ; len(data) >= groupBytes && len(seen) < mostGroups; data = data[groupBytes:] {
		group := binary.LittleEndian.Uint64(data)
		if !seen[group] {
			seen[group] = true
			sample = append(sample, data[:groupBytes]...)
		}
	}
	if len(seen) < mostGroups {
		sample = append(sample, data...)
	}
	bits = math.Inf(1)
	for _, distance := range []int{0, 1, 2, 4, 8} {
		var counts [256]int
		for i := distance; i < len(sample); i++ {
			b := sample[i]
			if distance > 0 {
				b -= sample[i-distance]
			}
			counts[b]++
		}
		bits = min(bits, entropy(counts[:]))
	}
	if bits < rampBits*float64(len(sample)) {
		for _, order := range arrange.Orders() {
			bits = min(bits, wordInformation(order.Apply(sample)))
		}
	}
	return bits
}

// rampBits is the information of a byte from which on a dump is no ramp of words or longs: the upper bytes of a ramp
// change seldom, and the lower ones by the same each time.
const rampBits = 3

// wordInformation returns the entropy of the differences of neighbouring 16-bit words, or of 32-bit words if it is less,
// high byte first.
func wordInformation(data []byte) float64 {
	shorts, longs := map[uint32]int{}, map[uint32]int{}
	for i := 0; i+8 <= len(data); i += 4 {
		first, second := binary.BigEndian.Uint32(data[i:]), binary.BigEndian.Uint32(data[i+4:])
		longs[second-first]++
		shorts[(first&0xFFFF-first>>16)&0xFFFF]++
		shorts[(second>>16-first&0xFFFF)&0xFFFF]++
	}
	return min(entropyOf(shorts), entropyOf(longs))
}

// entropyOf returns the entropy of values that were counted one by one. Counts are added up in ascending order, so that
// the same data give the same sum to the last digit.
func entropyOf(values map[uint32]int) float64 {
	counts := make([]int, 0, len(values))
	for _, n := range values {
		counts = append(counts, n)
	}
	sorted.Ascending(counts)
	return entropy(counts)
}

// entropy returns the entropy of counted values in bits, of all of them together.
func entropy(counts []int) (bits float64) {
	total := 0
	for _, n := range counts {
		if n > 0 {
			total += n
			bits -= float64(n) * math.Log2(float64(n))
		}
	}
	if total == 0 {
		return 0
	}
	return max(0, bits+float64(total)*math.Log2(float64(total)))
}

// chance returns 2^-bits in words.
func chance(bits float64) string { return words.OneIn(min(bits, mostBits)) }
