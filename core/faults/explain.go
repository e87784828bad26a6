package faults

import (
	"lunette/core/arrange"
)

// A cause is an explanation before it has words: faults of lines as they stand in the dump, of a device with width data lines.
type cause struct {
	kind        ExplanationKind
	order       arrange.Arrangement // of the master, before the faults act
	width       int
	faults      []fault
	wiring      rewiring
	unexplained int
}

// A doctor looks for what explains one read.
type doctor struct {
	widths   []int // of the devices that it may come from
	lowFirst bool  // see Options
	progress func(share float64)
	causes   []cause
}

const (
	// leastImage is the size in bytes from which on a line is named at all.
	leastImage = 64
	// leastForTwo is how many bytes must differ before two faults at once are thought of, and leastBitsForTwo the bits that
	// must speak for them: there are some 300,000 pairs of faults, 18 bits, and more by counting orders.
	leastForTwo, leastBitsForTwo = 8, 128
	// chanceBits is by how much the information in a read must exceed the choice among all wirings.
	chanceBits = 20
)

// explain looks for the simplest causes by which master reads as read: all single faults of lines; if none suits, all pairs
// that the wiring of a board suggests; then any other order of the lines. All causes of the first of these that suits are
// kept. Both images have the same length; differ is in how many bytes they differ. A burn that stopped is as simple as a
// single fault: then nothing less simple is looked for.
func (d *doctor) explain(master, read []byte, differ int, stopped bool) {
	if len(read) < leastImage || differ == 0 {
		return
	}
	p := newPair(master, read)
	known := speaking(read)
	var addresses []addressFinding
	if known >= leastBits || constant(read) {
		addresses = d.single(p, arrange.Stored, OneFault)
	}
	d.progress(0.4)
	informed := information(read)
	if stopped || len(d.causes) > 0 || known < leastBitsForTwo || informed < leastBits {
		return
	}
	if differ >= leastForTwo {
		d.double(p, addresses)
	}
	d.progress(0.7)
	if len(d.causes) == 0 {
		d.rewired(p, informed)
	}
	d.progress(0.9)
}

// single adds each single fault that gives the read exactly, and returns the address faults that leave up to two data lines.
func (d *doctor) single(p *pair, order arrange.Arrangement, kind ExplanationKind) []addressFinding {
	add := func(width int, f fault) {
		d.causes = append(d.causes, cause{kind: kind, order: order, width: width, faults: []fault{f}})
	}
	left := wrong(p.master, p.read)
	for _, width := range d.widths {
		for _, f := range p.dataFaults(p.master, left.of(width), width) {
			add(width, f)
		}
	}
	addresses := p.addressFaults(2)
	for _, found := range addresses {
		if found.wrong != (wrongLines{}) {
			continue
		}
		for _, width := range d.widths {
			if found.fault.onBus(width) {
				add(width, found.fault)
			}
		}
	}
	return addresses
}

// onBus tells whether address fault f is one of a device with width data lines: of a x16 device the lowest bit of the byte
// offset is no address line.
func (f fault) onBus(width int) bool { return width == 8 || f.i > 0 }

// double adds each pair of faults that gives the read exactly: an address fault and a data fault, two data faults, another
// arrangement and one fault.
func (d *doctor) double(p *pair, addresses []addressFinding) {
	for _, width := range d.widths {
		for _, found := range addresses {
			if !found.fault.onBus(width) {
				continue
			}
			for _, f := range p.dataFaults(p.through(found.fault), found.wrong.of(width), width) {
				d.causes = append(d.causes, cause{kind: TwoFaults, width: width, faults: []fault{found.fault, f}})
			}
		}
		for _, two := range p.dataPairs(p.master, wrong(p.master, p.read).of(width), width) {
			d.causes = append(d.causes, cause{kind: TwoFaults, width: width, faults: two[:]})
		}
	}
	places := lively(p.read, 256)
	for _, order := range orders[1:] {
		if p.hopeless(order, places) {
			continue
		}
		image := order.Apply(p.master)
		if wrong(image, p.master) == (wrongLines{}) {
			continue // this content is the same in both orders
		}
		d.single(p.with(image), order, OtherOrder)
	}
}

// rewired adds the wirings of address and data lines that give the read, the master arranged in the simplest way that allows
// one. known is the information in the read.
func (d *doctor) rewired(p *pair, known float64) {
	for _, width := range d.widths {
		read := newWiringSearch(p.read, width)
		if known < orderBits(p.lines)+orderBits(width)+chanceBits || !read.mayCome(p.master) {
			continue
		}
		for _, order := range orders {
			if order.IsMirrored() {
				continue // is a wiring of data lines
			}
			image := p.master
			if order != arrange.Stored {
				image = order.Apply(p.master)
			}
			if w, ok := read.find(image); ok {
				d.causes = append(d.causes, cause{kind: Wiring, order: order, width: width, wiring: w})
				break
			}
		}
	}
}
