package chips

import (
	"strings"

	"lunette/core/words"
)

// A Match is a family that may be what a text names.
type Match struct {
	ID    string `json:"id"`    // the family
	Exact bool   `json:"exact"` // the text holds a part number of this family
	How   string `json:"how"`   // why it is here, as a sentence; what to look out for where it is not exact
}

// maxQuery is how much of a text is read, in bytes: more is no part number.
const maxQuery = 200

// Find returns the families that text names, exact ones first, else in the order of the catalogue. It reads part numbers as
// people write them, with a maker's letters before and speed and package behind: "27c512", "M27C400-100F1", "D27256",
// "27 C 400". Sizes ("512 KiB", "4 Mbit", "524288"), pins ("40 pins", "DIP-40"), widths ("x16") and kinds ("flash") narrow
// the list; an empty text gives all. What is in the table under other letters only (27V800 for 27C800) is found as inexact
// and says so.
func Find(text string) []Match {
	if len(text) > maxQuery {
		text = text[:maxQuery]
	}
	asked := readQuery(text)
	exact, inexact := []Match{}, []Match{}
	devices := catalogue()
	for i := range devices {
		d := &devices[i]
		if !asked.allows(d) {
			continue
		}
		match := Match{ID: d.ID}
		switch asked.part {
		case "":
			match.How = asked.reason
		default:
			if match.Exact, match.How = d.answersTo(asked.part); match.How == "" {
				continue
			}
		}
		if match.Exact {
			exact = append(exact, match)
		} else {
			inexact = append(inexact, match)
		}
	}
	if len(exact) > 0 && asked.part != "" {
		return exact // what is only alike would hide what was asked for
	}
	return append(exact, inexact...)
}

// answersTo tells whether part is a part number of d, and how they are alike; how is "" when they are not.
func (d *Device) answersTo(part string) (exact bool, how string) {
	asked, isNumber := readNumber(part)
	for _, ours := range d.numbers() {
		known, _ := readNumber(ours)
		switch {
		case !isNumber || asked.family != known.family || asked.size != known.size:
		case asked.letters == known.letters:
			if ours == d.ID {
				return true, words.Fill("{}: {} of {}.", ours, string(d.Kind), words.Size(d.Capacity))
			}
			return true, words.Fill("{} is in the table under {}: {} of {}.", ours, d.ID, string(d.Kind), words.Size(d.Capacity))
		case asked.letters == "" || known.letters == "":
			how = words.Fill("{} is in the table as {}; the letters tell the process apart, the pins are usually the same.",
				asked.String(), ours)
		default:
			how = words.Fill("{} is not in the table. {} has the same digits, other letters: the supply or the pins may differ "+
				"(V and LV are usually 3 V versions); check its data sheet.", asked.String(), ours)
		}
	}
	if how != "" {
		return false, how
	}
	for _, o := range otherwise {
		if isNumber && o.family == d.ID && o.number == asked.String() {
			return false, o.caution
		}
	}
	// What is still being typed.
	for _, ours := range append(d.numbers(), strings.ToUpper(d.ID)) {
		if len(part) >= 2 && strings.Contains(ours, part) {
			return false, words.Fill("{} stands in {}.", part, ours)
		}
	}
	return false, ""
}

// otherwise holds part numbers of devices that look like a family of the table and are not: to leave them out would send
// people to the wrong row.
var otherwise = [...]struct{ number, family, caution string }{
	{"27C100", "27C010", otherPins},
	{"27C301", "27C010", otherPins},
}

const otherPins = "Not a 27C010, though of the same size and with as many pins: OE is on pin 2 and A16 on pin 24, to match " +
	"28-pin 1 Mbit mask ROMs (from memory, check the data sheet)."

// numbers returns the part numbers of d in upper case: those in Parts, also out of "8 Mbit mask ROM (23C8001 style)".
func (d *Device) numbers() []string {
	var numbers []string
	for _, part := range d.Parts {
		for _, word := range strings.Fields(part) {
			word = strings.ToUpper(strings.TrimSuffix(strings.Trim(word, "()"), "-style"))
			if _, ok := readNumber(word); ok {
				numbers = append(numbers, word)
			}
		}
	}
	return numbers
}

// A number is a part number in pieces: 27, C, 400. Letters behind the size are versions and no part of it.
type number struct{ family, letters, size string }

func (n number) String() string { return n.family + n.letters + n.size }

// readNumber finds a part number in upper-case text: two digits, up to three letters, two to five digits. Letters may stand
// before it and anything but a digit behind.
func readNumber(text string) (n number, ok bool) {
	for from := 0; from < len(text); from++ {
		if !isDigit(text[from]) {
			continue
		}
		digits := run(text[from:], isDigit)
		if digits == 2 {
			rest := text[from+2:]
			if letters := run(rest, isLetter); letters >= 1 && letters <= 3 {
				if size := run(rest[letters:], isDigit); size >= 2 && size <= 5 {
					return number{text[from : from+2], rest[:letters], rest[letters : letters+size]}, true
				}
			}
		}
		if digits >= 4 && digits <= 7 {
			return number{text[from : from+2], "", text[from+2 : from+digits]}, true
		}
		from += digits
	}
	return number{}, false
}

// run returns how many of the first bytes of text are of a sort.
func run(text string, is func(byte) bool) int {
	n := 0
	for n < len(text) && is(text[n]) {
		n++
	}
	return n
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' }
