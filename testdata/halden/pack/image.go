package main

import (
	"crypto/sha256"
	"debug/elf"
	"encoding/binary"
	"fmt"
	"sort"
	"strings"
)

const (
	romBase    = 0xF00000 // the CPU's address of the first byte
	romSize    = 512 << 10
	systemPart = 0x40000           // offset of the system part; its leading sum is the long at its start
	balance    = romSize - 24      // offset of the long that makes the closing sum come out
	erased     = 0xFF              // what a cell of an erased EPROM reads as
	closed     = uint32(1<<32 - 1) // what the closing sum must be
)

// what is said about each section of the linker script, in README.md's words.
var whatIsIn = map[string]string{
	".vectors": "256 start vectors",
	".code":    "code of the base part",
	".data":    "messages and constants of the base part",
	".font":    "font, 256 characters of 8 by 16 dots",
	".tables":  "tables: CRC-32, CRC-16, sine, gamma, thresholds; the logo",
	".header":  "header of the system part; its leading sum is the first long",
	".system":  "code of the system part",
	".sysdata": "messages and constants of the system part",
	".manual":  "the manual, plain text",
	".packed":  "the packed picture (dense)",
	".closing": "closing block",
}

type section struct {
	name   string
	offset int // from the start of the ROM, bytes
	bytes  []byte
}

// readSections returns the sections of the linked program that lie in the ROM, in the order of their addresses.
func readSections(program string) ([]section, error) {
	file, err := elf.Open(program)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	var sections []section
	for _, s := range file.Sections {
		if s.Type != elf.SHT_PROGBITS || s.Flags&elf.SHF_ALLOC == 0 || s.Size == 0 {
			continue
		}
		if s.Addr < romBase || s.Addr+s.Size > romBase+romSize {
			return nil, fmt.Errorf("section %s lies at %06X, outside the ROM", s.Name, s.Addr)
		}
		if whatIsIn[s.Name] == "" {
			return nil, fmt.Errorf("section %s is not known: give it a row in image.go", s.Name)
		}
		bytes, err := s.Data()
		if err != nil {
			return nil, err
		}
		sections = append(sections, section{s.Name, int(s.Addr - romBase), bytes})
	}
	sort.Slice(sections, func(i, j int) bool { return sections[i].offset < sections[j].offset })
	return sections, nil
}

func layOut(sections []section) ([]byte, error) {
	image := make([]byte, romSize)
	for i := range image {
		image[i] = erased
	}
	end := 0
	for _, s := range sections {
		if s.offset < end {
			return nil, fmt.Errorf("section %s begins at %05X, before the one below it ends at %05X", s.name, s.offset, end)
		}
		end = s.offset + copy(image[s.offset:], s.bytes)
	}
	return image, nil
}

// leadingSum is the sum of all 16-bit big-endian words of part but its first two, modulo 2^32.
func leadingSum(part []byte) uint32 {
	var sum uint32
	for at := 4; at < len(part); at += 2 {
		sum += uint32(binary.BigEndian.Uint16(part[at:]))
	}
	return sum
}

// closingSum is the ones'-complement sum of all 32-bit big-endian words of image.
func closingSum(image []byte) uint32 {
	var sum uint64
	for at := 0; at < len(image); at += 4 {
		sum += uint64(binary.BigEndian.Uint32(image[at:]))
		sum = sum&uint64(closed) + sum>>32
	}
	return uint32(sum)
}

// closeSums fills in the leading sum S of the system part and the balancing long B of the whole ROM, which lies in the
// system part, so that each changes what the other must be. With both zero let the leading sum be W and the closing
// sum R, and let h and l be the halves of B. Then S = W + h + l, and R + S + B must be a multiple of 2^32 - 1, which
// comes to 65537 h + 2 l = -(R + W) modulo 2^32 - 1.
func closeSums(image []byte) error {
	binary.BigEndian.PutUint32(image[systemPart:], 0)
	binary.BigEndian.PutUint32(image[balance:], 0)
	w := leadingSum(image[systemPart:])
	const modulus = uint64(closed)
	wanted := modulus - (uint64(closingSum(image))+uint64(w))%modulus
	high, rest := wanted/65537, wanted%65537
	if rest%2 == 1 {
		high, rest = high-1, rest+65537
	}
	binary.BigEndian.PutUint32(image[balance:], uint32(high<<16|rest/2))
	binary.BigEndian.PutUint32(image[systemPart:], leadingSum(image[systemPart:]))
	if got := closingSum(image); got != closed {
		return fmt.Errorf("closing sum is %08X, wanted %08X: change any byte and build again", got, closed)
	}
	return nil
}

// swapped returns the image with the bytes of each 16-bit word exchanged: a x16 device reader stores D0 to D7 first.
func swapped(image []byte) []byte {
	stored := make([]byte, len(image))
	for at := 0; at < len(image); at += 2 {
		stored[at], stored[at+1] = image[at+1], image[at]
	}
	return stored
}

// regionRows lists the sections and the blank space between them.
func regionRows(sections []section) string {
	var rows strings.Builder
	rows.WriteString("\n| from | to | bytes | what |\n| --- | --- | ---: | --- |\n")
	end := 0
	blank := func(to int) {
		if to > end {
			fmt.Fprintf(&rows, "| %05X | %05X | %6d | blank, FF |\n", end, to-1, to-end)
		}
	}
	for _, s := range sections {
		blank(s.offset)
		end = s.offset + len(s.bytes)
		fmt.Fprintf(&rows, "| %05X | %05X | %6d | %s |\n", s.offset, end-1, len(s.bytes), whatIsIn[s.name])
	}
	blank(romSize)
	return rows.String()
}

// factRows lists what a test can check in one number each.
func factRows(sections []section, image []byte) string {
	blank := romSize
	for _, s := range sections {
		blank -= len(s.bytes)
	}
	return fmt.Sprintf("\n| fact | value |\n| --- | --- |\n| blank bytes in all | %d |\n"+
		"| leading sum of the system part | %08X |\n| balancing long | %08X |\n"+
		"| SHA-256 as stored by the reader | %x |\n| SHA-256 as the CPU sees it | %x |\n",
		blank, binary.BigEndian.Uint32(image[systemPart:]), binary.BigEndian.Uint32(image[balance:]),
		sha256.Sum256(swapped(image)), sha256.Sum256(image))
}
