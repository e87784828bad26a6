// Command pack makes what the compiler cannot: the tables and pictures of the Halden HX-16 ROM before it is compiled,
// and the 512 KiB image with its sums after it is linked.
//
//	pack tables DIR                 writes font.bin, sine.bin, picture.hxp and the like into DIR
//	pack image ELF CPU READER       lays out the linked program; writes the image as the CPU sees it and as a x16
//	                                device reader stores it, and prints the facts for README.md
//
// It uses no clock and no floating-point result that is not rounded, so it writes the same bytes everywhere.
package main

import (
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	err := run(os.Args[1:])
	if err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	switch {
	case len(args) == 2 && args[0] == "tables":
		return writeTables(args[1])
	case len(args) == 4 && args[0] == "image":
		return writeImage(args[1], args[2], args[3])
	}
	return fmt.Errorf("wanted `tables DIR` or `image ELF CPU READER`, found %q", args)
}

// writeTables writes every file that tables.s includes, and the unpacked picture for the check to compare with.
func writeTables(dir string) error {
	scene := picture()
	files := []struct {
		name  string
		bytes []byte
	}{
		{"font.bin", font()},
		{"sine.bin", sineTable()},
		{"gamma.bin", gammaTable()},
		{"spread.bin", spreadTable()},
		{"crc16.bin", crc16Table()},
		{"crc32.bin", crc32Table()},
		{"logo.bin", logo()},
		{"picture.bin", scene},
		{"picture.hxp", packHXP(scene)},
	}
	for _, file := range files {
		if err := os.WriteFile(filepath.Join(dir, file.name), file.bytes, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// writeImage turns the linked program into the two files, and prints the facts that end README.md.
func writeImage(program, cpuFile, readerFile string) error {
	sections, err := readSections(program)
	if err != nil {
		return err
	}
	image, err := layOut(sections)
	if err != nil {
		return err
	}
	if err := closeSums(image); err != nil {
		return err
	}
	if err := os.WriteFile(cpuFile, image, 0o644); err != nil {
		return err
	}
	if err := os.WriteFile(readerFile, swapped(image), 0o644); err != nil {
		return err
	}
	fmt.Print(regionRows(sections))
	fmt.Print(factRows(sections, image))
	return nil
}
