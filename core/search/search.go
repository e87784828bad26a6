// Package search answers: where in this image do these bytes or this text stand?
//
// It reads the image through an arrangement, window by window, so nothing is copied whole.
package search

import (
	"bytes"
	"errors"
	"strconv"
	"strings"

	"lunette/core/arrange"
	"lunette/core/words"
)

// MaxPattern is the longest pattern in bytes.
const MaxPattern = 256

// A Pattern is what to look for: a byte b matches place i when b AND Mask[i] equals Value[i].
type Pattern struct {
	Value []byte
	Mask  []byte
}

// Text returns the pattern of a text, letters A to Z in either case. Characters outside ASCII stand for their UTF-8 bytes.
func Text(text string) (Pattern, error) {
	p := Pattern{Value: []byte(text), Mask: bytes.Repeat([]byte{0xFF}, len(text))}
	for i, b := range p.Value {
		if lower := b | 0x20; 'a' <= lower && lower <= 'z' {
			p.Mask[i] = 0xDF
			p.Value[i] = b & 0xDF
		}
	}
	return p, p.check()
}

// Hex returns the pattern of bytes written in hex: "4E 56 FF F8" or "4e56fff8", with ? for any one digit, "4E ?? 4E75".
func Hex(text string) (Pattern, error) {
	var p Pattern
	digits := strings.Join(strings.Fields(strings.ReplaceAll(text, ",", " ")), "")
	if len(digits)%2 != 0 {
		return p, errors.New(words.Fill("{} are not whole bytes; write two for each byte, as in 4E 56", words.Plural(len(digits), "hex digit")))
	}
	for i := 0; i < len(digits); i += 2 {
		var value, mask byte
		for _, digit := range digits[i : i+2] {
			value, mask = value<<4, mask<<4
			if digit == '?' {
				continue
			}
			n, err := strconv.ParseUint(string(digit), 16, 8)
			if err != nil {
				return p, errors.New(words.Fill("{} is no hex digit; bytes are written with 0 to 9 and A to F, ? stands for any digit",
					strconv.QuoteRune(digit)))
			}
			value, mask = value|byte(n), mask|0x0F
		}
		p.Value, p.Mask = append(p.Value, value), append(p.Mask, mask)
	}
	return p, p.check()
}

func (p Pattern) check() error {
	switch {
	case len(p.Value) == 0:
		return errors.New("nothing to look for: type text, or bytes in hex")
	case len(p.Value) > MaxPattern:
		return errors.New(words.Fill("{} are more than the {} that can be looked for", words.Plural(len(p.Value), "byte"), strconv.Itoa(MaxPattern)))
	case bytes.Count(p.Mask, []byte{0}) == len(p.Mask):
		return errors.New("a pattern of ? alone matches everywhere; give at least one digit")
	}
	return nil
}

// matches tells whether p stands at the start of data, which is at least as long.
func (p Pattern) matches(data []byte) bool {
	for i, value := range p.Value {
		if data[i]&p.Mask[i] != value {
			return false
		}
	}
	return true
}

// anchor returns the place of a byte of p that is fully known, so that bytes.IndexByte can race to it; ok is false when
// there is none.
func (p Pattern) anchor() (place int, ok bool) {
	for i, mask := range p.Mask {
		if mask == 0xFF {
			return i, true
		}
	}
	return 0, false
}

// window is how many bytes are looked at in one piece.
const window = 64 << 10

// Find looks for p in the image of stored as arranged by a. It returns the offsets in that image of the first most
// matches, ascending, and how many there are in all; matches may overlap. progress, which may be nil, is told how many
// bytes have been looked at, every 64 KiB.
func Find(stored []byte, a arrange.Arrangement, p Pattern, most int, progress func(done int)) (offsets []int, total int) {
	size := a.Len(len(stored))
	buffer := make([]byte, window+len(p.Value)-1)
	anchor, anchored := p.anchor()
	for from := 0; from+len(p.Value) <= size; from += window {
		piece := buffer[:a.Copy(buffer, stored, from)]
		places := len(piece) - len(p.Value) + 1
		for i := 0; i < places; i++ {
			if anchored {
				skip := bytes.IndexByte(piece[i+anchor:places+anchor], p.Value[anchor])
				if skip < 0 {
					break
				}
				i += skip
			}
			if !p.matches(piece[i:]) {
				continue
			}
			if total++; len(offsets) < most {
				offsets = append(offsets, from+i)
			}
		}
		if progress != nil {
			progress(min(from+window, size))
		}
	}
	return offsets, total
}
