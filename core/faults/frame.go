package faults

import (
	"bytes"

	"lunette/core/arrange"
)

// A frame is a way to lay the master over the read: arranged, repeated, and begun at an offset of it. Offsets of the read
// that no byte of the master stands against are outside; they are taken as FF, which is what a larger chip holds there.
type frame struct {
	order  arrange.Arrangement
	times  int // the arranged master comes so many times in the read, at least once
	from   int // offset in the arranged master of the read's first byte; negative when the master begins later
	size   int // of the arranged master
	length int // of the read
}

// inside returns the stretch of the read that stands against bytes of the master.
func (f frame) inside() Span {
	from, to := max(0, -f.from), min(f.length, f.size*f.times-f.from)
	return Span{min(from, f.length), max(to, min(from, f.length))}
}

// at returns the byte of master that stands against offset a of the read.
func (f frame) at(master []byte, a int) byte {
	j := a + f.from
	if j < 0 || j >= f.size*f.times {
		return 0xFF
	}
	if f.times > 1 {
		j %= f.size
	}
	return f.order.At(master, j)
}

// image returns the master as it lies over the whole read. It may be the master itself.
func (f frame) image(master []byte) []byte {
	if f.order == arrange.Stored && f.times == 1 && f.from == 0 && f.size == f.length {
		return master
	}
	arranged := master
	if f.order != arrange.Stored {
		arranged = f.order.Apply(master)
	}
	if f.times == 1 && f.from >= 0 && f.from+f.length <= f.size {
		return arranged[f.from : f.from+f.length]
	}
	image := make([]byte, f.length)
	in := f.inside()
	fill(image[:in.From])
	fill(image[in.To:])
	for a := in.From; a < in.To; {
		j := a + f.from
		a += copy(image[a:in.To], arranged[j%f.size:])
	}
	return image
}

// orders are the arrangements of a whole image, the simplest first.
var orders = arrange.Orders()

// framesOf returns the ways in which a master of one size can lie over a read of another, the simplest first: as a whole, and
// in parts, repeated or with blank bytes around it.
func framesOf(master, read int) (whole, parts []frame) {
	for _, order := range arrange.All() {
		size := order.Len(master)
		if size == 0 {
			continue
		}
		lay := func(times, from int) {
			f := frame{order: order, times: times, from: from, size: size, length: read}
			if master == read && size == read {
				whole = append(whole, f)
			} else {
				parts = append(parts, f)
			}
		}
		switch {
		case size == read:
			lay(1, 0)
		case size > read:
			for _, from := range partsOf(size, read) {
				lay(1, from)
			}
		default:
			lay((read+size-1)/size, 0)
			lay(1, 0)
			lay(1, size-read)
		}
	}
	return whole, parts
}

// partsOf returns where a part of the given length may begin in a whole: at its multiples, of which the first 16 and the
// last 16 are tried, and so that it ends where the whole ends.
func partsOf(whole, part int) (from []int) {
	const most = 16
	last := whole - part
	for n := 0; n*part <= last; n++ {
		if n < most || n*part+most*part > last {
			from = append(from, n*part)
		}
	}
	if last%part != 0 {
		from = append(from, last)
	}
	return from
}

// closest returns the frame in which the fewest bytes differ, and how many do; of equals the first. All are tried at the given
// places in the read, and the best three there everywhere.
func closest(frames []frame, master, read []byte, places []int) (best frame, differ int) {
	if len(frames) == 0 {
		return frame{}, len(read) + 1
	}
	type ranked struct {
		frame
		wrong int
	}
	var few [3]ranked // the best by sample
	for i := range few {
		few[i].wrong = len(places) + 1
	}
	for _, f := range frames {
		wrong := 0
		for _, a := range places {
			if f.at(master, a) != read[a] {
				wrong++
				if wrong >= few[len(few)-1].wrong {
					break
				}
			}
		}
		for i := range few {
			if wrong < few[i].wrong {
				copy(few[i+1:], few[i:])
				few[i] = ranked{f, wrong}
				break
			}
		}
	}
	differ = len(read) + 1
	for _, one := range few {
		if one.wrong > len(places) {
			continue
		}
		if n := differing(one.image(master), read); n < differ {
			best, differ = one.frame, n
		}
	}
	return best, differ
}

// lively returns up to most offsets spread over data, most of them where it is not its commonest byte.
func lively(data []byte, most int) (places []int) {
	common, often := commonest(data)
	step, plain := (len(data)-often)/(most*7/8)+1, len(data)/(most/8)+1
	untilStep, untilPlain := 1, 1
	for a, b := range data {
		if b != common {
			untilStep--
		}
		untilPlain--
		if untilStep == 0 || untilPlain == 0 {
			places = append(places, a)
			if untilStep == 0 {
				untilStep = step
			}
			if untilPlain == 0 {
				untilPlain = plain
			}
		}
	}
	return places
}

// commonest returns the commonest byte of data and how often it comes.
func commonest(data []byte) (common byte, often int) {
	for b, n := range histogram(data) {
		if n > often {
			common, often = byte(b), n
		}
	}
	return common, often
}

// differing returns in how many bytes two images of the same length differ.
func differing(a, b []byte) (n int) {
	const block = 512
	for len(a) > 0 {
		end := min(block, len(a))
		if !bytes.Equal(a[:end], b[:end]) {
			for i, x := range a[:end] {
				if x != b[i] {
					n++
				}
			}
		}
		a, b = a[end:], b[end:]
	}
	return n
}
