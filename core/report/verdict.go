package report

import "lunette/core/words"

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
func verdictOf(size int, findings []Finding) Verdict {
	for _, rule := range deciding {
		for _, f := range findings {
			if f.Severity == rule.severity {
				return verdictBy(f, rule.state)
			}
		}
	}
	return soundVerdict(size, findings)
}

// soundVerdict promises no more than was checked: that nothing wrong shows, and whether every line could be seen.
func soundVerdict(size int, findings []Finding) Verdict {
	headline := "Nothing wrong shows in these {}: every line is alive."
	for _, f := range findings {
		if (f.ID == "data-lines" || f.ID == "address-lines") && f.Severity != Good {
			headline = "Nothing wrong shows in these {}, though they do not exercise every line."
		}
	}
	return Verdict{
		State:    Sound,
		Headline: words.Fill(headline, words.Size(size)),
		Next:     "Read the chip a second time and compare the sums: two equal reads are the best proof that a read can give.",
	}
}

func verdictBy(f Finding, state State) Verdict {
	headline := f.headline
	if headline == "" {
		headline = f.Answer
	}
	return Verdict{State: state, Headline: headline, Next: f.Next}
}
