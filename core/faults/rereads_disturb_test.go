package faults_test

import (
	"bytes"
	"math/rand/v2"
)

// A disturbance makes one read out of what a chip holds: the simulations are the plain arithmetic of faults.md.
type disturbance func(r *rand.Rand, chip []byte) []byte

func steady(_ *rand.Rand, chip []byte) []byte { return bytes.Clone(chip) }

// leak reads 1 for n programmed bits, others each time, which lie anywhere from one offset to another.
func leak(n, from, to int) disturbance {
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for done, tries := 0, 0; done < n && tries < 1000*n; tries++ {
			at, bit := from+r.IntN(to-from), r.IntN(8)
			if read[at]>>bit&1 == 0 {
				read[at] |= 1 << bit
				done++
			}
		}
		return read
	}
}

// dataContact reads a random level on one data line at every n-th byte on average; step 2 and lane choose a x16 line.
func dataContact(bit, n, step, lane int) disturbance {
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for at := lane; at < len(read); at += step {
			if r.IntN(n) == 0 {
				read[at] = read[at]&^(1<<bit) | byte(r.IntN(2))<<bit
			}
		}
		return read
	}
}

// addressContact reads with one address line turned at every n-th byte on average.
func addressContact(bit, n int) disturbance {
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for at := range read {
			if r.IntN(n) == 0 && at^1<<bit < len(chip) {
				read[at] = chip[at^1<<bit]
			}
		}
		return read
	}
}

// stale reads the byte of the address before at every n-th byte on average.
func stale(step, n int) disturbance {
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for at := step; at < len(read); at++ {
			if r.IntN(n) == 0 {
				read[at] = chip[at-step]
			}
		}
		return read
	}
}

// pageStart disturbs the first byte of every page of so many bytes, half of the time.
func pageStart(page int) disturbance {
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for at := 0; at < len(read); at += page {
			if r.IntN(2) == 0 {
				read[at] &= byte(r.Uint32())
			}
		}
		return read
	}
}

// bursts puts noise into n stretches of so many bytes.
func bursts(n, length int) disturbance {
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for range n {
			at := r.IntN(len(read) - length)
			for k := range length {
				read[at+k] = byte(r.Uint32())
			}
		}
		return read
	}
}

func readsOf(seed uint64, chip []byte, kinds ...disturbance) [][]byte {
	r := rand.New(rand.NewPCG(seed, 4))
	var reads [][]byte
	for _, d := range kinds {
		reads = append(reads, d(r, chip))
	}
	return reads
}

func times(n int, d disturbance) []disturbance {
	all := make([]disturbance, n)
	for i := range all {
		all[i] = d
	}
	return all
}

// weakCells chooses n bits, each of which reads as 1 with one probability in every read if it holds a 0.
func weakCells(r *rand.Rand, n, size int, probability float64) disturbance {
	cells := make([]int, n)
	for i := range cells {
		cells[i] = r.IntN(8 * size)
	}
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for _, cell := range cells {
			if r.Float64() < probability {
				read[cell/8] |= 1 << (cell % 8)
			}
		}
		return read
	}
}

// dataAnywhere chooses n bits, each of which reads as a random level in every read, whatever it holds.
func dataAnywhere(r *rand.Rand, n, size int) disturbance {
	cells := make([]int, n)
	for i := range cells {
		cells[i] = r.IntN(8 * size)
	}
	return func(r *rand.Rand, chip []byte) []byte {
		read := bytes.Clone(chip)
		for _, cell := range cells {
			read[cell/8] ^= byte(r.IntN(2)) << (cell % 8)
		}
		return read
	}
}
