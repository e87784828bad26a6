package marks

import "lunette/core/words"

// Vectors below FFFF, at the end of the image: the 6502's and the 6800's. They have no self-check.

// test6502 is the 6502's vectors at the end: NMI, RESET, IRQ. RESET must lead into the image as it is mapped to end at
// FFFF, with LDX # and TXS near by: without them nothing reaches what a claim needs. It often leads to SEI, CLD, LDX or
// a jump, and CLD follows.
func test6502(v *headerView, part headerSpan) *headerHit {
	code := v.topVector(part, part.to-4, 6, v.le16)
	if code < 0 {
		return nil
	}
	setsStack, clears := false, false
	for i := range 12 {
		setsStack = setsStack || v.at(code+i) == 0xA2 && v.at(code+i+2) == 0x9A
		clears = clears || v.at(code+i) == 0xD8
	}
	if !setsStack {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: part.to - 6, check: CheckNone, bits: must(v.topChance(part, v.le16))}
	hit.bits += may(isOneOf(v.at(code), "\x78\xD8\xA2\xA9\x4C"), o.among(0x78, 0xD8, 0xA2, 0xA9, 0x4C))
	hit.bits += may(true, min(0.5, 12*o.among(0xA2)*o.among(0x9A))) + may(clears, min(0.5, 12*o.among(0xD8)))
	for i, name := range []string{"NMI", "RESET", "IRQ"} {
		hit.say("{} at {}", name, words.Hex(uint64(v.le16(part.to-6+2*i)), 4))
	}
	hit.say("LDX # and TXS follow RESET")
	return hit
}

// test6800 is the 6800's and 6809's vectors at the end, high byte first: RESET must lead into the image as it is mapped
// to end at FFFF; LDS, SEI or ORCC there make it stronger, and so do further vectors that lead inside.
func test6800(v *headerView, part headerSpan) *headerHit {
	// In a large image most words lead inside: four vectors and six bits for the instruction are all there can be.
	if least := float64(part.len()) / (1 << 16); !v.tells(4*must(least) + 6) {
		return nil
	}
	code := v.topVector(part, part.to-2, 8, v.be16)
	if code < 0 {
		return nil
	}
	first := v.at(code)
	good := isOneOf(first, "\x8E\x0F") || first == 0x10 && v.at(code+1) == 0xCE || first == 0x1A && v.at(code+1) == 0x50
	chance := v.topChance(part, v.be16)
	hit := &headerHit{at: part.to - 8, check: CheckNone, bits: must(chance)}
	hit.bits += may(good, v.odds().among(0x8E, 0x0F))
	inside := 0
	for place := part.to - 8; place < part.to-2; place += 2 {
		good := v.be16(place) >= 1<<16-part.len() && v.be16(place) != v.be16(part.to-2)
		hit.bits += may(good, chance)
		if good {
			inside++
		}
	}
	hit.say("RESET at {}, {} of IRQ, SWI and NMI inside", words.Hex(uint64(v.be16(part.to-2)), 4), words.Count(inside))
	return hit
}

// topVector returns where the word at reset leads in the arranged image, of a CPU that starts from a vector under FFFF.
// It is -1 unless that is in the part and not in its last size bytes.
func (v *headerView) topVector(part headerSpan, reset, size int, word func(at int) int) (code int) {
	code = part.to - 1<<16 + word(reset)
	if first := v.at(code); code < part.from || code >= part.to-size || first == 0xFF || first == 0x00 ||
		v.steady(part.to, v.be16) || v.steady(part.to, v.le16) {
		return -1
	}
	return code
}

// topChance returns the chance that a word leads into the part, which counts the words before the vectors too.
func (v *headerView) topChance(part headerSpan, word func(at int) int) float64 {
	shown := min(part.len(), 1<<16)
	return v.peers(part, part.len()-0xC0, 2, 64, v.odds().within(256-(shown+255)>>8, 255),
		func(at int) bool { return word(at) >= 1<<16-shown })
}

// steady tells whether the last two 16-bit words before to differ from the two before them by the same: a ramp,
// whatever the order of its words.
func (v *headerView) steady(to int, word func(at int) int) bool {
	return uint16(word(to-2)-word(to-6)) == uint16(word(to-4)-word(to-8))
}
