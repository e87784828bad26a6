package survey

import (
	"bytes"
	"crypto/sha256"
	"hash/crc32"
	"math"
	"testing"
	"time"
)

// BenchmarkTake gives the cost of a survey, its fastest round, in nanoseconds a byte and as multiples of what CRC-32 and SHA-256 of the same
// bytes cost in the same run:
//
//	go test -bench Take ./core/survey
//	GOOS=js GOARCH=wasm go test -bench Take -exec="$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ./core/survey
func BenchmarkTake(b *testing.B) {
	const mib = 1 << 20
	oneByte := make([]byte, 4*mib)
	oneByte[len(oneByte)-100] = 1
	bridged := noise(4*mib, 3)
	for i := 0; i+1 < len(bridged); i += 2 {
		bridged[i+1] = bridged[i+1]&^1 | bridged[i]&1
	}
	steps := make([]byte, 4*mib)
	copy(steps[len(steps)/2:], bytes.Repeat([]byte{0x5A}, len(steps)))
	for _, content := range []struct {
		name string
		data []byte
	}{
		{"board 8 KiB", board(8 << 10)},
		{"board 512 KiB", board(mib / 2)},
		{"board 4 MiB", board(4 * mib)},
		{"board 64 MiB", board(64 * mib)},
		{"noise 4 MiB", noise(4*mib, 1)},
		{"text 4 MiB", prose(4 * mib)},
		{"blank 4 MiB", make([]byte, 4*mib)},
		{"one other byte 4 MiB", oneByte},
		{"two halves 4 MiB", steps},
		{"D0 and D8 alike 4 MiB", bridged},
		{"ramp 4 MiB", ramp(4*mib, func(a int) byte { return byte(a) })},
	} {
		b.Run(content.name, func(b *testing.B) {
			b.SetBytes(int64(len(content.data)))
			best := time.Duration(math.MaxInt64)
			for b.Loop() {
				start := time.Now()
				Take(content.data, nil)
				best = min(best, time.Since(start))
			}
			b.StopTimer()
			b.ReportMetric(float64(best)/float64(len(content.data)), "ns/byte")
			b.ReportMetric(ratio(best, func() { crc32.ChecksumIEEE(content.data) }), "x-crc32")
			b.ReportMetric(ratio(best, func() { sha256.Sum256(content.data) }), "x-sha256")
		})
	}
}

// ratio returns best as a multiple of the fastest round of work in half a second. Fastest rounds can be compared on a
// machine that has other things to do as well.
func ratio(best time.Duration, work func()) float64 {
	fastest := time.Duration(math.MaxInt64)
	for start := time.Now(); time.Since(start) < time.Second/2; {
		round := time.Now()
		work()
		fastest = min(fastest, time.Since(round))
	}
	return float64(best) / float64(fastest)
}

// ramp returns n bytes of which each is what its address says.
func ramp(n int, value func(address int) byte) []byte {
	data := make([]byte, n)
	for address := range data {
		data[address] = value(address)
	}
	return data
}
