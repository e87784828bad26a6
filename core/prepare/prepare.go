// Package prepare answers: which bytes go into which chip, and in which order?
//
// Prepare takes a dump and a Plan and returns one file a chip, a card for the labels and what was done in words. Before it
// returns, it reads the files back, joins them and compares with the dump; a plan that makes no sense is refused with the
// reason, and then nothing is returned.
//
// # Which byte goes where
//
// The plan's Order gives the image as the CPU sees it: byte n of the image is the byte at address n. From there on:
//
//	on a board with     byte 0 of a word (even address) is on     byte 1 (odd address) is on
//	big-endian CPU      D8-D15 (68000: UDS)                        D0-D7  (68000: LDS)
//	little-endian CPU   D0-D7                                      D8-D15 (8086: BHE)
//
// and on a 32-bit bus byte 0 is on D24-D31 of a big-endian CPU and on D0-D7 of a little-endian one. So the two chips of a
// pair are told by "even" and "odd", which the CPU's addresses decide alone; the CPU's order only says on which data lines
// each stands, so that it gets into the right socket.
//
// Two pairs on a 16-bit bus hold the image in two halves: an address line of the board above those of the chips chooses the
// pair. The lower half is dealt to the even and the odd chip of one pair, the upper half to those of the other.
//
// A chip with sixteen data lines is written word by word, and the reader's buffer decides how: low byte first (D0-D7 of
// each word first) or high byte first. With the table above, the file for a x16 chip is
//
//	              low byte first    high byte first
//	big-endian    bytes swapped     CPU order
//	little-endian CPU order         bytes swapped
//
// The same chip in byte mode (BYTE low) gives D0-D7 of a word while A-1 is low and D8-D15 while it is high (from memory,
// check the data sheet). A-1 is then the lowest address line, so byte 0 of each two is the low one whatever the CPU is, and
// a buffer with the high byte first wants each two swapped.
//
// A chip with eight data lines is written byte by byte in the order of its addresses; no convention applies.
//
// The steps and their inverse are in steps.go, what is refused in refuse.go, names, cards and words in words.go, the
// picture in picture.go, what a burnt chip reads back as in readback.go.
package prepare

//go:generate go run lunette/core/jsontext/generate

import (
	"bytes"
	"errors"
	"hash/crc32"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/dump"
	"lunette/core/words"
)

// A Plan says what is to be made. Of the fields with a choice, those that are marked may be left empty.
type Plan struct {
	Name   string              // of the dump: the files are named after it
	Device string              // id of the family: "27C400"
	View   chips.View          // how the board sees the chips
	Order  arrange.Arrangement // gives the image as the CPU sees it from the bytes of the dump
	CPU    Endian              // may be empty where View is chips.X8, and for pairs and fours, which then name no data lines
	Buffer Buffer              // may be empty for a device with eight data lines, for which it means nothing
	Spare  Spare               // may be empty: then the image is repeated if it goes into the chip a whole number of times
	End    arrange.End         // where a padded image stands
	Fill   byte                // what a padded image is filled up with; FF is what an erased cell reads
	Bits   Bits                // may be empty unless Order mirrors the bits
	Format Format              // may be empty: raw

	// For a dump that is one byte lane already, out of Lanes (2 or 4), Lane says which; View is chips.X8 then. A dump of
	// the whole image leaves both 0.
	Lane, Lanes int

	// WordCPU names the family of CPUs that the code in the dump is for, as "68000", where such a CPU takes its code in words of
	// sixteen bits; empty where that is not known or not so. It changes no byte, only what is cautioned of.
	WordCPU string
}

// Endian says which byte of a word the CPU keeps at the lower address.
type Endian string

// The two sorts of CPU.
const (
	Big    Endian = "big"    // the high byte: 68000
	Little Endian = "little" // the low byte: 8086
)

// Buffer says how a reader for x16 chips keeps a word in its buffer, and so in its files.
type Buffer string

// The two conventions.
const (
	LowFirst  Buffer = "low"  // D0-D7, then D8-D15
	HighFirst Buffer = "high" // D8-D15, then D0-D7
)

// Spare says what is done with the space that an image leaves in a chip.
type Spare string

// The uses of spare space.
const (
	Repeat Spare = "repeat"
	Pad    Spare = "pad"
)

// Bits says whether the board crosses the data lines of each byte, D0 with D7 and so on. A dump whose bits are mirrored
// was read from such a chip, or through such an adapter: only a person can tell which.
type Bits string

// The two ways.
const (
	Straight Bits = "straight" // the chip holds the bits as the CPU sees them
	Crossed  Bits = "crossed"  // the chip holds them mirrored
)

// Format is how a file is written.
type Format string

// The formats.
const (
	Raw     Format = "raw"
	HEX     Format = "hex"  // Intel HEX
	SRecord Format = "srec" // Motorola S-records
)

