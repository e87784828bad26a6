package dump

import (
	"bytes"
	"compress/flate"
	"io"

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
	packed := data[from:]
	source := bytes.NewReader(packed)
	l.openStream(source)
	limit := min(MaxBytes, l.room)
	if len(out) > limit { // text that earlier members of a gzip file began
		limit = min(MaxText, l.room)
	}
	if out == nil {
		out = make([]byte, 0, min(declared, deflateMost*len(packed), limit)+1) // one more shows the end
	}
	for {
		if len(out) == cap(out) {
			out = withRoom(out, min(2*len(out)+1, limit+1))
		}
		n, err := l.stream.Read(out[len(out):min(cap(out), limit+1)])
		out = out[:len(out)+n]
		at := from + len(packed) - source.Len()
		if len(out) > limit {
			if _, isText := recordText(out); !isText || limit >= min(MaxText, l.room) {
				return nil, at, l.tooMuch(limit, at-from, len(packed), at, format)
			}
			limit = min(MaxText, l.room)
		}
		switch err {
		case nil:
		case io.EOF:
			return out, at, nil
		case io.ErrUnexpectedEOF:
			return nil, at, wrongAt(format, at, "the packed data breaks off here, after {} came out; get the file again",
				words.Plural(len(out), "byte"))
		default: // flate.CorruptInputError; nothing else comes from memory
			return nil, at, wrongAt(format, at, "the packed data is damaged here, after {} came out; get the file again",
				words.Plural(len(out), "byte"))
		}
	}
}

// openStream begins a deflate stream, with the tables and the window of the last one: a gzip file may hold millions.
func (l *loader) openStream(source *bytes.Reader) {
	if l.stream == nil {
		l.stream = flate.NewReader(source)
		return
	}
	_ = l.stream.(flate.Resetter).Reset(source, nil) // always nil; every reader of compress/flate has Reset
}

// withRoom returns out with room for size bytes in all, moved if need be.
func withRoom(out []byte, size int) []byte {
	if size <= cap(out) {
		return out
	}
	return append(make([]byte, 0, size), out...)
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
