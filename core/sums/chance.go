package sums

import (
	"math"

	"lunette/core/words"
)

// A Verdict says how much a match proves.
type Verdict string

// The verdicts.
const (
	NearProof Verdict = "near-proof"
	Likely    Verdict = "likely"
	Hint      Verdict = "hint"
	Nothing   Verdict = "nothing"
)

// verdicts gives the verdict by the chance that an unrelated value would be matched as early in the list; the first row
// that holds counts. Four digits that are the plain byte sum of the whole dump come to 1 in 65,536: likely. Two digits
// that are come to 1 in 256: a hint. Eight digits stay below 1 in 100,000 whatever matches them: near-proof.
var verdicts = []struct {
	atMost  float64
	verdict Verdict
}{
	{1e-5, NearProof},
	{1e-3, Likely},
	{0.05, Hint},
	{1, Nothing},
}

func verdictOf(chance float64) Verdict {
	for _, row := range verdicts {
		if chance <= row.atMost {
			return row.verdict
		}
	}
	return Nothing
}

// atMostHint lowers a verdict that is better than a hint to one.
func (v Verdict) atMostHint() Verdict {
	if v == NearProof || v == Likely {
		return Hint
	}
	return v
}

// odds returns a chance in words: "1 in 65,536", and from one in ten on in percent.
func odds(chance float64) string {
	if chance > 0 && chance < 0.1 {
		return words.OneIn(-math.Log2(chance))
	}
	return words.Decimal(100*chance, 0) + " %"
}

// chance returns how likely a value as short as the typed one, but unrelated to the dump, is matched by something at most
// so unlikely: the share of all such values that this has come to. That is exact, since a typed value does not know the
// dump; and counting values rather than ways to them counts once what is the same sum in another guise.
func (t *trial) chance(unlikely int) (chance float64) {
	for i, r := range t.readings {
		different := 0
		for _, least := range t.values[i] {
			if least <= unlikely {
				different++
			}
		}
		chance += float64(different) / r.space
	}
	return min(chance, 1)
}
