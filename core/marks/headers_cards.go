package marks

import (
	"math/bits"

	"lunette/core/words"
)

// ROMs of expansion cards and of workstation boards that describe themselves.

// testFCode is the header of an FCode program: start token, 08, 16-bit sum, 32-bit length. It stands at 0 of the ROM or
// where an expansion ROM's header points to, which is at any place; there it is tried from the ROM's start.
func testFCode(v *headerView, part headerSpan) *headerHit {
	return v.fcode(part.from)
}

// testPCIFCode is an FCode program inside an expansion ROM of code type 1: the word at 2 of the ROM points to it.
func testPCIFCode(v *headerView, part headerSpan) *headerHit {
	data, ok := v.pciData(part.from)
	if !ok || v.at(data+0x14) != 1 {
		return nil
	}
	hit := v.fcode(part.from + v.le16(part.from+2))
	if hit != nil {
		hit.bits += must(v.odds().exactly(romLead)) + must(v.odds().exactly("PCIR"))
	}
	return hit
}

// fcodeStarts are the tokens an FCode program can begin with: version1, start0, start1, start2, start4.
const fcodeStarts = "\xFD\xF0\xF1\xF2\xF3"

func (v *headerView) fcode(at int) *headerHit {
	length := int(v.be32(at + 4))
	if !isOneOf(v.at(at), fcodeStarts) || v.at(at+1) != 0x08 || length <= 16 || !v.inside(at, length) {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, length: length, check: CheckFails}
	hit.bits = must(o.among([]byte(fcodeStarts)...)) + must(o.among(0x08)) + o.belowBits(v.n-at) +
		may(length == v.n-at, 1.0/256)
	sum := uint16(v.byteSum(at+8, at+length))
	hit.expected, hit.found = words.Hex(uint64(sum), 4), words.Hex(uint64(v.be16(at+2)), 4)
	if int(sum) == v.be16(at+2) {
		hit.check = CheckHolds
		if v.variety(at+8, at+length) >= 8 {
			hit.bits += must(1.0 / (1 << 16))
		}
	}
	hit.say("FCode program of {}, start token {}", words.Plural(length, "byte"), words.Byte(byte(v.at(at))))
	return hit
}

// isOneOf tells whether b is one of the bytes of values.
func isOneOf(b int, values string) bool {
	for i := range len(values) {
		if b == int(values[i]) {
			return true
		}
	}
	return false
}

// belowBits returns the bits of a 32-bit value that is at most limit: its upper bytes are zero.
func (o *headerOdds) belowBits(limit int) (b float64) {
	for shift := 24; shift > 0 && limit>>shift == 0; shift -= 8 {
		b += must(o.among(0))
	}
	return b
}

// testNuBus is the format block at the end of a NuBus card's configuration ROM, with the byte lanes that are not used
// taken out:
//
//	-20 directory offset   -16 length   -12 sum   -8 revision   -7 format   -6 test pattern   -2 reserved   -1 byte lanes
func testNuBus(v *headerView, part headerSpan) *headerHit {
	end := part.to
	if !v.starts(end-6, "\x5A\x93\x2B\xC7\x00") || v.at(end-7) != 1 {
		return nil
	}
	lanes := v.at(end - 1)
	if lanes&0xF == 0 || lanes>>4 != ^lanes&0xF {
		return nil
	}
	length := int(v.be32(end - 16))
	o := v.odds()
	hit := &headerHit{at: end - 20, length: length, check: CheckUnknown}
	hit.bits = must(o.exactly("\x01\x5A\x93\x2B\xC7\x00")) + must(15.0/256)
	hit.say("byte lanes {}: {} of 4 used", words.Byte(byte(lanes)), words.Count(bits.OnesCount8(uint8(lanes&0xF))))
	hit.say("revision {}, {} by its own count", words.Byte(byte(v.at(end-8))), words.Plural(length, "byte"))
	if length < 20 || length > part.len() {
		return hit
	}
	hit.check = CheckFails
	hit.at = end - length
	sum := v.rotatingSum(end-length, end, end-12)
	hit.expected, hit.found = words.Hex(uint64(sum), 8), words.Hex(uint64(v.be32(end-12)), 8)
	if sum == v.be32(end-12) {
		hit.check = CheckHolds
		if v.variety(end-length, end) >= 8 {
			hit.bits += 32
		}
	}
	return hit
}

// rotatingSum rotates a 32-bit sum left by one and adds the next byte, over a stretch in which the four bytes at skip
// count as zero.
func (v *headerView) rotatingSum(from, to, skip int) (sum uint32) {
	v.each(from, to, func(j int, b byte) {
		if j >= skip && j < skip+4 {
			b = 0
		}
		sum = bits.RotateLeft32(sum, 1) + uint32(b)
	})
	return sum
}

// testROMPart is one byte-wide part of a workstation's ROM, or two or four of them joined as the CPU sees them. Each
// part says which byte lane it is, so that parts joined in the right order count up.
func testROMPart(v *headerView, part headerSpan) *headerHit {
	for _, lanes := range []int{4, 2, 1} {
		if hit := v.romParts(part, lanes); hit != nil {
			return hit
		}
	}
	return nil
}

