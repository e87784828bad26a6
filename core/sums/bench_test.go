package sums

import (
	"crypto/md5"
	"crypto/sha1"
	"crypto/sha256"
	"hash/crc32"
	"testing"
)

// benchmarkSize is the size of the demo board's system ROM, in bytes.
const benchmarkSize = 512 << 10

// BenchmarkParts says what each part of the catalogue costs, in ns a byte. Run it as wasm too:
//
//	GOOS=js GOARCH=wasm go test -bench . -exec "$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ./core/sums
func BenchmarkParts(b *testing.B) {
	data := randomBytes(benchmarkSize, 1)
	withRules := func(keep func(row Row) bool) func() {
		var rows []Row
		for _, row := range Catalogue() {
			if keep(row) {
				rows = append(rows, row)
			}
		}
		return func() {
			e := newEngine(rows, nil)
			for at := 0; at < len(data); at += blockSize {
				e.Write(data[at:min(at+blockSize, len(data))])
			}
			e.Sums()
		}
	}
	needs := func(wanted parts) func() {
		return withRules(func(row Row) bool { return row.rule.needs()&wanted != 0 })
	}
	const digestBits = needDigest | needDigest<<1 | needDigest<<2
	for _, part := range []struct {
		name string
		run  func()
	}{
		{"columns", needs(needColumns)},
		{"columns+remainders", needs(needRemainders)},
		{"columns+rotating", needs(needRotating)},
		{"all-but-digests", needs(^parts(digestBits))},
		{"md5", needs(needDigest << digestMD5)},
		{"sha-1", needs(needDigest << digestSHA1)},
		{"sha-256", needs(needDigest << digestSHA256)},
		{"everything", func() { All(data, nil, nil) }},
	} {
		b.Run(part.name, func(b *testing.B) {
			for b.Loop() {
				part.run()
			}
			perByte(b, benchmarkSize)
		})
	}
}

// BenchmarkAgainstStandardLibrary gives the ratio, in the same run, of the whole catalogue to hash/crc32 with the three
// digests of crypto.
func BenchmarkAgainstStandardLibrary(b *testing.B) {
	data := randomBytes(benchmarkSize, 1)
	var reference float64
	b.Run("crc32+md5+sha1+sha256", func(b *testing.B) {
		for b.Loop() {
			crc32.ChecksumIEEE(data)
			md5.Sum(data)
			sha1.Sum(data)
			sha256.Sum256(data)
		}
		reference = perByte(b, len(data))
	})
	b.Run("whole-catalogue", func(b *testing.B) {
		for b.Loop() {
			All(data, nil, nil)
		}
		b.ReportMetric(perByte(b, len(data))/reference, "x-reference")
	})
}

// BenchmarkExplain says what the search for a printed value of each width costs, in ms for a dump.
func BenchmarkExplain(b *testing.B) {
	data := randomBytes(benchmarkSize, 1)
	for _, value := range []struct {
		name string
		bits int
	}{{"2-digits", 8}, {"4-digits", 16}, {"8-digits", 32}, {"md5", 128}, {"sha-1", 160}, {"sha-256", 256}} {
		b.Run(value.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Explain(data, "0x"+valueFor(value.bits), nil, nil); err != nil {
					b.Fatal(err)
				}
			}
			perByte(b, benchmarkSize)
		})
	}
}

// perByte reports and returns nanoseconds a byte for operations over n bytes.
func perByte(b *testing.B, n int) float64 {
	ns := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / float64(n)
	b.ReportMetric(ns, "ns/byte")
	return ns
}
