package report

import (
	"math"

	"lunette/core/dump"
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

// maxText is how many characters of one text run a report carries.
const maxText = 200

func textsOf(d dump.Dump, s *survey.Survey) []Text {
	texts := make([]Text, len(s.Texts))
	for i, t := range s.Texts {
		texts[i] = Text{Offset: t.From, Text: string(d.Bytes[t.From:min(t.To, t.From+maxText)])}
	}
	return texts
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
