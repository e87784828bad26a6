package report

import (
	"slices"
	"strings"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/words"
)

// orderFinding says which way round the bytes are stored, from all the evidence, and what that means for burning.
func orderFinding(a marks.Answer) Finding {
	f := Finding{ID: "byte-order", Question: "Byte order", Severity: Note, Sure: sureOf(a, a.Sure)}
	if a.Sure == marks.CannotTell {
		f.Answer = "Cannot tell: nothing here reads right in one order only."
		f.Next = "If the chip next to it on the board holds the other half of each word, open both: joined, they may tell."
		return f
	}
	f.Answer = capital(StoredWords(a.Order)) + "."
	if a.Order == arrange.Swapped {
		f.Answer = "Stored swapped: the two bytes of each 16-bit word stand the other way round than the CPU sees them."
	}
	f.Severity = Good
	f.Evidence = clueEvidence(a.Clues)
	f.Next, f.burning = burnWords(a), true
	switch {
	case a.ByHand:
		f.Severity = Note
		f.Answer = words.Fill("Set by hand: {}.", StoredWords(a.Order))
		if len(a.Conflicts) > 0 {
			f.Severity = Unclear
			f.headline = words.Fill("You set it: {}. The evidence says otherwise.", StoredWords(a.Order))
			f.Next = "Look at the evidence under Byte order, or go back to it below."
		}
		for _, against := range clueEvidence(a.Conflicts) {
			against.Text = "Against it: " + against.Text
			f.Evidence = append(f.Evidence, against)
		}
	case len(a.Conflicts) > 0:
		f.Severity = Warning
		f.Answer = words.Fill("The evidence disagrees: {} speaks for {}, {} for {}.", kindOf(a.Clues[0]), order(a.Order),
			kindOf(a.Conflicts[0]), order(a.Conflicts[0].Orders[0]))
		f.headline = "Two byte orders stand in this one dump."
		f.Evidence = append(f.Evidence, clueEvidence(a.Conflicts)...)
		f.Next = "Perhaps two chips were joined, one of them the wrong way round, or a part was swapped already. Look at the places " +
			"named here, and join the chips anew."
	case len(a.Also) > 0:
		names := []string{order(a.Order)}
		for _, other := range a.Also {
			names = append(names, order(other))
		}
		f.Severity = Note
		f.Answer = words.Fill("Either {}: this CPU exists in both byte orders, and nothing here decides.", strings.Join(names, " or "))
		f.Next = "Readable text would decide; what the board's manual says of its CPU does too."
	case a.Sure == marks.Weak:
		f.Severity = Note
		f.Answer = words.Fill("Perhaps {}: a hint, no more.", StoredWords(a.Order))
	}
	f.burning = f.burning && f.Next == burnWords(a)
	if a.Shift > 0 {
		f.Severity = Warning
		f.Answer = words.Fill("{} In words that begin {} late: the dump lost or gained bytes at its start.", f.Answer, words.Plural(a.Shift, "byte"))
		f.Next = "Read the chip again; if the file was cut from a larger one, cut it at a whole word."
	}
	return f
}

// StoredWords returns in words how an image is stored that the CPU sees in the given arrangement.
func StoredWords(a arrange.Arrangement) string {
	switch a {
	case arrange.Stored:
		return "stored as the CPU sees it"
	case arrange.Swapped:
		return "stored swapped"
	}
	return "stored with " + order(a)
}

// order names an order in the middle of a sentence.
func order(a arrange.Arrangement) string { return strings.ReplaceAll(a.String(), ", ", " and ") }

