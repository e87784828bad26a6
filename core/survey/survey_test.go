package survey

import (
	"bytes"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBlockSize(t *testing.T) {
	for _, c := range []struct{ want, size int }{
		{256, 0}, {256, 1}, {256, 128 << 10}, {512, 128<<10 + 1}, {1024, 512 << 10}, {8192, 4 << 20}, {128 << 10, 64 << 20},
	} {
		assert.Equal(t, c.want, blockSize(c.size), "%d bytes", c.size)
	}
	s := Take(noise(128<<10+1, 1), nil)
	require.Len(t, s.Blocks, 257)
	from, to := s.Span(256)
	assert.Equal(t, []int{128 << 10, 128<<10 + 1}, []int{from, to}, "the last block is one byte")
}

// TestProgress holds that progress is called about every 256 KiB, rises and ends at the dump's size.
func TestProgress(t *testing.T) {
	for _, size := range []int{0, 1, 256 << 10, 256<<10 + 1, 3<<20 + 5, 16 << 20} {
		var calls []int
		Take(make([]byte, size), func(done int) { calls = append(calls, done) })
		require.NotEmpty(t, calls)
		assert.Equal(t, size, calls[len(calls)-1])
		assert.True(t, slices.IsSorted(calls))
		assert.Len(t, calls, max(1, (size+256<<10-1)/(256<<10)))
	}
}

// TestMemoryDoesNotGrow holds that the worst content for the lists, runs and texts everywhere, needs no more memory than
// their limits.
func TestMemoryDoesNotGrow(t *testing.T) {
	one := append(bytes.Repeat([]byte{0xFF}, MinRun), "TEXTS\tIN ROM\x00"...)
	data := bytes.Repeat(one, 16<<20/len(one))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	Take(data, nil)
	runtime.ReadMemStats(&after)
	assert.Less(t, int(after.TotalAlloc-before.TotalAlloc), 256<<10, "bytes allocated for 16 MiB")
}
