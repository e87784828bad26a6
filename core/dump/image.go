package dump

import (
	"sort"
	"strconv"

	"lunette/core/words"
)

// From records to images: which addresses are covered, where to cut, what lies in the gaps.
//
// The text is scanned twice: first for the addresses alone, so that each image is allocated once and at its size, then
// for the data. A third scan happens only to name the other line when two records contradict each other. Nothing is kept
// for each record: records that follow on from each other make one extent.

// A record is a stretch of data that a line puts at an address. Data is valid until the scan goes on.
type record struct {
	line    int
	address uint64
	data    []byte
}

// sayings is what a text of records says besides its data.
type sayings struct {
	start *uint64  // where execution begins; nil if the text does not say
	notes []string // what is odd but no error, each a sentence
}

// A recordScan reads a text and hands each stretch of data to visit. It ends with the first error, be it its own or
// that of visit.
type recordScan func(text []byte, visit func(record) *FormatError) (sayings, *FormatError)

// scans has the recordScan of each form.
var scans = map[Format]recordScan{HEX: scanHex, SRecord: scanSRecords}

// An image is content with its place: bytes[0] belongs to address base.
type image struct {
	base  uint64
	bytes []byte
	gaps  []Range
}

// An extent is a half-open stretch of addresses.
type extent struct{ from, to uint64 }

// maxExtents bounds what is kept for records in no order: those of 16 bytes of a dump of MaxBytes.
const maxExtents = MaxBytes / 16

// layOut returns the images in text, one unless it spans more than MaxBytes, together at most room bytes.
func layOut(text []byte, format Format, room int) ([]image, sayings, *FormatError) {
	if len(text) > MaxText {
		return nil, sayings{}, wrongFile(format, "the text holds {}, at most {} are read; cut it into parts",
			words.Size(len(text)), words.Size(MaxText))
	}
	scan := scans[format]
	extents, said, err := covered(text, format, scan)
	if err != nil {
		return nil, said, err
	}
	extents, overlap := union(extents)
	groups, err := groupExtents(extents, format, room)
	if err != nil {
		return nil, said, err
	}
	if len(groups) > 1 {
		said.notes = append(said.notes, words.Fill("The records span more than the {} that one dump holds; "+
			"they were cut at the widest gaps into {} dumps.", words.Size(MaxBytes), words.Count(len(groups))))
	}
	images := make([]image, len(groups))
	for i, group := range groups {
		images[i] = blank(group)
	}
	repeats, err := fill(images, text, format, scan, overlap)
	if err != nil {
		return nil, said, err
	}
	said.notes = repeats.note(said.notes, "On {} (the first is line {}) bytes are given a second time, with the same values.")
	return images, said, nil
}

// covered returns the addresses that the records cover, in the order of the lines.
func covered(text []byte, format Format, scan recordScan) ([]extent, sayings, *FormatError) {
	var extents []extent
	said, err := scan(text, func(r record) *FormatError {
		to := r.address + uint64(len(r.data))
		if last := len(extents) - 1; last >= 0 && extents[last].to == r.address {
			extents[last].to = to
			return nil
		}
		if len(r.data) == 0 {
			return nil
		}
		if len(extents) == maxExtents {
			return wrongLine(format, r.line, 0, "the records before this one are scattered over more than {} separate places; "+
				"put them in order of their addresses", words.Count(maxExtents))
		}
		extents = append(extents, extent{r.address, to})
		return nil
	})
	if err == nil && len(extents) == 0 {
		err = wrongFile(format, "the file holds no data records; read the chip again")
	}
	return extents, said, err
}

// byAddress sorts extents. Package sort serves here since a sort of slices would be compiled once more for this type.
type byAddress []extent

func (e byAddress) Len() int           { return len(e) }
func (e byAddress) Less(i, j int) bool { return e[i].from < e[j].from }
func (e byAddress) Swap(i, j int)      { e[i], e[j] = e[j], e[i] }

// union sorts extents and joins those that touch, in place, and reports whether any overlapped.
func union(extents []extent) (joined []extent, overlap bool) {
	if !sort.IsSorted(byAddress(extents)) {
		sort.Sort(byAddress(extents))
	}
	joined = extents[:1]
	for _, next := range extents[1:] {
		last := &joined[len(joined)-1]
		if next.from > last.to {
			joined = append(joined, next)
			continue
		}
		overlap = overlap || next.from < last.to
		last.to = max(last.to, next.to)
	}
	return joined, overlap
}

