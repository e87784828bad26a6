package link

import (
	"strconv"

	"lunette/core/arrange"
	"lunette/core/report"
	"lunette/core/words"
)

// A Content is one thing that stands in a link.
type Content struct {
	Name string `json:"name"` // what it is
	Text string `json:"text"` // what it says
}

// Titled returns s with another title. What finds no room beside it is left out, as Of does.
func (s Statement) Titled(title string) Statement {
	s.Title = clean(title, MaxTitle)
	limit := maxBytes
	if s.Short {
		limit = maxShort
	}
	s.fit(limit)
	return s
}

// Contents returns all that stands in the link for s, in the order in which it is shown, so that a person sees it before the
// link is made. Nothing else is in it but the version, lengths and the link's own checksum.
func (s Statement) Contents() []Content {
	title := s.Title
	if title == "" {
		title = "none"
	}
	all := []Content{{"Title", title}, {"Size", words.Plural(s.Size, "byte")}, {"Verdict", words.Fill("{}: {}", string(s.State), s.Headline)}}
	for _, f := range s.Findings {
		all = append(all, Content{f.Question, words.Fill("{} ({})", f.Answer, string(f.Sure))})
	}
	if s.LeftOut > 0 {
		all = append(all, Content{"Left out", words.Plural(s.LeftOut, "finding") + " for want of room"})
	}
	order := "cannot tell"
	if s.Order.Sure != report.CannotTell {
		order = words.Fill("{} ({})", s.Order.Name, string(s.Order.Sure))
	}
	var also []string
	for _, id := range s.Order.Also {
		if a, ok := arrange.Parse(id); ok {
			also = append(also, a.String())
		}
	}
	if len(also) > 0 {
		order += "; not told from: " + words.List(also)
	}
	all = append(all, Content{"Order", order})
	if s.CPU.Name != "" {
		all = append(all, Content{"CPU", words.Fill("{} ({})", s.CPU.Name, string(s.CPU.Sure))})
	}
	all = append(all, Content{"CRC-32", s.CRC32}, Content{"SHA-256", s.SHA256})
	if s.Order.ID != arrange.Stored.ID() {
		what := "SHA-256 in the CPU's order"
		if s.Short {
			what += words.Fill(", first {} bits", strconv.Itoa(8*shortDigest))
		}
		all = append(all, Content{what, s.SHA256CPU})
	}
	if n := len(s.Blocks); n > 0 {
		all = append(all, Content{"Prints", words.Fill("{} of blocks of {}: {} bits of the SHA-256 of each", words.Count(n), words.Size(s.BlockSize), strconv.Itoa(PrintBits))})
	}
	if n := len(s.Lanes); n > 0 {
		all = append(all, Content{"Prints", words.Fill("{} of byte lanes: {} bits of the SHA-256 of each", words.Count(n), strconv.Itoa(PrintBits))})
	}
	return all
}
