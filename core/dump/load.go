package dump

import (
	"bytes"
	"encoding/binary"
	"slices"
	"strings"

	"lunette/core/words"
)

// Load returns the dumps in a file. The name is for the result alone; what the file is follows from its bytes:
//
//   - gzip, if it begins with 1F 8B 08 and no reserved flag is set;
//   - zip, if it begins with the mark of a member, PK 03 04, or of an empty archive, PK 05 06;
//   - Intel HEX or Motorola S-record, if more than half of the bytes looked at stand in lines that read as such records
//     (see recordText). A ROM that happens to begin with 3A stays a ROM, and a text with a damaged line, be it the
//     first, is not taken for one: it gives an error that names the line;
//   - raw binary otherwise.
//
// Packings may stand inside each other, MaxDepth deep. Each member of an archive is a dump; folders are skipped. An
// image in records that spans more than MaxBytes is cut at its widest gaps into several dumps.
//
// The error is nil or of type Errors, with one FormatError for each file or member that could not be read. The dumps
// that could be read are returned beside it.
func Load(name string, data []byte) ([]Dump, error) {
	l := loader{room: MaxUnpacked}
	l.load(file{name: name, data: data})
	if l.problems != nil {
		return l.dumps, l.problems
	}
	return l.dumps, nil
}

// A loader gathers the dumps and the problems of one file that somebody opened.
type loader struct {
	dumps    []Dump
	problems Errors
	room     int // bytes that may still be unpacked or laid out
}

// A file is what is looked at: the file that was opened, or something unpacked from it.
type file struct {
	name    string   // as a dump of it is called
	member  string   // path by which an error names it: empty for the file that was opened
	data    []byte   // its content
	packing []string // what was unpacked to reach it
	notes   []string // what was odd on the way
}

// load recognises f and takes the dumps out of it.
func (l *loader) load(f file) {
	if len(f.data) == 0 {
		l.problem(f, wrongFile(Raw, "the file is empty; read the chip again"))
		return
	}
	if isGzip(f.data) {
		l.gunzip(f)
	} else if isZip(f.data) {
		l.unzip(f)
	} else if format, ok := recordText(f.data); ok {
		l.records(f, format)
	} else {
		l.raw(f)
	}
}

// full reports whether as many dumps were met as one file may hold.
func (l *loader) full() bool { return len(l.dumps)+len(l.problems) >= MaxDumps }

// problem notes that f could not be read.
func (l *loader) problem(f file, err *FormatError) {
	err.Name = f.member
	l.problems = append(l.problems, err)
}

// tooDeep reports, and notes as a problem, that f is packed once more than is looked into.
func (l *loader) tooDeep(f file, format Format) bool {
	if len(f.packing) < MaxDepth {
		return false
	}
	l.problem(f, wrongFile(format, "{} packed inside {}: more than {} deep; unpack it once and open what comes out",
		string(format), words.List(f.packing), words.Count(MaxDepth)))
	return true
}

// unpacked returns what came out of f under its new name.
func (f file) unpacked(format Format, name string, data []byte) file {
	f.name, f.data = name, data
	f.packing = append(slices.Clip(f.packing), string(format)) // clipped: members of an archive must not share what they add
	f.notes = slices.Clip(f.notes)
	return f
}

// raw takes f as the bytes of a chip, uncopied.
func (l *loader) raw(f file) {
	if len(f.data) > MaxBytes {
		l.problem(f, wrongFile(Raw, "the file holds {}, a dump at most {}; cut it into parts",
			words.Size(len(f.data)), words.Size(MaxBytes)))
		return
	}
	notes := f.notes
	switch {
	case bytes.HasPrefix(f.data, gzipMark):
		notes = append(notes, "It begins with the mark of gzip, 1F 8B 08, but with reserved flags; it was taken as raw binary.")
	case isWideText(f.data):
		notes = append(notes, "It is text of records in 16-bit characters (UTF-16), taken as raw binary; "+
			"to read the records, save the text in plain ASCII and open that.")
	case isHexDigits(f.data):
		notes = append(notes, "It is text of hex digits, taken as raw binary; to read the bytes that it lists, paste the text.")
	default:
		if at, end := findZipEnd(f.data); at >= 0 && end == len(f.data) {
			notes = append(notes, "It ends as a zip archive does but begins with something else; it was taken as raw binary. "+
				"To reach the archive's members, unpack them first.")
		}
	}
	l.dumps = append(l.dumps, Dump{Name: f.name, Bytes: f.data, Format: Raw, Packing: f.packing, Notes: notes})
}

