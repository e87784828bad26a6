package faults

import (
	"encoding/binary"
	"math/bits"

	"lunette/core/survey"
	"lunette/core/words"
)

// A BlankState says in one word what a chip that should be empty is.
type BlankState string

// The states of a blank check.
const (
	IsBlank  BlankState = "blank"     // all FF
	NotBlank BlankState = "not blank" // something is in it
	NotRead  BlankState = "not read"  // what was read is no chip's content: a dead bus, or a dead line
)

// A Burn says whether a master can be burnt over what a chip holds. Without ultraviolet light a bit of an EPROM goes from 1
// to 0 only (any UV EPROM's data sheet), so that it can exactly if chip AND master = master.
type Burn string

// What becomes of a master.
const (
	NoMaster   Burn = ""           // none was given
	BurnAsIs   Burn = "as it is"   // nothing stands in the way
	Burnt      Burn = "is in it"   // the chip holds the master already
	EraseFirst Burn = "erase"      // some bits are low that must be high
	WrongSize  Burn = "wrong size" // the master does not fit into the chip
	DoNotBurn  Burn = "do not"     // what was read is no content, so nothing can be said
	CannotBurn Burn = "cannot"     // the chip is a mask ROM
)

// A BlankResult says what a chip that should be empty holds. Offsets and sizes are bytes in the dump as stored.
type BlankResult struct {
	State    BlankState `json:"state"`
	Headline string     `json:"headline"` // one sentence
	Reasons  []string   `json:"reasons"`  // what was counted
	Next     []string   `json:"next"`     // what to do next, a sentence or two each
	Cautions []string   `json:"cautions"`
	Lines    []Line     `json:"lines"` // data lines that look dead

	Size  int        `json:"size"`  // bytes
	Bits  int        `json:"bits"`  // bits that are low; an erased chip has none
	Bytes int        `json:"bytes"` // bytes other than FF
	First []int      `json:"first"` // offsets of the first MaxFirst of them
	Runs  []LowRun   `json:"runs"`  // the first MaxLowRuns stretches of them
	Total int        `json:"total"` // all such stretches
	X8    []LineLows `json:"x8"`    // low bits by data line of a x8 device
	X16   []LineLows `json:"x16"`   // of a x16 device, the low byte stored first
	Map   Spread     `json:"map"`   // low bits by region

	Burn Burn `json:"burn"`
	// Bits by what chip and master say: low where the master wants 1, low where it wants 0, and still to be burnt.
	InTheWay  int   `json:"inTheWay"`
	Already   int   `json:"already"`
	ToBurn    int   `json:"toBurn"`
	FirstWays []int `json:"firstWays"` // offsets of the first MaxFirst bytes that stand in the way

	erase Erase
}

// A LowRun is a stretch of bytes that are not blank, in which no more than 15 FF follow each other.
type LowRun struct {
	From int `json:"from"`
	To   int `json:"to"`   // the offset after its last byte
	Bits int `json:"bits"` // low bits in it
}

// LineLows counts the low bits of one data line.
type LineLows struct {
	Line Line `json:"line"`
	Low  int  `json:"low"`
	Of   int  `json:"of"` // words read
}

// Limits of what a BlankResult lists. What is counted has no limit.
const (
	MaxFirst   = 16
	MaxLowRuns = 256
	lowRunGap  = 16 // bytes of FF that end a run
)

// BlankCheck looks at the dump of a chip that should be empty, and at the image that is to go into it, which may be nil.
// Both are in the order in which the device reader stores them. A master that is smaller than the chip is taken to go to
// its start, the rest staying as it is. Of the options only Erase matters. The cost is linear in size.
func BlankCheck(chip, master []byte, options Options) BlankResult {
	b := BlankResult{erase: options.Erase, Size: len(chip), Reasons: []string{}, Cautions: []string{}, First: []int{}, FirstWays: []int{}, Next: []string{}, Lines: []Line{}, Runs: []LowRun{},
		Map: newSpread(len(chip))}
	b.countLow(chip)
	b.State = NotBlank
	if b.Bits == 0 {
		b.State = IsBlank
	}
	if b.Size == 0 {
		b.State = NotRead
		b.Headline = "There is nothing in this file."
		b.Next = []string{"Read the chip again."}
		return b
	}
	if b.State == NotBlank && b.dead(chip) {
		b.State = NotRead
		b.Cautions = append(b.Cautions, CautionSocket)
		if len(master) > 0 {
			b.Burn = DoNotBurn
		}
		return b
	}
	b.weigh(chip, master)
	b.say(len(master))
	return b
}

// countLow counts the low bits by line and region and finds the runs.
func (b *BlankResult) countLow(chip []byte) {
	var lanes [2][256]int // how often each value stands at an even and at an odd offset
	run := LowRun{From: -1}
	visitNotFF(chip, func(at int) {
		n := bits.OnesCount8(^chip[at])
		b.Bits += n
		b.Bytes++
		b.Map.add(at, n)
		if len(b.First) < MaxFirst {
			b.First = append(b.First, at)
		}
		lanes[at&1][chip[at]]++
		if run.From >= 0 && at-run.To >= lowRunGap {
			b.addRun(run)
			run = LowRun{From: -1}
		}
		if run.From < 0 {
			run.From = at
		}
		run.To, run.Bits = at+1, run.Bits+n
	})
	if run.From >= 0 {
		b.addRun(run)
	}
	b.countLines(&lanes, chip)
}

