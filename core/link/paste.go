package link

import (
	"strings"

	"lunette/core/arrange"
	"lunette/core/words"
)

// Pasted is a statement ready to paste, in three forms that say the same.
type Pasted struct {
	Plain    string `json:"plain"`    // plain text
	Forum    string `json:"forum"`    // markup in square brackets, as forums take it: [b], [code], [url=...]
	Markdown string `json:"markdown"` // CommonMark
}

// Texts returns s and the whole address of its link ready to paste. What a person wrote in the title cannot become markup.
func Texts(s Statement, url string) Pasted {
	title := s.Title
	if title == "" {
		title = "A ROM dump"
	}
	what := words.Size(s.Size) + ", " + s.Order.Name
	if s.Order.Sure == "cannot tell" {
		what = words.Size(s.Size) + ", byte order not known"
	}
	if s.CPU.Name != "" {
		what = words.Fill("{}, {} code, {}", words.Size(s.Size), s.CPU.Name, s.Order.Name)
	}
	state := s.Headline
	if s.State != "" {
		state = words.Fill("{}{}: {}", strings.ToUpper(string(s.State[:1])), string(s.State[1:]), s.Headline)
	}
	crc, sha, cpu := "CRC-32 "+s.CRC32, "SHA-256 "+s.SHA256, ""
	if s.Order.ID != arrange.Stored.ID() {
		cpu = "SHA-256 in the CPU's order " + s.SHA256CPU
	}
	const invitation = "Compare your own dump with it; no dump leaves your browser"

	sums := crc + "\n" + sha
	if cpu != "" {
		sums += "\n" + cpu
	}
	return Pasted{
		Plain: words.Fill("{}\n{}\n{}\n{}\n{}:\n{}\n", title, state, what, sums, invitation, url),
		Forum: words.Fill("[b]{}[/b]\n{}\n{}\n[code]{}[/code]\n[url={}]{}[/url]\n", unbracketed(title), unbracketed(state), unbracketed(what), sums,
			escapedURL(url), invitation),
		Markdown: words.Fill("**{}**\n\n{}\n\n{}\n\n```\n{}\n```\n\n[{}]({})\n", escaped(title), escaped(state), escaped(what), sums, invitation, escapedURL(url)),
	}
}

// unbracketed returns text with round brackets for square ones: markup in square brackets has no escape that all forums know
// (common practice, no source).
func unbracketed(text string) string {
	return strings.Map(func(c rune) rune {
		switch c {
		case '[':
			return '('
		case ']':
			return ')'
		}
		return c
	}, text)
}

// escaped returns text in which no ASCII punctuation is markup: a backslash before each (CommonMark 0.31, section 2.4).
func escaped(text string) string {
	var b []byte
	for _, c := range []byte(text) {
		if c > ' ' && c < 0x7F && !isLetterOrDigit(c) {
			b = append(b, '\\')
		}
		b = append(b, c)
	}
	return string(b)
}

func isLetterOrDigit(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
}

// escapedURL returns url with what could end it, in one markup or the other, as percent escapes (RFC 3986, section 2.1).
func escapedURL(url string) string {
	var b []byte
	for _, c := range []byte(url) {
		if c <= ' ' || c >= 0x7F || strings.IndexByte("()[]<>\"'`\\{}|^", c) >= 0 {
			b = append(b, '%', "0123456789ABCDEF"[c>>4], "0123456789ABCDEF"[c&15])
			continue
		}
		b = append(b, c)
	}
	return string(b)
}
