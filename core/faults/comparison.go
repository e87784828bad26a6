package faults

import "lunette/core/arrange"

// A Relation says what a read is to its master.
type Relation string

// The relations.
const (
	Identical  Relation = "identical"
	Rearranged Relation = "rearranged" // the same bytes in another arrangement
	Doubled    Relation = "doubled"    // the master more than once, the last time perhaps in part
	Halved     Relation = "halved"     // one half, quarter or other equal part of the master
	Once       Relation = "once"       // the master is the read more than once
	Padded     Relation = "padded"     // the master with blank bytes after or before it
	OneLane    Relation = "one lane"   // one byte lane of the master
	Offset     Relation = "offset"     // begins later or earlier than the master
	Empty      Relation = "empty"      // one of the two has no bytes
	BlankRead  Relation = "blank"      // the read is FF throughout, and the master is not
	OneValue   Relation = "one value"  // the read is one other value throughout
	Stopped    Relation = "stopped"    // equal up to one address and blank from there on
	LineFault  Relation = "line fault" // one or two faults of lines explain it
	Rewired    Relation = "rewired"    // address or data lines are connected in another order
	Weak       Relation = "weak"       // bits read 1 that should be 0, and none the other way
	FewHigh    Relation = "few high"   // the same of so few bits that it may be the chip or the read as well as the burn
	Underneath Relation = "underneath" // the read is the master AND an older content: the chip was not blank
	MustErase  Relation = "must erase" // a few bits read 0 that should be 1, and none the other way
	Shares     Relation = "shares"     // the two agree in parts: another chip or version
	TooLittle  Relation = "too little" // so few bytes that being alike or not says nothing
	Different  Relation = "different"  // clearly of the same content, with differences that nothing here explains
	Unrelated  Relation = "unrelated"  // no more alike than by chance
)

// A Comparison is what Compare finds. Offsets are bytes in the read; the master is laid over it as Arrangement, Repeated and
// MasterFrom say. Lists are never nil.
type Comparison struct {
	Relation     Relation            `json:"relation"`
	Headline     string              `json:"headline"` // one sentence
	Reasons      []string            `json:"reasons"`  // what it rests on: counts and addresses, a sentence each
	Next         []string            `json:"next"`     // what to do next, a sentence each
	Cautions     []string            `json:"cautions"` // of the steps in Next
	Explanations []Explanation       `json:"explanations"`
	Found        int                 `json:"found"`       // equally good explanations; Explanations holds the first 100
	Causes       int                 `json:"causes"`      // different causes among them
	Arrangement  arrange.Arrangement `json:"arrangement"` // of the master, in which it agrees best with the read as it is
	Order        string              `json:"order"`       // the same in words
	MasterSize   int                 `json:"masterSize"`
	ReadSize     int                 `json:"readSize"`
	Repeated     int                 `json:"repeated"`   // the arranged master is laid over the read so many times, at least once
	MasterFrom   int                 `json:"masterFrom"` // offset in the arranged master of the read's first byte; may be negative

	Compared     int  `json:"compared"`     // bytes of the read that stand against a byte of the master
	Equal        int  `json:"equal"`        // of these, bytes that are equal
	Differ       int  `json:"differ"`       // and bytes that differ
	EqualBits    int  `json:"equalBits"`    // bits that are equal
	High         int  `json:"high"`         // bits that read 1 and should be 0
	Low          int  `json:"low"`          // bits that read 0 and should be 1: only erasing brings them back
	FirstDiffer  int  `json:"firstDiffer"`  // offset of the first byte that differs; -1 if none
	FirstLow     int  `json:"firstLow"`     // offset of the first byte with a bit that is 0 and should be 1; -1 if none
	StoppedAt    int  `json:"stoppedAt"`    // offset from which on nothing was written; -1 unless the relation is Stopped
	CanStillBurn bool `json:"canStillBurn"` // what was compared can be burnt over what the read shows, without erasing
	Exchange     bool `json:"exchange"`     // the read is the better of the two: exchange them before anything else is done

	Buses []BusCount `json:"buses"` // counts per line: of a x8 device, and of a x16 one where the size allows
	Map   DiffMap    `json:"map"`
	Runs  DiffRuns   `json:"runs"`

	value    string  // of a read that is one value throughout
	options  Options // that it was asked with
	otherWay string  // how the master comes of the read, a sentence; empty where nothing explains it
}

