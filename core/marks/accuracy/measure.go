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
	if strings.Contains(r.parts, "firmware") {
		r.firmware()
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
