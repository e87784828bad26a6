package marks

import (
	"math"
	"math/bits"
	"sync"

	"lunette/core/arrange"
	"lunette/core/words"
)

// Tables of 32-bit vectors at the start: the 68000's and the SuperH's. They have no self-check.

// testVectors68000 is the 68000's start: initial stack pointer, start address, then the vectors of the exceptions.
// Addresses count as inside when their low bits do: a ROM commonly stands at a multiple of its size.
//
// The start address must be even and lead, behind the first vectors, to an instruction that start-up code begins with.
// Vectors 2 to 11 (bus error to line F) should share the start address's upper bits, each value counted once; how often
// longs behind the table's 1 KiB do so is their chance. A table of ascending offsets looks just like vectors: it is
// refused.
func testVectors68000(v *headerView, part headerSpan) *headerHit {
	at := part.from
	stack, start := v.be32(at), v.be32(at+4)
	inside := insideOf(v, part, start, 0x30)
	if part.len() < 2048 || !inside(start) || start == stack {
		return nil
	}
	first := v.be16(at + int(start&(spaceOf(part.len())-1)))
	if !opens68000(first) || v.ascending(part, 12) {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, check: CheckNone}
	hit.bits = must(o.even()) + usual(stack&1 == 0, o.even()) + may(stack>>24 == 0, o.among(0)) + may(start>>24 == 0, o.among(0))
	hit.bits += must(max(o.opening68000(), leastPeer))
	hit.say("initial stack pointer {}, start address {}", words.Hex(uint64(stack), 8), words.Hex(uint64(start), 8))
	hit.say("the word at the start address is {}", words.Hex(uint64(first), 4))
	gained, seen := v.targets(part, at+8, 10, 0x400, inside)
	hit.bits += gained
	hit.say("{} of vectors 2 to 11 lead to different places inside", words.Count(seen))
	return hit
}

// spaceOf returns the smallest power of two that is at least n.
func spaceOf(n int) uint32 {
	space := 1
	for space < n {
		space <<= 1
	}
	return uint32(space)
}

// insideOf returns a test for addresses: even, with the same upper bits as like, and leading to a word of the part that
// is neither 0000 nor FFFF and stands from offset least on.
func insideOf(v *headerView, part headerSpan, like uint32, least int) func(uint32) bool {
	space := spaceOf(part.len())
	return func(address uint32) bool {
		target := int(address & (space - 1))
		if address&1 != 0 || address == 0 || address&^(space-1) != like&^(space-1) || target < least || target+2 > part.len() {
			return false
		}
		word := v.be16(part.from + target)
		return word != 0 && word != 0xFFFF
	}
}

// targets returns the bits gained by count longs from at that should be addresses for which inside holds, and how many
// different ones there are. A value that was there before counts nothing, one that is all zeros or ones little against.
// Their chance is how often longs from behind on, where the table has ended, are such addresses.
func (v *headerView) targets(part headerSpan, at, count, behind int, inside func(uint32) bool) (gained float64, seen int) {
	chance := v.peers(part, behind, 4, 256, 0, func(at int) bool { return inside(v.be32(at)) })
	before := map[uint32]bool{}
	for i := range count {
		value := v.be32(at + 4*i)
		switch {
		case before[value]:
		case inside(value):
			gained += must(chance) + math.Log2(0.75)
			seen++
		case value == 0 || value == math.MaxUint32:
			gained += math.Log2(0.2)
		default:
			gained += math.Log2(0.05)
		}
		before[value] = true
	}
	return gained, seen
}

// ascending tells whether the first count longs of a part rise each time, by less than its length in all and in the
// first step no more than in all others together, in any order of their bytes: a table of offsets. Vectors may rise as
// well, but from a stack pointer far below.
func (v *headerView) ascending(part headerSpan, count int) bool {
	for _, order := range arrange.Orders() {
		rises := true
		var first, second, before uint32
		for i := range count {
			value := uint32(0)
			for j := range 4 {
				b := byte(v.be32(part.from+4*i) >> (24 - 8*order.Source(j, 4)))
				if order.IsMirrored() {
					b = bits.Reverse8(b)
				}
				value = value<<8 | uint32(b)
			}
			switch i {
			case 0:
				first = value
			case 1:
				second = value
			}
			rises = rises && (i == 0 || value > before)
			before = value
		}
		if rises && second-first <= before-second && int(before-first) < part.len() {
			return true
		}
	}
	return false
}

// openings68000 are words that start-up code of the 68000 begins with, under a mask. Common practice, no source for the
// choice; encodings: M68000 Family Programmer's Reference Manual.
var openings68000 = []struct {
	word, mask int
	mnemonic   string
}{
	{0x007C, 0xFFFF, "ORI #,SR"},
	{0x027C, 0xFFFF, "ANDI #,SR"},
	{0x11FC, 0xDDFF, "MOVE.B or MOVE.W #,address"},
	{0x21FC, 0xFDFF, "MOVE.L #,address"},
	{0x203C, 0xF1FF, "MOVE.L #,Dn"},
	{0x207C, 0xF1FF, "MOVEA.L #,An"},
	{0x41F8, 0xF1FC, "LEA address,An"},
	{0x4278, 0xFF3E, "CLR address"},
	{0x46FC, 0xFFFF, "MOVE #,SR"},
	{0x4A78, 0xFF3E, "TST address"},
	{0x4E70, 0xFFFE, "RESET, NOP"},
	{0x4E7A, 0xFFFE, "MOVEC"},
	{0x4EB9, 0xFFBE, "JSR, JMP"},
	{0x4EBA, 0xFFBF, "JSR, JMP"},
	{0x6000, 0xFE01, "BRA, BSR"},
	{0x7000, 0xF100, "MOVEQ"},
}

// opens68000 tells whether word is one of them.
func opens68000(word int) bool {
	for _, opening := range openings68000 {
		if word&opening.mask == opening.word {
			return true
		}
	}
	return false
}

// openingWords lists them.
var openingWords = sync.OnceValue(func() (list []uint16) {
	for word := range 1 << 16 {
		if opens68000(word) {
			list = append(list, uint16(word))
		}
	}
	return list
})

// opening68000 returns the chance that a word is one of them.
func (o *headerOdds) opening68000() (chance float64) {
	for _, word := range openingWords() {
		chance += o.among(byte(word>>8)) * o.among(byte(word))
	}
	return min(1, chance)
}

// testVectorsSuperH is the SuperH's start: PC and SP for power-on, the same for manual reset, then exception vectors.
// The ROM stands at 0.
func testVectorsSuperH(v *headerView, part headerSpan) *headerHit {
	at := part.from
	pc, sp, pc2, sp2 := v.be32(at), v.be32(at+4), v.be32(at+8), v.be32(at+12)
	inside := insideOf(v, part, 0, 0x10)
	if part.len() < 2048 || int(pc) >= part.len() || int(pc2) >= part.len() || !inside(pc) || !inside(pc2) ||
		sp&3 != 0 || sp2&3 != 0 || sp == pc || int(sp) < part.len() || v.ascending(part, 8) {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, check: CheckNone}
	fours := o.fours()
	hit.bits = 2*(must(o.even())+o.belowBits(part.len())) + 2*must(fours) + may(sp == sp2, leastPeer)
	hit.say("power-on PC {}, SP {}", words.Hex(uint64(pc), 8), words.Hex(uint64(sp), 8))
	gained, seen := v.targets(part, at+16, 8, 0x400, inside)
	hit.bits += gained
	hit.say("{} of vectors 4 to 11 lead to different places inside", words.Count(seen))
	return hit
}
