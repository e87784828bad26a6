package sums

import "math/bits"

// rotating holds the sums that turn their register by one bit at each byte. Where a byte's carry ends up depends on all
// that came before, so nothing about a range can be known but by going through it from its start: they run together in
// one loop, since the three do not wait for each other.
type rotating struct {
	left8  uint8  // turned left, then the byte added, modulo 2^8
	left32 uint32 // the same modulo 2^32
	right  uint16 // turned right, then the byte added, modulo 2^16
}

func (r *rotating) write(p []byte) {
	left8, left32, right := r.left8, r.left32, r.right
	for _, b := range p {
		left8 = bits.RotateLeft8(left8, 1) + b
		left32 = bits.RotateLeft32(left32, 1) + uint32(b)
		right = bits.RotateLeft16(right, -1) + uint16(b)
	}
	r.left8, r.left32, r.right = left8, left32, right
}

// A turned is the rule of one of them: which register it shows.
type turned func(r *rotating) uint64

func turnedLeft8(r *rotating) uint64  { return uint64(r.left8) }
func turnedLeft32(r *rotating) uint64 { return uint64(r.left32) }
func turnedRight(r *rotating) uint64  { return uint64(r.right) }

func (t turned) needs() parts { return needRotating }

func (t turned) print(e *Engine, width int) string { return hex(t(&e.rotating), width) }
