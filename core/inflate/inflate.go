// Package inflate unpacks deflate streams (RFC 1951), the packing inside gzip and zip.
//
// It is here because the standard library's reader brings fmt and os into the page's first visit (DEVELOPERS.md, "Why no
// fmt?"). The tests hold it against that reader and Python's zlib, on good streams and on damaged ones.
//
// The way of the data: inflate.go goes from block to block, codes.go reads the codes that a block brings, symbols.go
// unpacks the block by them, bits.go takes the bits and makes room for the bytes. Section numbers are of RFC 1951.
package inflate

import (
	"errors"
	"math"
)

// What can be wrong with a stream.
var (
	ErrTruncated = errors.New("the packed data breaks off")
	ErrDamaged   = errors.New("the packed data is damaged")
	ErrTooLong   = errors.New("more comes out than may")
)

// Append unpacks the stream at the head of packed and appends what comes out to out, at most limit bytes. used is the
// number of bytes of packed that the stream takes, or took until the error; what had come out until then is returned too.
// The errors are those of this package.
//
// Time is in proportion to what comes in and out. Where out has the capacity nothing is allocated; otherwise it moves to
// at least twice the room, never to more than limit asks for, so that the last two rooms are there at once. Capacity beyond
// what is returned may be written to.
func Append(out, packed []byte, limit int) (unpacked []byte, used int, err error) {
	d := decoder{in: packed, start: len(out), n: len(out)}
	d.end = len(out) + min(max(limit, 0), math.MaxInt-len(out))
	d.out = out[:min(cap(out), d.end)]
	for last := false; !last && d.err == nil; {
		last = d.bits(1) == 1
		switch d.bits(2) { // section 3.2.3
		case 0:
			d.stored()
		case 1:
			d.compressed(fixedLiterals, fixedDistances)
		case 2:
			d.dynamic()
		default:
			d.fail(ErrDamaged)
		}
	}
	return d.out[:d.n], d.at - int(d.held/8), d.err
}

type decoder struct {
	in   []byte
	at   int    // the next byte of in
	hold uint64 // bits taken from in and not used, the next one lowest; 0 above them
	held uint   // how many

	out   []byte // all the room there is
	n     int    // bytes of it that are filled
	start int    // n when the stream began; nothing before it may be copied
	end   int    // n at the most

	err error // the first

	literals, distances table // of a block that brings its own codes
}

func (d *decoder) fail(err error) {
	if d.err == nil {
		d.err = err
	}
}

// stored copies a block that is not packed: section 3.2.4.
func (d *decoder) stored() {
	d.bits(d.held & 7) // to the next whole byte
	length, inverse := d.bits(16), d.bits(16)
	if d.err != nil {
		return
	}
	if length != inverse^0xFFFF {
		d.fail(ErrDamaged)
		return
	}
	d.at -= int(d.held / 8)
	d.hold, d.held = 0, 0
	here := min(length, len(d.in)-d.at)
	part := d.in[d.at:][:d.room(here)]
	if here < length {
		d.fail(ErrTruncated)
	}
	copy(d.out[d.n:], part)
	d.n += len(part)
	d.at += len(part)
}
