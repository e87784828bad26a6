package faults

import (
	"math"
	"math/bits"
)

// stoppedAt returns the offset at which writing master stopped: up to it read is the master, from there on it is FF to the end
// of the stretch although the master is not. A word of up to 4 bytes at that place may be half written. ok is false when
// that is not so, or when too little was written to tell.
func stoppedAt(master, read []byte, inside Span) (at int, ok bool) {
	const word = 4
	first := inside.From
	for first < inside.To && read[first] == master[first] {
		first++
	}
	if first == inside.To || information(read[inside.From:first]) < leastBits {
		return 0, false
	}
	for a := first; a < inside.To; a++ {
		if read[a] == 0xFF {
			continue
		}
		if a >= first+word || read[a]&master[a] != master[a] {
			return 0, false
		}
	}
	return first, true
}

// leastSubset is the evidence, in bits, that must speak for one image being contained in another.
const leastSubset = 40

// contained returns how many bits of evidence speak for the ones of part lying within those of whole, as they do: chance would
// have to hit a one with every one of part. Where whole is FF or part 00 that says nothing. Bits hang together, so that four
// are counted as one.
func contained(part, whole []byte) float64 {
	onesPart, onesWhole, total := 0, 0, 0
	for i, b := range whole {
		if b == 0xFF || part[i] == 0 {
			continue
		}
		onesPart += bits.OnesCount8(part[i])
		onesWhole += bits.OnesCount8(b)
		total += 8
	}
	if total == 0 {
		return 0
	}
	return float64(onesPart) / 4 * -math.Log2(float64(onesWhole)/float64(total))
}

// containedZeros is contained for zeros: those of part lie within those of whole.
func containedZeros(part, whole []byte) float64 {
	zerosPart, zerosWhole, total := 0, 0, 0
	for i, b := range whole {
		if b == 0 || part[i] == 0xFF {
			continue
		}
		zerosPart += 8 - bits.OnesCount8(part[i])
		zerosWhole += 8 - bits.OnesCount8(b)
		total += 8
	}
	if total == 0 {
		return 0
	}
	return float64(zerosPart) / 4 * -math.Log2(float64(zerosWhole)/float64(total))
}

// related tells whether two images have more in common than two of their kind would have by chance: bytes that are neither 00
// nor FF and are equal, or a data line that mostly reads right. Where both are 00 or both FF nothing is seen.
func related(master, read []byte, t tally) bool {
	if t.lively > 0 && t.livelyEqual*100 > 10*t.lively+100*chanceEqual(master, read) {
		return true
	}
	// Of what is not right by chance already, more than this is right. Unrelated code of one CPU comes to a tenth or two.
	const mostly = 0.4
	var ofMaster, ofRead [256]int
	seen := 0
	for i, b := range read {
		if m := master[i]; m != b || mixed(b) {
			ofMaster[m]++
			ofRead[b]++
			seen++
		}
	}
	onesMaster, onesRead, n := byLine(&ofMaster), byLine(&ofRead), float64(seen)
	for k := range 8 {
		p, q := float64(onesMaster[k])/n, float64(onesRead[k])/n
		byChance := p*q + (1-p)*(1-q)
		differ := t.high[0][k] + t.high[1][k] + t.low[0][k] + t.low[1][k]
		if right := 1 - float64(differ)/n; seen >= leastImage && right-byChance > mostly*(1-byChance) && byChance < 0.9 {
			return true
		}
	}
	return false
}

// chanceEqual returns how many bytes that are neither 00 nor FF two images would have equal if their bytes stood anywhere.
func chanceEqual(master, read []byte) int {
	m, r := histogram(master), histogram(read)
	sum := 0.0
	for b := 1; b < 255; b++ {
		sum += float64(m[b]) * float64(r[b])
	}
	return int(sum / float64(len(read)))
}

// histogram counts the values of bytes.
func histogram(data []byte) (counts [256]int) {
	for _, b := range data {
		counts[b]++
	}
	return counts
}

// onesOf returns how many bits of data are 1.
func onesOf(data []byte) (n int) {
	for _, b := range data {
		n += bits.OnesCount8(b)
	}
	return n
}
