package faults

import (
	"math/bits"

	"lunette/core/sorted"
)

// A rewiring says how the reader's lines are connected to the chip's: the reader's address line i to the chip's address[i],
// the reader's data line d to the chip's data[d], numbered within words of width bits as they stand in the dump.
type rewiring struct {
	width   int // 8 or 16; 0 for no rewiring
	address []int
	data    []int
}

// unchanged returns the wiring in which each line is connected to its own.
func unchanged(width, lines int) rewiring {
	w := rewiring{width: width, address: make([]int, lines), data: make([]int, width)}
	for i := range w.address {
		w.address[i] = i
	}
	for d := range w.data {
		w.data[d] = d
	}
	return w
}

// read returns what is read of image through the wiring; the size is the power of two that the address lines reach.
func (w rewiring) read(image []byte) []byte {
	through := make([]byte, len(image))
	w.each(image, func(address int, value uint16) bool {
		w.put(through, address, value)
		return true
	})
	return through
}

// undo returns the image of which through is read: the inverse of read.
func (w rewiring) undo(through []byte) []byte {
	inverse := rewiring{width: w.width, address: inverted(w.address), data: inverted(w.data)}
	return inverse.read(through)
}

func inverted(order []int) []int {
	inverse := make([]int, len(order))
	for i, to := range order {
		inverse[to] = i
	}
	return inverse
}

// misread returns the reader's address of the first word of read that is not what is read of image through the wiring; -1 when
// there is none.
func (w rewiring) misread(image, read []byte) int {
	first := -1
	w.each(image, func(address int, value uint16) bool {
		if value != w.word(read, address) {
			first = address
		}
		return first < 0
	})
	return first
}

// each visits every word, by the reader's address, with what is read there, until visit returns false.
func (w rewiring) each(image []byte, visit func(address int, value uint16) bool) {
	low, high := w.dataTables()
	// The chip's address is that of the lower lines OR that of the upper ones.
	const lower = 10
	var part [1 << lower]int
	for a := range part {
		part[a] = w.chipAddress(a)
	}
	words := len(image) / (w.width / 8)
	for base := 0; base < words; base += len(part) {
		upper := w.chipAddress(base)
		for a := range min(len(part), words-base) {
			value := w.word(image, upper|part[a])
			if !visit(base+a, low[value&0xFF]|high[value>>8]) {
				return
			}
		}
	}
}

// chipAddress returns the address that the chip sees when the reader asks for a.
func (w rewiring) chipAddress(a int) (chip int) {
	for i, to := range w.address {
		chip |= a >> i & 1 << to
	}
	return chip
}

// dataTables returns what is read of the lower and of the upper byte of a word.
func (w rewiring) dataTables() (low, high *[256]uint16) {
	low, high = new([256]uint16), new([256]uint16)
	for value := range 256 {
		for d, from := range w.data {
			if from < 8 {
				low[value] |= uint16(value>>from&1) << d
			} else {
				high[value] |= uint16(value>>(from-8)&1) << d
			}
		}
	}
	return low, high
}

func (w rewiring) word(image []byte, a int) uint16 {
	if w.width == 8 {
		return uint16(image[a])
	}
	return uint16(image[2*a]) | uint16(image[2*a+1])<<8
}

func (w rewiring) put(image []byte, a int, value uint16) {
	if w.width == 8 {
		image[a] = byte(value)
		return
	}
	image[2*a], image[2*a+1] = byte(value), byte(value>>8)
}

// A wiringSearch looks for a wiring by which some master reads as one read.
//
// Colours tell the lines apart: at first by the ones on each data line, then each line by its counts with all lines of the
// other kind and their colours, round after round. Where several lines share a colour they are tried one by one. Whatever
// comes out is held against every byte.
type wiringSearch struct {
	bytes  []byte
	places []int // offsets that are looked at first
	width  int
	read   *profile // made when it is first needed
	image  []byte   // the master that is being tried
	master *profile
	left   int // steps that may still be taken
}

func newWiringSearch(read []byte, width int) *wiringSearch {
	return &wiringSearch{bytes: read, width: width}
}

// mayCome tells whether the data lines of master have the counts of those of the read in some order, as they must. The size
// must be a power of two that the address lines reach.
func (s *wiringSearch) mayCome(master []byte) bool {
	size := len(s.bytes)
	return size >= leastImage && size&(size-1) == 0 && onesByLine(master, s.width) == onesByLine(s.bytes, s.width)
}

// onesByLine returns the ones on each data line, in ascending order.
func onesByLine(image []byte, width int) (lines [16]int) {
	var counts [2][256]int
	for a, b := range image {
		counts[a&1][b]++
	}
	even, odd := byLine(&counts[0]), byLine(&counts[1])
	for k := range 8 {
		if width == 8 {
			lines[k] = even[k] + odd[k]
		} else {
			lines[k], lines[8+k] = even[k], odd[k]
		}
	}
	sorted.Ascending(lines[:width])
	return lines
}

