package faults

import (
	"bytes"

	"lunette/core/arrange"
)

const (
	anchorBytes = 8  // of a stretch that is looked for in the other image
	mostAnchors = 24 // such stretches that are tried
)

// shifted returns the frame in which the read is a stretch of master that begins later or earlier, exactly as far as the two
// overlap. ok is false when there is none of at least a quarter of the smaller.
func shifted(master, read []byte) (f frame, ok bool) {
	least := max(leastImage, min(len(master), len(read))/4)
	tried := map[int]bool{0: true}
	at := anchors(read)
	for n, place := range placesOf(at, read, master) {
		from := place - at[n]
		if place < 0 || tried[from] {
			continue
		}
		tried[from] = true
		f = frame{order: arrange.Stored, times: 1, from: from, size: len(master), length: len(read)}
		in := f.inside()
		if in.To-in.From >= least && bytes.Equal(read[in.From:in.To], master[in.From+from:in.To+from]) &&
			information(read[in.From:in.To]) >= leastBits {
			return f, true
		}
	}
	return frame{}, false
}

// placesOf returns for each anchor in read where it stands in master; -1 when it does not, or at more than one place. All are
// looked for in one pass.
func placesOf(anchors []int, read, master []byte) []int {
	const filterBits = 16 // most places end at one look into the filter
	filter := make([]bool, 1<<filterBits)
	keys, places, often := make([]uint64, len(anchors)), make([]int, len(anchors)), make([]int, len(anchors))
	for n, at := range anchors {
		keys[n], places[n] = group(read[at:at+anchorBytes]), -1
		filter[keys[n]>>(64-filterBits)] = true
	}
	window := uint64(0)
	for end, b := range master {
		window = window>>8 | uint64(b)<<56
		if !filter[window>>(64-filterBits)] || end < anchorBytes-1 {
			continue
		}
		for n, key := range keys {
			if key == window {
				often[n]++
				places[n] = end - anchorBytes + 1
			}
		}
	}
	for n := range places {
		if often[n] > 1 {
			places[n] = -1
		}
	}
	return places
}

// anchors returns offsets all over data at which anchorBytes bytes of at least half as many values stand.
func anchors(data []byte) (at []int) {
	for n := range mostAnchors {
		from := len(data) / mostAnchors * n
		until := min(from+len(data)/mostAnchors, len(data)-anchorBytes)
		for a := from; a < until; a++ {
			if telling(data[a : a+anchorBytes]) {
				at = append(at, a)
				break
			}
		}
	}
	return at
}

func telling(stretch []byte) bool {
	different := 0
	for i, b := range stretch {
		if bytes.IndexByte(stretch[:i], b) < 0 {
			different++
		}
	}
	return different >= anchorBytes*2/3
}
