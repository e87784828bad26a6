package faults

import (
	"math/bits"
	"slices"

	"lunette/core/sorted"
)

// What follows is for reads that nothing explains exactly. A fault may still be named when it leaves so little that its
// being right is beyond chance; how much it leaves is said.

const (
	leastNearly  = 64 // bytes that must differ before a fault is named that does not explain all of them
	mostLeft     = 10 // one in so many of them may be left
	leastContact = 16 // bits, or bytes, that must differ before all being on one line means something
)

// nearly adds the single faults that leave the fewest bytes unexplained, if these are few.
func (d *doctor) nearly(p *pair, differ int) {
	if differ < leastNearly {
		return
	}
	master, read := p.master, p.read
	differSampled := 0
	for _, a := range p.sample {
		if master[a] != read[a] {
			differSampled++
		}
	}
	type try struct {
		cause
		wrong int
	}
	var tries []try
	for _, f := range p.hypotheses {
		wrong := 0
		for _, a := range p.sample {
			from := f.source(a)
			if from >= len(master) || master[from] != read[a] {
				wrong++
			}
		}
		tries = append(tries, try{cause{kind: OneFault, width: 8, faults: []fault{f}}, wrong})
	}
	for _, width := range d.widths {
		if len(read)%(width/8) != 0 {
			continue
		}
		for _, f := range dataHypotheses(width) {
			tries = append(tries, try{cause{kind: OneFault, width: width, faults: []fault{f}}, f.wrongAt(p, width)})
		}
	}
	sorted.By(tries, func(a, b try) int { return a.wrong - b.wrong })
	best := min(differ, contentBytes(read))/mostLeft + 1
	const verified = 8
	for _, t := range tries[:min(verified, len(tries))] {
		if t.wrong > differSampled/3 {
			break // far too many to be few in all
		}
		left := differing(t.image(master), read)
		if left > best || left == best && len(d.causes) == 0 {
			continue
		}
		if left < best {
			best, d.causes = left, nil
		}
		t.unexplained = left
		d.addOnBuses(t.cause)
	}
}

// addOnBuses adds a cause of one fault for each width that it can have: that of a data line as it is.
func (d *doctor) addOnBuses(c cause) {
	if !c.faults[0].address {
		d.causes = append(d.causes, c)
		return
	}
	for _, width := range d.widths {
		if c.faults[0].onBus(width) {
			c.width = width
			d.causes = append(d.causes, c)
		}
	}
}

// dataHypotheses returns every single fault of width data lines.
func dataHypotheses(width int) (all []fault) {
	for i := range width {
		for _, kind := range stuckKinds {
			all = append(all, fault{kind: kind, i: i, j: i})
		}
		for j := i + 1; j < width; j++ {
			for _, kind := range pairKinds {
				all = append(all, fault{kind: kind, i: i, j: j})
			}
		}
	}
	return all
}

// wrongAt counts the sampled bytes that data fault f does not give.
func (f fault) wrongAt(p *pair, width int) (wrong int) {
	every := ones(width)
	for _, a := range p.sample {
		at := a &^ 1 // the word that the byte is in, of either width
		end := min(at+2, len(p.read))
		if (f.read(group(p.master[at:end]), every)^group(p.read[at:end]))>>(8*(a-at))&0xFF != 0 {
			wrong++
		}
	}
	return wrong
}

// image returns what c, of faults without another arrangement, makes of master.
func (c cause) image(master []byte) []byte {
	image := append([]byte(nil), master...)
	for _, f := range c.faults {
		if f.address {
			f.moved(image, master)
			continue
		}
		every := ones(c.width)
		for at := 0; at < len(image); at += 8 {
			end := min(at+8, len(image))
			g := f.read(group(image[at:end]), every)
			for i := at; i < end; i++ {
				image[i] = byte(g >> (8 * (i - at)))
			}
		}
	}
	return image
}

// contentBytes returns how many bytes of data are not its commonest one: only these can speak for a fault.
func contentBytes(data []byte) int {
	_, often := commonest(data)
	return len(data) - often
}

// contacts adds the lines that are right at some addresses and wrong at others: the one data line on which all bits differ, or
// an address line at whose other level stands what is read wherever it is wrong.
func (d *doctor) contacts(p *pair, differ int) {
	if differ < leastContact {
		return
	}
	master, read := p.master, p.read
	left := wrong(master, read)
	for _, width := range d.widths {
		if lines := left.of(width); bits.OnesCount16(lines) == 1 && len(read)%(width/8) == 0 {
			k := bits.TrailingZeros16(lines)
			d.causes = append(d.causes, cause{kind: SomeContact, width: width, faults: []fault{{kind: Unsteady, i: k, j: k}}})
		}
	}
	if len(d.causes) > 0 {
		return
	}
	if slices.Min(p.unlike(p.sample)) > len(p.sample)/3 {
		return
	}
	everywhere := make([]int, 0, differ)
	for a, b := range read {
		if b != master[a] {
			everywhere = append(everywhere, a)
		}
	}
	unexplained := p.unlike(everywhere)
	best, strangers := min(differ, contentBytes(read))/mostLeft, 0
	for _, left := range unexplained {
		if left > differ/2 {
			strangers++
		}
	}
	if strangers < p.lines/2 {
		return // what is read stands everywhere: no line stands out
	}
	for i, left := range unexplained {
		switch {
		case left > best:
			continue
		case left < best:
			best, d.causes = left, nil
		}
		d.addOnBuses(cause{kind: SomeContact, faults: []fault{{kind: Unsteady, address: true, i: i, j: i}}, unexplained: left})
	}
}

// unlike counts by address line, of the places given, those that read neither as they should nor as the master at the other
// level of the line.
func (p *pair) unlike(places []int) []int {
	unlike := make([]int, p.lines)
	for _, a := range places {
		b := p.read[a]
		if b == p.master[a] {
			continue
		}
		for i := range unlike {
			if other := a ^ 1<<i; other >= len(p.master) || p.master[other] != b {
				unlike[i]++
			}
		}
	}
	return unlike
}
