package faults_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/faults"
)

// Any two images may be compared: nothing panics, and what is counted adds up.
func FuzzCompare(f *testing.F) {
	master := small(f)[1024:1536]
	f.Add(master, []byte{}, 0)
	f.Add([]byte{}, master, 8)
	f.Add([]byte{1}, []byte{2}, 16)
	f.Add(master[:100], master[:77], 0)
	f.Add(master[:77], master[:101], 16)
	f.Add(master[:64], master[64:128], 16)
	f.Add(make([]byte, 300), make([]byte, 299), 0)
	for _, r := range reads {
		f.Add(master, r.of(master), 0)
		f.Add(master[:257], r.of(master)[:257], 0)
		f.Add(master[:128], r.of(master), 16)
	}
	f.Fuzz(func(t *testing.T, master, read []byte, width int) {
		if len(master) > 1<<16 || len(read) > 1<<16 {
			t.Skip()
		}
		c := faults.Compare(master, read, faults.Options{Width: width}, nil)
		require.NotEmpty(t, c.Headline)
		require.NotEmpty(t, c.Relation)
		require.Equal(t, c.Compared, c.Equal+c.Differ)
		require.Equal(t, 8*c.Compared, c.EqualBits+c.High+c.Low)
		require.LessOrEqual(t, c.Compared, len(read))
		require.Equal(t, c.Differ, sum(c.Map.Bytes))
		if c.Arrangement == arrange.Stored && c.Repeated == 1 && c.MasterFrom == 0 && len(master) == len(read) && len(read) > 0 {
			checkCounts(t, c, master, read)
		}
		for _, e := range c.Explanations {
			require.NotEmpty(t, e.Sentence)
			if e.Repairable {
				repaired, err := e.Repair(read)
				require.NoError(t, err)
				require.Equal(t, master, repaired)
			}
		}
	})
}
