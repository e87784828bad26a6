package sums

import (
	"strconv"
	"strings"

	"lunette/core/arrange"
	"lunette/core/words"
)

// orderWords names the arrangements of a match: "as stored", "in any byte order", "as stored or 16-bit halves exchanged in
// 32-bit words".
func orderWords(arrangements []arrange.Arrangement) string {
	straight, mirrored := 0, 0
	for _, a := range arrangements {
		if a.IsMirrored() {
			mirrored++
		} else if _, of := a.Lanes(); of == 1 {
			straight++
		}
	}
	const orders = 4 // of the bytes in a long
	var parts []string
	switch {
	case straight == orders && mirrored == orders:
		return "in any byte order, bits mirrored or not"
	case straight == orders:
		parts = append(parts, "in any byte order")
	case mirrored == orders:
		parts = append(parts, "in any byte order with bits mirrored in each byte")
	}
	for _, a := range arrangements {
		if a.IsMirrored() && mirrored < orders || !a.IsMirrored() && straight < orders {
			parts = append(parts, a.String())
		}
	}
	text := parts[0]
	for _, part := range parts[1:] {
		text += " or " + part
	}
	return text
}

// answers are the sentences for each verdict about a match; their parts are the value, the sum, the range and the order.
var answers = map[Verdict]string{
	NearProof: "{} is the {}, over {}, {}",
	Likely:    "{} is most likely the {}, over {}, {}",
	Hint:      "{} may be the {}, over {}, {}: a hint, no more",
}

func (e *Explanation) answer() string {
	if len(e.Matches) == 0 {
		return words.Fill("nothing that was tried gives {}", e.Value)
	}
	if e.Verdict == Nothing {
		return words.Fill("{} is matched {}, as an unrelated value would be: that says nothing", e.Value,
			words.Plural(len(e.Matches), "time"))
	}
	first := e.Matches[0]
	return words.Fill(answers[e.Verdict], e.Value, first.Name, first.Range, first.Order)
}

func (e *Explanation) odds() string {
	if len(e.Matches) == 0 {
		return words.Fill("chance that an unrelated value is matched by something tried: {}", odds(e.Chance))
	}
	return words.Fill("chance that an unrelated value is matched so early in the list: {}; by anything tried: {}",
		odds(e.Matches[0].Chance), odds(e.Chance))
}

// tried says what was tried.
func (t *trial) tried(e Explanation) []string {
	var names []string
	for _, row := range t.rows {
		if row.Group != groupNegated {
			names = append(names, row.Name)
		}
	}
	sums := strings.Join(names, "; ")
	if len(names) < len(t.rows) {
		sums += "; the plain sums negated, in two's and in ones' complement"
	}
	orders := "as stored; bytes swapped in 16-bit words; 32-bit words reversed; 16-bit halves exchanged in 32-bit words; " +
		"each of these with mirrored bits; the even and the odd byte lane; each byte lane of four"
	ranges := "of each the whole, the halves and the quarters; the whole without the FF or 00 at its end"
	if t.isDigest {
		orders = strings.Replace(orders, "; each of these with mirrored bits", "", 1)
		ranges = strings.Replace(ranges, ", the halves and the quarters", " and the halves", 1)
	}
	var larger []string
	for _, device := range t.devices {
		if isLarger(device, t.size) {
			larger = append(larger, words.Size(device))
		}
	}
	fills := "filled up to no larger device"
	if len(larger) > 0 {
		fills = words.Fill("the whole filled with FF and with 00 to {}", words.List(larger))
	}
	fills += words.Fill("; each lane likewise to devices up to {} times its size", strconv.Itoa(largestDevice))
	return []string{sums, orders, ranges, fills, words.Fill("{}, {} of that length",
		words.Plural(e.Combinations, "combination"), words.Plural(e.Different, "different value"))}
}
