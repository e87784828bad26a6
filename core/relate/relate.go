// Package relate answers: do these open dumps belong together, and how?
//
// Find takes all open dumps and returns the relations between them. Some are facts, found by comparing exactly (exact.go):
// two dumps hold the same bytes, the same in another arrangement, one is a byte lane, a half, a quarter of another, or one
// with blank bytes around it. Others are conclusions about an image that is not among the dumps: two or four are the byte
// lanes of one image, or two are its halves in sequence (joins.go). Those are claimed only on evidence that is there when
// the dumps are joined this way and not otherwise: code that reads, sums that close, headers whose self-check holds.
//
// Each relation carries a Recipe for the dump that can be made of its dumps.
//
// Blank dumps, constant ones and plain ramps match each other trivially; content.go measures how much there is in a dump
// that could match at all, and dumps with too little are related to nothing.
package relate

import (
	"bytes"
	"cmp"
	"slices"

	"lunette/core/marks"
	"lunette/core/sorted"
)

// A Named is one open dump.
type Named struct {
	Name  string
	Bytes []byte
}

// A Kind is a way in which dumps belong together.
type Kind string

// The kinds of relations.
const (
	Same       Kind = "same"        // the same bytes
	NearlySame Kind = "nearly same" // the same but for a few bytes
	Rearranged Kind = "rearranged"  // the same bytes in another arrangement
	LaneOf     Kind = "lane of"     // the first is a byte lane, of two or four, of the second
	Lanes      Kind = "lanes"       // all byte lanes of one image, that of address 0 first
	Halves     Kind = "halves"      // the two halves of one image, in sequence
	Half       Kind = "half"        // the first is one half of the second
	Quarter    Kind = "quarter"     // the first is one quarter of the second
	Doubled    Kind = "doubled"     // the first is one image written twice, four or more times; the second, if any, is that image
	Padded     Kind = "padded"      // the first is the second with blank bytes before or after it
)

// A Relation says how some of the dumps belong together. Dumps that hold the same bytes are one to every other relation.
type Relation struct {
	Kind     Kind       `json:"kind"`
	Dumps    []int      `json:"dumps"` // indexes into the dumps given
	Sentence string     `json:"sentence"`
	Sure     marks.Sure `json:"sure"`     // Certain or Strong
	Evidence []string   `json:"evidence"` // what was counted or computed, a sentence each
	Bits     float64    `json:"bits"`     // evidence: by chance one in 2^Bits such searches would show as much
	Chance   string     `json:"chance"`   // the same in words, "1 in 16,777,216"
	Open     bool       `json:"open"`     // lanes of which it cannot be told which is which; Dumps may be in the reverse sequence
	Recipe   Recipe     `json:"recipe"`   // makes nothing where there is nothing to make
}

// Find returns the relations between dumps, the surest first. The order of the dumps makes no difference but to the
// indexes. Its cost grows with the bytes and, slowly, with the number of pairs of dumps of equal size. progress, when not
// nil, is told the share that is done, 0 to 1.
func Find(dumps []Named, progress func(share float64)) []Relation {
	if progress == nil {
		progress = func(float64) {}
	}
	s := newSearch(dumps, progress)
	s.findSame()
	s.findNearly()
	s.findRearranged()
	s.findCopies()
	s.findParts()
	s.findLanes()
	s.findJoins()
	for i := range s.relations {
		s.relations[i].Recipe.Already = s.holder(s.relations[i].Recipe)
	}
	s.sort()
	progress(1)
	return s.relations
}

// A search is one call of Find.
type search struct {
	dumps     []Named
	inOrder   []int     // all dumps, by name and content: the order in which things are looked at
	kept      []*sample // one of each content that is worth relating, in that order
	relations []Relation
	joined    map[int]bool // dumps that are known to be parts of another open one
	progress  func(share float64)
}

// A sample is a dump that stands for all with the same bytes.
type sample struct {
	index  int // into the dumps given
	name   string
	data   []byte
	bits   float64 // information in it
	fold   uint64  // fingerprint of the content in any order
	class  int     // samples of one class are the same content in different orders
	once   int     // bytes after which it repeats; its length when it does not
	number int     // its place among those kept

	// What is found out when it is first asked for.
	prefixes map[int]uint64 // folds of its first bytes, by their number
	lively   []bool         // by block: not constant
	sums     [2][]laneSum   // of the bytes as they are, and mirrored
	code     *marks.Code
	headers  []marks.Header
	closing  map[string]bool
}

func newSearch(dumps []Named, progress func(share float64)) *search {
	s := &search{dumps: dumps, progress: progress, joined: map[int]bool{}}
	for i := range dumps {
		s.inOrder = append(s.inOrder, i)
	}
	sorted.By(s.inOrder, func(i, j int) int {
		a, b := &dumps[i], &dumps[j]
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(len(a.Bytes), len(b.Bytes)), bytes.Compare(a.Bytes, b.Bytes),
			i-j)
	})
	return s
}

// add notes a relation and puts its bits into words.
func (s *search) add(r Relation) {
	r.Chance = chance(r.Bits)
	s.relations = append(s.relations, r)
}

// sort puts the surest relations first, by the names of their dumps where they are alike.
func (s *search) sort() {
	rank := []Kind{Lanes, Halves, Same, NearlySame, Rearranged, Doubled, LaneOf, Half, Quarter, Padded}
	sorted.By(s.relations, func(a, b Relation) int {
		return cmp.Or(cmp.Compare(b.Sure, a.Sure), slices.Index(rank, a.Kind)-slices.Index(rank, b.Kind),
			slices.CompareFunc(a.Dumps, b.Dumps, func(i, j int) int { return s.place(i) - s.place(j) }))
	})
}

// place returns where dump i stands in the order in which things are looked at.
func (s *search) place(i int) int { return slices.Index(s.inOrder, i) }

// holder returns the first dump that already holds what a recipe makes, or -1.
func (s *search) holder(r Recipe) int {
	all := make([][]byte, len(s.dumps))
	for i := range all {
		all[i] = s.dumps[i].Bytes
	}
	size, err := r.size(all)
	if err != nil || !slices.ContainsFunc(all, func(b []byte) bool { return len(b) == size }) {
		return -1
	}
	made, err := r.Make(all)
	if err != nil {
		return -1
	}
	for _, i := range s.inOrder {
		if bytes.Equal(all[i], made) {
			return i
		}
	}
	return -1
}
