package report

import (
	"math"

	"lunette/core/dump"
	"lunette/core/marks"
	"lunette/core/sorted"
	"lunette/core/survey"
	"lunette/core/words"
)

func sourceOf(d dump.Dump) Source {
	source := Source{Name: d.Name, Size: len(d.Bytes), Format: d.Format, Packing: d.Packing, Gaps: d.Gaps, Notes: d.Notes}
	if d.Format != dump.Raw {
		source.Base = words.Hex(d.Base, 6)
	}
	if d.Start != nil {
		source.Start = words.Hex(*d.Start, 6)
	}
	return source
}

func orderOf(m marks.Answer) Order {
	order := Order{ID: m.Order.ID(), Name: StoredWords(m.Order), Sure: sureOf(m, m.Sure)}
	for _, other := range m.Also {
		order.Also = append(order.Also, other.ID())
	}
	return order
}

func cpuOf(m marks.Answer) CPU {
	family, _ := marks.FamilyByID(m.Family)
	return CPU{ID: m.Family, Name: family.Name, Sure: sureOf(m, m.FamilySure)}
}

// sureOf says how sure one part of an answer is, or that a person said so.
func sureOf(m marks.Answer, sure marks.Sure) Sure {
	if m.ByHand {
		return ByHand
	}
	return Sure(sure.String())
}

// marksOf lists the places of headers, of stored sums and of the first instructions of each telling kind.
func marksOf(m marks.Answer) []Mark {
	places := []Mark{}
	for _, h := range m.Headers {
		if h.SelfCheck == marks.CheckHolds || h.Bits >= 10 {
			places = append(places, Mark{h.Stored, h.Name})
		}
	}
	for _, s := range m.Sums {
		if s.At >= 0 && s.Bits >= 20 {
			places = append(places, Mark{s.Order.Source(s.At, s.To), s.Name})
		}
	}
	for _, seen := range m.Code.Seen {
		if len(seen.First) > 0 {
			places = append(places, Mark{seen.First[0], "first " + seen.Mnemonic})
		}
	}
	sorted.By(places, func(a, b Mark) int { return a.Offset - b.Offset })
	return places
}

func mapOf(s *survey.Survey) Map {
	n := len(s.Blocks)
	m := Map{BlockSize: s.BlockSize, Kinds: make([]string, n), Entropy: make([]float32, n),
		FF: make([]uint32, n), Zero: make([]uint32, n), Text: make([]uint32, n), Blank: make([]Stretch, 0, len(s.Blank.Longest))}
	for i, block := range s.Blocks {
		m.Kinds[i] = block.Kind.String()
		m.Entropy[i] = float32(math.Round(float64(block.Entropy)*100) / 100)
		m.FF[i], m.Zero[i], m.Text[i] = block.FF, block.Zero, block.Text
	}
	for _, run := range s.Blank.Longest {
		m.Blank = append(m.Blank, Stretch{From: run.From, To: run.To, Value: words.Byte(run.Value)})
	}
	return m
}

func linesOf(s *survey.Survey) Lines {
	lines := Lines{Silent: []int{}}
	for _, line := range s.X8 {
		lines.X8 = append(lines.X8, Line(line))
	}
	for _, line := range s.X16 {
		lines.X16 = append(lines.X16, Line(line))
	}
	for _, address := range s.Address {
		if address.NoEffect() {
			lines.Silent = append(lines.Silent, address.Bit)
		}
	}
	return lines
}
