package faults_test

import (
	"testing"

	"lunette/core/faults"
	"lunette/core/marks"
	"lunette/core/sums"
	"lunette/core/survey"
	"lunette/core/texts"
)

// The time of a whole diagnosis, and beside it that of one inspection of the same dump: wanted is at most ten times as much.
func BenchmarkCompare(b *testing.B) {
	for _, size := range []int{512 << 10, 4 << 20} {
		master := demo(b, size)
		name := map[int]string{512 << 10: "512KiB", 4 << 20: "4MiB"}[size]
		b.Run(name+"/inspection", func(b *testing.B) {
			b.SetBytes(int64(size))
			for b.Loop() {
				inspect(master)
			}
		})
		for _, r := range reads {
			read := r.of(master)
			b.Run(name+"/"+r.name, func(b *testing.B) {
				b.SetBytes(int64(size))
				for b.Loop() {
					faults.Compare(master, read, faults.Options{}, nil)
				}
			})
		}
	}
}

// inspect does what core.Inspect does that takes time.
func inspect(data []byte) {
	survey.Take(data, nil)
	texts.Find(data, marks.Inspect(data, nil).Order)
	sums.All(data, nil, nil)
}
