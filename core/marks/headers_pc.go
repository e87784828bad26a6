package marks

import (
	"lunette/core/words"
)

// Expansion ROMs and system ROMs of the PC, and what PCI made of them for other CPUs.

// romUnit is what expansion ROMs count their length in, and the step they begin at, in bytes.
const romUnit = 512

// romLead is how every expansion ROM begins.
const romLead = "\x55\xAA"

// A pciCode is what the code type of a PCI data structure means.
type pciCode struct {
	name   string
	family string
	summed bool // its bytes sum to zero by the standard
}

// pciCodes are the code types of the PCI Firmware Specification, by number.
var pciCodes = []pciCode{
	{"PC code", "x86", true},
	{"Open Firmware (FCode)", "", false},
	{"PA-RISC code", "hppa", false},
	{"EFI code", "", false},
}

// testExpansion is the ROM module of the PC: 55 AA, length in 512 bytes, entry code; the bytes sum to zero. One with a
// PCI data structure is left to testPCI.
func testExpansion(v *headerView, part headerSpan) *headerHit {
	at := part.from
	if _, ok := v.pciData(at); ok {
		return nil
	}
	units := v.at(at + 2)
	if units <= 0 {
		return nil
	}
	jump := v.at(at + 3)
	hit := &headerHit{at: at, length: units * romUnit, check: CheckNone}
	hit.bits = must(v.odds().exactly(romLead)) + may(jump == 0xEB || jump == 0xE9, v.odds().among(0xEB, 0xE9)) +
		may(hit.length == v.n-at, v.odds().among(byte(units)))
	if !v.inside(at, hit.length) {
		hit.check = CheckUnknown
		hit.say("it says it is {} long, and {} follow", words.Size(hit.length), words.Size(v.n-at))
		return hit
	}
	v.checkROM(hit, hit.length, must(1.0/256))
	return hit
}

// checkROM sums length bytes from the hit on, which should give zero modulo 256; when they do the hit gains bits.
func (v *headerView) checkROM(hit *headerHit, length int, bits float64) {
	sum := v.unitSum(hit.at, hit.at+length)
	hit.expected, hit.found = "00", words.Byte(sum)
	hit.check = CheckFails
	if sum == 0 {
		hit.check = CheckHolds
		hit.bits += bits
	}
	hit.say("its {} sum to {} modulo 256, where 00 is due", words.Size(length), words.Byte(sum))
}

// unitSum returns the sum modulo 256 of the bytes between two multiples of 512. When as much has been summed as the
// image is long, the sums up to each are kept: an image that claims an expansion ROM at every step costs two passes and
// not a hundred thousand.
func (v *headerView) unitSum(from, to int) byte {
	if v.summed += to - from; v.summed <= v.n {
		return byte(v.byteSum(from, to))
	}
	if v.unitSums == nil {
		v.unitSums = make([]byte, v.n/romUnit+1)
		var sum byte
		v.each(0, v.n/romUnit*romUnit, func(j int, b byte) {
			sum += b
			if (j+1)%romUnit == 0 {
				v.unitSums[(j+1)/romUnit] = sum
			}
		})
	}
	return v.unitSums[to/romUnit] - v.unitSums[from/romUnit]
}

// pciData returns where the PCI data structure of the expansion ROM at at stands; ok is false when it has none.
func (v *headerView) pciData(at int) (data int, ok bool) {
	pointer := v.le16(at + 0x18)
	data = at + pointer
	return data, pointer >= 0x1A && v.inside(data, 0x18) && v.starts(data, "PCIR")
}

// testPCI is an expansion ROM with a PCI data structure. Images chain: each says how long it is and whether it is the
// last.
func testPCI(v *headerView, part headerSpan) *headerHit {
	at := part.from
	data, ok := v.pciData(at)
	if !ok {
		return nil
	}
	units, kind := v.le16(data+0x10), v.at(data+0x14)
	size := v.le16(data + 0x0A)
	if units == 0 || size < 0x18 || size > 0x100 {
		return nil
	}
	hit := &headerHit{at: at, length: units * romUnit, check: CheckNotAsked}
	hit.bits = must(v.odds().exactly(romLead)) + must(v.odds().exactly("PCIR")) + must(v.odds().among(0)) +
		may(kind < len(pciCodes), v.odds().among(0, 1, 2, 3))
	hit.last, hit.next = v.at(data+0x15)&0x80 != 0, at+hit.length
	hit.say("PCI vendor {}, device {}", words.Hex(uint64(v.le16(data+4)), 4), words.Hex(uint64(v.le16(data+6)), 4))
	if kind >= len(pciCodes) {
		hit.say("code type {}, which the standard does not name", words.Byte(byte(kind)))
	} else {
		hit.say("code type {}: {}", words.Byte(byte(kind)), pciCodes[kind].name)
		hit.family = pciCodes[kind].family
	}
	switch {
	case !v.inside(at, hit.length):
		hit.check = CheckUnknown
		hit.say("it says it is {} long, and {} follow", words.Size(hit.length), words.Size(v.n-at))
	case kind < len(pciCodes) && pciCodes[kind].summed:
		v.checkPCI(hit, v.at(at+2)*romUnit)
	}
	return hit
}

