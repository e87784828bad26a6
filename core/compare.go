package core

import (
	"errors"
	"strings"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/dump"
	"lunette/core/faults"
	"lunette/core/prepare"
	"lunette/core/relate"
	"lunette/core/report"
	"lunette/core/sorted"
	"lunette/core/words"
)

// A Comparison is what a read is to its master, with the lines it names found on a chip.
type Comparison struct {
	Result  faults.Comparison `json:"result"`
	Chip    OnChip            `json:"chip"`
	Times   string            `json:"times"`   // how long erasing and burning the chip takes; empty when that does not come next
	Repairs []string          `json:"repairs"` // by explanation: the name of the dump that Repaired makes, empty where it cannot
}

// Rereads is what several reads of one chip show, with the lines it names found on a chip.
type Rereads struct {
	Result    faults.Reread `json:"result"`
	Chip      OnChip        `json:"chip"`
	Consensus string        `json:"consensus"` // name of what Consensus returns; empty when there is none
	List      string        `json:"list"`      // name of the list that belongs to it
}

// BlankCheck is whether a chip is blank.
type BlankCheck struct {
	Result faults.BlankResult `json:"result"`
	Chip   OnChip             `json:"chip"`
	Times  string             `json:"times"` // as in Comparison
}

// Compare says what the read is to the master. device is the id of the chip that was read; empty stands for the likeliest of
// its size, "none" for none.
func (b *Bench) Compare(master, read, device string, host Host) (Comparison, error) {
	m, r, err := b.two(master, read)
	if err != nil {
		return Comparison{}, err
	}
	chip := chipOf(device, len(r.Bytes), b.width(master, read))
	options := b.options(device, chip, master, read)
	options.Master, options.Read = b.standing(master), b.standing(read)
	result := faults.Compare(m.Bytes, r.Bytes, options, tellShare(host))
	var lines []faults.Line
	for _, explanation := range result.Explanations {
		lines = append(lines, explanation.Lines...)
	}
	if device == "" && len(result.Explanations) > 0 {
		chip = chipOf(device, len(r.Bytes), result.Explanations[0].Bus.Width)
	}
	c := Comparison{Result: result, Chip: chip.carrying(lines), Repairs: make([]string, len(result.Explanations))}
	switch {
	case result.Exchange || options.Erase == faults.EraseNever:
	case result.Relation == faults.Underneath || result.Relation == faults.MustErase:
		c.Times = timesOf(chip.Device, true)
	case result.Relation == faults.Stopped || result.Relation == faults.Weak:
		c.Times = timesOf(chip.Device, false)
	}
	for i, explanation := range result.Explanations {
		if explanation.Repairable {
			c.Repairs[i] = named(r.Name, "repaired", "bin")
		}
	}
	b.compared = &compared{master: master, read: read, result: result}
	return c, nil
}

// options returns what is known of the chip that some dumps were read from; device is as in Compare.
func (b *Bench) options(device string, chip OnChip, ids ...string) faults.Options {
	width := b.width(ids...)
	options := faults.Options{LowFirst: width == 16, Erase: eraseOf(chip.Device)}
	if device != "" && chip.Device != "" || width != 0 { // "none" says nothing of the width
		options.Width = chip.Width
	}
	return options
}

// standings say of each verdict how far a dump can be trusted.
var standings = map[report.State]faults.Standing{report.Sound: faults.LooksSound, report.Suspect: faults.LooksSuspect,
	report.Undecided: faults.LooksUndecided, report.Faulty: faults.LooksFaulty, report.Blank: faults.LooksBlank}

// standing returns how far a dump that has been inspected can be trusted.
func (b *Bench) standing(id string) faults.Standing {
	verdict := b.seen[id].Verdict
	if verdict.State == report.Sound && verdict.Proven {
		return faults.LooksProven
	}
	return standings[verdict.State]
}

// width returns 16 when the order of one of the dumps shows that a x16 device was read, low byte first: its bytes stand
// exchanged in pairs for a CPU that keeps the high byte first. It returns 0 when that is not known.
func (b *Bench) width(ids ...string) int {
	for _, id := range ids {
		family, known := b.familyOf(id)
		if known && b.seen[id].Order.ID == arrange.Swapped.ID() && family.FirstByte() == string(prepare.Big) {
			return 16
		}
	}
	return 0
}

