package report

import (
	"lunette/core/marks"
	"lunette/core/words"
)

// deciding lists the severities that decide a verdict, from the strongest on, each with the state it leads to.
var deciding = []struct {
	severity Severity
	state    State
}{
	{Fault, Faulty},
	{Empty, Blank},
	{Unclear, Undecided},
	{Warning, Suspect},
}

// verdictOf returns the verdict of the strongest finding; of several equally strong ones the first speaks. A dump in
// which nothing is wrong is sound.
func verdictOf(size int, findings []Finding, m marks.Answer) Verdict {
	for _, rule := range deciding {
		for _, f := range findings {
			if f.Severity == rule.severity {
				return verdictBy(f, rule.state)
			}
		}
	}
	return soundVerdict(size, findings, m)
}

func verdictBy(f Finding, state State) Verdict {
	headline := f.headline
	if headline == "" {
		headline = f.Answer
	}
	return Verdict{State: state, Headline: headline, Next: f.Next}
}

// soundVerdict promises no more than was checked: whether something proves the content or nothing wrong shows, whose code
// it is and how it is stored, and whether every line could be seen.
func soundVerdict(size int, findings []Finding, m marks.Answer) Verdict {
	again := "Read the chip a second time and compare the sums: two equal reads are the best proof that a read can give."
	family, _ := marks.FamilyByID(m.Family)
	firm := m.Sure >= marks.Strong && m.FamilySure >= marks.Strong
	switch {
	case firm && proven(m, size):
		return Verdict{Sound, words.Fill("A whole, good {} image, {}.", family.Name, StoredWords(m.Order)), burnWords(m), true}
	case firm:
		return Verdict{Sound, words.Fill("Nothing wrong shows in this {} image, {}.", family.Name, StoredWords(m.Order)), again + " " + burnWords(m), false}
	case proven(m, size):
		return Verdict{Sound, words.Fill("A whole, good image, {}.", StoredWords(m.Order)), again, true}
	}
	headline := "Nothing wrong shows in these {}: every line is alive."
	for _, f := range findings {
		if (f.ID == "data-lines" || f.ID == "address-lines") && f.Severity != Good {
			headline = "Nothing wrong shows in these {}, though they do not exercise every line."
		}
	}
	return Verdict{Sound, words.Fill(headline, words.Size(size)), again, false}
}
