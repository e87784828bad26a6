package main

import (
	"fmt"
	"math/rand"
	"runtime"
	"sort"
	"strings"
	"sync"
	"sync/atomic"

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
	lock    sync.Mutex     // over refused
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
			r.lock.Lock()
			r.refused[s.name]++
			r.lock.Unlock()
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

// shares deals the wanted number of windows out to the labels of listed families, as evenly as the code at hand allows: one
// window in 512 bytes at most. CPUs that are not in the table get a twentieth of the whole each.
func (r *run) shares(byLabel map[string][]*sample, labels []string, size int) map[string]int {
	wanted, room := map[string]int{}, map[string]int{}
	var listed []string
	for _, label := range labels {
		for _, s := range byLabel[label] {
			if n := len(s.code) - size; n >= 0 {
				room[label] += n/512 + 1
			}
		}
		if byLabel[label][0].family != "" {
			listed = append(listed, label)
			continue
		}
		wanted[label] = min(room[label], r.count/20)
	}
	sort.SliceStable(listed, func(i, j int) bool { return room[listed[i]] < room[listed[j]] })
	left := r.count
	for i, label := range listed {
		wanted[label] = min(room[label], (left+len(listed)-i-1)/(len(listed)-i))
		left -= wanted[label]
	}
	return wanted
}

// A pick is one window of code.
type pick struct {
	sample *sample
	code   []byte
}

// picks chooses different windows, at multiples of four bytes, from all samples of a label, by their length.
func (r *run) picks(samples []*sample, size, wanted int) (picks []pick) {
	rng := rand.New(rand.NewSource(r.seed + int64(size)))
	total := 0
	for _, s := range samples {
		total += max(0, len(s.code)-size+1)
	}
	type place struct {
		of   *sample
		from int
	}
	seen := map[place]bool{}
	for len(picks) < wanted {
		at := rng.Intn(total)
		for _, s := range samples {
			n := max(0, len(s.code)-size+1)
			if at >= n {
				at -= n
				continue
			}
			p := place{s, at &^ 3}
			if !seen[p] {
				seen[p] = true
				picks = append(picks, pick{s, s.code[p.from : p.from+size]})
			}
			break
		}
	}
	return picks
}

// inParallel calls do with 0 to n-1, as many at a time as the machine has processors.
func inParallel(n int, do func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	wait.Wait()
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
		wanted := r.shares(byLabel, labels, size)
		for _, label := range labels {
			picks := r.picks(byLabel[label], size, wanted[label])
			cells := make([]score, len(picks))
			inParallel(len(picks), func(i int) {
				s, code := picks[i].sample, picks[i].code
				for _, order := range arrange.Orders() {
					cells[i].add(r.judge(s, marks.FindCode(order.Apply(code), nil), order))
				}
			})
			cell := score{}
			for _, c := range cells {
				cell.add(c)
			}
			if byLabel[label][0].family != "" {
				different[at] += len(picks)
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
	fmt.Printf("\n| different windows of listed CPUs |")
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
		orders := arrange.Orders()
		cells := make([]score, len(orders))
		inParallel(len(orders), func(i int) {
			cells[i] = r.judge(s, marks.FindCode(orders[i].Apply(code), nil), orders[i])
		})
		for _, c := range cells {
			cell.add(c)
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
			window := make([]byte, size)
			order.Copy(window, s.code[:len(s.code)&^3], at)
			c := marks.FindCode(window, nil)
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
			codes, orders := make([]marks.Code, len(windows)), make([]marks.TextOrder, len(windows))
			inParallel(len(windows), func(k int) { codes[k], orders[k] = marks.FindCode(windows[k], nil), marks.FindText(windows[k]) })
			for k, c := range codes {
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
				t := orders[k]
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