// A BusCount counts differences by the lines of one kind of device.
type BusCount struct {
	Bus     Bus         `json:"bus"`
	Data    []DataCount `json:"data"`    // from D0 on
	Address []SideCount `json:"address"` // from A0 on
}

// A DataCount counts the bits that differ on one data line.
type DataCount struct {
	Line Line `json:"line"`
	High int  `json:"high"` // read 1, should be 0
	Low  int  `json:"low"`  // read 0, should be 1
}

// A SideCount counts the words that differ, by the level of one address line.
type SideCount struct {
	Line Line `json:"line"`
	Zero int  `json:"zero"` // differing words at addresses with this line 0
	One  int  `json:"one"`  // and with it 1
}

// A DiffMap shows where the differences are: up to 512 blocks of equal size, the last one perhaps shorter.
type DiffMap struct {
	BlockSize int   `json:"blockSize"` // bytes
	Bytes     []int `json:"bytes"`     // bytes that differ, by block
	High      []int `json:"high"`      // bits that read 1 and should be 0
	Low       []int `json:"low"`       // bits that read 0 and should be 1
}

// DiffRuns lists stretches of the read in which every byte differs.
type DiffRuns struct {
	Total  int    `json:"total"`
	Listed []Span `json:"listed"` // the first 1,000
}

// A Span is a stretch of bytes; To is not part of it.
type Span struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// An ExplanationKind says of what sort an explanation is.
type ExplanationKind string

// The kinds of explanations.
const (
	Reordering  ExplanationKind = "arrangement"      // the read is the master in another arrangement
	OneFault    ExplanationKind = "line"             // one fault of a line or a pair of lines
	TwoFaults   ExplanationKind = "two faults"       // two of them
	OtherOrder  ExplanationKind = "order and line"   // one of them, and another arrangement
	Wiring      ExplanationKind = "wiring"           // lines connected in another order
	SomeContact ExplanationKind = "unsteady contact" // one line is wrong at some addresses and right at others
	SingleBits  ExplanationKind = "single bits"      // so few bits that they need no line to be at fault
	Selection   ExplanationKind = "selection"        // another size of chip, or another way to fill it, reads the same
	NotBurnt    ExplanationKind = "not burnt"        // a chip that is blank, from some address on or throughout, or not there
)

// A FaultKind says what is wrong with a line or a pair of lines.
type FaultKind string

// The kinds of faults.
const (
	StuckLow   FaultKind = "stuck low"
	StuckHigh  FaultKind = "stuck high"
	Exchanged  FaultKind = "exchanged"
	BridgedLow FaultKind = "bridged, low wins"   // wired AND: both read 1 only where both should
	BridgedHi  FaultKind = "bridged, high wins"  // wired OR
	Unsteady   FaultKind = "sometimes not there" // of an unsteady contact
)

// A LineTrouble is one fault of the lines it names: one line that is stuck or unsteady, or two that are exchanged or bridged.
type LineTrouble struct {
	Kind  FaultKind `json:"kind"`
	Lines []Line    `json:"lines"`
}

// An Explanation says how the read comes from the master. Those in one Comparison are equally good.
//
// One fault has several explanations where it is not known what the device is: the same line has another name on a x8 and on a
// x16 device, and with the other byte of a word first. Those have the same number as their Cause.
type Explanation struct {
	Cause       int                 `json:"cause"` // from 0
	Kind        ExplanationKind     `json:"kind"`
	Sentence    string              `json:"sentence"`
	Bus         Bus                 `json:"bus"`         // of the device that its lines belong to
	Arrangement arrange.Arrangement `json:"arrangement"` // of the master, before the faults act
	Troubles    []LineTrouble       `json:"troubles"`
	Lines       []Line              `json:"lines"`       // all lines that it names, once each
	Unexplained int                 `json:"unexplained"` // bytes of the read that it does not give; 0 when it is exact
	Repairable  bool                `json:"repairable"`  // Repair can make the master's bytes of the read
	Wires       []Wire              `json:"wires"`       // of a wiring: every line, in the reader's order

	rewiring rewiring
}

// A Wire says which line of the chip the reader's line is connected to.
type Wire struct {
	Reader Line `json:"reader"`
	Chip   Line `json:"chip"`
}

// mostExplanations is how many explanations a Comparison lists.
const mostExplanations = 100
