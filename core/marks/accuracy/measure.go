package main

import (
	"fmt"
	"math/rand"
	"sort"
	"strings"

	"lunette/core/arrange"
	"lunette/core/marks"
)

type run struct {
	corpus  corpus
	samples []sample
	count   int
	seed    int64
	verbose bool
	parts   string
	wrong   int
	refused map[string]int // answers of "cannot tell" by file, at the size at hand
}

// A score counts the answers of one cell of a table.
type score struct{ right, cannot, weakRight, weakWrong, wrong int }

func (s score) all() int { return s.right + s.cannot + s.weakRight + s.weakWrong + s.wrong }

func (s *score) add(o score) {
	s.right += o.right
	s.cannot += o.cannot
	s.weakRight += o.weakRight
	s.weakWrong += o.weakWrong
	s.wrong += o.wrong
}

func percent(n, of int) string {
	if of == 0 {
		return ""
	}
	return fmt.Sprintf("%.2f", 100*float64(n)/float64(of))
}

func (r *run) report() {
	if strings.Contains(r.parts, "code") {
		r.windows()
	}
	if strings.Contains(r.parts, "odd") {
		r.odd()
	}
	if strings.Contains(r.parts, "other") {
		r.other()
	}
	if strings.Contains(r.parts, "firmware") {
		r.firmware()
	}
	if strings.Contains(r.parts, "lanes") {
		r.lanes()
	}
}

// kin families may stand in one image.
var kin = map[string]string{"thumb": "arm", "arm": "arm"}

func sameFamily(a, b string) bool { return a == b || kin[a] != "" && kin[a] == kin[b] }

// judge compares an answer with the truth: stored is code arranged by order, so order undoes it.
func (r *run) judge(s *sample, c marks.Code, order arrange.Arrangement) score {
	good := s.family != "" && sameFamily(c.Family, s.family) && c.Shift == 0
	if good {
		good = c.Order == order
		for _, o := range c.Other {
			good = good || o.Order == order
		}
	}
	switch {
	case c.Sure == marks.CannotTell:
		if r.verbose && len(s.code) >= 64<<10 && r.refused != nil {
			r.refused[s.name]++
		}
		return score{cannot: 1}
	case c.Sure == marks.Weak && good:
		return score{weakRight: 1}
	case c.Sure == marks.Weak:
		return score{weakWrong: 1}
	case good:
		return score{right: 1}
	}
	if r.verbose {
		fmt.Printf("WRONG %s %s: stored %s, answer %s %s %s, %.0f bits\n", s.label, s.name, order.ID(), c.Family, c.Order.ID(), c.Sure, c.Bits)
	}
	return score{wrong: 1}
}

// windows measures windows of code in all arrangements.
func (r *run) windows() {
	sizes := []int{1 << 10, 4 << 10, 16 << 10, 64 << 10}
	byLabel := map[string][]*sample{}
	var labels []string
	for i := range r.samples {
		s := &r.samples[i]
		if s.whole {
			continue
		}
		if byLabel[s.label] == nil {
			labels = append(labels, s.label)
		}
		byLabel[s.label] = append(byLabel[s.label], s)
	}
	sort.Strings(labels)
	table := map[string][]score{}
	different := make([]int, len(sizes))
	for at, size := range sizes {
		r.refused = map[string]int{}
		for _, label := range labels {
			rng := rand.New(rand.NewSource(r.seed + int64(size)))
			total := 0
			for _, s := range byLabel[label] {
				if len(s.code) >= size {
					total += len(s.code) - size + 1
				}
			}
			cell := score{}
			if total > 0 {
				wanted := min(r.count/len(labels)+1, total/512+1)
				for range wanted {
					pick := rng.Intn(total)
					for _, s := range byLabel[label] {
						if len(s.code) < size {
							continue
						}
						if n := len(s.code) - size + 1; pick >= n {
							pick -= n
							continue
						}
						from := pick &^ 3
						different[at]++
						code := s.code[from : from+size]
						for _, order := range arrange.Orders() {
							cell.add(r.judge(s, marks.FindCode(order.Apply(code), nil), order))
						}
						break
					}
				}
			}
			table[label] = append(table[label], cell)
		}
		if r.verbose {
			fmt.Printf("cannot tell at %d KiB: %v\n", size>>10, r.refused)
		}
	}
	fmt.Printf("\n| code |")
	for _, size := range sizes {
		fmt.Printf(" %d KiB |", size>>10)
	}
	fmt.Printf("\n|---|---|---|---|---|\n")
	totals, strange := make([]score, len(sizes)), make([]score, len(sizes))
	for _, label := range labels {
		fmt.Printf("| %s |", label)
		for i, cell := range table[label] {
			if byLabel[label][0].family == "" {
				strange[i].add(cell)
				fmt.Printf(" %d of %d answered |", cell.wrong+cell.weakWrong, cell.all())
			} else {
				totals[i].add(cell)
				fmt.Printf(" %s |", percent(cell.right, cell.all()))
			}
		}
		fmt.Println()
	}
	for _, line := range []struct {
		name string
		of   func(score) string
	}{
		{"right", func(s score) string { return percent(s.right, s.all()) + " %" }},
		{"weak and right", func(s score) string { return percent(s.weakRight, s.all()) + " %" }},
		{"weak and wrong", func(s score) string { return fmt.Sprint(s.weakWrong) }},
		{"cannot tell", func(s score) string { return percent(s.cannot, s.all()) + " %" }},
		{"confidently wrong", func(s score) string { return fmt.Sprint(s.wrong) }},
	} {
		fmt.Printf("| **%s** |", line.name)
		for _, s := range totals {
			fmt.Printf(" %s |", line.of(s))
		}
		fmt.Println()
	}
	fmt.Printf("| CPUs not in the table: answered | ")
	for i, s := range strange {
		fmt.Printf(" %d weak, %d confident of %d |", s.weakWrong, s.wrong, s.all())
		r.wrong += s.wrong + totals[i].wrong
	}
	fmt.Printf("\n| different windows |")
	for _, n := range different {
		fmt.Printf(" %d |", n)
	}
	fmt.Println()
}

