package dump

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"strconv"
	"strings"
	"unicode/utf8"

	"lunette/core/words"
)

// zip, by "APPNOTE.TXT - .ZIP File Format Specification", PKWARE. Section numbers are of version 6.3 (from memory).
// Everything is read from the central directory; members may be stored or deflated.
//
// It is our own reader because archive/zip would cost 150 KB of the page's first visit.

// Marks and fixed sizes in bytes of the parts.
const (
	zipEndFixed    = 22 // 4.3.16 end of central directory record
	zipEntryFixed  = 46 // 4.3.12 entry of the central directory
	zipLocalFixed  = 30 // 4.3.7 local file header
	zipMostComment = 1<<16 - 1
)

var (
	zipEndMark   = []byte("PK\x05\x06")
	zipEntryMark = []byte("PK\x01\x02")
	zipLocalMark = []byte("PK\x03\x04")
	zipSplitMark = []byte("PK\x07\x08") // 8.5.4 before the first member of an archive in several parts
	zipSpareMark = []byte("PK00")       // 8.5.4 the same where one part was enough
)

// Bits of a member's flags (4.4.4).
const (
	zipEncrypted    = 1 << 0
	zipUTF8         = 1 << 11
	zipMaskedHeader = 1 << 13
)

// Methods that are read (4.4.5).
const (
	zipStored   = 0
	zipDeflated = 8
)

// zipOtherMethods names the methods that are not read (4.4.5).
var zipOtherMethods = []struct {
	method uint16
	name   string
}{
	{1, "shrunk"},
	{2, "reduced"}, {3, "reduced"}, {4, "reduced"}, {5, "reduced"},
	{6, "imploded"},
	{9, "Deflate64"},
	{12, "bzip2"},
	{14, "LZMA"},
	{93, "Zstandard"},
	{95, "XZ"},
	{98, "PPMd"},
}

// A zipEntry is what the central directory says of a member. Sizes are in bytes, offset is that of its local header.
type zipEntry struct {
	name           string
	flags, method  uint16
	crc            uint32
	packed, length uint32
	offset         uint32
}

// isZip reports whether data begins as a zip archive does: with a member, or with the end if there is none.
func isZip(data []byte) bool {
	if bytes.HasPrefix(data, zipSplitMark) || bytes.HasPrefix(data, zipSpareMark) {
		return bytes.HasPrefix(data[len(zipSplitMark):], zipLocalMark)
	}
	return bytes.HasPrefix(data, zipLocalMark) || bytes.HasPrefix(data, zipEndMark)
}

// unzip loads each member of f that is not a folder.
func (l *loader) unzip(f file) {
	if l.tooDeep(f, Zip) {
		return
	}
	entries, end, err := zipDirectory(f.data)
	if rest := f.data[end:]; len(bytes.Trim(rest, "\x00\x1A")) > 0 {
		f.notes = append(f.notes, words.Fill("Left out: {} after the end of the zip archive, from offset {} on.",
			words.Plural(len(rest), "byte"), hexOffset(end)))
	}
	folder := "" // of an archive inside an archive
	if f.member != "" {
		folder = f.name + "/"
	}
	for i, entry := range entries {
		if l.full() {
			err = wrongFile(Zip, "only {} of its files were looked at: one file may hold {} dumps; unpack it and open some of them",
				words.Count(i)+" of "+words.Count(len(entries)), words.Count(MaxDumps))
			break
		}
		member := f.unpacked(Zip, folder+entry.name, nil)
		member.member = member.name
		data, err := l.zipMember(f.data, entry)
		if err != nil {
			l.problem(member, err)
			continue
		}
		member.data = data
		l.load(member)
	}
	if err == nil && len(entries) == 0 {
		err = wrongFile(Zip, "the archive holds no files")
	}
	if err != nil {
		l.problem(f, err)
	}
}

// zipDirectory returns the members of an archive but for its folders, as the central directory lists them, and where the
// archive ends. If the directory is damaged, the members before the damage are returned with the error.
func zipDirectory(data []byte) (entries []zipEntry, end int, err *FormatError) {
	at, end := findZipEnd(data)
	if at < 0 {
		return nil, len(data), wrongAt(Zip, len(data),
			"the file ends without the archive's central directory; it was cut short, get it again")
	}
	var (
		disk   = binary.LittleEndian.Uint16(data[at+4:])
		count  = binary.LittleEndian.Uint16(data[at+10:])
		offset = binary.LittleEndian.Uint32(data[at+16:])
	)
	switch {
	case count == 0xFFFF || offset == 0xFFFFFFFF: // 4.4.1.4
		return nil, end, wrongAt(Zip, at, "the archive is of the zip64 kind, for more or larger files than are read here; unpack it first")
	case disk != 0:
		return nil, end, wrongAt(Zip, at, "the archive goes on over several files, this is number {}; unpack it first", words.Count(int(disk)+1))
	}
	next := int(offset)
	for i := range int(count) {
		entry, length := zipEntryAt(data[:at], next)
		if length == 0 {
			return entries, end, wrongAt(Zip, next, "entry {} of {} of the central directory is damaged or missing; get the file again",
				words.Count(i+1), words.Count(int(count)))
		}
		next += length
		if !strings.HasSuffix(entry.name, "/") { // 4.4.17.1
			entries = append(entries, entry)
		}
	}
	return entries, end, nil
}

