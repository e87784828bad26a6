package marks

import "lunette/core/words"

// First instructions, and vectors that are instructions: where CPUs begin. None of these has a self-check.

// testZ80 is the start of Z80 or 8080 code: DI, JP, LD SP or JR first, after DI one of JP, LD SP, IM, LD or JR; then
// what stands at the restart addresses 8, 10h to 38h: a jump, a return, or an interrupt that is let through.
func testZ80(v *headerView, part headerSpan) *headerHit {
	at := part.from
	const fiveForms = 2.4 // at least log2 5: they share the chance
	if !isOneOf(v.at(at), "\xF3\xC3\x31") {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, check: CheckNone}
	code := at
	jump := must(o.among(0xC3)) + must(o.within(0, (part.len()-1)>>8))
	switch v.at(at) {
	case 0xF3:
		code++
		switch {
		case v.at(code) == 0xC3 && v.le16(code+1) < part.len():
			hit.bits = jump
		case v.at(code) == 0xED && isOneOf(v.at(code+1), "\x46\x56\x5E"):
			hit.bits = must(o.among(0xED)) + must(o.among(0x46, 0x56, 0x5E))
		case isOneOf(v.at(code), "\x31\x18\x21\x3E\xAF\x01\x11"):
			hit.bits = must(o.among(0x31, 0x18, 0x21, 0x3E, 0xAF, 0x01, 0x11))
		default:
			return nil
		}
		hit.bits += must(o.among(0xF3)) - fiveForms
		hit.say("DI first")
	case 0xC3:
		if v.le16(at+1) >= part.len() || v.le16(at+1) < 3 {
			return nil
		}
		hit.bits = jump - fiveForms
	case 0x31:
		hit.bits = must(o.among(0x31)) - fiveForms
	}
	if v.at(code) == 0xC3 {
		hit.say("JP to {}", words.Hex(uint64(v.le16(code+1)), 4))
	}
	good := func(at int) bool {
		return v.at(at) == 0xC3 && v.le16(at+1) < part.len() || v.at(at) == 0xC9 || v.at(at) == 0xFB && v.at(at+1) == 0xC9
	}
	chance := v.peers(part, 0x40, 8, 64, o.among(0xC3, 0xC9), good)
	gained, restarts := v.entries(at+0x08, 7, chance, good)
	hit.bits += gained
	hit.say("{} of 7 restart addresses hold a jump or a return", words.Count(restarts))
	return hit
}

// entries returns the bits gained by count entries from at, eight bytes apart, for which good should hold, and how many
// do. One that begins with the same three bytes as one before counts nothing.
func (v *headerView) entries(at, count int, chance float64, good func(at int) bool) (gained float64, seen int) {
	before := map[int]bool{}
	for place := at; place < at+8*count; place += 8 {
		holds := good(place)
		if holds {
			seen++
		}
		if value := v.at(place)<<16 | v.be16(place+1); !before[value] {
			before[value] = true
			gained += may(holds, chance)
		}
	}
	return gained, seen
}

// test8051 is the start of 8051 code: LJMP at 0, then LJMP or RETI at the interrupt addresses. LJMP to 0202 is refused:
// it is much more often a run of 02.
func test8051(v *headerView, part headerSpan) *headerHit {
	at := part.from
	target := v.be16(at + 1)
	if v.at(at) != 0x02 || target >= part.len() || target < 3 || target == 0x0202 {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, check: CheckNone}
	hit.bits = must(o.among(0x02)) + must(o.within(0, (part.len()-1)>>8))
	hit.say("LJMP to {}", words.Hex(uint64(target), 4))
	good := func(at int) bool {
		return v.at(at) == 0x02 && v.be16(at+1) < part.len() || v.at(at) == 0x32
	}
	chance := v.peers(part, 0x33, 8, 64, o.among(0x02, 0x32), good)
	gained, used := v.entries(at+0x03, 5, chance, good)
	hit.bits += gained
	hit.say("{} of 5 interrupt addresses hold LJMP or RETI", words.Count(used))
	return hit
}

// testARM is the ARM's eight vectors, each a branch that leads into the image or a load of PC from near by. The first
// must be one.
func testARM(v *headerView, part headerSpan) *headerHit {
	at := part.from
	good := func(at int) bool {
		word := v.word(at)
		place := at - part.from
		target := place + 8 + int(int32(word<<8)>>6)
		return word>>12 == 0xE59FF || word>>24 == 0xEA && target >= 0 && target < part.len() && target != place+4
	}
	if !good(at) {
		return nil
	}
	o := v.odds()
	chance := v.peers(part, 0x40, 4, 256, o.among(0xEA)+o.among(0xE5)*o.among(0x9F)*o.among(0xF0), good)
	hit := &headerHit{at: at, check: CheckNone, bits: must(chance)}
	used := 1
	for i := 1; i < 8; i++ {
		holds := good(at + 4*i)
		hit.bits += usual(holds, chance)
		if holds {
			used++
		}
	}
	hit.say("{} of 8 vectors are branches or loads of PC", words.Count(used))
	return hit
}

// testMIPS is the MIPS's first instructions: a jump in the boot segment or a branch, an empty delay slot, and often
// more such pairs in a row.
func testMIPS(v *headerView, part headerSpan) *headerHit {
	at := part.from
	good := func(at int) bool {
		word := v.word(at)
		place := at - part.from
		target := place + 4 + int(int16(word))*4
		return v.word(at+4) == 0 && (word>>20 == 0x0BF && int(word<<2&0x3FFFFF) < part.len() ||
			word>>16 == 0x1000 && target != place+4 && target >= 0 && target < part.len())
	}
	if !good(at) {
		return nil
	}
	chance := v.peers(part, 0x800, 8, 128, 0, good)
	hit := &headerHit{at: at, check: CheckNone}
	o := v.odds()
	nop := o.exactly("\x00\x00\x00\x00")
	hit.bits = must((o.among(0x0B)*o.within(0xF0, 0xFF) + o.among(0x10)*o.among(0)) * nop)
	pairs := 1
	for i := 1; i < 4; i++ {
		holds := good(at + 8*i)
		hit.bits += may(holds, chance)
		if holds {
			pairs++
		}
	}
	hit.say("{} of the first 4 pairs of words are a jump and an empty delay slot", words.Count(pairs))
	return hit
}

// testPowerPC is code at the exception addresses 100h, 200h to D00h: the first word of each a branch (48), a return
// from interrupt (4C000064) or a save to a special register (7Cxx03A6 or 7Cxx43A6).
func testPowerPC(v *headerView, part headerSpan) *headerHit {
	at := part.from
	if part.len() < 0x4000 {
		return nil
	}
	good := func(at int) bool {
		word := v.be32(at)
		return word>>24 == 0x48 && word&3 != 2 || word == 0x4C000064 ||
			word>>26 == 0x7C>>2 && (word&0xFFFF == 0x43A6 || word&0xFFFF == 0x03A6)
	}
	used := 0
	for place := 0x100; place <= 0xD00; place += 0x100 {
		if good(at + place) {
			used++
		}
	}
	if used < 3 {
		return nil
	}
	// Elsewhere such words are as common as in any code, and in tables they may be common at any stride.
	chance := v.peers(part, 0x3000, 0x20, 1024, v.odds().among(0x48), good)
	hit := &headerHit{at: at, check: CheckNone, bits: float64(used)*may(true, chance) + float64(13-used)*may(false, chance)}
	hit.say("{} of 13 exception addresses from 100 to D00 begin as handlers do", words.Count(used))
	return hit
}
