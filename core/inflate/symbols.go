package inflate

import "encoding/binary"

const endOfBlock = 256

// A span is the lowest value that a length or distance code stands for, and how many more bits add to it.
type span struct {
	base  uint16
	extra uint8 // at most 13
}

// Section 3.2.5. Lengths are 3 to 258 bytes, distances 1 to 32,768: none can say more.
var (
	lengthSpans   = [29]span(spans(29, 3, 4))
	distanceSpans = [30]span(spans(30, 1, 2))
)

const longestCopy = 258

// spans returns the spans of so many codes: each group after the first two has one bit more than the one before.
func spans(codes, base, group int) []span {
	all := make([]span, codes)
	for code := range all {
		extra := max(0, code/group-1)
		all[code] = span{uint16(base), uint8(extra)}
		base += 1 << extra
	}
	if codes == 29 { // the longest has a code of its own, though the one before reaches it too
		all[28] = span{longestCopy, 0}
	}
	return all
}

// compressed unpacks a block of literals and of copies from what came out before: section 3.2.3.
func (d *decoder) compressed(literals, distances *table) {
	for d.err == nil {
		d.hurry(literals, distances)
		symbol := d.symbol(literals)
		switch {
		case d.err != nil || symbol == endOfBlock:
			return
		case symbol < endOfBlock:
			if d.room(1) == 1 {
				d.out[d.n] = byte(symbol)
				d.n++
			}
		case symbol-endOfBlock-1 < len(lengthSpans):
			length := d.value(lengthSpans[symbol-endOfBlock-1])
			code := d.symbol(distances)
			if code >= len(distanceSpans) {
				d.fail(ErrDamaged)
				return
			}
			d.copy(d.value(distanceSpans[code]), length)
		default:
			d.fail(ErrDamaged)
		}
	}
}

func (d *decoder) value(s span) int { return int(s.base) + d.bits(uint(s.extra)) }

// copy repeats length bytes from distance back; the two may overlap.
func (d *decoder) copy(distance, length int) {
	if distance > d.n-d.start {
		d.fail(ErrDamaged)
	}
	if d.err != nil {
		return
	}
	for length = d.room(length); length > 0; {
		n := copy(d.out[d.n:d.n+length], d.out[d.n-distance:d.n])
		d.n += n
		length -= n
	}
}

// What hurry needs ahead: eight bytes to take at once, and room for a copy, made eight bytes at a time.
const (
	ahead     = 8
	copyAhead = longestCopy + 8
)

// hurry does the same while there is enough ahead on both sides that nothing can run out. It stops before the end of the
// block and before whatever else is out of the ordinary, none of it taken, and leaves that to compressed.
func (d *decoder) hurry(literals, distances *table) {
	in, at, hold, held, out, n := d.in, d.at, d.hold, d.held, d.out, d.n
	for at+ahead <= len(in) && n+copyAhead <= len(out) {
		// At least 56 bits: more than the 48 of a copy, or three literals.
		hold |= binary.LittleEndian.Uint64(in[at:]) << (held & 63)
		at += int((63 - held) / 8)
		held |= 56
		entry := literals.entry(hold)
		if entry>>4 < endOfBlock && entry != 0 {
			out[n] = byte(entry >> 4)
			n++
			hold >>= entry & 15
			held -= uint(entry & 15)
			continue
		}
		left, used := hold>>(entry&15), uint(entry&15)
		code := int(entry>>4) - endOfBlock - 1
		if uint(code) >= uint(len(lengthSpans)) {
			break
		}
		s := lengthSpans[code]
		length := int(s.base) + int(left&(1<<(s.extra&15)-1))
		left >>= s.extra & 15
		used += uint(s.extra)

		entry = distances.entry(left)
		code = int(entry >> 4)
		if entry == 0 || code >= len(distanceSpans) {
			break
		}
		left >>= entry & 15
		s = distanceSpans[code]
		distance := int(s.base) + int(left&(1<<(s.extra&15)-1))
		if distance > n-d.start {
			break
		}
		hold = left >> (s.extra & 15)
		held -= used + uint(entry&15) + uint(s.extra)
		repeat(out, n, distance, length)
		n += length
	}
	d.at, d.hold, d.held, d.n = at, hold&(1<<held-1), held, n
}

// repeat copies length bytes from distance back of n to n on, and a few more that do not count. Eight bytes at a time they
// must not overlap: what repeats from less far back repeats from twice as far too, once there are so many bytes.
func repeat(out []byte, n, distance, length int) {
	far := distance
	for far < 8 {
		far *= 2
	}
	i := 0
	for ; i < far-distance; i++ {
		out[n+i] = out[n+i-distance]
	}
	for ; i < length; i += 8 {
		binary.LittleEndian.PutUint64(out[n+i:], binary.LittleEndian.Uint64(out[n+i-far:]))
	}
}
