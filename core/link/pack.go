package link

import "strings"

// phrases are what findings say, with their figures left out: one byte each in a link, where figures and all else stand as
// they are. They are known by their place, so this list is part of version 1 of the form and never changes: a sentence that
// changed since only takes more room. A vertical bar parts them.
const phrases = `All are alive: each moves, and no two always move together.|Stored swapped: the two bytes of each 16-bit word stand the ` +
	`other way round than the CPU sees them.|Stored as the CPU sees it.|Stored with |Cannot tell: nothing here reads right in one ` +
	`order only.|No code of a CPU that Lunette knows stands out.|None found: no sum that makers build in closes here. Many ROMs ` +
	`have none.|None: no byte repeats | times in a row.|A whole, good |Nothing wrong shows in this | image, |stored swapped.|stored ` +
	`as the CPU sees it.|stored with |bytes swapped in 16-bit words|16-bit halves exchanged in 32-bit words|32-bit words reversed|` +
	`bits mirrored in each byte|Nothing wrong shows in these |: every line is alive.|, though they do not exercise every line.| ` +
	`KiB, a size that chips have.| bytes, a size that chips have.| of content, | bits a byte.| code, in | pieces of the | looked at.|` +
	`Holds: the | over the |whole image|first half|second half|first quarter|second quarter|third quarter|fourth quarter| closes, ` +
	`which is a hint only.|Perhaps: the |Perhaps | code: a hint, no more.|: a hint, no more.|leading sum of 16-bit words|closing sum ` +
	`of 32-bit words| with end-around carry|closing sum of 16-bit words|closing 16-bit sum of bytes|closing exclusive-or of 16-bit ` +
	`words|closing 8-bit sum of bytes|closing exclusive-or of bytes| change what is read.|The lower |; for those above see Repeats.|` +
	`Address line A|Each of address lines | changes nothing.| never leaves low| never leaves high| always read the same| in the even ` +
	`bytes| in the odd bytes| odd lines in all.|, but this content may not use it.| of content are too few to tell.|The same | stand ` +
	`twice.| stand | times.| repeat to the end.|Content stops at |, half of the way|, a quarter of the way|three quarters| of the way; ` +
	`the rest is |; the rest is |Padded with |: the last | hold nothing else.| bytes of FF| bytes of 00| KiB of FF| KiB of 00| of other ` +
	`repeated bytes| % in | runs: | run: |Blank: all | read FF, as an erased chip does.|All | read FF.| read 00.|Nothing was read: all ` +
	`| are 00.|Nothing drove the data bus: the bytes follow the address.|Dense from end to end: | bits a byte, like random or packed ` +
	`data.|These bytes look like noise: nothing in them shows whether the read is good.|Only | are anything but a repeated byte.|Too ` +
	`little to judge by: | of content.|Nearly all of it is readable text: |This is text from end to end, more like a document than a ` +
	`chip.| is no chip's size|: more than |, less than |, less than any memory chip holds.|, as long as its own header says.|The ` +
	`evidence disagrees: | speaks for |Two byte orders stand in this one dump.|Set by hand: |You set it: |. The evidence says ` +
	`otherwise.|Either |: this CPU exists in both byte orders, and nothing here decides.| In words that begin | late: the dump lost or ` +
	`gained bytes at its start.| does not pass its own check.| start vectors at |expansion ROM|readable text|a built-in sum|a header| ` +
	`bytes| KiB| MiB| at | and |, addresses |Intel HEX|Motorola S-record| without data, | in all, shown as FF.| are missing from the ` +
	`file.|as stored`

// phraseAt returns the phrase that a byte of a packed text stands for, "" for none: bytes 1 to 1F and from 7F on.
func phraseAt(c byte) string {
	row := int(c) - 1
	if c >= 0x7F {
		row = int(c) - 0x7F + 31
	}
	if c == 0 || row >= len(phraseList) || c >= ' ' && c < 0x7F {
		return ""
	}
	return phraseList[row]
}

var phraseList = strings.Split(phrases, "|")

// appendPacked appends printable ASCII text as a packed text: the longest phrase at each place or the character itself, and
// a zero at the end.
func appendPacked(b []byte, text string) []byte {
	for text != "" {
		code, length := text[0], 1
		for c := 1; c < 256; c++ {
			if p := phraseAt(byte(c)); len(p) > length && strings.HasPrefix(text, p) {
				code, length = byte(c), len(p)
			}
		}
		b, text = append(b, code), text[length:]
	}
	return append(b, 0)
}

// unpack returns the packed text at the head of b and what follows it. ok is false when the text does not end, has more than
// maxText characters, or a byte that stands for nothing.
func unpack(b []byte) (text string, rest []byte, ok bool) {
	var out []byte
	for i, c := range b {
		p := phraseAt(c)
		switch {
		case c == 0:
			return string(out), b[i+1:], true
		case c >= ' ' && c < 0x7F:
			out = append(out, c)
		case p == "":
			return "", nil, false
		default:
			out = append(out, p...)
		}
		if len(out) > maxText {
			break
		}
	}
	return "", nil, false
}