// groupExtents cuts ascending extents into groups that span at most MaxBytes each: at every gap as wide as the narrowest
// one that must be a cut. So gaps of a kind are treated alike.
func groupExtents(extents []extent, format Format, room int) ([][]extent, *FormatError) {
	// The widest cut that still leaves groups that fit; 0 if none does.
	width := sort.Search(1<<34, func(width int) bool {
		fit := true
		eachGroup(extents, uint64(width), func(group []extent) bool {
			fit = span(group) <= MaxBytes
			return fit
		})
		return !fit
	}) - 1
	if width < 1 {
		longest := extents[0]
		for _, e := range extents {
			if e.to-e.from > longest.to-longest.from {
				longest = e
			}
		}
		return nil, wrongFile(format, "the records cover {} without a gap from address {} on, a dump holds at most {}; cut the file into parts",
			words.Size(int(longest.to-longest.from)), words.Address(int(longest.from)), words.Size(MaxBytes))
	}
	var groups [][]extent
	total := uint64(0)
	eachGroup(extents, uint64(width), func(group []extent) bool {
		groups = append(groups, group)
		total += span(group)
		return len(groups) <= MaxDumps
	})
	switch {
	case len(groups) > MaxDumps:
		return nil, wrongFile(format, "the records lie so far apart that they make more than {} dumps; cut the file into parts",
			words.Count(MaxDumps))
	case total > uint64(room):
		return nil, wrongFile(format, "the records span {} with their gaps, {} of {} for one file are left; cut the file into parts",
			words.Size(int(total)), words.Size(room), words.Size(MaxUnpacked))
	}
	return groups, nil
}

// eachGroup hands to visit the groups that cuts at every gap of at least width addresses make, until it returns false.
func eachGroup(extents []extent, width uint64, visit func([]extent) bool) {
	from := 0
	for i := 1; i < len(extents); i++ {
		if extents[i].from-extents[i-1].to >= width {
			if !visit(extents[from:i]) {
				return
			}
			from = i
		}
	}
	visit(extents[from:])
}

// span is the number of addresses from the first to the last of ascending extents.
func span(extents []extent) uint64 { return extents[len(extents)-1].to - extents[0].from }

// blank returns an image of ascending extents with FF in the gaps and zeros where the data will go.
func blank(extents []extent) image {
	base := extents[0].from
	img := image{base: base, bytes: make([]byte, span(extents))}
	if len(extents) > 1 {
		img.gaps = make([]Range, 0, len(extents)-1)
	}
	for i := 1; i < len(extents); i++ {
		gap := Range{int(extents[i-1].to - base), int(extents[i].from - base)}
		for at := gap.From; at < gap.To; at++ {
			img.bytes[at] = 0xFF
		}
		img.gaps = append(img.gaps, gap)
	}
	return img
}

// fill puts the data of text into the images that hold its addresses. If records overlap it counts the lines that repeat
// what stands there, and a line that contradicts an earlier one is an error that names both.
func fill(images []image, text []byte, format Format, scan recordScan, overlap bool) (repeats lineCount, err *FormatError) {
	var written []bitSet
	if overlap {
		for _, img := range images {
			written = append(written, make(bitSet, (len(img.bytes)+63)/64))
		}
	}
	i := 0
	_, err = scan(text, func(r record) *FormatError {
		if len(r.data) == 0 {
			return nil
		}
		if r.address-images[i].base >= uint64(len(images[i].bytes)) { // below the base this difference is huge
			i = sort.Search(len(images), func(i int) bool { return images[i].base > r.address }) - 1
		}
		at := int(r.address - images[i].base)
		if !overlap {
			copy(images[i].bytes[at:], r.data)
			return nil
		}
		repeated := false
		for j, value := range r.data {
			if written[i].has(at + j) {
				repeated = true
				if there := images[i].bytes[at+j]; there != value {
					return contradiction(r, j, there, text, format, scan)
				}
			}
			written[i].add(at + j)
			images[i].bytes[at+j] = value
		}
		if repeated {
			repeats.add(r.line)
		}
		return nil
	})
	return repeats, err
}

// contradiction says that byte j of r differs from what an earlier line put there, and finds that line.
func contradiction(r record, j int, there byte, text []byte, format Format, scan recordScan) *FormatError {
	address := r.address + uint64(j)
	_, err := scan(text, func(earlier record) *FormatError {
		if address-earlier.address >= uint64(len(earlier.data)) {
			return nil
		}
		return wrongLine(format, r.line, 0, "address {} is {} here, but {} on line {}; keep the record that is right",
			words.Address(int(address)), words.Byte(r.data[j]), words.Byte(there), strconv.Itoa(earlier.line))
	})
	return err
}

// A bitSet remembers which offsets were written, one bit each.
type bitSet []uint64

func (s bitSet) has(i int) bool { return s[i/64]>>(i%64)&1 != 0 }
func (s bitSet) add(i int)      { s[i/64] |= 1 << (i % 64) }
