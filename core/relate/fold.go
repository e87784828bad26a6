package relate

import (
	"math/bits"

	"lunette/core/arrange"
	"lunette/core/sorted"
)

// A fold is a fingerprint that is the same for the same content in any order of arrange.Orders. Those exchange bytes only
// inside groups of four and mirror bits, so a fold adds up a value for each byte of a group, one that is the same for the
// mirrored byte, mixes the sum, and chains the groups as digits of a number. It only picks what is compared exactly.

// foldBase is the base in which the groups are digits: an odd number, 2^64 over the golden ratio.
const foldBase = 0x9E3779B97F4A7C15

// foldValues is the value of each byte.
var foldValues = func() (values [256]uint64) {
	for b := range values {
		values[b] = mix(uint64(b)+1) + mix(uint64(bits.Reverse8(byte(b)))+1)
	}
	return values
}()

// mix spreads the bits of x; two multiplications and three shifts are common practice, no source.
func mix(x uint64) uint64 {
	x ^= x >> 32
	x *= 0xD6E8FEB86659FD93
	x ^= x >> 32
	x *= 0xD6E8FEB86659FD93
	return x ^ x>>32
}

// foldOf returns the fold of every step-th byte of data from first on.
func foldOf(data []byte, first, step int) (fold uint64) {
	i := first
	for ; i+3*step < len(data); i += 4 * step {
		sum := foldValues[data[i]] + foldValues[data[i+step]] + foldValues[data[i+2*step]] + foldValues[data[i+3*step]]
		fold = fold*foldBase + mix(sum)
	}
	if i < len(data) {
		sum := uint64(0)
		for ; i < len(data); i += step {
			sum += foldValues[data[i]]
		}
		fold = fold*foldBase + mix(sum)
	}
	return fold
}

// prefixFolds returns the folds of the first bytes of data, for each of the given numbers of them. All are multiples of
// four, ascending, and at most the length.
func prefixFolds(data []byte, lengths []int) map[int]uint64 {
	folds := map[int]uint64{}
	fold, from := uint64(0), 0
	for _, to := range lengths {
		for ; from < to; from += 4 {
			four := data[from : from+4]
			fold = fold*foldBase + mix(foldValues[four[0]]+foldValues[four[1]]+foldValues[four[2]]+foldValues[four[3]])
		}
		folds[to] = fold
	}
	return folds
}

// between returns the fold of a stretch from the folds up to its ends; groups is its length in groups of four.
func between(before, after uint64, groups int) uint64 {
	power, base := uint64(1), uint64(foldBase)
	for ; groups > 0; groups >>= 1 {
		if groups&1 == 1 {
			power *= base
		}
		base *= base
	}
	return after - before*power
}

// looksLike tells whether the arranged image of stored is exactly want.
func looksLike(order arrange.Arrangement, stored, want []byte) bool {
	if order.Len(len(stored)) != len(want) {
		return false
	}
	var window [4096]byte
	for from := 0; from < len(want); {
		n := order.Copy(window[:], stored, from)
		if string(window[:n]) != string(want[from:from+n]) {
			return false
		}
		from += n
	}
	return true
}

// orderOf returns the simplest order that, after first, makes want of stored; rank is its place among arrange.Orders.
func orderOf(first arrange.Arrangement, stored, want []byte) (order arrange.Arrangement, rank int, ok bool) {
	for rank, o := range arrange.Orders() {
		order, _ := first.Then(o) // never refused: at most one lane is taken
		if looksLike(order, stored, want) {
			return order, rank, true
		}
	}
	return arrange.Stored, 0, false
}

// sortedKeys returns the keys of a set of sizes in ascending order.
func sortedKeys(set map[int]bool) []int {
	keys := make([]int, 0, len(set))
	for k := range set {
		keys = append(keys, k)
	}
	sorted.Ascending(keys)
	return keys
}
