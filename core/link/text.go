package link

import (
	"strings"
	"unicode/utf8"
)

const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// base64url returns b in base64url, unpadded.
func base64url(b []byte) string {
	text := make([]byte, 0, (4*len(b)+2)/3)
	hold, bits := 0, 0
	for _, c := range b {
		hold, bits = hold<<8|int(c), bits+8
		for ; bits >= 6; bits -= 6 {
			text = append(text, alphabet[hold>>(bits-6)&63])
		}
		hold &= 63
	}
	if bits > 0 {
		text = append(text, alphabet[hold<<(6-bits)&63])
	}
	return string(text)
}

// fromBase64url returns the whole bytes that text begins with; ok is false when it has other characters than base64url.
func fromBase64url(text string) (b []byte, ok bool) {
	hold, bits := 0, 0
	for i := range len(text) {
		value := strings.IndexByte(alphabet, text[i])
		if value < 0 {
			return nil, false
		}
		hold, bits = hold<<6|value, bits+6
		if bits >= 8 {
			bits -= 8
			b = append(b, byte(hold>>bits))
		}
		hold &= 0xFF
	}
	return b, true
}

// clean returns text as one line of at most so many characters and 240 bytes: no control characters, no marks that turn the
// direction of writing or show as nothing, no white space at the ends or twice in a row, and U+FFFD for what is not UTF-8.
func clean(text string, limit int) string {
	var b []byte
	gap := 0
	for _, c := range text {
		if isUnseen(c) {
			gap = min(1, len(b))
			continue
		}
		if limit -= gap + 1; limit < 0 || len(b)+gap+utf8.RuneLen(c) > 240 {
			break
		}
		b = append(b, " "[:gap]...)
		b, gap = utf8.AppendRune(b, c), 0
	}
	return string(b)
}

// isUnseen tells whether c is white space, a control or format character (Unicode, general categories Zs, Zl, Zp, Cc and
// those of Cf that hide or turn text; from memory).
func isUnseen(c rune) bool {
	switch {
	case c <= ' ', c >= 0x7F && c <= 0xA0, c == 0xAD, c == 0x061C, c == 0x1680, c == 0x180E, c == 0x3000, c == 0xFEFF:
		return true
	}
	return c >= 0x2000 && c <= 0x200F || c >= 0x2028 && c <= 0x202F || c >= 0x205F && c <= 0x206F || c >= 0xFFF9 && c <= 0xFFFB || c >= 0xE0000
}

// ascii returns text as a packed text holds it: what is not printable ASCII becomes a question mark, what is too long is cut.
func ascii(text string, limit int) string {
	b := []byte(text)[:min(len(text), limit-3)]
	for i, c := range b {
		if c < ' ' || c > '~' {
			b[i] = '?'
		}
	}
	return string(b)
}

// shorter returns text without its last character and with an ellipsis at its end.
func shorter(text, ellipsis string) string {
	text = strings.TrimSuffix(text, ellipsis)
	_, size := utf8.DecodeLastRuneInString(text)
	text = strings.TrimRight(text[:len(text)-size], " ")
	if text == "" {
		return ""
	}
	return text + ellipsis
}
