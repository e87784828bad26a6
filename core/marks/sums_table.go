package marks

import "math"

// A SumRow is one kind of built-in sum.
type SumRow struct {
	ID     string
	Name   string
	Source string
	Memory bool
	Family string
	Width  int // bits that have to come out right

	whole   bool // tried over the whole and its halves only
	settles bool // known from big-endian machines only, so that the order in which it closes is theirs
	// mirrors and exchanges are the orders in which it comes out different.
	mirrors   []bool
	exchanges []int
	// sum returns what is there and what should be, as width bits; at is where the value is stored, -1 for nowhere.
	sum     func(s sumSet, stored uint32) (found, expected uint64)
	leading bool // the expected value is stored in the first four bytes
	xor     bool // bit planes that hardly change close by themselves and are not counted
}

var (
	bothMirrors   = []bool{false, true}
	plainOnly     = []bool{false}
	anyOrder      = []int{0}
	swapOnly      = []int{0, 1}
	everyExchange = []int{0, 1, 2, 3}
)

// SumRows are the built-in sums, wide ones first. The order in which bytes are summed does not matter to any of them.
// What matters of an arrangement is which byte of a word is which, and that not always: a sum with end-around carry
// stays when the halves of its words change places.
var SumRows = []SumRow{
	{ID: "leading-words", Name: "leading sum of 16-bit words", Width: 32, Family: "m68k", Memory: true, leading: true, settles: true,
		Source:  "common practice in 68000 desktop ROMs (memory)",
		mirrors: bothMirrors, exchanges: everyExchange, sum: sumLeading},
	{ID: "closing-ones", Name: "closing sum of 32-bit words with end-around carry", Width: 32, Family: "m68k", settles: true,
		Source:  "common practice in 68000 system ROMs; seen to hold on two open-source 512 KiB system ROMs",
		mirrors: bothMirrors, exchanges: swapOnly, sum: sumOnes},
	{ID: "closing-longs", Name: "closing sum of 32-bit words", Width: 32,
		Source:  "common practice, no source",
		mirrors: bothMirrors, exchanges: everyExchange, sum: sumLongs},
	{ID: "closing-words", Name: "closing sum of 16-bit words", Width: 16,
		Source:  "common practice, no source",
		mirrors: plainOnly, exchanges: swapOnly, sum: sumWords},
	{ID: "closing-bytes16", Name: "closing 16-bit sum of bytes", Width: 16,
		Source:  "common practice, no source",
		mirrors: plainOnly, exchanges: anyOrder, sum: sumBytes16},
	{ID: "closing-xor16", Name: "closing exclusive-or of 16-bit words", Width: 16,
		Source:  "common practice, no source",
		mirrors: plainOnly, exchanges: anyOrder, xor: true, sum: sumXOR16},
	{ID: "closing-bytes8", Name: "closing 8-bit sum of bytes", Width: 8, whole: true,
		Source:  "common practice, no source",
		mirrors: plainOnly, exchanges: anyOrder, sum: sumBytes8},
	{ID: "closing-xor8", Name: "closing exclusive-or of bytes", Width: 8, whole: true,
		Source:  "common practice, no source",
		mirrors: plainOnly, exchanges: anyOrder, xor: true, sum: sumXOR8},
}

func sumLeading(s sumSet, stored uint32) (found, expected uint64) {
	// The words of the stored long are not part of the sum.
	return uint64(stored), (s.words() - uint64(stored>>16) - uint64(stored&0xFFFF)) & math.MaxUint32
}

func sumOnes(s sumSet, _ uint32) (found, expected uint64) {
	return uint64(s.onesLongs()), math.MaxUint32
}

func sumLongs(s sumSet, _ uint32) (found, expected uint64) { return s.longs() & math.MaxUint32, 0 }

func sumWords(s sumSet, _ uint32) (found, expected uint64) { return s.words() & 0xFFFF, 0 }

func sumBytes16(s sumSet, _ uint32) (found, expected uint64) { return s.bytes() & 0xFFFF, 0 }

func sumXOR16(s sumSet, _ uint32) (found, expected uint64) { return uint64(s.xorWords()), 0 }

func sumBytes8(s sumSet, _ uint32) (found, expected uint64) { return s.bytes() & 0xFF, 0 }

func sumXOR8(s sumSet, _ uint32) (found, expected uint64) { return uint64(s.xorBytes()), 0 }
