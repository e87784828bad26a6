// Package demo answers: what would the dumps of a board with troubles look like?
//
// It makes the demo board's further dumps out of its one system ROM, testdata/halden/u41.bin, so that they need not be
// fetched: the reads and readbacks of U41 here, the board's other chips in board.go. All of it is made by plain rules and
// comes out the same every time. The board is invented; testdata/halden/README.md tells its story.
package demo

// A Named is a file.
type Named struct {
	Name  string
	Bytes []byte
}

// What happened to the dumps of U41. It is a 27C400, 16 bits wide, and the file holds D0 to D7 of each word in its even
// bytes: A10 of the chip is bit 11 of an offset in the file.
const (
	stoppedAt = 0x3D8A     // offset from which on the burn wrote nothing: 3.0 % of the way
	openLine  = 1 << 11    // A10, which floats high
	older     = 0x1240     // bytes by which the older build lies lower
	olderSize = 0x60000    // bytes of the older build; above it the chip was blank
	weakFrom  = 0x40040    // the tired cells lie in the code of the system part,
	weakTo    = 0x45700    // from here to there
	weakBits  = 42         // of them, a third in each reread
	lineLow   = 3          // D3 and D11, neighbours on the chip, are exchanged
	seed      = 0x1D872B41 // of the only chance there is
)

// Dumps returns the dumps of U41, u41 itself first. u41 is the demo board's ROM as stored; of another image of a few KiB or
// more it returns dumps with the same troubles where it is large enough for them.
func Dumps(u41 []byte) []Named {
	dumps := []Named{{"halden-u41.bin", u41}}
	for i, read := range rereads(u41) {
		dumps = append(dumps, Named{"halden-u41-reread-" + string(rune('1'+i)) + ".bin", read})
	}
	return append(dumps,
		Named{"halden-u41-burn-stopped.bin", burnStopped(u41)},
		Named{"halden-u41-not-erased.bin", notErased(u41)},
		Named{"halden-u41-a10-open.bin", addressOpen(u41)},
		Named{"halden-u41-d3-d11-exchanged.bin", dataExchanged(u41)},
	)
}

// rereads returns three reads of a tired chip. Its weak cells are bits that were programmed to 0 and are read as 1 now and
// then, each of them in one of the three.
func rereads(u41 []byte) [3][]byte {
	var reads [3][]byte
	for i := range reads {
		reads[i] = clone(u41)
	}
	chance := dice(seed)
	from, to := weakFrom, weakTo
	if to > len(u41) {
		from, to = 0, len(u41)
	}
	for n, tries := 0, 0; n < weakBits && tries < 100*weakBits && to > 0; tries++ {
		at, bit := from+chance.below(to-from), byte(1)<<chance.below(8)
		if u41[at]&bit == 0 {
			reads[n%3][at] |= bit
			n++
		}
	}
	return reads
}

// burnStopped returns a readback of a chip in which only the first words were burnt.
func burnStopped(u41 []byte) []byte {
	read := clone(u41)
	for at := stoppedAt; at < len(read); at++ {
		read[at] = 0xFF
	}
	return read
}

// notErased returns a readback of a chip that held an older build when it was burnt: an earlier one of the same ROM, in which
// everything lay a little lower. A burn only takes bits from 1 to 0, so what is read is both at once.
func notErased(u41 []byte) []byte {
	read := clone(u41)
	for at := 0; at < olderSize && at+older < len(u41); at++ {
		read[at] &= u41[at+older]
	}
	return read
}

// addressOpen returns a read with one address line open, which the chip then takes for high.
func addressOpen(u41 []byte) []byte {
	read := clone(u41)
	for at := range read {
		if at|openLine < len(u41) {
			read[at] = u41[at|openLine]
		}
	}
	return read
}

// dataExchanged returns a read through an adapter in which two data lines are exchanged, one of each byte of a word.
func dataExchanged(u41 []byte) []byte {
	const bit = 1 << lineLow
	read := clone(u41)
	for at := 0; at+1 < len(read); at += 2 {
		low, high := u41[at]&bit, u41[at+1]&bit
		read[at] = read[at]&^bit | high
		read[at+1] = read[at+1]&^bit | low
	}
	return read
}

func clone(b []byte) []byte { return append([]byte(nil), b...) }

// dice is a xorshift generator of 32 bits: chance that comes out the same every time.
type dice uint32

// below returns a number from 0 to n-1.
func (d *dice) below(n int) int {
	*d ^= *d << 13
	*d ^= *d >> 17
	*d ^= *d << 5
	return int(uint32(*d) % uint32(n))
}
