package dump

import (
	"errors"
	"strconv"
	"strings"

	"lunette/core/words"
)

// A FormatError says what is wrong with a file, where, and what to do about it.
type FormatError struct {
	Name    string // path of the archive's member; empty where the file itself is meant
	Format  Format // what the file was read as
	Line    int    // line of the text, from 1; 0 for files that are not text or for a text as a whole
	Column  int    // character of that line, from 1; 0 if the whole line is meant
	Offset  int    // offset in bytes into the file or the unpacked member; -1 where Line or nothing says the place
	Message string // found and expected values, what to do; lower case, no full stop
}

// Error returns the message with the place before it: "roms/u7.hex: line 14: record checksum is 3A, computed 3B".
func (e *FormatError) Error() string {
	var b strings.Builder
	if e.Name != "" {
		b.WriteString(e.Name + ": ")
	}
	switch {
	case e.Line > 0 && e.Column > 0:
		b.WriteString("line " + strconv.Itoa(e.Line) + ", column " + strconv.Itoa(e.Column) + ": ")
	case e.Line > 0:
		b.WriteString("line " + strconv.Itoa(e.Line) + ": ")
	case e.Offset >= 0:
		b.WriteString("offset " + hexOffset(e.Offset) + ": ")
	}
	b.WriteString(e.Message)
	return b.String()
}

// Errors is everything that went wrong with one file, in the order of its members. It is never empty.
type Errors []error

// Error returns the errors one a line.
func (e Errors) Error() string {
	texts := make([]string, len(e))
	for i, err := range e {
		texts[i] = err.Error()
	}
	return strings.Join(texts, "\n")
}

// Unwrap lets errors.Is and errors.As look at each of the errors.
func (e Errors) Unwrap() []error { return e }

// Problems lists one by one what an error of this package is about; none for nil.
func Problems(err error) []error {
	var several Errors
	switch {
	case err == nil:
		return nil
	case errors.As(err, &several):
		return several
	}
	return []error{err}
}

// wrongFile is an error about a file as a whole.
func wrongFile(format Format, template string, parts ...string) *FormatError {
	return &FormatError{Format: format, Offset: -1, Message: words.Fill(template, parts...)}
}

// wrongAt is an error at an offset into a file.
func wrongAt(format Format, offset int, template string, parts ...string) *FormatError {
	return &FormatError{Format: format, Offset: offset, Message: words.Fill(template, parts...)}
}

// wrongLine is an error in a line of a text; a column of 0 means the whole line.
func wrongLine(format Format, line, column int, template string, parts ...string) *FormatError {
	return &FormatError{Format: format, Line: line, Column: column, Offset: -1, Message: words.Fill(template, parts...)}
}

// hexOffset writes an offset into a file: 0x1FF0.
func hexOffset(offset int) string { return "0x" + words.Hex(uint64(offset), 1) }

// character names a character of a text by itself if it can be seen, and by its value if not.
func character(c byte) string {
	if ' ' < c && c < 0x7F {
		return strconv.Quote(string(rune(c)))
	}
	return "byte " + words.Byte(c)
}
