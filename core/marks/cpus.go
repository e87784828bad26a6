package marks

import "strings"

// A Family is a CPU family as far as its code can be told from that of others.
type Family struct {
	ID     string // short name for links and JSON, such as "m68k"
	Name   string // as the trade writes it, such as "68000"
	Manual string // where encodings and mnemonics are to be checked: they are from memory or were seen in compiled code

	word   int    // bytes: instructions begin at multiples of it
	endian endian // how the CPU keeps a word of that size in memory
	kin    string // families of one kin are not rivals: one image may hold both
	marks  string // a table, see rows
}

// A mark is an instruction, or two or three that compilers and people write after another. The pattern is in hex in
// reading order, "." is any digit: the most significant byte of each word first for CPUs with words, the order of
// addresses for CPUs that fetch bytes.
type mark struct{ pattern, mnemonic string }

// rows returns the family's marks. Its table has one a line, the pattern and, after spaces, the mnemonic; a line that begins
// with # says something about those below it. As text it is half as heavy to fetch as a slice of pairs.
func (f *Family) rows() []mark {
	var rows []mark
	for line := range strings.Lines(f.marks) {
		pattern, mnemonic, found := strings.Cut(strings.TrimSpace(line), " ")
		if found && pattern != "#" {
			rows = append(rows, mark{pattern, strings.TrimLeft(mnemonic, " ")})
		}
	}
	return rows
}

type endian int

const (
	bytewise endian = iota // instructions are strings of bytes; no word order
	big
	little
	either
)

var families = []Family{
	{"m68k", "68000", "M68000 Family Programmer's Reference Manual", 2, big, "", marks68000},
	{"sh", "SuperH", "SuperH RISC Engine SH-1/SH-2/SH-4 Programming Manual", 2, either, "", marksSuperH},
	{"thumb", "Thumb", "ARM Architecture Reference Manual, Thumb instructions", 2, either, "arm", marksThumb},
	{"avr", "AVR", "AVR Instruction Set Manual", 2, little, "", marksAVR},
	{"h8", "H8", "H8/300 and H8/300H Series Programming Manuals", 2, big, "", marksH8},
	{"s390", "S/390", "ESA/390 and z/Architecture Principles of Operation", 2, big, "", marksS390},
	{"ppc", "PowerPC", "PowerPC User Instruction Set Architecture, Book I", 4, big, "", marksPowerPC},
	{"mips", "MIPS", "MIPS32 Architecture for Programmers, Volume II", 4, either, "", marksMIPS},
	{"sparc", "SPARC", "The SPARC Architecture Manual, Versions 8 and 9", 4, big, "", marksSPARC},
	{"arm", "ARM", "ARM Architecture Reference Manual", 4, either, "arm", marksARM},
	{"hppa", "PA-RISC", "PA-RISC 1.1 Architecture and Instruction Set Reference Manual", 4, big, "", marksPARISC},
	{"alpha", "Alpha", "Alpha Architecture Handbook", 4, little, "", marksAlpha},
	{"x86", "x86", "8086 Family User's Manual; 80386 Programmer's Reference Manual; 64-bit Software Developer's Manual", 1, bytewise, "", marksX86},
	{"z80", "Z80 or 8080", "Z80 CPU User's Manual", 1, bytewise, "", marksZ80},
	{"m6502", "6502", "MCS6500 Programming Manual", 1, bytewise, "", marks6502},
	{"i8051", "8051", "MCS-51 Family User's Manual", 1, bytewise, "", marks8051},
	{"m6809", "6800 or 6809", "M6800 Programming Reference Manual; MC6809 Programming Manual", 1, bytewise, "", marks6800},
}
