// Accuracy measures how often marks.FindCode is right, says "cannot tell" or is wrong, on code that Debian carries, and
// prints the tables that stand in DEVELOPERS.md. It exits with 1 when a confident answer was wrong.
//
// The corpus is fetched into a folder that git ignores; packages.go says which packages were tuned on and which only test.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sort"
)

func main() {
	dir := flag.String("corpus", ".tools/corpus", "folder for packages, sources and built code")
	which := flag.String("set", "test", "which set: test, tuning or all")
	count := flag.Int("windows", 5000, "different windows of code a size")
	seed := flag.Int64("seed", 1, "seed of the choice of windows")
	only := flag.String("only", "", "only samples whose label holds this")
	parts := flag.String("parts", "code,odd,other,firmware,lanes", "which tables")
	verbose := flag.Bool("v", false, "print each wrong answer")
	flag.Parse()
	abs, _ := filepath.Abs(*dir)
	c := corpus{abs}
	r := &run{count: *count, seed: *seed, verbose: *verbose, parts: *parts}
	r.samples = c.load(set(*which), *only)
	r.corpus = c
	r.report()
	if r.wrong > 0 {
		fmt.Printf("\n**%d confident answers were wrong.**\n", r.wrong)
		os.Exit(1)
	}
}

// load returns the samples of one set, and those of CPUs that the table does not have.
func (c corpus) load(which set, only string) []sample {
	var all []sample
	want := func(s set) bool { return s == which || s == unknown || which == "all" }
	add := func(s sample) {
		if len(s.code) >= 512 && (only == "" || bytes.Contains([]byte(s.label), []byte(only))) {
			all = append(all, s)
		}
	}
	addELF := func(pkg string, s set) {
		if !want(s) {
			return
		}
		for _, path := range c.walk(pkg) {
			file, err := os.ReadFile(path)
			if err != nil {
				continue
			}
			label, family, code := elfCode(file)
			for _, section := range code {
				add(sample{label: label, family: family, set: s, name: pkg + ":" + filepath.Base(path), code: section})
			}
		}
	}
	for _, lib := range crossLibraries {
		for _, machine := range machines {
			name := string(bytes.ReplaceAll([]byte(lib.name), []byte("{}"), []byte(machine)))
			addELF(name, lib.set)
		}
	}
	for _, p := range elfPackages {
		addELF(p.name, p.set)
	}
	for _, b := range builds {
		if want(b.set) {
			add(sample{label: b.label, family: b.family, set: b.set, name: b.compiler, code: c.compile(b)})
		}
	}
	for _, l := range relLibraries {
		if want(l.set) {
			for _, path := range c.files("sdcc-libraries", l.file) {
				add(sample{label: l.label, family: l.family, set: l.set, name: filepath.Base(path), code: c.relLibrary(path)})
			}
		}
	}
	for _, l := range as86Libraries {
		if want(l.set) {
			for _, path := range c.files(l.pkg, l.file) {
				file, _ := os.ReadFile(path)
				var code []byte
				for _, member := range archive(file) {
					code = append(code, as86Code(member)...)
				}
				add(sample{label: l.label, family: l.family, set: l.set, name: filepath.Base(path), code: code})
			}
		}
	}
	for _, b := range binaries {
		if want(b.set) {
			for _, path := range c.files(b.pkg, b.file) {
				rel, _ := filepath.Rel(filepath.Join(c.dir, "x"), path)
				add(sample{label: "firmware", family: b.family, set: b.set, name: rel, whole: true, code: image(path)})
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].label < all[j].label })
	return all
}

// relLibrary links all members of an archive of the small compiler.
func (c corpus) relLibrary(path string) []byte {
	file, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	work, _ := os.MkdirTemp("", "accuracy")
	defer os.RemoveAll(work)
	var objects []string
	machine := ""
	for n, member := range archive(file) {
		if !bytes.HasPrefix(member, []byte("XL")) {
			continue
		}
		if _, rest, ok := bytes.Cut(member, []byte("\nO -m")); ok && machine == "" {
			end := bytes.IndexAny(rest, " \n")
			machine = "-m" + string(rest[:end])
		}
		name := filepath.Join(work, fmt.Sprintf("m%d.rel", n))
		os.WriteFile(name, member, 0o644)
		objects = append(objects, name)
	}
	return linkRel(machine, objects, work)
}
