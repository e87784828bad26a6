// Package inflate unpacks deflate streams (RFC 1951), the packing inside gzip and zip.
//
// It is here because compress/flate brings fmt and os into the page's first visit (DEVELOPERS.md, "Why no fmt?"). The tests
// hold it against compress/flate and Python's zlib, on good streams and on damaged ones.
package inflate

import "errors"

// What can be wrong with a stream.
var (
	ErrTruncated = errors.New("the packed data breaks off")
	ErrDamaged   = errors.New("the packed data is damaged")
	ErrTooLong   = errors.New("more comes out than may")
)

// Append unpacks the stream at the head of packed and appends what comes out to out, at most limit bytes. used is the
// number of bytes of packed that the stream takes, or took until the error; what had come out until then is returned too.
// The errors are those of this package. Time and memory are in proportion to what comes in and out.
func Append(out, packed []byte, limit int) (unpacked []byte, used int, err error) {
	d := decoder{in: packed, out: out, start: len(out), limit: limit}
	for last := false; !last && d.err == nil; {
		last = d.bits(1) == 1
		switch d.bits(2) {
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
	return d.out, d.at - int(d.held/8), d.err
}

type decoder struct {
	in    []byte
	at    int    // the next byte of in
	hold  uint64 // bits taken from in and not used, the next one lowest
	held  uint   // how many
	out   []byte
	start int // length of out when the stream began; nothing before it may be copied
	limit int // bytes that may come out
	err   error

	literals, distances table // of a block that brings its own codes
}

func (d *decoder) fail(err error) {
	if d.err == nil {
		d.err = err
	}
}

// fill takes bytes from in until at least 48 bits are held or in is at its end.
func (d *decoder) fill() {
	for d.held <= 56 && d.at < len(d.in) {
		d.hold |= uint64(d.in[d.at]) << d.held
		d.held += 8
		d.at++
	}
}

// bits takes n bits, at most 16; past the end they are 0 and the stream has failed.
func (d *decoder) bits(n uint) int {
	if d.held < n {
		d.fill()
	}
	if d.held < n {
		d.fail(ErrTruncated)
		d.hold, d.held = 0, 0
		return 0
	}
	value := int(d.hold & (1<<n - 1))
	d.hold >>= n
	d.held -= n
	return value
}

// stored copies a block that is not packed: section 3.2.4.
func (d *decoder) stored() {
	d.bits(d.held & 7) // to the next whole byte
	n, inverse := d.bits(16), d.bits(16)
	if d.err != nil {
		return
	}
	if n != inverse^0xFFFF {
		d.fail(ErrDamaged)
		return
	}
	d.at -= int(d.held / 8)
	d.hold, d.held = 0, 0
	part := d.in[d.at:min(d.at+n, len(d.in))]
	if room := d.room(); len(part) > room {
		part = part[:room]
		d.fail(ErrTooLong)
	} else if len(part) < n {
		d.fail(ErrTruncated)
	}
	d.out = append(d.out, part...)
	d.at += len(part)
}

// room returns how many bytes may still come out.
func (d *decoder) room() int { return d.limit - (len(d.out) - d.start) }

// A span is the lowest value that a length or distance code stands for, and how many more bits add to it.
type span struct {
	base  uint16
	extra uint8
}

// Section 3.2.5.
var (
	lengthSpans = spans(29, 3, func(code int) uint8 { return uint8(max(0, code/4-1)) })
	distSpans   = spans(30, 1, func(code int) uint8 { return uint8(max(0, code/2-1)) })
)

func spans(codes, base int, extra func(code int) uint8) []span {
	all := make([]span, codes)
	for code := range all {
		all[code] = span{uint16(base), extra(code)}
		base += 1 << extra(code)
	}
	if codes == 29 { // length 258 has a code of its own, though the one before reaches it too
		all[28] = span{258, 0}
	}
	return all
}

// compressed unpacks a block of literals and of copies from what came out before: section 3.2.3.
func (d *decoder) compressed(literals, distances *table) {
	for d.err == nil {
		symbol := d.symbol(literals)
		switch {
		case d.err != nil || symbol == 256:
			return
		case symbol < 256:
			if d.room() <= 0 {
				d.fail(ErrTooLong)
				return
			}
			d.out = append(d.out, byte(symbol))
		case symbol-257 < len(lengthSpans):
			length := d.value(lengthSpans[symbol-257])
			code := d.symbol(distances)
			if d.err == nil && code >= len(distSpans) {
				d.fail(ErrDamaged)
			}
			if d.err == nil {
				d.copy(d.value(distSpans[code]), length)
			}
		default:
			d.fail(ErrDamaged)
		}
	}
}

func (d *decoder) value(s span) int { return int(s.base) + d.bits(uint(s.extra)) }

// copy repeats length bytes from distance back; the two may overlap.
func (d *decoder) copy(distance, length int) {
	if d.err != nil {
		return
	}
	if distance > len(d.out)-d.start {
		d.fail(ErrDamaged)
		return
	}
	if room := d.room(); length > room {
		length = room
		d.fail(ErrTooLong)
	}
	for length > 0 {
		from := d.out[len(d.out)-distance:]
		n := min(length, len(from))
		d.out = append(d.out, from[:n]...)
		length -= n
	}
}

// lengthOrder is the order in which a block gives the lengths of the codes for code lengths: section 3.2.7.
var lengthOrder = [19]uint8{16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15}

// dynamic unpacks a block that brings its own codes: section 3.2.7.
func (d *decoder) dynamic() {
	literals, distances, lengths := d.bits(5)+257, d.bits(5)+1, d.bits(4)+4
	var of [19 + 286 + 32]uint8
	for _, place := range lengthOrder[:lengths] {
		of[place] = uint8(d.bits(3))
	}
	if d.err != nil || literals > 286 || !d.literals.build(of[:19]) {
		d.fail(ErrDamaged)
		return
	}
	codes := of[19 : 19+literals+distances]
	for i := 0; i < len(codes) && d.err == nil; {
		i = d.codeLength(codes, i)
	}
	if d.err != nil {
		return
	}
	if codes[256] == 0 || !d.literals.build(codes[:literals]) || !d.distances.build(codes[literals:]) {
		d.fail(ErrDamaged)
		return
	}
	d.compressed(&d.literals, &d.distances)
}

// codeLength reads the length of code i, or a repeat of lengths from i on, and returns the next code.
func (d *decoder) codeLength(codes []uint8, i int) int {
	symbol, length, times := d.symbol(&d.literals), uint8(0), 1
	switch {
	case symbol < 16:
		length = uint8(symbol)
	case symbol == 16:
		times = 3 + d.bits(2)
		if i == 0 {
			d.fail(ErrDamaged)
			return i
		}
		length = codes[i-1]
	case symbol == 17:
		times = 3 + d.bits(3)
	default:
		times = 11 + d.bits(7)
	}
	if i+times > len(codes) {
		d.fail(ErrDamaged)
		return i
	}
	for ; times > 0; times-- {
		codes[i] = length
		i++
	}
	return i
}