func kindOf(c marks.Clue) string {
	return map[string]string{"code": "code", "text": "readable text", "header": "a header", "sum": "a built-in sum"}[c.Kind]
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func clueEvidence(clues []marks.Clue) []Evidence {
	var evidence []Evidence
	for _, clue := range clues {
		evidence = append(evidence, Evidence{Text: capital(kindOf(clue)) + ": " + clue.Sentence, From: clue.From, To: clue.To})
	}
	return evidence
}

// burnWords says what a stored order means for burning. A x16 device reader commonly keeps the low byte (D0 to D7) of a
// word first in its file, a big-endian CPU's image the high byte (common practice, as in the support notes of one reader's
// maker), so a good read of such a ROM looks swapped and is what the same reader wants back.
func burnWords(a marks.Answer) string {
	family, _ := marks.FamilyByID(a.Family)
	switch {
	case a.Order == arrange.Swapped && family.BigEndian():
		return "That is how a x16 reader writes a big-endian ROM: for one x16 chip burn it as it is, with a reader that takes the low " +
			"byte first. For x8 chips swap it first, then split it into lanes."
	case a.Order == arrange.Stored && family.BigEndian():
		return "For x8 chips use it as it is, split into lanes. For one x16 chip swap it first, unless your reader is set to take the " +
			"high byte first."
	case a.Order == arrange.Stored:
		return "Use it as it is: x8 chips hold it so, and a x16 reader that takes the low byte first writes it so."
	}
	return "Put it into the CPU's order before you split or burn it: Bytes shows it so and saves it."
}

// withholdBurning takes back what a finding says about burning: first comes a good read.
func withholdBurning(findings []Finding) {
	for i := range findings {
		if findings[i].burning {
			findings[i].Next = "Burn nothing of this dump: first comes a read that is good."
		}
	}
}

// codeFinding says whose code it is, and where it lies.
func codeFinding(a marks.Answer, size int) Finding {
	f := Finding{ID: "code", Question: "Code", Severity: Note, Sure: sureOf(a, a.FamilySure)}
	family, known := marks.FamilyByID(a.Family)
	if !known {
		f.Answer = "No code of a CPU that Lunette knows stands out."
		return f
	}
	if a.ByHand {
		f.Answer = words.Fill("Set by hand: {}.", family.Name)
		return f
	}
	f.Answer = family.Name + " code."
	if a.FamilySure == marks.Weak {
		f.Answer = words.Fill("Perhaps {} code: a hint, no more.", family.Name)
	}
	if len(a.Code.Where) > 0 && a.FamilySure > marks.Weak {
		f.Answer = words.Fill("{} code, in {} of the {} looked at.", family.Name, words.Plural(a.Code.Windows, "piece"), words.Count(a.Code.Looked))
	}
	for _, seen := range a.Code.Seen {
		e := Evidence{Text: words.Fill("{} {} ({}) in this order, {} in the next best", words.Count(seen.Count), seen.Mnemonic, seen.Pattern,
			words.Count(seen.RivalCount))}
		if len(seen.First) > 0 {
			e.From, e.To = seen.First[0], min(size, seen.First[0]+max(1, len(seen.Pattern)/2))
		}
		f.Evidence = append(f.Evidence, e)
	}
	if a.Code.Against > 0 {
		f.Evidence = append(f.Evidence, Evidence{Text: words.Fill("{} looked at speak for another CPU or order",
			words.Plural(a.Code.Against, "piece"))})
	}
	f.Evidence = append(f.Evidence, Evidence{Text: "encodings as remembered or seen in compiled code; to check them: " + family.Manual})
	return f
}

// headersFinding lists the known patterns; ok is false when there are none.
func headersFinding(a marks.Answer, size int) (f Finding, ok bool) {
	f = Finding{ID: "headers", Question: "Headers", Severity: Note, Sure: Weak}
	var names []string
	for _, h := range a.Headers {
		if h.SelfCheck != marks.CheckHolds && h.Bits < 10 {
			continue
		}
		names = append(names, words.Fill("{} at {}", h.Name, words.Address(h.At)))
		e := Evidence{Text: words.Fill("{} at {}, {}; self-check: {}", h.Name, words.Address(h.At), order(h.Order), string(h.SelfCheck)),
			From: h.Stored, To: min(size, h.Stored+16)}
		if h.SelfCheck == marks.CheckFails {
			e.Expected, e.Found = h.Expected, h.Found
			if h.Bits >= 20 {
				f.Severity = Warning
				f.headline = words.Fill("The {} at {} does not pass its own check.", h.Name, words.Address(h.At))
				f.Next = "Read the chip again: a read that is right passes. If it still fails, the content was changed or has decayed."
			}
		}
		f.Evidence = append(f.Evidence, e)
		for _, detail := range h.Detail {
			f.Evidence = append(f.Evidence, Evidence{Text: detail})
		}
		if h.Settles {
			f.Sure = Certain
		}
		f.Evidence = append(f.Evidence, Evidence{Text: "layout: " + sourceWords(h.Source, h.Memory)})
	}
	if len(names) == 0 {
		return f, false
	}
	const listed = 3
	if len(names) > listed {
		names = append(names[:listed], words.Count(len(names)-listed)+" more")
	}
	f.Answer = words.List(names) + "."
	return f, true
}

func sourceWords(source string, memory bool) string {
	if memory && !strings.Contains(source, "memory") {
		return source + " (from memory)"
	}
	return source
}

// builtInSum returns the strongest built-in sum that proves something: 32 bits that close.
func builtInSum(a marks.Answer) (s marks.BuiltInSum, ok bool) {
	i := slices.IndexFunc(a.Sums, func(s marks.BuiltInSum) bool { return s.Width == 32 && s.Bits >= 20 })
	if i < 0 {
		return s, false
	}
	return a.Sums[i], true
}

// sumFinding says which built-in sums close.
func sumFinding(a marks.Answer) Finding {
	f := Finding{ID: "built-in-sum", Question: "Built-in sum", Severity: Note, Sure: CannotTell}
	if s, ok := builtInSum(a); ok {
		f.Severity, f.Sure, f.Chance = Good, Certain, words.OneIn(s.Bits)
		f.Answer = words.Fill("Holds: the {} over the {}, {}.", s.Name, s.Part, s.Found)
	} else if len(a.Sums) > 0 {
		s := a.Sums[0]
		f.Sure, f.Chance = Weak, words.OneIn(s.Bits)
		f.Answer = words.Fill("Perhaps: the {} over the {} closes, which is a hint only.", s.Name, s.Part)
	} else {
		f.Answer = "None found: no sum that makers build in closes here. Many ROMs have none."
	}
	for _, s := range a.Sums {
		e := Evidence{Text: words.Fill("{} over the {}, {}: by chance {} ({} tried)", s.Name, s.Part, order(s.Order), words.OneIn(s.Bits),
			words.Count(s.Tries)), From: s.From, To: s.To, Expected: s.Expected, Found: s.Found}
		f.Evidence = append(f.Evidence, e)
	}
	return f
}