// countLines fills in the low bits by line. The last byte of an odd number is no word of a x16 device.
func (b *BlankResult) countLines(lanes *[2][256]int, chip []byte) {
	b.X8, b.X16 = lineLows(8, len(chip)), lineLows(16, len(chip)/2)
	for bit := range 8 {
		for lane := range lanes {
			for value, n := range lanes[lane] {
				if value>>bit&1 == 0 {
					b.X8[bit].Low += n
					b.X16[bit+8*lane].Low += n
				}
			}
		}
		if len(chip)%2 == 1 && chip[len(chip)-1]>>bit&1 == 0 {
			b.X16[bit].Low--
		}
	}
}

func (b *BlankResult) addRun(run LowRun) {
	b.Total++
	if len(b.Runs) < MaxLowRuns {
		b.Runs = append(b.Runs, run)
	}
}

func lineLows(width, of int) []LineLows {
	lines := make([]LineLows, width)
	for k := range lines {
		lines[k] = LineLows{Line: DataLine(k, width), Of: of}
	}
	return lines
}

// visitNotFF visits the bytes of data that are not FF, in address order.
func visitNotFF(data []byte, visit func(at int)) {
	at := 0
	for ; at+8 <= len(data); at += 8 {
		if binary.LittleEndian.Uint64(data[at:]) == ^uint64(0) {
			continue
		}
		for k := at; k < at+8; k++ {
			if data[k] != 0xFF {
				visit(k)
			}
		}
	}
	for ; at < len(data); at++ {
		if data[at] != 0xFF {
			visit(at)
		}
	}
}

// dead tells whether what was read is no chip's content: one repeated byte, the address itself, or a data line that is low
// everywhere while all others are blank. It words the result.
func (b *BlankResult) dead(chip []byte) bool {
	ramp := survey.FindRamp(chip)
	switch {
	case b.deadLines():
		names := lineNames(b.Lines)
		b.Headline = words.Fill("{} {} low everywhere, and nothing else is: that looks like the line, not like content.",
			words.List(names), verb(len(names), "reads", "read"))
		b.Reasons = append(b.Reasons, words.Fill("{} of {} are low, all on {} of a x{} chip", words.Count(b.Bits),
			words.Plural(8*b.Size, "bit"), words.List(names), words.Count(b.Lines[0].Width)))
		b.Next = []string{"Power off and unplug, clean the pin and the socket, reseat the chip and check again. If it stays so, leave this chip out."}
	case constant(chip):
		b.Headline = words.Fill("Nothing was read: all {} are {}.", words.Size(b.Size), words.Byte(chip[0]))
		b.Reasons = append(b.Reasons, words.Fill("one value, {}, from end to end", words.Byte(chip[0])))
		b.Next = []string{"Check that the chip is the right way round, powered and selected, then check again. A chip burnt to 00 from end to end reads " +
			"00 as well."}
	case ramp.Found():
		b.Headline = "Nothing was read: the bytes follow the address, as where nothing drives the bus."
		b.Reasons = append(b.Reasons, words.Fill("{} of {} are {}", words.Count(ramp.Matches), words.Plural(ramp.Of, "byte"), ramp.Pattern))
		b.Next = []string{"Check that the chip is seated, powered and selected, then check again."}
	default:
		return false
	}
	return true
}

// deadLines finds the data lines that are low everywhere, if no other bit is low, and no more than half of them are. They are
// those of a x8 device where they are in every byte.
func (b *BlankResult) deadLines() bool {
	for _, lines := range [][]LineLows{b.X8, b.X16} {
		dead, low := []Line{}, 0
		for _, line := range lines {
			if line.Of > 0 && line.Low == line.Of {
				dead = append(dead, line.Line)
				low += line.Low
			}
		}
		if b.Size >= minSpread && len(dead) > 0 && 2*len(dead) <= len(lines) && low == b.Bits {
			b.Lines = dead
			return true
		}
	}
	return false
}

// weigh counts what stands in a master's way.
func (b *BlankResult) weigh(chip, master []byte) {
	if len(master) == 0 {
		return
	}
	if len(master) > len(chip) {
		b.Burn = WrongSize
		return
	}
	for at, want := range master {
		have := chip[at]
		if have == 0xFF && want == 0xFF {
			continue
		}
		way := ^have & want
		b.InTheWay += bits.OnesCount8(way)
		b.Already += bits.OnesCount8(^have & ^want)
		b.ToBurn += bits.OnesCount8(have & ^want)
		if way != 0 && len(b.FirstWays) < MaxFirst {
			b.FirstWays = append(b.FirstWays, at)
		}
	}
	switch {
	case b.InTheWay == 0 && b.ToBurn == 0:
		b.Burn = Burnt
	case b.erase == EraseNever:
		b.Burn = CannotBurn
	case b.InTheWay > 0:
		b.Burn = EraseFirst
	default:
		b.Burn = BurnAsIs
	}
}
