package dump

import (
	"encoding/hex"
	"strings"
	"testing"
	"time"
)

// BenchmarkHex gives the cost of reading 1 MiB and 16 MiB of Intel HEX, and its ratio to that of encoding/hex decoding
// the same number of digits, in the same run.
func BenchmarkHex(b *testing.B) { benchmarkRecords(b, func(d Dump) string { return writeHex(d, 16) }) }

// BenchmarkSRecord does the same for S-records.
func BenchmarkSRecord(b *testing.B) {
	benchmarkRecords(b, func(d Dump) string { return writeSRecords(d, 16) })
}

func benchmarkRecords(b *testing.B, write func(Dump) string) {
	for _, size := range []struct {
		name  string
		bytes int
	}{{"1MiB", 1 << 20}, {"16MiB", 16 << 20}} {
		b.Run(size.name, func(b *testing.B) {
			text := []byte(write(Dump{Bytes: noise(size.bytes, 1)}))
			digits := []byte(strings.Repeat("4e56", len(text)/4))
			decoded := make([]byte, len(digits)/2)
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			var ours, reference time.Duration // taken in turn, so that a busy machine slows both
			for b.Loop() {
				before := time.Now()
				if _, err := Load("u7.hex", text); err != nil {
					b.Fatal(err)
				}
				ours += time.Since(before)
				b.StopTimer()
				before = time.Now()
				if _, err := hex.Decode(decoded, digits); err != nil {
					b.Fatal(err)
				}
				reference += time.Since(before)
				b.StartTimer()
			}
			b.ReportMetric(float64(ours)/float64(reference), "x-of-encoding/hex")
		})
	}
}

// BenchmarkRaw shows that recognising raw binary does not depend on its size.
func BenchmarkRaw(b *testing.B) {
	for _, size := range []struct {
		name  string
		bytes int
	}{{"64KiB", 1 << 16}, {"64MiB", 1 << 26}} {
		b.Run(size.name, func(b *testing.B) {
			data := make([]byte, size.bytes)
			copy(data, noise(1<<16, 1))
			for b.Loop() {
				if _, err := Load("u7.bin", data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