// checkPCI sums a PC image over the length of its first header, or over that of the PCI data structure when the other
// does not close. Two tries cost a bit.
func (v *headerView) checkPCI(hit *headerHit, short int) {
	const bits = 8 - 1
	if short > 0 && short < hit.length && v.unitSum(hit.at, hit.at+short) == 0 {
		v.checkROM(hit, short, bits)
		return
	}
	v.checkROM(hit, hit.length, bits)
}

// testPlugAndPlay is the Plug and Play header of an expansion ROM, which the word at 1Ah points to.
func testPlugAndPlay(v *headerView, part headerSpan) *headerHit {
	at := part.from + v.le16(part.from+0x1A)
	if at < part.from+0x1A || !v.starts(at, "$PnP\x01") {
		return nil
	}
	length := 16 * v.at(at+5)
	if length < 32 || !v.inside(at, length) {
		return nil
	}
	sum := byte(v.byteSum(at, at+length))
	hit := &headerHit{at: at, length: length, check: CheckFails, expected: "00", found: words.Byte(sum)}
	hit.bits = must(v.odds().exactly(romLead)) + must(v.odds().exactly("$PnP\x01"))
	if sum == 0 {
		hit.check = CheckHolds
		hit.bits += must(1.0 / 256)
	}
	hit.say("device class {} {} {}", words.Byte(byte(v.at(at+0x12))), words.Byte(byte(v.at(at+0x13))), words.Byte(byte(v.at(at+0x14))))
	for _, pointer := range []int{0x0E, 0x10} {
		if text := v.le16(at + pointer); text > 0 {
			if name := v.line(part.from + text); name != "" {
				hit.say("names itself \"{}\"", name)
			}
		}
	}
	return hit
}

// line returns the printable ASCII from j to a zero, empty when it is no such text of 3 to 64 characters.
func (v *headerView) line(j int) string {
	for length := range 65 {
		switch c := v.at(j + length); {
		case c == 0 && length >= 3:
			return v.text(j, length)
		case c < 0x20 || c > 0x7E:
			return ""
		}
	}
	return ""
}

// testSystemROM is the last 16 bytes of the PC's system ROM: a far jump, a date, a model byte. The self-check is that
// the date is one.
func testSystemROM(v *headerView, part headerSpan) *headerHit {
	at := part.to - 16
	if v.at(at) != 0xEA || v.at(at+7) != '/' || v.at(at+10) != '/' {
		return nil
	}
	o := v.odds()
	hit := &headerHit{at: at, length: 16, check: CheckFails, expected: "a date as MM/DD/YY", found: v.text(at+5, 8)}
	month, day := v.number(at+5), v.number(at+8)
	hit.bits = must(o.among(0xEA)) + 2*must(o.among('/')) + may(v.at(at+4) >= 0xF0, o.within(0xF0, 0xFF))
	if v.number(at+11) >= 0 && month >= 1 && month <= 12 && day >= 1 && day <= 31 {
		hit.check = CheckHolds
		// The chances of two digits are 12, 31 and 100 in as many pairs of bytes as there are pairs of digits.
		digit := must(o.within('0', '9'))
		hit.bits += 6*digit + must(12.0/100) + must(31.0/100)
	}
	hit.say("entry at {}:{}", words.Hex(uint64(v.le16(at+3)), 4), words.Hex(uint64(v.le16(at+1)), 4))
	hit.say("date {}", hit.found)
	hit.say("model byte {}", words.Byte(byte(v.at(at+14))))
	return hit
}

// number returns the value of two ASCII digits at j, -1 when they are none.
func (v *headerView) number(j int) int {
	tens, ones := v.at(j)-'0', v.at(j+1)-'0'
	if tens < 0 || tens > 9 || ones < 0 || ones > 9 {
		return -1
	}
	return 10*tens + ones
}

// test8086 is the start of the 8086 family 16 bytes before the end: a far jump to a segment of the last 128 KiB whose
// target lies in the image, or a near one. A segment that is a multiple of 4 KiB makes it stronger, and so does FA
// (CLI), FC (CLD) or another jump at the target.
func test8086(v *headerView, part headerSpan) *headerHit {
	at := part.to - 16
	o := v.odds()
	hit := &headerHit{at: at, length: 16, check: CheckNone}
	target := 0 // relative to the end of the part
	switch v.at(at) {
	case 0xEA:
		target = v.le16(at+3)<<4 + v.le16(at+1) - 1<<20
		hit.bits = must(o.among(0xEA)) - 1 + must(o.within(0xE0, 0xFF)) + may(v.at(at+3) == 0, o.among(0)) // -1: two forms
		if v.at(at+4) < 0xE0 {
			return nil
		}
		hit.say("far jump to {}:{}", words.Hex(uint64(v.le16(at+3)), 4), words.Hex(uint64(v.le16(at+1)), 4))
	case 0xE9:
		target = -16 + 3 + int(int16(v.le16(at+1)))
		hit.bits = must(o.among(0xE9)) - 1 + must(0.5)
		hit.say("near jump to {} bytes before the end", words.Count(-target))
	default:
		return nil
	}
	if target >= -16 || -target > part.len() {
		return nil
	}
	first := v.at(part.to + target)
	hit.bits += may(first == 0xFA || first == 0xFC || first == 0xE9 || first == 0xEB || first == 0xEA,
		o.among(0xFA, 0xFC, 0xE9, 0xEB, 0xEA))
	hit.say("the byte there is {}", words.Byte(byte(first)))
	return hit
}
