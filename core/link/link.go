// Package link answers: how does a person pass on what was found in a dump without passing on the dump, and is my dump the
// one that somebody else wrote about?
//
// A Statement is what is passed on: the verdict, the findings, the sums, and prints of the dump's blocks and byte lanes. Of
// makes it, Encode puts it into the fragment of a link (wire.go, pack.go), Decode reads it at the other end, Check holds
// one's own dump against it (check.go, trials.go, say.go), and Texts makes it ready to paste (paste.go).
//
// A statement has no byte of the dump's content in it. A print is the first PrintBits of a SHA-256 (FIPS 180-4) over at
// least LeastBlock bytes; like every sum it confirms a guess, so of a block that is nearly blank the rest could be found by
// trying. A statement is somebody's word, not a proof: whoever makes a link by hand can put anything into it.
package link

//go:generate go run lunette/core/jsontext/generate

import (
	"errors"
	"hash/crc32"
	"strings"

	"lunette/core/arrange"
	"lunette/core/report"
	"lunette/core/words"
)

const (
	// PrintBits is the length of a print in bits. Two blocks that differ have equal prints by chance once in 2^48, and
	// since one check compares fewer than 2^13 of them, once in 2^35 checks at the most.
	PrintBits = 48
	// MaxBlocks is the most blocks that have prints.
	MaxBlocks = 64
	// LeastBlock is the fewest bytes that a print is made of, so that nobody finds them by trying: blocks and lanes that
	// would be smaller have none.
	LeastBlock = 1 << 10
	// LeastSize is the smallest dump, in bytes, that a statement is made about: the sums of a smaller one would give its
	// bytes away.
	LeastSize = 32
	// MaxTitle is the most characters of a title.
	MaxTitle = 80
)

// A Statement is what somebody says about a dump. All hex is of the digits that the sum has, upper case for CRC-32 and lower
// case for the others.
type Statement struct {
	Version  int          `json:"version"`  // of the link's form
	Short    bool         `json:"short"`    // the short form: no prints of blocks, no findings, SHA256CPU cut to 128 bits
	Title    string       `json:"title"`    // given by the person, may be empty
	Size     int          `json:"size"`     // bytes
	State    report.State `json:"state"`    // of the verdict
	Headline string       `json:"headline"` // of the verdict
	Findings []Finding    `json:"findings"` // in the order of the report
	LeftOut  int          `json:"leftOut"`  // findings that found no room

	Order report.Order `json:"order"` // in which the CPU sees the dump
	CPU   report.CPU   `json:"cpu"`

	CRC32     string `json:"crc32"`     // of the dump as stored
	SHA256    string `json:"sha256"`    // of the dump as stored
	SHA256CPU string `json:"sha256cpu"` // of the dump in the CPU's order

	BlockSize int      `json:"blockSize"` // bytes; the last block is longer by what remains
	Blocks    []string `json:"blocks"`    // print of each block in the CPU's order
	Lanes     []string `json:"lanes"`     // prints of the even and the odd lane in the CPU's order, then of the four of four
}

// A Finding is a finding of the report without its evidence.
type Finding struct {
	ID       string          `json:"id"`
	Severity report.Severity `json:"severity"`
	Question string          `json:"question"`
	Answer   string          `json:"answer"`
	Sure     report.Sure     `json:"sure"`
}