// records lays out the records of f.
func (l *loader) records(f file, format Format) {
	images, said, err := layOut(f.data, format, l.room)
	if err != nil {
		l.problem(f, err)
		return
	}
	for _, image := range images {
		name := f.name
		if len(images) > 1 {
			name += " at " + words.Hex(image.base, 8)
		}
		if l.full() {
			l.problem(f, wrongFile(format, "more than {} dumps in one file; the image at {} and what follows was left out",
				words.Count(MaxDumps), words.Hex(image.base, 8)))
			return
		}
		l.room -= len(image.bytes)
		l.dumps = append(l.dumps, Dump{
			Name: name, Bytes: image.bytes, Format: format, Packing: f.packing,
			Base: image.base, Start: said.start, Gaps: image.gaps,
			Notes: slices.Concat(f.notes, said.notes),
		})
	}
}

// Recognition of records looks at three samples: at the head, in the middle and at the tail of a file.
const (
	sampleBytes = 4 << 10
	longestLine = 2 + 2*(1+255) + 16 // an S-record of 255 bytes and some blanks, in characters; Intel HEX is shorter
)

// recordText reports in which form of records data is written, if it is.
//
// The rule: of the bytes in three samples, padding aside, more than half stand in lines that read as records. Such a
// line begins with the mark, and at least eight characters follow of which seven in eight are hex digits: damage to
// a line, or to a stretch of the file, does not hide what the rest is. Binary has no lines like that, but for the few
// that a ROM may contain as text. The cost does not depend on the size of data.
func recordText(data []byte) (Format, bool) {
	var total, hex, motorola int
	for _, at := range sampleStarts(len(data)) {
		sample := data[at:min(at+sampleBytes, len(data))]
		if at > 0 {
			sample = fromNextLine(sample)
		}
		lines := textLines{rest: sample}
		for lines.next() {
			line := lines.text
			total += len(line)
			switch {
			case len(line) == 0:
			case line[0] == ':' && mostlyHex(line[1:]):
				hex += len(line)
			case line[0]|0x20 == 's' && mostlyHex(line[1:]):
				motorola += len(line)
			}
		}
	}
	switch {
	case 2*hex > total:
		return HEX, true
	case 2*motorola > total:
		return SRecord, true
	}
	return Raw, false
}

// sampleStarts returns where the samples of a file of n bytes begin: they do not overlap, and cover a small file wholly.
func sampleStarts(n int) []int {
	if n <= 3*sampleBytes {
		return []int{0, sampleBytes, 2 * sampleBytes}[:(n+sampleBytes-1)/sampleBytes]
	}
	return []int{0, (n - sampleBytes) / 2, n - sampleBytes}
}

// fromNextLine returns sample without the rest of the line that began before it; all of it if no line is that long.
func fromNextLine(sample []byte) []byte {
	head := sample[:min(longestLine, len(sample))]
	if at := bytes.IndexAny(head, "\r\n"); at >= 0 {
		return sample[at:]
	}
	return sample
}

// mostlyHex reports whether what follows a record's mark reads as hex, damage allowed.
func mostlyHex(digits []byte) bool {
	good := 0
	for _, c := range digits {
		if hexValue[c] < 16 {
			good++
		}
	}
	return len(digits) >= 8 && 8*good >= 7*len(digits)
}

// isHexDigits reports whether the beginning of data is nothing but hex digits and what stands between them.
func isHexDigits(data []byte) bool {
	head := data[:min(sampleBytes, len(data))]
	return len(head) >= 8 && strings.Trim(string(head), "0123456789ABCDEFabcdefXx:, \t\r\n") == "" &&
		bytes.ContainsAny(head, "0123456789ABCDEFabcdef")
}

// isWideText reports whether data is records in 16-bit characters, as some editors save text: FF FE or FE FF, and every
// second byte 00.
func isWideText(data []byte) bool {
	if len(data) < 4 || data[0]^data[1] != 0xFE^0xFF || data[0] < 0xFE {
		return false
	}
	low := data[0] & 1 // FF FE: the low byte comes first
	narrow := make([]byte, 0, sampleBytes/2)
	for i := 2; i+1 < min(len(data), sampleBytes); i += 2 {
		character := binary.BigEndian.Uint16(data[i:])
		if low == 1 {
			character = binary.LittleEndian.Uint16(data[i:])
		}
		if character > 0x7F {
			return false
		}
		narrow = append(narrow, byte(character))
	}
	_, ok := recordText(narrow)
	return ok
}
