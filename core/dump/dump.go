// Package dump answers: what bytes does this file hold, and where do they belong?
//
// Load takes a file as it comes (raw binary, Intel HEX, Motorola S-record, any of them inside gzip or zip) and returns the
// dumps in it; FromHexText takes what somebody pasted. Both go by content; a name never decides.
//
// The way of a file: load.go recognises what it is; gzip.go and zip.go unpack by way of inflate.go and hand what comes out
// back to load.go; hex.go and srecord.go read their records line by line (lines.go), and image.go lays the records out.
// text.go takes what was pasted and listing.go reads its rows. Whatever is wrong is a FormatError (errors.go), one for
// each thing that could not be read; what could be read is returned beside it.
package dump

//go:generate go run lunette/core/jsontext/generate

// Limits of what Load takes.
const (
	MaxBytes = 64 << 20 // bytes in one dump
	MaxDumps = 256      // dumps in one file, those that could not be read included

	// MaxText is the most text, in bytes, that is read as records or as a listing. A dump of MaxBytes in records of 16
	// bytes takes 45 characters a record, 180 MiB.
	MaxText = 4 * MaxBytes

	// MaxUnpacked is the most that one file may grow to, in bytes: everything unpacked from it, layer by layer, and the
	// images laid out from records, their gaps included.
	MaxUnpacked = 4 * MaxBytes

	// MaxDepth is how many packings may stand inside each other.
	MaxDepth = 3
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

// The formats Load and FromHexText know.
const (
	Raw     Format = "raw binary"
	HEX     Format = "Intel HEX"
	SRecord Format = "Motorola S-record"
	Listing Format = "hex text" // FromHexText only
	Gzip    Format = "gzip"     // in Packing and in errors
	Zip     Format = "zip"      // in Packing and in errors
)

// A Dump is the content of one chip as somebody read it, with where it came from.
type Dump struct {
	Name string // the file's name; for a member of an archive, its path inside, folders kept

	// Bytes is the content; bytes in Gaps are FF, as an erased cell reads. Raw binary is not copied: Bytes is then the
	// very memory that Load was given, or a part of it, and whoever changes one changes the other.
	Bytes []byte

	Format  Format   // how the bytes were written down
	Packing []string // what was unpacked to reach them, outermost first: "zip", "gzip"
	Base    uint64   // address of Bytes[0] by the file's own records; 0 for raw binary
	Start   *uint64  // address at which execution begins by the file's own records, if they say so
	Gaps    []Range  // offsets that no record covered, ascending; never for raw binary
	Notes   []string // what is odd but no error, each a sentence
}