func (v *headerView) romParts(part headerSpan, lanes int) *headerHit {
	at := part.from
	first := v.at(at + 3*lanes)
	kib := v.at(at + 7*lanes)
	if first < 0 || first+lanes > 4 || first%lanes != 0 || kib <= 0 || v.at(at+4*lanes) != 0x55 {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, length: kib << 10 * lanes, check: CheckUnknown}
	hit.bits = must(o.within(0, 4-lanes)) - 1.6 // log2 3: joined of four, of two, or not at all
	for lane := range lanes {
		if v.at(at+3*lanes+lane) != first+lane || v.at(at+7*lanes+lane) != kib {
			return nil
		}
		for i, b := range []byte{0x55, 0xAA, 0x33} {
			if v.at(at+(4+i)*lanes+lane) != int(b) {
				return nil
			}
			hit.bits += must(o.among(b))
		}
		if lane > 0 {
			hit.bits += must(o.among(byte(first+lane))) + must(o.among(byte(kib)))
		}
	}
	hit.say("{} of {} KiB, version {}", words.Plural(lanes, "part"), words.Count(kib), words.Byte(byte(v.at(at+2*lanes))))
	if lanes == 1 {
		hit.say("it is byte lane {}, bits {} to {} of the bus", words.Count(first), words.Count(8*first), words.Count(8*first+7))
	} else {
		hit.say("its byte lanes {} to {} stand in turn", words.Count(first), words.Count(first+lanes-1))
	}
	if v.inside(at, hit.length) {
		v.checkParts(hit, lanes)
	}
	return hit
}

// checkParts computes the 8-bit rotate-and-add of each part, which is its last byte.
func (v *headerView) checkParts(hit *headerHit, lanes int) {
	var sums [4]byte
	end := hit.at + hit.length
	v.each(hit.at, end-lanes, func(j int, b byte) {
		lane := (j - hit.at) % lanes
		sums[lane] = bits.RotateLeft8(sums[lane], 1) + b
	})
	hit.check = CheckHolds
	for lane, sum := range sums[:lanes] {
		stored := v.at(end - lanes + lane)
		hit.expected += words.Byte(sum)
		hit.found += words.Byte(byte(stored))
		if stored != int(sum) {
			hit.check = CheckFails
		}
	}
	if hit.check == CheckHolds {
		hit.bits += float64(8 * lanes)
	}
}

// optionPattern stands at 4 of an option ROM's header once the unused bytes of each 4-byte stride are taken out.
const optionPattern = "\x55\x00\xAA\xFF"

// testOption is the header of a TURBOchannel option ROM, as its one used byte lane shows it: width, stride, size, slot
// size, pattern, then ASCII fields of 8, 8, 8 and 4 characters.
func testOption(v *headerView, part headerSpan) *headerHit {
	for _, at := range []int{part.from, part.from + 0x3E0/4} {
		if v.starts(at+4, optionPattern) && v.at(at+1) == 4 && isOneOf(v.at(at), "\x01\x02\x04") {
			return v.option(at)
		}
	}
	return nil
}

func (v *headerView) option(at int) *headerHit {
	o := v.odds()
	hit := &headerHit{at: at, length: v.at(at+2) * 8192, check: CheckHolds, expected: "55 00 AA FF", found: "55 00 AA FF"}
	hit.bits = must(o.exactly(optionPattern)) + must(o.among(4)) + must(o.among(1, 2, 4)) - 1 // -1: two places
	for i := range 28 {
		c := v.at(at + 8 + i)
		if c != 0 && (c < 0x20 || c > 0x7E) {
			return nil
		}
		hit.bits += must(o.within(0x20, 0x7E) + o.among(0))
	}
	hit.say("{} wide, {} of ROM, slot of {} MiB", words.Plural(v.at(at), "byte"), words.Size(hit.length), words.Count(4*v.at(at+3)))
	hit.say("revision \"{}\", vendor \"{}\", module \"{}\", type \"{}\"",
		v.text(at+8, 8), v.text(at+16, 8), v.text(at+24, 8), v.text(at+32, 4))
	return hit
}

// testCartridge is the header of a cartridge or extension ROM of the MSX standard: "AB", four addresses, six zeros.
func testCartridge(v *headerView, part headerSpan) *headerHit {
	at := part.from
	if !v.starts(at, "AB") || !v.starts(at+10, "\x00\x00\x00\x00\x00\x00") {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, check: CheckNone}
	hit.bits = must(o.exactly("AB\x00\x00\x00\x00\x00\x00"))
	used := 0
	for i, name := range []string{"INIT", "STATEMENT", "DEVICE", "TEXT"} {
		switch address := v.le16(at + 2 + 2*i); {
		case address >= 0x4000 && address < 0xC000:
			used++
			hit.say("{} at {}", name, words.Hex(uint64(address), 4))
			hit.bits += must(o.within(0x40, 0xBF) + o.among(0)*o.among(0)) // the chance of this or of none
		case address == 0:
			hit.bits += must(o.within(0x40, 0xBF) + o.among(0)*o.among(0))
		default:
			return nil
		}
	}
	if used == 0 {
		hit.say("no entry: a ROM that only carries data")
	}
	return hit
}