// firmware measures whole images in all arrangements.
func (r *run) firmware() {
	fmt.Printf("\n| image | bytes | CPU | right of 8 | weak | cannot tell | wrong |\n|---|---|---|---|---|---|---|\n")
	for i := range r.samples {
		s := &r.samples[i]
		if !s.whole {
			continue
		}
		cell := score{}
		code := s.code[:len(s.code)&^3]
		for _, order := range arrange.Orders() {
			cell.add(r.judge(s, marks.FindCode(order.Apply(code), nil), order))
		}
		r.wrong += cell.wrong
		fmt.Printf("| %s | %d | %s | %d | %d | %d | %d |\n", s.name, len(code), s.family, cell.right, cell.weakRight+cell.weakWrong, cell.cannot, cell.wrong)
	}
}

// odd measures windows that begin at an odd offset: an order named there is wrong unless the answer says that bytes must be
// left out so that the words begin where they should. CPUs that fetch bytes have no such offset.
func (r *run) odd() {
	table := map[int]score{}
	rng := rand.New(rand.NewSource(r.seed + 77))
	for _, size := range []int{4 << 10, 16 << 10} {
		cell := score{}
		for range r.count / 5 {
			s := &r.samples[rng.Intn(len(r.samples))]
			if s.whole || len(s.code) < size+8 || s.family == "" || bytewise[s.family] {
				continue
			}
			at := rng.Intn(len(s.code)-size-4)&^3 + 1 + 2*rng.Intn(2)
			order := arrange.Orders()[rng.Intn(4)]
			// The whole stands in some order; the window is cut from it at an odd offset.
			around := order.Apply(s.code[:len(s.code)&^3])
			c := marks.FindCode(around[at:at+size], nil)
			switch {
			case c.Sure <= marks.Weak:
				cell.cannot++
			case sameFamily(c.Family, s.family) && (at+c.Shift)%2 == 0:
				cell.right++
			default:
				cell.wrong++
				if r.verbose {
					fmt.Printf("WRONG odd %s %s+%x %s: %+v\n", s.label, s.name, at, order.ID(), c)
				}
			}
		}
		table[size] = cell
	}
	fmt.Printf("\n| windows at an odd offset | told the shift | cannot tell | wrong |\n|---|---|---|---|\n")
	for _, size := range []int{4 << 10, 16 << 10} {
		c := table[size]
		r.wrong += c.wrong
		fmt.Printf("| %d KiB | %d | %d | %d |\n", size>>10, c.right, c.cannot, c.wrong)
	}
}

var bytewise = map[string]bool{"x86": true, "z80": true, "m6502": true, "i8051": true, "m6809": true}

