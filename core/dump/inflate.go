package dump

import (
	"lunette/core/inflate"
	"lunette/core/words"
)

// deflateMost bounds how much a deflate stream can unpack to: at best 258 bytes come from two bits (RFC 1951, 3.2.5).
const deflateMost = 1032

// inflate unpacks the deflate stream (RFC 1951) at the head of data[from:], appends it to out, and returns where in data
// the stream ends. Declared is how many bytes the file says come out; it only saves growing and may be wrong.
//
// It stops with an error before more than MaxBytes have come out, MaxText if they read as records, or more than the
// loader has room for: what it allocates stays in proportion to these.
func (l *loader) inflate(out, data []byte, from, declared int, format Format) ([]byte, int, *FormatError) {
	var (
		packed = data[from:]
		before = len(out) // text that earlier members of a gzip file began may be beyond the first limit
		limit  = min(MaxBytes, l.room)
		most   = min(MaxText, l.room)
	)
	if before > limit {
		limit = most
	}
	if out == nil {
		out = make([]byte, 0, min(declared, deflateMost*len(packed), limit))
	}
	out, used, err := inflate.Append(out, packed, limit-before)
	if err == inflate.ErrTooLong && limit < most {
		if _, isText := recordText(out); isText { // once more, in the same memory; a file comes here once
			limit = most
			out, used, err = inflate.Append(out[:before], packed, limit-before)
		}
	}
	at := from + used
	switch err {
	case nil:
		return out, at, nil
	case inflate.ErrTooLong:
		return nil, at, l.tooMuch(limit, used, len(packed), at, format)
	case inflate.ErrTruncated:
		return nil, at, wrongAt(format, at, "the packed data breaks off here, after {} came out; get the file again",
			words.Plural(len(out), "byte"))
	default: // inflate.ErrDamaged
		return nil, at, wrongAt(format, at, "the packed data is damaged here, after {} came out; get the file again",
			words.Plural(len(out), "byte"))
	}
}

// tooMuch says that unpacking stopped at a limit, and how far it got.
func (l *loader) tooMuch(limit, used, packed, at int, format Format) *FormatError {
	why := "a dump holds no more"
	if limit == l.room {
		why = words.Fill("that is what was left of {} for one file", words.Size(MaxUnpacked))
	}
	return wrongAt(format, at, "more than {} come out of the packed data, stopped after {} of {} packed bytes; {}",
		words.Size(limit), words.Count(used), words.Count(packed), why)
}
