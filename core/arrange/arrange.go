// Package arrange answers: in which order do these bytes stand, and how do they look in another one?
//
// An Arrangement is a small value: take one byte lane of the stored bytes, exchange addresses inside each group of
// four, mirror the bits of each byte. Such values compose (Then), invert (Inverse), name themselves in the trade's words
// (String) and are read through a window (Copy, At) without the whole ever being copied; Apply copies once.
//
// Exchanging addresses is one exclusive-or: byte j of the new order is byte j XOR x of the old one, with x from 0 to 3.
// That covers what the trade meets:
//
//	x  bytes of a long  what it is called
//	0  A B C D          as stored
//	1  B A D C          bytes swapped in each 16-bit word (dd conv=swab)
//	2  C D A B          16-bit halves exchanged in each 32-bit word
//	3  D C B A          32-bit words reversed (objcopy --reverse-bytes=4)
//
// An incomplete group at the end is rearranged as far as whole smaller groups reach: two bytes left over of a long are
// still a word, and a last single byte stays (as dd conv=swab does). So every order without a lane is its own inverse
// at any length.
//
// The values and their algebra are in arrange.go, the fast copying in copy.go, the names in names.go. Files made for
// several chips are the other half: Split, Join, Repeat and Pad in chips.go.
package arrange

import (
	"math/bits"
	"strconv"
)

// An Arrangement says how new bytes are taken from stored ones. The zero value is "as stored". Values are comparable
// with ==: two are equal exactly when they do the same.
type Arrangement struct {
	exchange uint8 // x: byte j of a lane is byte j XOR x of it; 0 to 3
	mirrored bool  // bit 7 becomes bit 0 and so on in each byte
	laneBits uint8 // the stored bytes are dealt to 1<<laneBits lanes in turn
	lane     uint8 // which of these lanes is taken, from 0
}

// The arrangements of a whole image.
var (
	Stored   = Arrangement{}
	Swapped  = Arrangement{exchange: 1}
	Halves   = Arrangement{exchange: 2}
	Reversed = Arrangement{exchange: 3}
	Mirrored = Arrangement{mirrored: true}
)

// maxLaneBits bounds composition: a lane of a lane of more than 16 in all is nothing that exists on a board.
const maxLaneBits = 4

// Orders returns the eight arrangements of a whole image: four orders of bytes, "as stored" first, then the same four
// with mirrored bits.
func Orders() []Arrangement {
	orders := make([]Arrangement, 0, 8)
	for _, mirrored := range []bool{false, true} {
		for _, exchange := range []uint8{0, 1, 3, 2} {
			orders = append(orders, Arrangement{exchange: exchange, mirrored: mirrored})
		}
	}
	return orders
}

// Lane returns the arrangement that takes every of-th byte from byte lane on: Lane(0, 2) is the even byte lane. Lanes
// count from 0, as objcopy --interleave=of --byte=lane counts them. It panics unless of is 1, 2 or 4 and lane is below
// it; both are constants in a program, never input.
func Lane(lane, of int) Arrangement {
	if of < 1 || of > 4 || of == 3 || lane < 0 || lane >= of {
		panic("arrange: no lane " + strconv.Itoa(lane) + " of " + strconv.Itoa(of))
	}
	return Arrangement{laneBits: uint8(bits.TrailingZeros(uint(of))), lane: uint8(lane)}
}

// All returns every arrangement a dump is looked at in: the Orders, then the two lanes of two and the four of four.
func All() []Arrangement {
	return append(Orders(), Lane(0, 2), Lane(1, 2), Lane(0, 4), Lane(1, 4), Lane(2, 4), Lane(3, 4))
}

// Then returns the arrangement that does a first and next afterwards. For images whose length is a multiple of
// a.Unit()*next.Unit() it equals the two one after the other; at other lengths only what is made of the incomplete group
// of that size at the end may differ. ok is false when it would take a lane of more than 16.
func (a Arrangement) Then(next Arrangement) (both Arrangement, ok bool) {
	// Byte j after both is byte n(m(j^y)+i ^ x)+k of the stored ones, where a takes lane k of n and exchanges by x, and
	// next takes lane i of m and exchanges by y. The low bits of x change the lane, the rest changes the exchange.
	if a.laneBits+next.laneBits > maxLaneBits {
		return Arrangement{}, false
	}
	lane := next.lane ^ a.exchange&(1<<next.laneBits-1)
	return Arrangement{
		exchange: next.exchange ^ a.exchange>>next.laneBits,
		mirrored: a.mirrored != next.mirrored,
		laneBits: a.laneBits + next.laneBits,
		lane:     lane<<a.laneBits | a.lane,
	}, true
}

// Inverse returns the arrangement that undoes a. ok is false for a lane, which cannot be undone alone: Join takes all.
func (a Arrangement) Inverse() (undo Arrangement, ok bool) {
	return a, a.laneBits == 0
}

// Lanes returns which lane a takes, from 0, and of how many: 0 of 1 for a whole image.
func (a Arrangement) Lanes() (lane, of int) { return int(a.lane), 1 << a.laneBits }

// IsMirrored tells whether a mirrors the bits of each byte.
func (a Arrangement) IsMirrored() bool { return a.mirrored }

// Unit returns the number of stored bytes that a treats as one group, from 1 to 64: an image of a multiple of it has no
// incomplete group at the end.
func (a Arrangement) Unit() int {
	return 1 << (bits.Len8(a.exchange) + int(a.laneBits))
}

// Len returns how many bytes a makes of n stored ones.
func (a Arrangement) Len(n int) int { return laneLen(n, int(a.lane), 1<<a.laneBits) }

// laneLen returns how many of n bytes, dealt in turn to of lanes, lane gets.
func laneLen(n, lane, of int) int { return (n - lane + of - 1) / of }

// Source returns the stored offset, in bytes, of byte j of the arranged image of n stored bytes. j is from 0 to Len(n)-1.
func (a Arrangement) Source(j, n int) int {
	return exchanged(j, a.exchange, a.Len(n))<<a.laneBits + int(a.lane)
}

// Place returns where the byte at the stored offset stands in the arranged image of n stored bytes: the inverse of
// Source. The offset is from 0 to n-1. ok is false when the byte is in another lane.
func (a Arrangement) Place(offset, n int) (j int, ok bool) {
	if offset&(1<<a.laneBits-1) != int(a.lane) {
		return 0, false
	}
	return exchanged(offset>>a.laneBits, a.exchange, a.Len(n)), true
}

// exchanged returns j XOR x among n bytes, with less of x where j's group at the end is incomplete. It undoes itself.
func exchanged(j int, x uint8, n int) int {
	switch {
	case j|3 < n:
		return j ^ int(x)
	case j|1 < n:
		return j ^ int(x&1)
	}
	return j
}

// At returns byte j of the arranged image of stored. j is from 0 to Len(len(stored))-1.
func (a Arrangement) At(stored []byte, j int) byte {
	b := stored[a.Source(j, len(stored))]
	if a.mirrored {
		b = bits.Reverse8(b)
	}
	return b
}