// compared is the last comparison.
type compared struct {
	master, read string
	result       faults.Comparison
}

var errNothingCompared = errors.New("no two dumps have been compared; compare them again")

// Laid is a stretch of two dumps laid over each other, each byte in hex, empty where one has none.
type Laid struct {
	Master []string `json:"master"`
	Read   []string `json:"read"`
}

// Laid returns a stretch of the read of the last comparison, and of the master as it was laid over it. Offsets beyond the
// read are cut to it.
func (b *Bench) Laid(from, to int) (Laid, error) {
	if b.compared == nil {
		return Laid{}, errNothingCompared
	}
	m, r, err := b.two(b.compared.master, b.compared.read)
	if err != nil {
		return Laid{}, err
	}
	from, to = stretch(from, to, len(r.Bytes))
	laid := Laid{Master: make([]string, to-from), Read: make([]string, to-from)}
	for at := from; at < to; at++ {
		laid.Read[at-from] = words.Byte(r.Bytes[at])
		if value, ok := b.compared.result.MasterAt(m.Bytes, at); ok {
			laid.Master[at-from] = words.Byte(value)
		}
	}
	return laid, nil
}

// Repaired returns what the chip should have read, by an explanation of the last comparison.
func (b *Bench) Repaired(explanation int) ([]byte, error) {
	if b.compared == nil || explanation < 0 || explanation >= len(b.compared.result.Explanations) {
		return nil, errNothingCompared
	}
	_, r, err := b.two(b.compared.master, b.compared.read)
	if err != nil {
		return nil, err
	}
	return b.compared.result.Explanations[explanation].Repair(r.Bytes)
}

// Rereads says whether several reads of one chip agree. device is as in Compare.
func (b *Bench) Rereads(reads []string, device string) (Rereads, error) {
	var images [][]byte
	var names []string
	for _, id := range reads {
		d, ok := b.dumps[id]
		if !ok {
			return Rereads{}, errClosed
		}
		images, names = append(images, d.Bytes), append(names, d.Name)
	}
	size := 0
	if len(images) > 0 {
		size = len(images[0])
	}
	chip := chipOf(device, size, b.width(reads...))
	result := faults.Rereads(images, names, b.options(device, chip, reads...))
	b.reread = &result
	r := Rereads{Result: result, Chip: chip.carrying(result.Lines)}
	if result.Consensus != nil {
		r.Consensus, r.List = named(names[0], "consensus", "bin"), named(names[0], "consensus", "txt")
	}
	return r, nil
}

// Consensus returns what the reads last asked about agree on, and the list of bytes on which they did not, which belongs to
// it.
func (b *Bench) Consensus() (image, list []byte, err error) {
	if b.reread == nil || b.reread.Consensus == nil {
		return nil, nil, errors.New("there are no reads that agree on anything; compare them again")
	}
	return b.reread.Consensus, b.reread.List(), nil
}

// Blank says whether a chip is blank, and whether a master, which may be empty for none, can be burnt over what is there.
func (b *Bench) Blank(chip, master, device string) (BlankCheck, error) {
	read, ok := b.dumps[chip]
	if !ok {
		return BlankCheck{}, errClosed
	}
	var image []byte
	if master != "" && master != chip {
		image = b.dumps[master].Bytes
	}
	on := chipOf(device, len(read.Bytes), b.width(master))
	result := faults.BlankCheck(read.Bytes, image, b.options(device, on, master))
	check := BlankCheck{Result: result, Chip: on.carrying(result.Lines)}
	if result.Bits > 0 && eraseOf(on.Device) != faults.EraseNever {
		check.Times = timesOf(on.Device, result.InTheWay > 0 || image == nil)
	}
	return check, nil
}

// two returns two open dumps.
func (b *Bench) two(first, second string) (x, y dump.Dump, err error) {
	x, open := b.dumps[first]
	y, both := b.dumps[second]
	if !open || !both {
		return x, y, errClosed
	}
	return x, y, nil
}

