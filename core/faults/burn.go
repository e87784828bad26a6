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

// contained returns how many bits of evidence speak for the ones of part lying within those of whole, as they do: chance
// would have to hit a one with every one of part. Bits hang together, so that four are counted as one.
func contained(part, whole []byte) float64 {
	onesPart, onesWhole := 0, 0
	for i := range part {
		onesPart += bits.OnesCount8(part[i])
		onesWhole += bits.OnesCount8(whole[i])
	}
	total := 8 * len(part)
	if total == 0 || onesWhole == 0 {
		return 0
	}
	return float64(onesPart) / 4 * -math.Log2(float64(onesWhole)/float64(total))
}

// containedZeros is contained for zeros: those of part lie within those of whole.
func containedZeros(part, whole []byte) float64 {
	zerosPart, zerosWhole := 0, 0
	for i := range part {
		zerosPart += 8 - bits.OnesCount8(part[i])
		zerosWhole += 8 - bits.OnesCount8(whole[i])
	}
	total := 8 * len(part)
	if total == 0 || zerosWhole == 0 {
		return 0
	}
	return float64(zerosPart) / 4 * -math.Log2(float64(zerosWhole)/float64(total))
}

// related tells whether two images have more in common than two of their kind would have by chance: bytes that are neither 00
// nor FF and are equal, or a data line that reads right nearly everywhere although it changes.
func related(master, read []byte, t tally) bool {
	if t.lively > 0 && t.livelyEqual*100 > 10*t.lively+100*chanceEqual(master, read) {
		return true
	}
	const steady = 0.98 // a line that reads right so often is connected
	n := len(read)
	for k := range 8 {
		ofMaster, ofRead := 0, 0
		for i, b := range read {
			ofRead += int(b >> k & 1)
			ofMaster += int(master[i] >> k & 1)
		}
		differ := t.high[0][k] + t.high[1][k] + t.low[0][k] + t.low[1][k]
		p, q := float64(ofMaster)/float64(n), float64(ofRead)/float64(n)
		byChance := p*q + (1-p)*(1-q)
		if right := 1 - float64(differ)/float64(n); right > steady && byChance < 0.75 {
			return true
		}
	}
	return false
}

// chanceEqual returns how many bytes that are neither 00 nor FF two images would have equal if their bytes stood anywhere.
func chanceEqual(master, read []byte) int {
	var m, r [256]int
	for i, b := range read {
		r[b]++
		m[master[i]]++
	}
	sum := 0.0
	for b := 1; b < 255; b++ {
		sum += float64(m[b]) * float64(r[b])
	}
	return int(sum / float64(len(read)))
}

// onesOf returns how many bits of data are 1.
func onesOf(data []byte) (n int) {
	for _, b := range data {
		n += bits.OnesCount8(b)
	}
	return n
}
