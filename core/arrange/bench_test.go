package arrange

import (
	"strconv"
	"testing"
	"time"
)

// BenchmarkApply gives each arrangement of 1 MiB in nanoseconds per byte made, and as a multiple of copy() of as many
// bytes into a fresh slice, timed in turn with it. As wasm:
//
//	GOOS=js GOARCH=wasm go test ./core/arrange -bench . -exec="$(go env GOROOT)/lib/wasm/go_js_wasm_exec"
func BenchmarkApply(b *testing.B) {
	stored := random(1 << 20)
	for _, a := range append(All(), Arrangement{exchange: 3, mirrored: true, laneBits: 2}) {
		b.Run(a.ID(), func(b *testing.B) {
			made := a.Len(len(stored))
			compare(b, made, func() { a.Apply(stored) }, func() { copy(make([]byte, made), stored) })
		})
	}
}

// BenchmarkWindow is a screen of the byte grid: 64 rows of 16 bytes, at an odd place.
func BenchmarkWindow(b *testing.B) {
	stored, window := random(1<<20), make([]byte, 1024)
	for _, a := range All() {
		b.Run(a.ID(), func(b *testing.B) {
			compare(b, len(window), func() { a.Copy(window, stored, 4321) }, func() { copy(window, stored[4321:]) })
		})
	}
}

func BenchmarkSplitAndJoin(b *testing.B) {
	image := random(1 << 20)
	for _, of := range []int{2, 4} {
		lanes := Split(image, of)
		copied := func() { copy(make([]byte, len(image)), image) }
		b.Run("split"+strconv.Itoa(of), func(b *testing.B) { compare(b, len(image), func() { Split(image, of) }, copied) })
		b.Run("join"+strconv.Itoa(of), func(b *testing.B) { compare(b, len(image), func() { _, _ = Join(lanes) }, copied) })
	}
}

// compare runs ours and the reference in turn and reports their ratio.
func compare(b *testing.B, n int, ours, reference func()) {
	var our, their time.Duration
	for b.Loop() {
		start := time.Now()
		ours()
		middle := time.Now()
		reference()
		our, their = our+middle.Sub(start), their+time.Since(middle)
	}
	b.ReportMetric(0, "ns/op") // it holds both, so it says nothing
	b.ReportMetric(float64(our.Nanoseconds())/float64(b.N)/float64(n), "ns/byte")
	b.ReportMetric(float64(our)/float64(their), "x-copy")
}
