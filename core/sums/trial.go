package sums

import (
	"bytes"

	"lunette/core/arrange"
)

// A trial computes every sum of the printed value's width over every span of every arrangement, and keeps what came out.
type trial struct {
	readings []reading
	rows     []Row // those of a reading's width
	needs    parts
	isDigest bool  // digests cost most and are tried in fewer ways
	devices  []int // bytes, in rising order
	size     int   // of the dump, in bytes

	combinations int
	values       []map[string]int // for each reading: the different sums, each with the least unlikely way to it
	hits         []hit

	progress             func(share float64)
	done, reported, work int // bytes
}

// A hit is a combination that gives the printed value.
type hit struct {
	row      int // in trial.rows
	a        arrange.Arrangement
	span     span
	unlikely int
}

func newTrial(readings []reading, devices []int, progress func(share float64)) *trial {
	t := &trial{readings: readings, devices: devices, progress: progress}
	for range readings {
		t.values = append(t.values, make(map[string]int))
	}
	for _, row := range catalogue() {
		for _, r := range readings {
			if row.Bits == r.bits {
				t.rows = append(t.rows, row)
				t.needs |= row.rule.needs()
			}
		}
	}
	t.isDigest = t.needs >= needDigest
	return t
}

// run tries everything over data.
func (t *trial) run(data []byte) {
	t.size = len(data)
	tried := arrangements(!t.isDigest)
	for _, a := range tried {
		t.work += a.Len(len(data))
	}
	for _, a := range tried {
		if a.Len(len(data)) > 0 {
			t.arrangement(view{data, a})
		}
	}
	if t.progress != nil {
		t.progress(1)
	}
}

// arrangement goes once through the bytes of one arrangement. Between two cuts it takes the totals of that segment, of
// which those of every span are joined. Chains are started wherever a span begins, and are at each cut what the spans
// that end there need.
func (t *trial) arrangement(v view) {
	spans := spans(v, t.devices, !t.isDigest)
	at := cuts(spans)
	segments := make([]totals, len(at)-1)
	running := make(map[int]*chains) // by where they began
	for i := range segments {
		for _, s := range spans {
			if s.from == at[i] && running[s.from] == nil {
				running[s.from] = &chains{digests: newDigests(t.needs)}
			}
		}
		v.each(at[i], at[i+1], func(block []byte) {
			segments[i].write(block, t.needs)
			for _, c := range running {
				c.write(block, t.needs)
			}
			t.step(len(block))
		})
		last := make(map[int]int) // where the last span that began there ends
		for _, s := range spans {
			last[s.from] = max(last[s.from], s.to)
			if s.to == at[i+1] && s.device == 0 {
				t.compare(v.a, s, joined(segments, at, s), running[s.from])
			}
		}
		for from, to := range last {
			if to == at[i+1] && i+1 < len(segments) {
				delete(running, from)
			}
		}
	}
	t.extended(v.a, spans, joined(segments, at, spans[0]), running[0])
}

// joined returns the totals of a span from those of the segments between the cuts.
func joined(segments []totals, at []int, s span) (all totals) {
	for i := range segments {
		if at[i] >= s.from && at[i+1] <= s.to {
			all.join(&segments[i])
		}
	}
	return all
}

// extended compares the spans that end in a fill; whole and running are the image's.
func (t *trial) extended(a arrange.Arrangement, spans []span, whole totals, running *chains) {
	for _, fill := range []byte{0xFF, 0x00} {
		block := bytes.Repeat([]byte{fill}, blockSize)
		fork := running.clone()
		reached := whole.bytes
		for _, s := range spans {
			if s.device == 0 || s.fill != fill {
				continue
			}
			if t.needs&^(needColumns|needRemainders) != 0 {
				for ; reached < s.device; reached += min(blockSize, s.device-reached) {
					fork.write(block[:min(blockSize, s.device-reached)], t.needs)
				}
			}
			both, rest := whole, filled(fill, s.device-whole.bytes)
			both.join(&rest)
			t.compare(a, s, both, &fork)
		}
	}
}

// compare prints every sum of a span and keeps it.
func (t *trial) compare(a arrange.Arrangement, s span, totals totals, chains *chains) {
	e := Engine{totals: totals, chains: *chains}
	for i, row := range t.rows {
		t.combinations++
		sum := row.rule.print(&e, row.Bits)
		unlikely := row.unlikely + s.unlikely + unlikelyOrder(a)
		for j, r := range t.readings {
			if row.Bits != r.bits || !r.fits(sum) {
				continue
			}
			if least, seen := t.values[j][sum]; !seen || unlikely < least {
				t.values[j][sum] = unlikely
			}
			if sum == r.hex {
				t.hits = append(t.hits, hit{i, a, s, unlikely})
			}
		}
	}
}

// step reports that n more bytes have been gone through.
func (t *trial) step(n int) {
	t.done += n
	if t.progress != nil && t.done-t.reported >= progressStep {
		t.reported = t.done
		t.progress(float64(t.done) / float64(t.work))
	}
}
