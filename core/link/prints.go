package link

import (
	"lunette/core/arrange"
	"lunette/core/digest"
)

// A hasher makes digests of a dump in any arrangement, through a window.
type hasher struct {
	stored      []byte
	window      []byte
	done, total int // bytes that were digested, and may have to be at the most
	progress    func(share float64)
	compared    int // prints that were compared
}

func newHasher(stored []byte, total int, progress func(share float64)) *hasher {
	return &hasher{stored: stored, window: make([]byte, 16<<10), total: max(1, total), progress: progress}
}

// sum returns the SHA-256, in hex, of the bytes from from to before to of the dump in arrangement a.
func (h *hasher) sum(a arrange.Arrangement, from, to int) string {
	d := digest.NewSHA256()
	for from < to {
		part := h.stored[from:min(to, from+len(h.window))]
		if a != arrange.Stored {
			part = h.window[:a.Copy(h.window[:min(to-from, len(h.window))], h.stored, from)]
		}
		d.Write(part)
		from += len(part)
		h.done += len(part)
		if h.progress != nil {
			h.progress(min(1, float64(h.done)/float64(h.total)))
		}
	}
	return hexOf(d.Sum())
}

// print is the first PrintBits of sum.
func (h *hasher) print(a arrange.Arrangement, from, to int) string {
	return h.sum(a, from, to)[:PrintBits/4]
}

// isFill tells whether the arranged bytes are one repeated byte, so that a print of them says little.
func (h *hasher) isFill(a arrange.Arrangement, from, to int) bool {
	for first := a.At(h.stored, from); from < to; from++ {
		if a.At(h.stored, from) != first {
			return false
		}
	}
	return true
}

const hexDigits = "0123456789abcdef"

func hexOf(b []byte) string {
	text := make([]byte, 0, 2*len(b))
	for _, c := range b {
		text = append(text, hexDigits[c>>4], hexDigits[c&15])
	}
	return string(text)
}

// appendHex appends the bytes that hex digits of either case stand for; digits come in pairs.
func appendHex(b []byte, text string) []byte {
	for i := 0; i+1 < len(text); i += 2 {
		b = append(b, nibble(text[i])<<4|nibble(text[i+1]))
	}
	return b
}

func nibble(c byte) byte {
	if c >= 'A' {
		return c&7 + 9
	}
	return c & 15
}
