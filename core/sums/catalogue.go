package sums

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"lunette/core/words"
)

// A Row is one sum of the catalogue.
type Row struct {
	ID     string // stable
	Name   string // in the trade's words
	Group  string
	Bits   int    // width
	Check  string // its value for the nine ASCII digits "123456789", as the published catalogues give it
	Note   string // where it is met
	Source string // the document that defines it; "common practice, no source" where there is none
	rule   rule
	// unlikely orders the guesses of Explain: 0 is what labels usually carry, 3 what hardly anybody prints.
	unlikely int
}

// Groups of the catalogue, in its order.
const (
	groupSums    = "Sums"
	groupXors    = "Exclusive or"
	groupTurned  = "Rotating sums"
	groupCRCs    = "CRCs"
	groupDigests = "Digests"
	groupNegated = "Negated sums"
)

// Sources:
//
//	RFC 1071  Computing the Internet Checksum, 1988
//	RFC 1321  The MD5 Message-Digest Algorithm, 1992
//	RFC 1950  ZLIB Compressed Data Format Specification version 3.3, 1996
//	RFC 1952  GZIP file format specification version 4.3, 1996
//	FIPS 180-4  Secure Hash Standard, 2015
//	ISO 3309  HDLC procedures, frame structure
//	ITU-T V.42  Error-correcting procedures for DCEs
//	IEEE Std 1003.1  POSIX, utility cksum
//	coreutils  the manual of GNU coreutils, sum invocation
//	published CRC catalogues  the parameters and the check value, which do not name a standard of their own
//
// The check values were recomputed with coreutils, with Python's arithmetic and its zlib, binascii, bz2 and hashlib,
// and with the CRC library crcmod. outside_test.go compares whole images in the same way.
const (
	commonPractice = "common practice, no source"
	crcCatalogues  = "published CRC catalogues"
	wideRFC1071    = "RFC 1071 carried over to 32 bits; common practice"
)

// How the CRCs of the table read their bytes, and the start and end values that are all ones.
const (
	lowFirst  = true
	highFirst = false
	ones16    = 0xFFFF
	ones32    = 0xFFFFFFFF
)

