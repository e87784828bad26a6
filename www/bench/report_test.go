package bench

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"
)

// report prints what was measured and how it stands to the targets.
func report(b *testing.B, results []result) {
	table("size", "in browser", "per byte", "natively", "by native", "library", "by library", "without subtle",
		"by library", "first time")(func(row func(...any)) {
		for _, r := range results {
			ours, bare, theirs := r.time(inBrowser), r.time(withoutSubtle), r.time(byLibrary)
			row(size(r.size), ms(ours), fmt.Sprintf("%.2f ns", r.perByte(inBrowser)), ms(r.time(native)),
				times(ours/r.time(native)), ms(theirs), times(ours/theirs), ms(bare), times(bare/theirs), ms(r.first))
		}
	})
	fmt.Printf("The %s round of each; the core was ready in %s, fetched from this machine.\n", which(), ms(results[0].start))
	for _, r := range results {
		if spread := r.round(native, len(r.runs[native])/2).Milliseconds / r.round(native, 0).Milliseconds; spread > calmSpread {
			fmt.Printf("The machine was busy: natively the median round at %s took %s the fastest.\n", size(r.size), times(spread))
		}
	}

	for _, part := range []struct {
		title string
		of    int
	}{{"in the browser", inBrowser}, {"in the browser without crypto.subtle", withoutSubtle}, {"in the library", byLibrary}} {
		fmt.Printf("\nWhere the time goes %s:\n", part.title)
		printParts(results, part.of)
	}

	fmt.Println()
	for _, r := range results {
		marks := r.counted(inBrowser).Parts[marksPart]
		rest, added := (r.time(inBrowser)-marks)/r.time(byLibrary), marks/r.time(byLibrary)
		target(b, rest <= maxByLibrary, "%s: all but marks and texts %s the library's time, at most %s", size(r.size), times(rest), times(maxByLibrary))
		if most, asked := maxMarks[r.size]; asked {
			target(b, added <= most, "%s: marks and texts add %s of it, at most %s", size(r.size), times(added), times(most))
		}
	}
	smallest, largest := &results[0], &results[len(results)-1]
	growth := func(of int) float64 { return largest.perByte(of) / smallest.perByte(of) }
	target(b, growth(inBrowser) <= maxGrowth, "cost per byte at %s is %s that at %s, at most %s (natively %s, the library's %s)",
		size(largest.size), times(growth(inBrowser)), size(smallest.size), times(maxGrowth),
		times(growth(native)), times(growth(byLibrary)))
	for _, r := range results {
		limit := int(memoryPerByte*float64(r.size)) + memoryBeside
		for _, way := range []struct {
			name string
			of   int
		}{{"", inBrowser}, {" without crypto.subtle", withoutSubtle}} {
			peak := r.memory(way.of)
			target(b, peak <= limit, "%s: core's memory%s %s, at most %s", size(r.size), way.name, mib(peak), mib(limit))
		}
	}
}

func reportVisit(b *testing.B) {
	all, raw, wire := firstVisit(b)
	fmt.Println("\nFirst visit, before any dump:")
	table("file", "raw", "over the wire")(func(row func(...any)) {
		for _, f := range all {
			row(f.name, f.raw, f.wire)
		}
		row("all", raw, wire)
	})
	target(b, wire <= visitLimit, "first visit %s, at most %s", kb(wire), kb(visitLimit))
	fmt.Printf("the aim is     %s: %s to go\n", kb(visitAim), kb(max(wire-visitAim, 0)))
}

// target says whether a target is met.
func target(b *testing.B, met bool, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if met {
		fmt.Println("target met:   ", text)
		return
	}
	fmt.Println("target MISSED:", text)
	if *strict {
		b.Errorf("target missed: %s", text)
	}
}

// calmSpread is how much longer than the fastest round the median takes on a machine that has little else to do.
const calmSpread = 1.2

func which() string {
	if *fastest {
		return "fastest"
	}
	return "median"
}

// round returns the run at a place in the order of their times, the fastest first.
func (r *result) round(of, place int) run {
	return slices.SortedFunc(slices.Values(r.runs[of]), func(a, b run) int {
		return cmp.Compare(a.Milliseconds, b.Milliseconds)
	})[place]
}

// counted returns the run that counts: the median, or the fastest where that is asked for.
func (r *result) counted(of int) run {
	if *fastest {
		return r.round(of, 0)
	}
	return r.round(of, len(r.runs[of])/2)
}

func (r *result) time(of int) float64 { return r.counted(of).Milliseconds }

// perByte returns the nanoseconds that a byte costs.
func (r *result) perByte(of int) float64 { return r.time(of) * 1e6 / float64(r.size) }

// memory returns the bytes that the core's memory had grown to at the end; it never shrinks.
func (r *result) memory(of int) int { return r.runs[of][len(r.runs[of])-1].Memory }

// printParts prints a row for each part, the one that takes most of the largest dump first, and a column for each size.
func printParts(results []result, of int) {
	headings := []any{"part"}
	var runs []run
	for _, r := range results {
		headings = append(headings, size(r.size), "share")
		runs = append(runs, r.counted(of))
		one := runs[len(runs)-1]
		if other := one.Milliseconds - sum(one.Parts); other > 0.05 {
			one.Parts[otherParts] = other
		}
	}
	largest := runs[len(runs)-1].Parts
	names := slices.SortedFunc(maps.Keys(largest), func(a, b string) int { return cmp.Compare(largest[b], largest[a]) })
	table(headings...)(func(row func(...any)) {
		for _, name := range names {
			cells := []any{name}
			for _, r := range runs {
				cells = append(cells, ms(r.Parts[name]), fmt.Sprintf("%.0f %%", 100*r.Parts[name]/r.Milliseconds))
			}
			row(cells...)
		}
	})
}

// marksPart is what the probe calls looking for marks in all arrangements, and for texts.
const marksPart = "marks and texts"

// otherParts is what the probe does not time: the client's copy and messages, and reading JSON.
const otherParts = "all else"

func sum(parts map[string]float64) (all float64) {
	for _, ms := range parts {
		all += ms
	}
	return all
}

// table prints rows below headings, numbers to the right.
func table(headings ...any) func(fill func(row func(...any))) {
	return func(fill func(row func(...any))) {
		w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
		defer w.Flush()
		row := func(cells ...any) {
			fmt.Fprintln(w, strings.TrimPrefix(fmt.Sprintf(strings.Repeat("\t%v", len(cells))+"\t", cells...), "\t"))
		}
		fmt.Fprintln(w)
		row(headings...)
		fill(row)
	}
}

func size(bytes int) string {
	if bytes < 1<<20 {
		return fmt.Sprintf("%d KiB", bytes>>10)
	}
	return fmt.Sprintf("%d MiB", bytes>>20)
}

func ms(milliseconds float64) string { return fmt.Sprintf("%.1f ms", milliseconds) }
func times(ratio float64) string     { return fmt.Sprintf("%.2f x", ratio) }
func mib(bytes int) string           { return fmt.Sprintf("%.1f MiB", float64(bytes)/(1<<20)) }
func kb(bytes int) string            { return fmt.Sprintf("%.0f KB", float64(bytes)/1000) }