// A Pair is which of the open dumps is taken as the master and which as a read of its copy.
type Pair struct {
	Master string `json:"master"`
	Read   string `json:"read"`
	Why    string `json:"why"` // a sentence
	// The dumps that are most likely reads of one and the same chip: of one size, and nearly equal. Fewer than two are none.
	Rereads []string `json:"rereads"`
}

// masterRank orders the states of dumps by how well they serve as a master; before them all comes a proven dump, and after
// them one that has not been inspected.
var masterRank = map[report.State]int{report.Sound: 1, report.Suspect: 2, report.Undecided: 3, report.Faulty: 4, report.Blank: 5}

// Pair guesses at the master: the best of the dumps that have been inspected, of several equally good ones the first. The
// read is the one that is looked at, or else the next of its size.
func (b *Bench) Pair(looked string) Pair {
	ids := b.named()
	if len(ids) == 0 {
		return Pair{Rereads: []string{}}
	}
	rank := func(id string) int {
		seen, known := b.seen[id]
		switch {
		case !known:
			return len(masterRank) + 1
		case seen.Verdict.Proven:
			return 0
		}
		return masterRank[seen.Verdict.State]
	}
	sorted.By(ids, func(x, y string) int {
		if d := rank(x) - rank(y); d != 0 {
			return d
		}
		return opened(x) - opened(y)
	})
	pair := Pair{Master: ids[0], Read: ids[0], Rereads: b.nearlyEqual(ids, looked)}
	if len(ids) == 1 {
		return pair
	}
	pair.Read = ids[1]
	for _, id := range ids[1:] {
		if len(b.dumps[id].Bytes) == len(b.dumps[ids[0]].Bytes) {
			pair.Read = id
			break
		}
	}
	if _, open := b.dumps[looked]; open && looked != ids[0] {
		pair.Read = looked
	}
	why := "the first that was opened of those that look best"
	switch best, next := rank(ids[0]), rank(ids[1]); {
	case best == 0 && next > 0:
		why = "the only one that is proven by what is built into it"
	case best == masterRank[report.Sound] && next > best:
		why = "the only sound one"
	}
	pair.Why = words.Fill("{} is taken as the master: it is {}. Choose another where that is wrong.", b.dumps[pair.Master].Name, why)
	return pair
}

// nearlyEqual returns the dumps of one size of which each differs from the first in fewer than one byte in 256: those like
// the dump that is looked at, or else the first that have any like them.
func (b *Bench) nearlyEqual(ids []string, looked string) []string {
	first := ids
	if _, open := b.dumps[looked]; open {
		first = append([]string{looked}, ids...)
	}
	for _, id := range first {
		one := b.dumps[id].Bytes
		alike := []string{}
		for _, other := range ids {
			if _, ok := relate.Nearly(one, b.dumps[other].Bytes); ok && len(one) > 0 {
				alike = append(alike, other)
			}
		}
		if len(alike) > 1 {
			return alike
		}
	}
	return []string{}
}

// opened returns when a dump was opened, as its id tells: "s12/3" came after "s4/0".
func opened(id string) int {
	number, value := 0, 0
	for _, c := range id {
		switch {
		case c >= '0' && c <= '9':
			value = 10*value + int(c-'0')
		case c == '/':
			number, value = value, 0
		}
	}
	return number<<12 + value
}

// named returns the name of a new file that is made of another: what was done to it stands before its ending.
func named(name, done, ending string) string {
	if slash := strings.LastIndexAny(name, `/\`); slash >= 0 {
		name = name[slash+1:]
	}
	if dot := strings.LastIndexByte(name, '.'); dot > 0 {
		name = name[:dot]
	}
	return name + "." + done + "." + ending
}

// timesOf says how long a device takes to burn, and to erase where that comes first; empty without a device.
func timesOf(device string, erase bool) string {
	d, ok := chips.ByID(device)
	if !ok {
		return ""
	}
	times, err := chips.TimesOf(d, 0)
	if err != nil {
		return ""
	}
	if !erase {
		return words.Fill("Burning a {}: {}", d.ID, times.Burning)
	}
	return words.Fill("Erasing a {}: {} Burning it: {}", d.ID, times.Erase.Sentence, times.Burning)
}

// tellShare returns host's Progress, or nil without a host.
func tellShare(host Host) func(share float64) {
	if host == nil {
		return nil
	}
	return host.Progress
}