// table holds the catalogue but for the negated sums, which negated makes from the sums. To add a sum, add a row.
//
// Words are two bytes and longs four; the bytes that an odd length lacks at the end count as 00.
var table = []Row{
	// ID, Name, Group, Bits, Check,
	//	Note, Source, rule, unlikely

	{"byte-sum-8", "8-bit byte sum", groupSums, 8, "DD",
		"on labels of small chips; closes many option ROMs", commonPractice, sum{shifts: byteShifts}, 0},
	{"byte-sum-16", "16-bit byte sum", groupSums, 16, "01DD",
		"usual on labels and in a reader's status line", commonPractice, sum{shifts: byteShifts}, 0},
	{"byte-sum-32", "32-bit byte sum", groupSums, 32, "000001DD",
		"shown by later readers", commonPractice, sum{shifts: byteShifts}, 0},
	{"word-sum-16-big", "16-bit word sum, high byte first", groupSums, 16, "09D4",
		"closes ROMs of big-endian machines", commonPractice, sum{shifts: wordBigShifts}, 1},
	{"word-sum-16-little", "16-bit word sum, low byte first", groupSums, 16, "D509",
		"shown by some readers for x16 chips", commonPractice, sum{shifts: wordLittleShifts}, 1},
	{"word-sum-32-big", "32-bit word sum, high byte first", groupSums, 32, "000109D4",
		"at the start of 68000 ROMs", commonPractice, sum{shifts: wordBigShifts}, 1},
	{"word-sum-32-little", "32-bit word sum, low byte first", groupSums, 32, "0000D509",
		"shown by some readers for x16 chips", commonPractice, sum{shifts: wordLittleShifts}, 1},
	{"long-sum-32-big", "32-bit long sum, high byte first", groupSums, 32, "9F686A6C",
		"in ROMs of 32-bit machines", commonPractice, sum{shifts: longBigShifts}, 2},
	{"long-sum-32-little", "32-bit long sum, low byte first", groupSums, 32, "6C6A689F",
		"in ROMs of 32-bit machines", commonPractice, sum{shifts: longLittleShifts}, 2},
	{"word-sum-carry-big", "16-bit word sum with end-around carry, high byte first", groupSums, 16, "09D5",
		"before it is inverted", "RFC 1071", sum{shifts: wordBigShifts, carry: carryEndAround}, 2},
	{"word-sum-carry-little", "16-bit word sum with end-around carry, low byte first", groupSums, 16, "D509",
		"before it is inverted", "RFC 1071", sum{shifts: wordLittleShifts, carry: carryEndAround}, 2},
	{"long-sum-carry-big", "32-bit long sum with end-around carry, high byte first", groupSums, 32, "9F686A6C",
		"FFFFFFFF over a 68000 system ROM that closes this way", wideRFC1071,
		sum{shifts: longBigShifts, carry: carryEndAround}, 2},
	{"long-sum-carry-little", "32-bit long sum with end-around carry, low byte first", groupSums, 32, "6C6A689F",
		"in ROMs of 32-bit machines", wideRFC1071,
		sum{shifts: longLittleShifts, carry: carryEndAround}, 2},

	{"xor-8", "exclusive or of the bytes", groupXors, 8, "31",
		"closes some ROMs with 00", commonPractice, xor{byteShifts}, 1},
	{"xor-16-big", "exclusive or of the words, high byte first", groupXors, 16, "3908",
		"closes some ROMs with 0000", commonPractice, xor{wordBigShifts}, 2},
	{"xor-16-little", "exclusive or of the words, low byte first", groupXors, 16, "0839",
		"closes some ROMs with 0000", commonPractice, xor{wordLittleShifts}, 2},

	{"rotate-add-8", "8-bit rotate left and add", groupTurned, 8, "18",
		"last byte of each lane in some workstation ROMs", "VAXstation 4000 model 90 technical information, table 2-4",
		turned(turnedLeft8), 2},
	{"rotate-add-32", "32-bit rotate left and add", groupTurned, 32, "000063C5",
		"in configuration ROMs of expansion cards", "format block of IEEE 1196 cards (from memory)", turned(turnedLeft32), 2},
	{"bsd-sum", "BSD sum (rotate right and add)", groupTurned, 16, "D16F",
		"sum -r prints it, in decimal", "coreutils", turned(turnedRight), 1},
	{"system-v-sum", "System V sum (byte sum folded to 16 bits)", groupTurned, 16, "01DD",
		"sum -s prints it, in decimal", "coreutils", folded{}, 1},

	//	crc{polynomial, init, bit order, xorout, with the length}
	{"crc-16-arc", "CRC-16/ARC", groupCRCs, 16, "BB3D",
		`in archives and service manuals, as plain "CRC-16"`, crcCatalogues, crc{poly8005, 0, lowFirst, 0, false}, 1},
	{"crc-16-modbus", "CRC-16/MODBUS", groupCRCs, 16, "4B37",
		"in controllers and instruments", crcCatalogues, crc{poly8005, ones16, lowFirst, 0, false}, 2},
	{"crc-16-xmodem", "CRC-16/XMODEM", groupCRCs, 16, "31C3",
		`in file transfer, often as "CRC-CCITT"`, crcCatalogues, crc{poly1021, 0, highFirst, 0, false}, 1},
	{"crc-16-ibm-3740", "CRC-16/IBM-3740", groupCRCs, 16, "29B1",
		`on disks and in service manuals, as "CCITT, start FFFF"`, crcCatalogues,
		crc{poly1021, ones16, highFirst, 0, false}, 1},
	{"crc-16-kermit", "CRC-16/KERMIT", groupCRCs, 16, "2189",
		"in file transfer", crcCatalogues, crc{poly1021, 0, lowFirst, 0, false}, 2},
	{"crc-32", "CRC-32", groupCRCs, 32, "CBF43926",
		"on later labels, in zip and gzip files and most lists of dumps", "ISO 3309, ITU-T V.42, RFC 1952",
		crc{poly32, ones32, lowFirst, ones32, false}, 0},
	{"cksum", "POSIX cksum (with the length)", groupCRCs, 32, "377A6011",
		"cksum prints it, in decimal", "IEEE Std 1003.1, cksum", crc{poly32, 0, highFirst, ones32, true}, 1},
	{"crc-32-cksum", "CRC-32/CKSUM (without the length)", groupCRCs, 32, "765E7680",
		"rare", crcCatalogues, crc{poly32, 0, highFirst, ones32, false}, 3},
	{"crc-32-bzip2", "CRC-32/BZIP2", groupCRCs, 32, "FC891918",
		"in bzip2 files and some controllers", crcCatalogues, crc{poly32, ones32, highFirst, ones32, false}, 2},
	{"adler-32", "Adler-32", groupCRCs, 32, "091E01DE",
		"at the end of zlib data", "RFC 1950", adler{}, 2},

	{"md5", "MD5", groupDigests, 128, "25f9e794323b453885f5181f1b624d0b",
		"in lists of dumps", "RFC 1321", digestMD5, 0},
	{"sha-1", "SHA-1", groupDigests, 160, "f7c3bc1d808e04732adf679965ccc34ca7ae3441",
		"in lists of dumps", "FIPS 180-4", digestSHA1, 0},
	{"sha-256", "SHA-256", groupDigests, 256, "15e2b0d3c33891ebb0f1ef609ec419420c20e320ce94c65fbc8c3312448eb225",
		"to tell that two files are the same", "FIPS 180-4", digestSHA256, 0},
}

// Catalogue returns all rows, in the order of All.
func Catalogue() []Row { return slices.Clone(catalogue()) }

var catalogue = sync.OnceValue(func() []Row { return append(slices.Clone(table), negated(table)...) })

// negated returns the rows of the negated sums. Modulo a power of two a sum is negated in two's complement, what must be
// added to come to zero, and some invert its bits instead. With end-around carry inverting is negating.
func negated(rows []Row) (negated []Row) {
	for _, row := range rows {
		plain, ok := row.rule.(sum)
		if !ok {
			continue
		}
		for _, form := range []struct {
			sign         sign
			suffix, name string
		}{
			{signTwos, "-twos", ", two's complement"},
			{signOnes, "-ones", ", ones' complement"},
		} {
			if plain.carry == carryEndAround && form.sign == signTwos {
				continue
			}
			row := row
			check, _ := strconv.ParseUint(row.Check, 16, 64)
			row.ID += form.suffix
			row.Name += form.name
			row.Group = groupNegated
			row.Check = hex(form.sign.apply(check, row.Bits), row.Bits)
			row.Note = "built in so that a range closes; the plain sum is " + strings.TrimSuffix(row.ID, form.suffix)
			row.rule = sum{plain.shifts, plain.carry, form.sign}
			row.unlikely++
			negated = append(negated, row)
		}
	}
	return negated
}

// hex returns value as the table's hex: upper case, bits/4 digits.
func hex(value uint64, bits int) string { return words.Hex(value, bits/4) }
