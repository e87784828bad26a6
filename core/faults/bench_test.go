package faults_test

import (
	"testing"

	"lunette/core"
	"lunette/core/dump"
	"lunette/core/faults"
)

// The time of a whole diagnosis, and beside it that of one inspection of the same dump: wanted is at most ten times as much.
func BenchmarkCompare(b *testing.B) {
	for _, size := range []int{512 << 10, 4 << 20} {
		master := demo(b, size)
		name := map[int]string{512 << 10: "512KiB", 4 << 20: "4MiB"}[size]
		b.Run(name+"/inspection", func(b *testing.B) {
			b.SetBytes(int64(size))
			for b.Loop() {
				core.Inspect(dump.Dump{Name: "demo", Bytes: master}, core.ByHand{}, nil, nil)
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
