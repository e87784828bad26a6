package chips

import (
	"strconv"
	"strings"

	"lunette/core/words"
)

// A query is what a text asks for, word by word.
type query struct {
	part   string   // what is left when all else is read, in upper case without blanks
	sizes  []int    // bytes, any of them: "512K" can be KiB or Kbit
	pins   int      // 0 for any
	pack   string   // "DIP", "SOP"; "" for any
	bits   int      // 8 or 16; 0 for any
	kinds  []string // words that the kind must hold
	reason string   // how a device that has all this came to be found
}

// units are the sizes that people write behind a number, in bits; 0 means that the trade uses it for bytes and for bits. Case
// counts where it has a meaning: KB is bytes, Kb bits.
var units = map[string]int{
	"B": 8, "byte": 8, "bytes": 8,
	"KB": 8 << 10, "KiB": 8 << 10, "kB": 8 << 10, "Kbyte": 8 << 10, "Kbytes": 8 << 10,
	"MB": 8 << 20, "MiB": 8 << 20, "Mbyte": 8 << 20, "Mbytes": 8 << 20,
	"Kbit": 1 << 10, "kbit": 1 << 10, "Kb": 1 << 10, "Kbits": 1 << 10,
	"Mbit": 1 << 20, "mbit": 1 << 20, "Mb": 1 << 20, "Mbits": 1 << 20,
	"K": 0, "k": 0, "kb": 0, "M": 0, "m": 0, "mb": 0,
}

// kindWords are the words that name a kind, and what of Kind they stand for. "ROM" alone names all of them.
var kindWords = map[string]string{
	"UV": "UV", "EPROM": " EPROM", "OTP": "OTP", "EEPROM": "EEPROM", "FLASH": "flash", "MASK": "mask", "ROM": "",
}

// readQuery reads the words of a text. A word that is nothing else belongs to the part number.
func readQuery(text string) query {
	var q query
	list := strings.FieldsFunc(text, func(r rune) bool { return r <= ' ' || strings.ContainsRune(",;?!()\"'", r) })
	for i := 0; i < len(list); i++ {
		next := ""
		if i+1 < len(list) {
			next = list[i+1]
		}
		took := q.read(list[i], next)
		if took == 0 {
			q.addPart(strings.ToUpper(list[i]))
			took = 1
		}
		i += took - 1
	}
	return q
}

// addPart takes a word of the part number: one that is whole stands for itself, pieces are joined, and what follows a
// whole one (a speed, a date code) is none of it.
func (q *query) addPart(word string) {
	if _, whole := readNumber(q.part); whole {
		return
	}
	if _, whole := readNumber(word); whole {
		q.part = word
		return
	}
	q.part += word
}

// read takes a word and perhaps the next one, and returns how many of them it understood.
func (q *query) read(word, next string) int {
	upper := strings.ToUpper(word)
	if kind, ok := kindWords[upper]; ok {
		q.kinds = append(q.kinds, kind)
		q.say("kind")
		return 1
	}
	if upper == "X8" || upper == "X16" {
		q.bits, _ = strconv.Atoi(upper[1:])
		q.say("width")
		return 1
	}
	for _, pack := range []string{"DIP", "DIL", "SOP", "SO"} {
		rest, ok := strings.CutPrefix(upper, pack)
		if count, err := strconv.Atoi(strings.TrimPrefix(rest, "-")); ok && err == nil {
			q.pins = count
			q.pack = map[string]string{"DIP": "DIP", "DIL": "DIP", "SOP": "SOP", "SO": "SOP"}[pack]
			q.say("package")
			return 1
		}
	}
	digits := run(word, isDigit)
	if digits == 0 {
		return 0
	}
	count, err := strconv.Atoi(word[:digits])
	unit, took := strings.TrimPrefix(word[digits:], "-"), 1
	if err != nil {
		return 0
	}
	if unit == "" && next != "" {
		unit, took = next, 2
	}
	if upper := strings.ToUpper(unit); upper == "PIN" || upper == "PINS" {
		q.pins = count
		q.say("pins")
		return took
	}
	if bits, ok := units[unit]; ok && count <= 1<<30 {
		q.sizes = sizesOf(count, unit, bits)
		q.say("size")
		return took
	}
	if digits == len(word) && isCapacity(count) {
		q.sizes = []int{count}
		q.say("size")
		return 1
	}
	return 0
}

// sizesOf returns the sizes in bytes that a number and a unit may mean.
func sizesOf(count int, unit string, bits int) []int {
	if bits > 0 {
		return []int{count * bits / 8}
	}
	kilo := 1 << 10
	if unit[0]|0x20 == 'm' {
		kilo = 1 << 20
	}
	return []int{count * kilo, count * kilo / 8}
}

func isCapacity(size int) bool {
	for _, d := range catalogue() {
		if d.Capacity == size {
			return true
		}
	}
	return false
}

// say adds to the reason what was asked for.
func (q *query) say(what string) {
	if q.reason == "" {
		q.reason = "Found by " + what + "."
		return
	}
	q.reason = strings.TrimSuffix(q.reason, ".") + " and " + what + "."
}

// allows tells whether d has all that was asked for but the part number.
func (q *query) allows(d *Device) bool {
	fits := len(q.sizes) == 0
	for _, size := range q.sizes {
		fits = fits || size == d.Capacity
	}
	for _, kind := range q.kinds {
		fits = fits && strings.Contains(string(d.Kind), kind)
	}
	return fits && (q.pins == 0 || q.pins == d.PinCount) && (q.bits == 0 || d.HasBits(q.bits)) &&
		strings.HasPrefix(d.Package, q.pack)
}

// Title returns the family and what it is, for a list: "27C400, UV EPROM / OTP, 512 KiB, DIP-40".
func (d Device) Title() string {
	return words.Fill("{}, {}, {}, {}", d.ID, string(d.Kind), words.Size(d.Capacity), d.Package)
}