// Of returns the statement about a dump: its stored bytes, the report about them, and a title that the person gives, which
// may be empty and is the one place where a file's name could be. What does not fit into a link is left out and counted.
// progress, which may be nil, is told the share that is done, 0 to 1. A dump smaller than LeastSize is an error.
func Of(stored []byte, r report.Report, title string, progress func(share float64)) (Statement, error) {
	if len(stored) < LeastSize {
		return Statement{}, errors.New(words.Fill("{} are too few for a link: the sums would give them away; links begin at {}",
			words.Plural(len(stored), "byte"), words.Size(LeastSize)))
	}
	order, _ := arrange.Parse(r.Order.ID)
	h := newHasher(stored, 5*len(stored), progress)
	s := Statement{
		Version:  version,
		Title:    clean(title, MaxTitle),
		Size:     len(stored),
		State:    r.Verdict.State,
		Headline: ascii(r.Verdict.Headline, maxHeadline),
		Findings: []Finding{},
		Order:    r.Order,
		CPU:      r.CPU,
		CRC32:    words.Hex(uint64(crc32.ChecksumIEEE(stored)), 8),
		SHA256:   h.sum(arrange.Stored, 0, len(stored)),
		Lanes:    []string{},
	}
	s.Order.Name = report.StoredWords(order)
	s.SHA256CPU = s.SHA256
	if order != arrange.Stored {
		s.SHA256CPU = h.sum(order, 0, len(stored))
	}
	s.BlockSize, s.Blocks = blockSize(s.Size), make([]string, blockCount(s.Size))
	for i := range s.Blocks {
		from, to := s.span(i)
		s.Blocks[i] = h.print(order, from, to)
	}
	for _, lane := range lanes(s.Size) {
		view, _ := order.Then(lane)
		s.Lanes = append(s.Lanes, h.print(view, 0, view.Len(s.Size)))
	}
	for _, f := range r.Findings {
		s.Findings = append(s.Findings, Finding{f.ID, f.Severity, f.Question, ascii(withoutContent(f), maxText), f.Sure})
	}
	s.fit(maxBytes)
	return s, nil
}

// withoutContent returns a finding's answer. A built-in sum's value stands in the dump itself, so it is not passed on.
func withoutContent(f report.Finding) string {
	if i := strings.LastIndex(f.Answer, ", "); f.ID == "built-in-sum" && f.Severity == report.Good && i > 0 {
		return f.Answer[:i] + "."
	}
	return f.Answer
}

// Shortened returns the short form of s, for a QR code: with a page's address of up to 60 characters, under 300.
func (s Statement) Shortened() Statement {
	s.Short, s.Findings, s.LeftOut, s.Blocks, s.BlockSize = true, []Finding{}, 0, []string{}, 0
	s.SHA256CPU = s.SHA256CPU[:2*shortDigest]
	s.fit(maxShort)
	return s
}

// fit leaves out what does not fit into so many bytes: findings, those that weigh least and come last first, then the end of
// the title, then the end of the headline.
func (s *Statement) fit(limit int) {
	for len(s.body()) > limit {
		switch {
		case len(s.Findings) > 0:
			s.leaveOutOne()
		case s.Title != "":
			s.Title = shorter(s.Title, "…")
		default:
			s.Headline = shorter(s.Headline, "...")
		}
	}
}

func (s *Statement) leaveOutOne() {
	least, weight := 0, len(severities)
	for i, f := range s.Findings {
		if w := indexOf(severities, string(f.Severity)); w <= weight {
			least, weight = i, w
		}
	}
	kept := append([]Finding{}, s.Findings[:least]...)
	s.Findings = append(kept, s.Findings[least+1:]...)
	s.LeftOut++
}

// blockSize returns the bytes of a block of a dump of n bytes: the smallest power of two, from LeastBlock on, that makes
// MaxBlocks at the most.
func blockSize(n int) int {
	size := LeastBlock
	for n/size > MaxBlocks {
		size *= 2
	}
	return size
}

// blockCount returns how many blocks a dump of n bytes has: at least one, which may be smaller than LeastBlock when it is
// the whole dump.
func blockCount(n int) int { return max(1, n/blockSize(n)) }

// span returns the offsets of block i; the last block takes what remains.
func (s *Statement) span(i int) (from, to int) {
	if i == len(s.Blocks)-1 {
		return i * s.BlockSize, s.Size
	}
	return i * s.BlockSize, (i + 1) * s.BlockSize
}

// lanes returns the lanes of a dump of n bytes that are large enough for a print.
func lanes(n int) []arrange.Arrangement {
	var all []arrange.Arrangement
	for _, of := range []int{2, 4} {
		for lane := 0; lane < of && n/of >= LeastBlock; lane++ {
			all = append(all, arrange.Lane(lane, of))
		}
	}
	return all
}
