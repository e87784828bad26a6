// Package dump answers: what bytes does this file hold, and where do they belong?
//
// Load takes a file as it comes (raw binary, Intel HEX, Motorola S-record, any of them inside gzip or zip) and returns the
// dumps in it. It goes by content; a name never decides alone.
package dump

// Limits of what Load takes.
const (
	MaxBytes = 64 << 20 // bytes in one dump
	MaxDumps = 256      // dumps in one file
)

// A Range is a half-open stretch of offsets in bytes: From is in it, To is not.
type Range struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// Len returns the length of r in bytes.
func (r Range) Len() int { return r.To - r.From }

// A Format is how a file wrote its bytes down.
type Format string

// The formats Load knows.
const (
	Raw     Format = "raw binary"
	HEX     Format = "Intel HEX"
	SRecord Format = "Motorola S-record"
)

// A Dump is the content of one chip as somebody read it, with where it came from.
type Dump struct {
	Name    string   // the file's name; for a member of an archive, its path inside, folders kept
	Bytes   []byte   // the content; bytes in Gaps are FF, as an erased cell reads
	Format  Format   // how the bytes were written down
	Packing []string // what was unpacked to reach them, outermost first: "zip", "gzip"
	Base    uint64   // address of Bytes[0] by the file's own records; 0 for raw binary
	Start   *uint64  // address at which execution begins by the file's own records, if they say so
	Gaps    []Range  // offsets that no record covered, ascending; never for raw binary
	Notes   []string // what is odd but no error, each a sentence
}
