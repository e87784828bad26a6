package faults

import (
	"bytes"

	"lunette/core/arrange"
)

const (
	anchorBytes = 12 // of a stretch that is looked for in the other image
	mostAnchors = 24 // such stretches that are tried
)

// shifted returns the frame in which the read is a stretch of master that begins later or earlier, exactly as far as the two
// overlap. ok is false when there is none of at least a quarter of the smaller.
func shifted(master, read []byte) (f frame, ok bool) {
	least := max(64, min(len(master), len(read))/4)
	tried := map[int]bool{0: true}
	for _, at := range anchors(read) {
		stretch := read[at : at+anchorBytes]
		place := bytes.Index(master, stretch)
		if place < 0 || bytes.Contains(master[place+1:], stretch) {
			continue // elsewhere in the read, or not telling where
		}
		from := place - at
		if tried[from] {
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
