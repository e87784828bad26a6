package main

import (
	"bytes"
	"debug/elf"
	"encoding/hex"
	"os"
	"strconv"
	"strings"
)

// A sample is one piece of code or one image, in the order in which its CPU addresses it.
type sample struct {
	label  string // row of the tables
	family string // expected ID, "" when the table does not have the CPU
	set    set
	name   string
	whole  bool
	code   []byte
}

// families gives the ID of marks for each ELF machine number; those left out are CPUs that the table does not have.
var families = map[elf.Machine]string{
	elf.EM_68K: "m68k", elf.EM_PPC: "ppc", elf.EM_PPC64: "ppc", elf.EM_MIPS: "mips", elf.EM_SPARC: "sparc",
	elf.EM_SPARC32PLUS: "sparc", elf.EM_SPARCV9: "sparc", elf.EM_ARM: "arm", elf.EM_PARISC: "hppa", 0x9026: "alpha",
	elf.EM_S390: "s390", elf.EM_386: "x86", elf.EM_X86_64: "x86", elf.EM_SH: "sh", elf.EM_AVR: "avr", elf.EM_H8_300: "h8",
}

// elfCode returns the executable sections of an ELF file, or of all in an archive joined, with a label for the CPU.
func elfCode(file []byte) (label, family string, code [][]byte) {
	if bytes.HasPrefix(file, []byte("!<arch>\n")) {
		var joined []byte
		for _, member := range archive(file) {
			l, f, c := elfCode(member)
			if l != "" {
				label, family = l, f
			}
			for _, section := range c {
				joined = append(joined, section...)
				for len(joined)%4 != 0 {
					joined = append(joined, 0)
				}
			}
		}
		if joined == nil {
			return label, family, nil
		}
		return label, family, [][]byte{joined}
	}
	f, err := elf.NewFile(bytes.NewReader(file))
	if err != nil {
		return "", "", nil
	}
	family = families[f.Machine]
	label = strings.ToLower(strings.TrimPrefix(f.Machine.String(), "EM_"))
	if f.Machine == 0x9026 {
		label = "alpha"
	}
	if f.Machine == elf.EM_MIPS || f.Machine == elf.EM_SH {
		label += " " + f.ByteOrder.String()[:3]
	}
	for _, s := range f.Sections {
		if s.Type != elf.SHT_PROGBITS || s.Flags&elf.SHF_EXECINSTR == 0 || s.Size < 16 || s.Name == ".plt" {
			continue
		}
		if data, err := s.Data(); err == nil {
			code = append(code, data)
		}
	}
	return label, family, code
}

// archive returns the members of an ar archive.
func archive(file []byte) [][]byte {
	var members [][]byte
	for at := 8; at+60 <= len(file); {
		size, err := strconv.Atoi(strings.TrimSpace(string(file[at+48 : at+58])))
		if err != nil || at+60+size > len(file) {
			break
		}
		if name := string(file[at : at+16]); name[0] != '/' || name[1] != ' ' {
			members = append(members, file[at+60:at+60+size])
		}
		at += 60 + size + size&1
	}
	return members
}

// image returns the bytes of a file in Intel HEX or Motorola S-record, or the file itself when it is neither.
func image(path string) []byte {
	file, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	switch {
	case strings.HasSuffix(path, ".hex"), strings.HasSuffix(path, ".ihx"):
		return records(file, ":", 1, 4, 2)
	case strings.HasSuffix(path, ".srec"):
		return records(file, "S", 2, 4, 0)
	}
	return file
}

// records reads lines of hex: one mark of the format, a count, an address, with types that are not data left out. Records
// are placed by the low 16 bits of their address above the page they begin; gaps are filled with FF.
func records(file []byte, mark string, countAt, addressDigits, typeDigits int) []byte {
	var out []byte
	base, first := -1, -1
	for _, line := range strings.Split(string(file), "\n") {
		line = strings.TrimSpace(line)
		if !strings.HasPrefix(line, mark) {
			continue
		}
		if mark == "S" && line[1] != '1' {
			continue
		}
		raw, err := hex.DecodeString(line[countAt:])
		if err != nil || len(raw) < 5 {
			continue
		}
		address := int(raw[1])<<8 | int(raw[2])
		data := raw[3 : len(raw)-1]
		if typeDigits > 0 {
			kind := raw[3]
			data = raw[4 : len(raw)-1]
			if kind == 4 || kind == 2 {
				base = int(data[0])<<8 | int(data[1])
				if kind == 4 {
					base <<= 16
				} else {
					base <<= 4
				}
			}
			if kind != 0 {
				continue
			}
			address += max(base, 0)
		}
		if first < 0 {
			first = address
		}
		at := address - first
		if at < 0 || at > 4<<20 {
			continue
		}
		for len(out) < at {
			out = append(out, 0xFF)
		}
		out = append(out[:at], data...)
	}
	return out
}
