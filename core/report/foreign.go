package report

import (
	"lunette/core/dump"
	"lunette/core/words"
)

// A foreignRow is a kind of file that people open by mistake, and how it begins.
type foreignRow struct {
	name   string // with its article
	start  string // first bytes
	at     int    // where more stands,
	more   string // and what; empty for none
	what   string // is to be done
	source string
}

const (
	notADump  = "Choose the dump itself."
	unpackIt  = "Unpack it with the program that made it, and open what comes out."
	toBinary  = "It holds code beside notes for a loader. Take the code out first, as with objcopy -O binary, and open that."
	notAPhoto = "If it shows a chip's label, type the checksum printed there under Checksums of the dump."
)

var foreignRows = []foreignRow{
	{"a PNG picture", "\x89PNG\r\n\x1a\n", 0, "", notAPhoto, "ISO/IEC 15948, section 5.2"},
	{"a JPEG picture", "\xFF\xD8\xFF", 6, "JFIF\x00", notAPhoto, "ITU-T T.871, section 10"},
	{"a JPEG picture", "\xFF\xD8\xFF", 6, "Exif\x00", notAPhoto, "CIPA DC-008 (Exif 2.32), section 4.5.4"},
	{"a GIF picture", "GIF89a", 0, "", notAPhoto, "GIF89a specification, section 17"},
	{"a GIF picture", "GIF87a", 0, "", notAPhoto, "GIF specification of 1987, \"GIF signature\""},
	{"a PDF document", "%PDF-", 0, "", notADump, "ISO 32000-1, section 7.5.2"},
	{"an ELF program file", "\x7FELF\x01", 6, "\x01", toBinary, "System V ABI, \"ELF header\""},
	{"an ELF program file", "\x7FELF\x02", 6, "\x01", toBinary, "System V ABI, \"ELF header\""},
	{"a tar archive", "", 257, "ustar", unpackIt, "POSIX.1-2017, pax, \"ustar interchange format\""},
	{"an xz archive", "\xFD7zXZ\x00", 0, "", unpackIt, "The .xz file format 1.1.0, section 2.1.1.1"},
	{"a bzip2 archive", "BZh", 4, "1AY&SY", unpackIt, "common practice, no source; the block mark is pi in decimal digits"},
	{"a 7z archive", "7z\xBC\xAF\x27\x1C", 0, "", unpackIt, "common practice, no source"},
}

// foreign returns the row of what data is when it is no dump.
func foreign(data []byte) (row foreignRow, ok bool) {
	for _, row := range foreignRows {
		if begins(data, row.start) && len(data) > row.at && begins(data[row.at:], row.more) {
			return row, true
		}
	}
	return riff, begins(data, "RIFF") && riffSize(data) == len(data)
}

func begins(data []byte, start string) bool {
	return len(data) >= len(start) && string(data[:len(start)]) == start
}

var riff = foreignRow{name: "a sound, film or picture file (RIFF)", what: notADump,
	source: "Multimedia Programming Interface and Data Specifications 1.0, 1991"}

// riffSize returns the size that a RIFF file says it has, in bytes, 0 for one without.
func riffSize(data []byte) int {
	if len(data) < 8 {
		return 0
	}
	return 8 + int(data[4]) + int(data[5])<<8 + int(data[6])<<16 + int(data[7])<<24
}

// foreignFinding says when a raw file is something else than a dump.
func foreignFinding(d dump.Dump) (f Finding, found bool) {
	row, found := foreign(d.Bytes)
	return Finding{ID: "foreign", Severity: Unclear, Question: "File", Sure: Strong,
		Answer:   words.Fill("It begins as {} does.", row.name),
		headline: words.Fill("This is {}, not a dump of a chip.", row.name),
		Evidence: []Evidence{{Text: words.Fill("the first bytes are those of {} ({})", row.name, row.source), From: 0, To: min(16, len(d.Bytes))}},
		Next:     row.what}, found && d.Format == dump.Raw
}