// other measures what is no code.
func (r *run) other() {
	sizes := []int{1 << 10, 4 << 10, 16 << 10, 64 << 10}
	table := map[string][]score{}
	texts := make([]score, len(sizes))
	for i, size := range sizes {
		for label, windows := range r.corpus.others(size, max(20, r.count/25), r.seed) {
			if table[label] == nil {
				table[label] = make([]score, len(sizes))
			}
			for _, w := range windows {
				c := marks.FindCode(w, nil)
				cell := &table[label][i]
				switch c.Sure {
				case marks.CannotTell:
					cell.cannot++
				case marks.Weak:
					cell.weakWrong++
				default:
					cell.wrong++
					if r.verbose {
						fmt.Printf("WRONG %s %d: %+v\n", label, size, c)
					}
				}
				// The text's order must be as stored, or none.
				t := marks.FindText(w)
				switch {
				case t.Sure < marks.Strong:
					texts[i].cannot++
				case t.Order == arrange.Stored:
					texts[i].right++
				default:
					texts[i].wrong++
					if r.verbose {
						fmt.Printf("WRONG text %s %d: %+v\n", label, size, t)
					}
				}
			}
		}
	}
	labels := make([]string, 0, len(table))
	for label := range table {
		labels = append(labels, label)
	}
	sort.Strings(labels)
	fmt.Printf("\n| no code (cannot tell / weak / confident) | 1 KiB | 4 KiB | 16 KiB | 64 KiB |\n|---|---|---|---|---|\n")
	for _, label := range labels {
		fmt.Printf("| %s |", label)
		for i := range sizes {
			c := table[label][i]
			r.wrong += c.wrong
			fmt.Printf(" %d / %d / %d |", c.cannot, c.weakWrong, c.wrong)
		}
		fmt.Println()
	}
	fmt.Printf("| order of text: none / right / wrong |")
	for _, t := range texts {
		r.wrong += t.wrong
		fmt.Printf(" %d / %d / %d |", t.cannot, t.right, t.wrong)
	}
	fmt.Println()
}

// lanes offers two lanes of one image among twenty of others, and looks at single lanes.
func (r *run) lanes() {
	const size, offered = 32 << 10, 22
	var long []*sample
	for i := range r.samples {
		if s := &r.samples[i]; s.family != "" && !s.whole && len(s.code) >= 2*size {
			long = append(long, s)
		}
	}
	if len(long) == 0 {
		return
	}
	rng := rand.New(rand.NewSource(r.seed + 5))
	pairs := score{}
	single := score{}
	for range max(10, r.count/25) {
		var lanes [][]byte
		take := func(s *sample) (even, odd []byte) {
			at := rng.Intn(len(s.code)-2*size+1) &^ 3
			two := arrange.Split(s.code[at:at+2*size], 2)
			return two[0], two[1]
		}
		s := long[rng.Intn(len(long))]
		even, odd := take(s)
		for range offered {
			decoy := long[rng.Intn(len(long))]
			for decoy.name == s.name { // variants of one library hold the same code: another lane may belong as well
				decoy = long[rng.Intn(len(long))]
			}
			e, o := take(decoy)
			lanes = append(lanes, [][]byte{e, o}[rng.Intn(2)])
		}
		i, j := rng.Intn(len(lanes)), rng.Intn(len(lanes))
		if i == j {
			j = (i + 1) % len(lanes)
		}
		lanes[i], lanes[j] = even, odd
		found := false
		for _, m := range marks.MatchLanes(lanes) {
			switch {
			case len(m.Lanes) == 2 && (m.Lanes[0] == i && m.Lanes[1] == j || m.Open && m.Lanes[0] == j && m.Lanes[1] == i):
				pairs.right++
				found = true
			default:
				pairs.wrong++
				found = found || m.Lanes[0] == i || m.Lanes[1] == i || m.Lanes[0] == j || m.Lanes[1] == j
				if r.verbose {
					fmt.Printf("WRONG lanes %s %s: %d %d, answer %v %s %s votes %d next %d\n", s.label, s.name, i, j, m.Lanes, m.Code.Family, m.Code.Order.ID(), m.Votes, m.Next)
				}
			}
		}
		if !found {
			pairs.cannot++
			if r.verbose {
				fmt.Printf("refused lanes %s %s\n", s.label, s.name)
			}
		}
		for _, lane := range lanes {
			c := marks.FindCode(lane, nil)
			switch {
			case c.Sure == marks.CannotTell:
				single.cannot++
			case c.Sure == marks.Weak:
				single.weakWrong++
			default:
				single.wrong++
				if r.verbose {
					fmt.Printf("WRONG single lane: %+v\n", c)
				}
			}
		}
	}
	r.wrong += pairs.wrong + single.wrong
	fmt.Printf("\n| two lanes of 32 KiB among %d others | %% right | refused | wrong |\n|---|---|---|---|\n", offered-2)
	fmt.Printf("| %d trials | %s | %d | %d |\n", pairs.right+pairs.cannot, percent(pairs.right, pairs.right+pairs.cannot), pairs.cannot, pairs.wrong)
	fmt.Printf("\n| one lane alone taken for a whole image | cannot tell | weak | confident |\n|---|---|---|---|\n| %d lanes | %d | %d | %d |\n", single.all(), single.cannot, single.weakWrong, single.wrong)
}