// Prepared is what Prepare returns.
type Prepared struct {
	Headline string      `json:"headline"` // what was made
	Readback string      `json:"readback"` // what the burnt chips read back as, and what that is to the dump
	Next     []string    `json:"next"`     // what to do with the files, in order
	Checked  string      `json:"checked"`  // what was checked of the files, as a sentence
	Device   string      `json:"device"`
	View     chips.View  `json:"view"`
	Files    []File      `json:"files"`
	Steps    []string    `json:"steps"`    // what happens to the bytes, a sentence each, in order
	Cautions []string    `json:"cautions"` // what to know before burning
	Ties     []chips.Tie `json:"ties"`     // address lines that the image does not use
	Picture  Picture     `json:"picture"`
	Card     string      `json:"card"`     // the text card for the labels
	CardName string      `json:"cardName"` // a file name for it
}

// A File is what goes into one chip.
type File struct {
	Name  string `json:"name"`  // told apart from any other file by what was done to it
	Lane  string `json:"lane"`  // "even", "odd", "low-even" to "high-odd", "byte 0" to "byte 3"; "" when one chip holds all
	Lines string `json:"lines"` // data lines of the board that the chip drives: "D8-D15"; "" when not known
	// Arranged says, for the label, how the bytes stand: "in the CPU's order", "bytes swapped in 16-bit words"; and what is
	// done with space to spare.
	Arranged []string `json:"arranged"`

	Size    int    `json:"size"`    // of the chip's content, in bytes: the chip's capacity
	ByteSum string `json:"byteSum"` // sum of the content's bytes, the low 16 bits in hex (common practice, no source)
	CRC     string `json:"crc"`     // CRC-32 of the content in hex
	Content []byte `json:"-"`       // the chip's bytes, in the order of the reader's buffer
	Data    []byte `json:"-"`       // the file to save: the content, or records that hold it
}

// Prepare makes the files for the chips that plan asks for. stored is the dump as it is and is not changed. It fails when
// the plan cannot be carried out, and says what to do instead; nothing is returned then.
func Prepare(stored []byte, plan Plan) (*Prepared, error) {
	job, err := plan.job(stored)
	if err != nil {
		return nil, err
	}
	contents := job.contents(stored)
	p := &Prepared{Device: job.device.ID, View: plan.View, Ties: job.device.Ties(len(stored) / len(contents))}
	for i, content := range contents {
		p.Files = append(p.Files, job.file(i, content))
	}
	if err := job.verify(p.Files, stored); err != nil {
		return nil, err
	}
	p.Steps = job.steps()
	p.Cautions = job.cautions()
	same, how := job.against(contents, stored)
	p.Headline, p.Readback = job.headline(same), job.readback(same, how)
	p.Next, p.Checked = job.next(), job.checked()
	p.Picture = job.picture(contents, stored, p.Files)
	p.CardName = job.stem() + ".card." + job.device.ID + ".txt"
	p.Card = job.card(p.Files, stored)
	return p, nil
}

// file writes the file of chip i.
func (j *job) file(i int, content []byte) File {
	f := File{
		Name: j.fileName(i), Lane: j.laneName(i), Lines: j.dataLines(i), Arranged: j.arranged(), Size: len(content),
		ByteSum: byteSum(content), CRC: crc(content), Content: content,
	}
	switch j.plan.Format {
	case HEX:
		f.Data = dump.AppendHEX(nil, content)
	case SRecord:
		f.Data = dump.AppendSRecords(nil, content, j.fileName(i))
	default:
		f.Data = content
	}
	return f
}

// byteSum returns the 16-bit sum of all bytes in hex, as readers show it (common practice, no source).
func byteSum(content []byte) string {
	var sum uint32
	for _, b := range content {
		sum += uint32(b)
	}
	return words.Hex(uint64(sum&0xFFFF), 4)
}

// crc returns the CRC-32 of IEEE 802.3 in hex.
func crc(content []byte) string { return words.Hex(uint64(crc32.ChecksumIEEE(content)), 8) }

// verify reads the files back, undoes every step and compares with the dump.
func (j *job) verify(files []File, stored []byte) error {
	contents := make([][]byte, len(files))
	for i, f := range files {
		content, err := readBack(f, j.plan.Format)
		if err != nil {
			return err
		}
		contents[i] = content
	}
	joined, err := j.undo(contents)
	if err == nil && !bytes.Equal(joined, stored) {
		err = errors.New("the files do not join to the dump again; nothing was made, please report this plan as a fault of Lunette")
	}
	return err
}

// readBack returns the content that a file holds, by the readers that any file is opened with.
func readBack(f File, format Format) ([]byte, error) {
	if format == Raw || format == "" {
		return f.Data, nil
	}
	dumps, err := dump.Load(f.Name, f.Data)
	if err != nil {
		return nil, err
	}
	if len(dumps) != 1 || dumps[0].Base != 0 || len(dumps[0].Gaps) > 0 {
		return nil, errors.New(words.Fill("{} does not read back as one piece from address 0; nothing was made, please report this "+
			"plan as a fault of Lunette", f.Name))
	}
	return dumps[0].Bytes, nil
}
