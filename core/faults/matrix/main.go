// Command matrix breaks lines between a simulated chip and a simulated reader, one way after the other, and asks core/faults what
// it sees. It prints how often the truth was named and ends with an error when something else was.
//
//	go run ./core/faults/matrix -firmware .tools/firmware
package main

import (
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
)

func main() {
	halden := flag.String("halden", "testdata/halden/u41.bin", "the demo board's ROM")
	firmware := flag.String("firmware", ".tools/firmware", "folder of open firmware; what is not there is left out")
	corners := flag.Bool("quick", false, "small sizes only")
	shown := flag.Int("shown", 20, "how many cases that went wrong are shown")
	flag.Parse()
	m := matrix{halden: *halden, firmware: *firmware, out: os.Stdout, shown: *shown, exhaustive: 16 << 10, pairs: 20, sample: 30,
		families: 3}
	sizes := []int{8 << 10, 16 << 10, 32 << 10, 64 << 10, 128 << 10, 256 << 10, 512 << 10, 1 << 20}
	if *corners {
		sizes = sizes[:2]
	}
	if !m.run(sizes) {
		os.Exit(1)
	}
}

// A matrix is one run over all cases.
type matrix struct {
	halden, firmware string
	out              io.Writer
	shown            int
	exhaustive       int // largest size in bytes of which every single fault is tried
	sample, pairs    int // single faults of larger ones, and pairs and wirings of each size, image and width
	families         int // kinds of code that it takes to be a run
	groups           []string
	scores           map[string]*score
}

// run runs all sizes and tells whether the targets are met.
func (m *matrix) run(sizes []int) bool {
	m.scores = map[string]*score{}
	used := map[string]bool{}
	for _, size := range sizes {
		set := images(size, m.halden, m.firmware)
		for n, image := range set {
			used[image.name] = true
			for _, s := range []setting{{size, 8, false}, {size, 16, false}, {size, 16, true}} {
				sample := 0
				if size > m.exhaustive {
					sample = m.sample
				}
				draw := rand.New(rand.NewPCG(uint64(size), uint64(n*3+s.width)))
				for _, t := range s.truths(sample, m.pairs, draw) {
					m.note(t.group, image, t.String(), m.score(t.group).judge(t, image.bytes))
				}
			}
			m.copies(image)
			for _, other := range set[n+1:] {
				if image.name == "68000" && other.name == "half blank" {
					continue // at 512 KiB the one is half of the other
				}
				m.strangers(image, other)
				m.strangers(other, image)
			}
		}
		fmt.Fprintf(m.out, "%d KiB: %d images\n", size>>10, len(set))
	}
	return m.print(used)
}

func (m *matrix) score(group string) *score {
	if m.scores[group] == nil {
		m.scores[group] = &score{}
		m.groups = append(m.groups, group)
	}
	return m.scores[group]
}

// note prints the first complaints.
func (m *matrix) note(group string, of image, what, complaint string) {
	if complaint == "" || m.shown <= 0 {
		return
	}
	m.shown--
	fmt.Fprintf(m.out, "%s, %d bytes of %s: %s\n   %s\n", group, len(of.bytes), of.name, what, complaint)
}

// print prints the table and tells whether the targets are met: no wrong answer, every single fault named, 95 of 100 pairs and
// wirings named.
func (m *matrix) print(used map[string]bool) bool {
	fmt.Fprintf(m.out, "%-22s %8s %8s %8s %8s %8s %8s %8s\n", "", "cases", "unseen", "exact", "in set", "simpler", "unexpl.", "wrong")
	good := true
	for _, group := range m.groups {
		s := m.scores[group]
		fmt.Fprintf(m.out, "%-22s %8d %8d %8d %8d %8d %8d %8d\n", group, s.cases, s.unseen, s.exact, s.inSet, s.simpler, s.unexplained, s.wrong)
		allowed := 0
		if s.lenient(group) {
			allowed = (s.cases - s.unseen) / 20
		}
		if s.wrong > 0 || s.unexplained > allowed {
			good = false
			fmt.Fprintf(m.out, "   misses its target: at most %d unexplained, none wrong\n", allowed)
		}
	}
	code := 0
	for _, s := range sources {
		if used[s.family] {
			code++
		}
	}
	if code < m.families {
		good = false
		fmt.Fprintf(m.out, "only %d kinds of code; make firmware fetches more\n", code)
	}
	return good
}

// lenient tells whether one in twenty of a group may stay unexplained.
func (s *score) lenient(group string) bool {
	return group != "one address fault" && group != "one data fault"
}
