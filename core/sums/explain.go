package sums

import (
	"errors"
	"slices"

	"lunette/core/arrange"
	"lunette/core/sorted"
)

// An Explanation says what a printed value can be, and how much that proves.
type Explanation struct {
	Value   string  `json:"value"`             // the digits as they were read: upper case, without trimmings
	Verdict Verdict `json:"verdict"`           // that of the likeliest match
	Answer  string  `json:"answer"`            // one sentence, without its full stop
	Odds    string  `json:"odds"`              // one sentence: how easily an unrelated value is matched
	Caution string  `json:"caution,omitempty"` // why the verdict is no better, where a match would seem to prove more
	Matches []Match `json:"matches"`           // the likeliest first; empty where nothing gives the value

	// Combinations is how many sums of a range in an arrangement were tried. Different is how many different values of as
	// many digits these came to: a byte sum is the same in every byte order and counts once.
	Combinations int `json:"combinations"`
	Different    int `json:"different"`
	// Chance is the probability that a value that has nothing to do with the dump would be matched by at least one of
	// them: Different / 16^digits. It is also the number of accidental matches to be expected.
	Chance float64  `json:"chance"`
	Tried  []string `json:"tried"` // what was tried, a line each
}

// A Match is a sum that has the printed value over one range, in one or several byte orders.
type Match struct {
	ID           string                `json:"id"` // the row of the catalogue
	Name         string                `json:"name"`
	Hex          string                `json:"hex"`              // the sum as the catalogue writes it
	Arrangements []arrange.Arrangement `json:"arrangements"`     // the likeliest first
	Order        string                `json:"order"`            // the same in words: "as stored", "in any byte order"
	Range        string                `json:"range"`            // "the whole", "the first half", "the whole, filled with FF to 1 MiB"
	From         int                   `json:"from"`             // the range in bytes of the arranged image
	To           int                   `json:"to"`               // not included
	Device       int                   `json:"device,omitempty"` // the size in bytes that the range is extended to
	Fill         byte                  `json:"fill"`             // with what it is extended
	// Chance is the probability that an unrelated value would be matched by this or by something no less likely. A match
	// early in the list proves more than a late one.
	Chance  float64 `json:"chance"`
	Verdict Verdict `json:"verdict"` // by that chance
}

// Explain looks for the sum, arrangement and range of data that give what a label or manual says.
//
// value is what a person types: 1A2B, 0x1a2b, $1A2B, 1A2Bh, 12:34:56:78, or a digest (parsePrinted has the rules).
// devices are the sizes in bytes to which the image may have been extended with FF or 00, of which those up to eight
// times its size are tried; nil takes the powers of two from 2 KiB to 8 MiB. progress may be nil; it is called about once
// a MiB with the share of the dump's bytes gone through in all arrangements, 0 to 1.
//
// What is tried is fixed before the value is looked at and ordered by how usual it is, from the plain byte sum of the
// whole as stored to the two's complement of a quarter mirrored. So the chances are exact for this dump, whatever it
// contains. An error says what is wrong with the value or the dump.
//
// The cost is linear in the size of the dump: ten passes over it, fewer for digests. Sums of a range are joined from
// those of its parts; only digests and rotating sums run again for each range that begins elsewhere. As wasm 64 MiB have
// taken 3 to 4 seconds of processor time for a sum, 2 for MD5 and 5 for SHA-256; 512 KiB 0.2 to 0.4.
func Explain(data []byte, value string, devices []int, progress func(share float64)) (Explanation, error) {
	readings, digits, err := parsePrinted(value)
	if err != nil {
		return Explanation{}, err
	}
	if len(data) == 0 {
		return Explanation{}, errors.New("the dump is empty: there is nothing to sum")
	}
	if devices == nil {
		devices = defaultDevices()
	}
	devices = slices.Clone(devices)
	sorted.Ascending(devices)
	t := newTrial(readings, slices.Compact(devices), progress)
	t.run(data)
	return t.explanation(digits), nil
}

// explanation says what the trial has found.
func (t *trial) explanation(digits string) Explanation {
	e := Explanation{Value: digits, Verdict: Nothing, Combinations: t.combinations, Matches: t.matches()}
	for _, values := range t.values {
		e.Different += len(values)
	}
	e.Chance = t.chance(mostUnlikely)
	if len(e.Matches) > 0 {
		e.Verdict = e.Matches[0].Verdict
		if verdictOf(e.Matches[0].Chance) != e.Verdict {
			e.Caution = "all zeros or all ones is also what an empty field shows and what sums of blank bytes come to"
		}
	}
	e.Answer, e.Odds, e.Tried = e.answer(), e.odds(), t.tried(e)
	return e
}

// matches returns the hits, the likeliest first. The byte orders that give a sum the same value are one match, and a sum
// of the whole that 00 at the end does not change is not matched again with and without it.
func (t *trial) matches() []Match {
	matches := []Match{}
	type key struct {
		row      int
		span     span
		lane, of int
	}
	type padded struct {
		row int
		a   arrange.Arrangement
	}
	sorted.By(t.hits, func(a, b hit) int {
		if a.unlikely != b.unlikely {
			return a.unlikely - b.unlikely
		}
		return a.row - b.row
	})
	places, whole := make(map[key]int), make(map[padded]bool)
	for _, h := range t.hits {
		if p := (padded{h.row, h.a}); h.span.isWhole {
			if whole[p] {
				continue
			}
			whole[p] = true
		}
		lane, of := h.a.Lanes()
		k := key{h.row, h.span, lane, of}
		place, seen := places[k]
		if !seen {
			place = len(matches)
			places[k] = place
			row := t.rows[h.row]
			m := Match{
				ID: row.ID, Name: row.Name, Hex: t.hexOf(row),
				Range: h.span.name, From: h.span.from, To: h.span.to, Device: h.span.device, Fill: h.span.fill,
				Chance: t.chance(h.unlikely),
			}
			m.Verdict = verdictOf(m.Chance)
			if isFiller(m.Hex) {
				m.Verdict = m.Verdict.atMostHint()
			}
			matches = append(matches, m)
		}
		matches[place].Arrangements = append(matches[place].Arrangements, h.a)
	}
	for i := range matches {
		matches[i].Order = orderWords(matches[i].Arrangements)
	}
	return matches
}

// hexOf returns the printed value as a sum of the row's width.
func (t *trial) hexOf(row Row) string {
	for _, r := range t.readings {
		if r.bits == row.Bits {
			return r.hex
		}
	}
	return ""
}
