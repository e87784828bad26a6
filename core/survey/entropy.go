package survey

import "math"

// countLog returns n log2 n, a value's part in the entropy of bytes among which it occurs n times; 0 if n is 0.
func countLog(n int) float64 {
	if n == 0 {
		return 0
	}
	return float64(n) * math.Log2(float64(n))
}

// entropy returns the Shannon entropy in bits per byte of n bytes, n at least 1, from the sum of countLog over the counts
// of all values.
//
// C. E. Shannon, "A Mathematical Theory of Communication", 1948, section 6: H = -sum p log2 p. With p = c/n and the c
// adding up to n that is log2 n - (sum c log2 c)/n.
func entropy(logs float64, n int) float64 {
	return math.Log2(float64(n)) - logs/float64(n)
}

// Entropy returns the Shannon entropy in bits per byte, 0 to 8, of bytes of which each value occurs counts times: how
// evenly they use the byte values, in whatever order. No bytes have entropy 0.
func Entropy(counts *[256]int) float64 {
	logs, n := 0.0, 0
	for _, count := range counts {
		logs += countLog(count)
		n += count
	}
	if n == 0 {
		return 0
	}
	return max(0, entropy(logs, n)) // rounding may leave less than nothing
}

// Entropy returns the Shannon entropy of the whole dump in bits per byte, 0 to 8. An empty dump has entropy 0.
func (s *Survey) Entropy() float64 { return Entropy(&s.Histogram) }

// A random is the entropy, in bits per byte, that random bytes of one length have: less than 8, since chance does not use
// all values equally often.
type random struct{ mean, deviation float64 }

// randomBytes returns what is to be expected of n random bytes, n at least 1.
//
// The mean is exact: each of 256 values occurs c times with the binomial probability of n and 1/256, so it is
// log2 n - 256/n times the sum of P(c) c log2 c. The weights below are P(c) relative to the likeliest count, from which
// they fall to nothing on both sides. The deviation is that for long blocks, where 2n ln2 (8-H) has the chi-squared
// distribution of 255 degrees of freedom and variance 510 (the likelihood ratio; S. S. Wilks, 1938; from memory).
func randomBytes(n int) random {
	const nothing = 1e-18
	likeliest := n / 256
	total, logs := 0.0, 0.0
	weight := 1.0
	for c := likeliest; c <= n && weight > nothing; c++ {
		total += weight
		logs += weight * countLog(c)
		weight *= float64(n-c) / float64(255*(c+1))
	}
	weight = 1
	for c := likeliest; c > 0 && weight > nothing; c-- {
		weight *= float64(255*c) / float64(n-c+1)
		total += weight
		logs += weight * countLog(c-1)
	}
	return random{
		mean:      entropy(256*logs/total, n),
		deviation: math.Sqrt(2*255) / (2 * float64(n) * math.Ln2),
	}
}
