package inflate

// fill takes bytes from in until more than 56 bits are held or in is at its end.
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

// symbol takes the next code and returns its symbol; where there is none the stream has failed.
func (d *decoder) symbol(t *table) int {
	if d.held < longest {
		d.fill()
	}
	entry := t.entry(d.hold)
	switch length := uint(entry & 15); {
	case length > d.held || d.held == 0:
		d.fail(ErrTruncated)
		d.hold, d.held = 0, 0
		return 0
	case length == 0:
		d.fail(ErrDamaged)
		return 0
	default:
		d.hold >>= length
		d.held -= length
		return int(entry >> 4)
	}
}

// leastRoom is what is made at first for a stream of which the caller knows nothing.
const leastRoom = 512

// room makes room for n more bytes, or for as many as may come out, and returns for how many. If these are fewer the
// stream has failed.
func (d *decoder) room(n int) int {
	if d.end-d.n < n {
		d.fail(ErrTooLong)
		n = d.end - d.n
	}
	if d.n+n > len(d.out) {
		grown := make([]byte, min(max(d.n+n, 2*len(d.out), leastRoom), d.end))
		copy(grown, d.out[:d.n])
		d.out = grown
	}
	return n
}
