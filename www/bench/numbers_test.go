// Package bench measures what a visitor waits for, holds memory for and downloads. `make bench` runs it and prints tables:
//
//	go test ./www/bench -run '^$' -bench Numbers -library PATH [-strict] [-fastest]
//
// It is a benchmark rather than a program so that it can drive the browser that the tests drive; no test is timed.
// PATH is the UMD file of hash-wasm, a general-purpose library of hashes in WebAssembly and the measure of our speed.
//
// One round inspects the sample natively, in the browser, in the browser without crypto.subtle, and hashes it with the
// library, one after the other, so that whatever else the machine does falls on all of them; the round that took longer
// than half of them counts. In page/, page.js is the page that does the browser's part, probe.js watches in the worker.
package bench

import (
	"crypto/md5"
	"crypto/sha1"
	"crypto/sha256"
	"embed"
	"encoding/json"
	"flag"
	"fmt"
	"hash/crc32"
	"net/http"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/jsontext"
	"lunette/www"
	"lunette/www/browser"
)

var (
	library = flag.String("library", "", "UMD file of hash-wasm to measure against")
	strict  = flag.Bool("strict", false, "fail if a target is missed")
	fastest = flag.Bool("fastest", false, "take the fastest round instead of the median, on a machine that is busy")
)

//go:embed page
var page embed.FS

// Targets: of the library's time for all but marks and texts, of cost per byte at 64 MiB by that at 512 KiB, and of memory by size of the dump.
const (
	maxByLibrary  = 2.0
	maxGrowth     = 1.20
	memoryPerByte = 2.5
	memoryBeside  = 16 << 20 // bytes
)

// maxMarks is what marks and texts may add, of the library's time, by size.
var maxMarks = map[int]float64{512 << 10: 3, 64 << 20: 1}

// sizes are the samples' sizes in bytes and how many rounds are measured after those to warm up, which the browser needs
// to have compiled what is used often.
var sizes = []struct{ bytes, warmUp, rounds int }{{512 << 10, 10, 31}, {4 << 20, 3, 15}, {64 << 20, 1, 7}}

// waitForDigests is the part that only a browser with crypto.subtle has, in probe.js's words.
const waitForDigests = "wait for digests"

// A run is one measured run, as page.js reports it.
type run struct {
	Milliseconds float64            `json:"ms"`
	Parts        map[string]float64 `json:"parts"`  // milliseconds
	Memory       int                `json:"memory"` // bytes that the core's memory has grown to
	Report       any                `json:"report"` // where asked for
	Hashes       map[string]string  `json:"hashes"` // the library's
}

// contestants are what is measured, in the order of a round.
const (
	native = iota
	inBrowser
	withoutSubtle
	byLibrary
	contestants
)

// A result is what was measured at one size.
type result struct {
	size  int
	start float64 // milliseconds for the core to be fetched from this machine, compiled and ready
	first float64 // milliseconds of the first inspection in the browser, with the core's code just compiled
	runs  [contestants][]run
}

func BenchmarkNumbers(b *testing.B) {
	require.NotEmpty(b, *library, "say where the library is: -library PATH (make bench does)")
	b.ReportMetric(0, "ns/op") // the tables say more
	site := browser.Serve(b, handler(b))
	chromium := browser.Start(b, browser.Chromium, browser.Options{Patience: 5 * time.Minute})
	var results []result
	for _, s := range sizes {
		chromium.Open(site.URL + "/bench/page/index.html")
		chromium.WaitFor("return globalThis.bench")
		results = append(results, measure(b, chromium, s.bytes, s.warmUp, s.rounds))
	}
	report(b, results)
	reportVisit(b)
}

// handler serves the page as any host does, and what measures it where the sources have it, below bench/page/.
func handler(b *testing.B) http.Handler {
	files, err := www.Files()
	require.NoError(b, err)
	mux := http.NewServeMux()
	mux.Handle("/", www.Handler(files))
	mux.Handle("/bench/page/", http.StripPrefix("/bench", http.FileServerFS(page)))
	mux.HandleFunc("/bench/page/library.js", func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, *library) })
	mux.HandleFunc("/bench/page/sample", func(w http.ResponseWriter, r *http.Request) {
		size, _ := strconv.Atoi(r.FormValue("size"))
		w.Write(sample(b, size))
	})
	return mux
}

func measure(b *testing.B, chromium *browser.Browser, size, warmUp, rounds int) result {
	r := result{size: size}
	data := sample(b, size)
	chromium.RunInto(&r.start, "return bench.prepare(arguments[0])", size)
	contest := [contestants]func(withReport bool) run{
		native: func(withReport bool) run { return inspectNatively(b, data, withReport) },
		inBrowser: func(withReport bool) (one run) {
			chromium.RunInto(&one, "return bench.inspect(0, arguments[0])", withReport)
			return one
		},
		withoutSubtle: func(withReport bool) (one run) {
			chromium.RunInto(&one, "return bench.inspect(1, arguments[0])", withReport)
			return one
		},
		byLibrary: func(bool) (one run) {
			chromium.RunInto(&one, "return bench.hash()")
			return one
		},
	}

	// What is measured must be the same work: one report, and the right hashes.
	var firsts [contestants]run
	for i, once := range contest {
		firsts[i] = once(true)
	}
	r.first = firsts[inBrowser].Milliseconds
	require.Equal(b, firsts[native].Report, firsts[inBrowser].Report, "the report out of the browser")
	require.Equal(b, firsts[native].Report, firsts[withoutSubtle].Report, "the report without crypto.subtle")
	require.Equal(b, hashes(data), firsts[byLibrary].Hashes, "the library's hashes")
	require.Contains(b, firsts[inBrowser].Parts, waitForDigests)
	require.NotContains(b, firsts[withoutSubtle].Parts, waitForDigests)

	for round := range warmUp + rounds {
		for i, once := range contest {
			if one := once(false); round >= warmUp {
				r.runs[i] = append(r.runs[i], one)
			}
		}
	}
	return r
}

// inspectNatively does what the worker has the core do, on this machine's own processor. The core computes all digests.
func inspectNatively(b *testing.B, data []byte, withReport bool) (one run) {
	begun := time.Now()
	bench := core.NewBench()
	loaded := bench.Open("s1", "sample.bin", data)
	report, err := bench.Inspect(loaded.Dumps[0].ID, core.ByHand{}, nil, nil)
	text := jsontext.Of(report)
	one.Milliseconds = time.Since(begun).Seconds() * 1000
	require.NoError(b, err)
	if withReport {
		require.NoError(b, json.Unmarshal(text, &one.Report))
	}
	return one
}

func hashes(data []byte) map[string]string {
	return map[string]string{
		"crc-32":  fmt.Sprintf("%08x", crc32.ChecksumIEEE(data)),
		"md5":     fmt.Sprintf("%x", md5.Sum(data)),
		"sha-1":   fmt.Sprintf("%x", sha1.Sum(data)),
		"sha-256": fmt.Sprintf("%x", sha256.Sum256(data)),
	}
}
