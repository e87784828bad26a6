package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
)

// An image is a master for the matrix.
type image struct {
	name  string
	bytes []byte
}

// sources are files of real code, by CPU family: of the project itself, and of the firmware that `make firmware` fetches. Those
// of one pattern are joined in the order of their names.
var sources = []struct{ family, files string }{
	{"68000", "halden"},
	{"68000 system", "system-68000-*.rom"},
	{"x86", "bios-256k.bin"},
	{"x86 network", "efi-*.rom"},
	{"ARM", "u-boot-arm.bin"},
	{"Z80", "cbios_main_msx1.rom"},
	{"PowerPC", "slof.bin"},
}

// images returns masters of the given size: code of each family that has enough of it, taken from the middle, and sparse ones
// that this project makes up. What lacks less than a quarter is filled up with FF, as for a chip that is a little larger.
func images(size int, halden, firmware string) (all []image) {
	for _, s := range sources {
		paths := []string{halden}
		if s.files != "halden" {
			paths, _ = filepath.Glob(filepath.Join(firmware, s.files))
		}
		var code []byte
		for _, path := range paths {
			if file, err := os.ReadFile(path); err == nil {
				code = append(code, file...)
			}
		}
		if len(code) < size && len(code) > size/4*3 {
			code = append(code, bytes.Repeat([]byte{0xFF}, size-len(code))...)
		}
		if len(code) >= size {
			from := (len(code) - size) / 2 &^ 3
			all = append(all, image{s.family, code[from : from+size]})
		}
	}
	return append(all, sparse(size, halden)...)
}

// sparse returns masters with little in them.
func sparse(size int, halden string) (all []image) {
	all = append(all, image{"font", font(size)}, image{"table", table(size)})
	if code, err := os.ReadFile(halden); err == nil && len(code) >= size/2 {
		half := bytes.Repeat([]byte{0xFF}, size)
		copy(half, code[:size/2])
		all = append(all, image{"half blank", half})
	}
	return all
}

// font returns glyphs of 8 by 16 points, 256 a set: strokes inside a margin, so that D0 and D7 are never and the first and last
// rows seldom used. Sets after the first are blank, as in most character ROMs.
func font(size int) []byte {
	glyphs := make([]byte, size)
	state := uint32(7)
	for at := 0; at < min(size, 4096); at++ {
		if row := at % 16; row < 2 || row > 13 {
			continue
		}
		state = state*1664525 + 1013904223
		if stroke := state >> 24; stroke&3 != 0 {
			glyphs[at] = byte(stroke) & 0x7E
		} else {
			glyphs[at] = 0x18
		}
	}
	return glyphs
}

// table returns a quarter of a sine wave as 16-bit words, high byte first, and its slope, over and over with less amplitude.
func table(size int) []byte {
	words := make([]byte, size)
	const steps = 512
	for at := 0; at+1 < size; at += 2 {
		n := at / 2
		amplitude := 32000 / (1 + float64(n/steps))
		value := uint16(amplitude * math.Sin(float64(n%steps)/steps*math.Pi/2))
		words[at], words[at+1] = byte(value>>8), byte(value)
	}
	return words
}
