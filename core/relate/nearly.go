package relate

import (
	"lunette/core/marks"
	"lunette/core/words"
)

// nearlyShare is the share of bytes, one in so many, in which two dumps may differ and still be reads of one chip or
// versions of one ROM.
const nearlyShare = 256

// Nearly returns in how many bytes two images of one size differ. ok is false when they differ in more than one byte in 256,
// or in size; the count then ends early.
func Nearly(a, b []byte) (differ int, ok bool) {
	if len(a) != len(b) {
		return 0, false
	}
	most := len(a) / nearlyShare
	for i := range a {
		if a[i] != b[i] {
			if differ++; differ > most {
				return differ, false
			}
		}
	}
	return differ, true
}

// findNearly tells which dumps are nearly the same. Those that are like the first of them are one relation.
func (s *search) findNearly() {
	taken := map[*sample]bool{}
	for i, first := range s.kept {
		if taken[first] {
			continue
		}
		dumps, names := []int{first.index}, []string{first.name}
		var evidence []string
		least, most := len(first.data), 0
		for _, other := range s.kept[i+1:] {
			differ, ok := Nearly(first.data, other.data)
			if !ok || taken[other] {
				continue
			}
			taken[other] = true
			dumps, names = append(dumps, other.index), append(names, other.name)
			least, most = min(least, differ), max(most, differ)
			evidence = append(evidence, words.Fill("{} differs from {} in {} of {}", other.name, first.name, words.Count(differ),
				words.Plural(len(first.data), "byte")))
		}
		if len(dumps) == 1 {
			continue
		}
		span := words.Plural(most, "byte")
		if least < most {
			span = words.Fill("{} to {}", words.Count(least), span)
		}
		s.add(Relation{Kind: NearlySame, Dumps: dumps, Sure: marks.Certain, Bits: first.bits, Evidence: evidence,
			Sentence: words.Fill("{} are nearly the same: they differ in {} of {}. They are reads of one chip, or versions of one ROM; "+
				"Compare says which bits.", words.List(names), span, words.Count(len(first.data)))})
	}
}