// find returns the wiring by which image is read, if there is one.
func (s *wiringSearch) find(image []byte) (rewiring, bool) {
	const most = 3000 // wrong turns, for content of which many lines look alike
	if s.read == nil {
		s.read, s.places = profileOf(s.bytes, s.width), lively(s.bytes, 2048)
	}
	s.image, s.master, s.left = image, profileOf(image, s.width), most
	return s.try(colours{}, colours{})
}

// colours tell lines apart: lines of two images that are the same line have the same colour.
type colours struct {
	data    [16]uint64
	address [32]uint64
}

// try refines the colours of both images and, where they tell all lines apart, holds the wiring against the images. Else it
// takes the first line of the read that is not told apart and tries each line of the master that it may be.
func (s *wiringSearch) try(m, r colours) (rewiring, bool) {
	if s.left--; s.left < 0 {
		return rewiring{}, false
	}
	s.master.refine(&m)
	s.read.refine(&r)
	w := rewiring{width: s.read.width, address: make([]int, s.read.lines), data: make([]int, s.read.width)}
	open, candidates := -1, []int(nil)
	for line := range s.read.width + s.read.lines {
		ofMaster, ofRead := candidatesOf(&m, &r, s.read, line)
		if len(ofMaster) != ofRead {
			return rewiring{}, false // the counts do not fit
		}
		if ofRead > 1 && (open < 0 || len(ofMaster) < len(candidates)) {
			open, candidates = line, ofMaster
		}
		if line < s.read.width {
			w.data[line] = ofMaster[0]
		} else {
			w.address[line-s.read.width] = ofMaster[0]
		}
	}
	if open < 0 {
		return w, s.holds(w)
	}
	own := open
	if own >= s.read.width {
		own -= s.read.width
	}
	sorted.By(candidates, func(a, b int) int { return distance(a, own) - distance(b, own) }) // the plainest wiring first
	for _, c := range candidates {
		fresh := mix(uint64(s.left), 0x5DEECE66D)
		mm, rr := m, r
		if open < s.read.width {
			mm.data[c], rr.data[open] = fresh, fresh
		} else {
			mm.address[c], rr.address[open-s.read.width] = fresh, fresh
		}
		if w, ok := s.try(mm, rr); ok {
			return w, true
		}
	}
	return rewiring{}, false
}

func distance(a, b int) int { return max(a-b, b-a) }

// candidatesOf returns the lines of the master with the colour of a line of the read, data lines first and then address
// lines, and how many lines of the read have that colour.
func candidatesOf(m, r *colours, p *profile, line int) (ofMaster []int, ofRead int) {
	ofM, ofR, at := m.data[:p.width], r.data[:p.width], line
	if line >= p.width {
		ofM, ofR, at = m.address[:p.lines], r.address[:p.lines], line-p.width
	}
	for i := range ofR {
		if ofM[i] == ofR[at] {
			ofMaster = append(ofMaster, i)
		}
		if ofR[i] == ofR[at] {
			ofRead++
		}
	}
	return ofMaster, ofRead
}

// refine makes colours finer by the counts of p until the rounds suffice for what hangs together to be told apart.
func (p *profile) refine(c *colours) {
	const rounds = 4
	for range rounds {
		var next colours
		for d := range p.width {
			sum := uint64(0)
			for i := range p.lines {
				sum += mix(uint64(p.with[d][i]), c.address[i])
			}
			next.data[d] = mix(mix(uint64(p.ones[d]), c.data[d]), sum)
		}
		for i := range p.lines {
			sum := uint64(0)
			for d := range p.width {
				sum += mix(uint64(p.with[d][i]), next.data[d])
			}
			next.address[i] = mix(sum, c.address[i])
		}
		*c = next
	}
}

// mix returns a number that two numbers give and hardly any others do (the finishing steps are those of common hash
// functions; common practice, no source).
func mix(a, b uint64) uint64 {
	h := a*0x9E3779B97F4A7C15 ^ bits.RotateLeft64(b, 29)*0xC2B2AE3D27D4EB4F
	h ^= h >> 32
	h *= 0xD6E8FEB86659FD93
	return h ^ h>>29
}

// holds tells whether the wiring gives the read: at a few places first, then everywhere.
func (s *wiringSearch) holds(w rewiring) bool {
	low, high := w.dataTables()
	for _, offset := range s.places {
		a := offset / (w.width / 8)
		value := w.word(s.image, w.chipAddress(a))
		if low[value&0xFF]|high[value>>8] != w.word(s.bytes, a) {
			return false
		}
	}
	first := w.misread(s.image, s.bytes)
	if first >= 0 { // what refutes one wiring refutes others
		s.places = append([]int{first * (w.width / 8)}, s.places...)
	}
	return first < 0
}
