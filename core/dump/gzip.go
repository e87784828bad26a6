package dump

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"strings"

	"lunette/core/words"
)

// gzip, by RFC 1952 "GZIP file format specification version 4.3". Section numbers are of that document.

// Flags in the fourth byte of a member's header (2.3.1).
const (
	gzipHeaderCRC = 1 << 1
	gzipExtra     = 1 << 2
	gzipName      = 1 << 3
	gzipComment   = 1 << 4
	gzipReserved  = 0xE0
)

const (
	gzipFixed   = 10 // bytes of the header before its optional parts
	gzipTrailer = 8  // CRC-32 and length of what comes out, low byte first
)

// gzipMark is ID1, ID2 and the only compression method, deflate.
var gzipMark = []byte{0x1F, 0x8B, 0x08}

// isGzip reports whether data begins as a gzip file does.
func isGzip(data []byte) bool {
	return bytes.HasPrefix(data, gzipMark) && (len(data) < 4 || data[3]&gzipReserved == 0)
}

// gunzip unpacks f and loads what comes out. Several members make one file (2.2). Zeros after the last member are padding;
// anything else there is left out and noted.
func (l *loader) gunzip(f file) {
	if l.tooDeep(f, Gzip) {
		return
	}
	var (
		out  []byte
		name string
		at   int
	)
	for at == 0 || isGzip(f.data[at:]) {
		memberName, from, err := gzipHeader(f.data, at)
		if err != nil {
			l.problem(f, err)
			return
		}
		if at == 0 {
			name = memberName
		}
		before := len(out)
		// The last four bytes of the file are the length of what the last member holds, the only one as a rule.
		out, at, err = l.inflate(out, f.data, from, int(binary.LittleEndian.Uint32(f.data[len(f.data)-4:])), Gzip)
		if err == nil {
			err = checkGzipTrailer(f.data, at, out[before:])
		}
		if err != nil {
			l.problem(f, err)
			return
		}
		at += gzipTrailer
	}
	l.room -= len(out)
	if rest := f.data[at:]; len(bytes.Trim(rest, "\x00")) > 0 {
		f.notes = append(f.notes, words.Fill("Left out: {} after the end of the gzip data, from offset {} on.",
			words.Plural(len(rest), "byte"), hexOffset(at)))
	}
	l.load(f.unpacked(Gzip, gunzippedName(f.name, name), out))
}

// gzipHeader reads the header of the member at offset `at` and returns the name in it, if it has one, and where the
// packed data begins.
func gzipHeader(data []byte, at int) (name string, end int, err *FormatError) {
	cut := wrongAt(Gzip, len(data), "the file ends within the gzip header; get the file again")
	end = at + gzipFixed
	if end > len(data) {
		return "", 0, cut
	}
	flags := data[at+3]
	if flags&gzipExtra != 0 {
		if end+2 > len(data) {
			return "", 0, cut
		}
		end += 2 + int(binary.LittleEndian.Uint16(data[end:]))
	}
	for _, flag := range []byte{gzipName, gzipComment} { // each ends with a zero
		if flags&flag == 0 {
			continue
		}
		length := bytes.IndexByte(data[min(end, len(data)):], 0)
		if length < 0 {
			return "", 0, cut
		}
		if flag == gzipName {
			name = fromLatin1(data[end : end+length])
		}
		end += length + 1
	}
	if flags&gzipHeaderCRC != 0 {
		if end+2 > len(data) {
			return "", 0, cut
		}
		found, computed := binary.LittleEndian.Uint16(data[end:]), uint16(crc32.ChecksumIEEE(data[at:end]))
		if found != computed {
			return "", 0, wrongAt(Gzip, end, "header checksum is {}, computed {}; get the file again",
				words.Hex(uint64(found), 4), words.Hex(uint64(computed), 4))
		}
		end += 2
	}
	if end >= len(data) {
		return "", 0, cut
	}
	return name, end, nil
}

// checkGzipTrailer compares what came out of a member with the trailer at offset `at` (2.3.1, CRC32 and ISIZE).
func checkGzipTrailer(data []byte, at int, out []byte) *FormatError {
	if at+gzipTrailer > len(data) {
		return wrongAt(Gzip, len(data), "the file ends before the checksum of its {}; get the file again",
			words.Plural(len(out), "unpacked byte"))
	}
	if found, computed := binary.LittleEndian.Uint32(data[at:]), crc32.ChecksumIEEE(out); found != computed {
		return wrongAt(Gzip, at, "CRC-32 is {}, computed {} over {}; get the file again",
			words.Hex(uint64(found), 8), words.Hex(uint64(computed), 8), words.Plural(len(out), "unpacked byte"))
	}
	if found := binary.LittleEndian.Uint32(data[at+4:]); found != uint32(len(out)) {
		return wrongAt(Gzip, at+4, "unpacked length is given as {}, but {} came out; get the file again",
			words.Plural(int(found), "byte"), words.Count(len(out)))
	}
	return nil
}

// gunzippedName is the name of what was in a gzip file: the folder of the outer name and the name in the header, without
// one the outer name less ".gz".
func gunzippedName(outer, inHeader string) string {
	if inHeader != "" {
		return outer[:strings.LastIndexByte(outer, '/')+1] + inHeader
	}
	if stem := len(outer) - len(".gz"); stem > 0 && strings.EqualFold(outer[stem:], ".gz") {
		return outer[:stem]
	}
	return outer
}

// fromLatin1 reads ISO 8859-1, the script of names in a gzip header (2.3.1, FNAME).
func fromLatin1(name []byte) string {
	runes := make([]rune, len(name))
	for i, c := range name {
		runes[i] = rune(c)
	}
	return string(runes)
}