// findZipEnd returns the offset of the end record of the last archive in data and where the archive ends: after the
// record and a comment of up to 65,535 bytes. Without an archive at is -1 and end the end of data.
func findZipEnd(data []byte) (at, end int) {
	from := max(0, len(data)-zipEndFixed-zipMostComment)
	for tail := data[from:]; ; tail = data[from:at] {
		at = bytes.LastIndex(tail, zipEndMark)
		if at < 0 {
			return -1, len(data)
		}
		if at += from; at+zipEndFixed <= len(data) {
			end = at + zipEndFixed + int(binary.LittleEndian.Uint16(data[at+20:]))
			if end <= len(data) {
				return at, end
			}
		}
	}
}

// zipEntryAt reads the entry of the central directory at an offset and returns it with its length in bytes, 0 if there
// is no whole entry.
func zipEntryAt(data []byte, at int) (entry zipEntry, length int) {
	if at > len(data) || len(data)-at < zipEntryFixed || !bytes.HasPrefix(data[at:], zipEntryMark) {
		return entry, 0
	}
	fixed := data[at:]
	number := binary.LittleEndian.Uint16
	nameEnd := zipEntryFixed + int(number(fixed[28:]))
	length = nameEnd + int(number(fixed[30:])) + int(number(fixed[32:])) // extra field and comment
	if length > len(fixed) {
		return entry, 0
	}
	entry = zipEntry{
		flags:  number(fixed[8:]),
		method: number(fixed[10:]),
		crc:    binary.LittleEndian.Uint32(fixed[16:]),
		packed: binary.LittleEndian.Uint32(fixed[20:]),
		length: binary.LittleEndian.Uint32(fixed[24:]),
		offset: binary.LittleEndian.Uint32(fixed[42:]),
	}
	entry.name = zipName(fixed[zipEntryFixed:nameEnd], entry.flags)
	return entry, length
}

// zipMember returns the content of a member, checked against the declared length and CRC-32. A stored member is not
// copied.
func (l *loader) zipMember(data []byte, entry zipEntry) ([]byte, *FormatError) {
	offset := int(entry.offset)
	switch {
	case entry.flags&(zipEncrypted|zipMaskedHeader) != 0:
		return nil, wrongAt(Zip, offset, "the member is encrypted; unpack it with its password and open what comes out")
	case entry.method != zipStored && entry.method != zipDeflated:
		return nil, wrongAt(Zip, offset, "the member is packed by method {}, which is not read here; unpack it first",
			zipMethodName(entry.method))
	case entry.packed == 0xFFFFFFFF || entry.length == 0xFFFFFFFF || entry.offset == 0xFFFFFFFF: // 4.4.8, 4.4.9, 4.4.16
		return nil, wrongFile(Zip, "the member is of the zip64 kind, for larger files than are read here; unpack it first")
	case offset > len(data) || len(data)-offset < zipLocalFixed || !bytes.HasPrefix(data[offset:], zipLocalMark):
		return nil, wrongAt(Zip, offset, "the member's header is damaged or missing; get the file again")
	}
	header := data[offset:]
	from := offset + zipLocalFixed + int(binary.LittleEndian.Uint16(header[26:])) + int(binary.LittleEndian.Uint16(header[28:]))
	to := from + int(entry.packed)
	if to > len(data) {
		return nil, wrongAt(Zip, offset, "the member is to end at offset {}, the file ends at {}; get it again",
			hexOffset(to), hexOffset(len(data)))
	}
	content := data[from:to:to]
	if entry.method == zipDeflated {
		var err *FormatError
		if content, _, err = l.inflate(nil, data[:to], from, int(entry.length), Zip); err != nil {
			return nil, err
		}
		l.room -= len(content)
	}
	if len(content) != int(entry.length) {
		return nil, wrongAt(Zip, offset, "the member's length is given as {}, but {} came out; get the file again",
			words.Plural(int(entry.length), "byte"), words.Count(len(content)))
	}
	if computed := crc32.ChecksumIEEE(content); computed != entry.crc {
		return nil, wrongAt(Zip, offset, "CRC-32 is {}, computed {} over {}; get the file again",
			words.Hex(uint64(entry.crc), 8), words.Hex(uint64(computed), 8), words.Plural(len(content), "byte"))
	}
	return content, nil
}

// zipMethodName names a method by its number and, if it is known, its name.
func zipMethodName(method uint16) string {
	number := strconv.Itoa(int(method))
	for _, other := range zipOtherMethods {
		if other.method == method {
			return number + " (" + other.name + ")"
		}
	}
	return number
}

// zipName returns a member's name: UTF-8 if the flag says so or it reads as such, since many writers forget the flag;
// code page 437 otherwise (appendix D.1).
func zipName(name []byte, flags uint16) string {
	if flags&zipUTF8 != 0 || utf8.Valid(name) {
		return string(name)
	}
	runes := make([]rune, len(name))
	for i, c := range name {
		runes[i] = rune(c)
		if c >= 0x80 {
			runes[i] = codePage437[c-0x80]
		}
	}
	return string(runes)
}

// codePage437 is the upper half of IBM code page 437.
var codePage437 = []rune("" +
	"ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒ" +
	"áíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐" +
	"└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀" +
	"αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0")
