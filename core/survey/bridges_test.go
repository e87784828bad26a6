package survey_test

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/survey"
)

// bridged returns what a device with content M shows whose address lines of the bits i and j touch: it sees both low unless
// both are driven high, or both high as soon as one is (wired AND and OR).
func bridged(m []byte, i, j int, lowWins bool) []byte {
	read := make([]byte, len(m))
	for at := range read {
		a, b := at>>i&1, at>>j&1
		level := a | b
		if lowWins {
			level = a & b
		}
		read[at] = m[at&^(1<<i|1<<j)|level<<i|level<<j]
	}
	return read
}

func random(n int) []byte {
	r := rand.New(rand.NewPCG(5, 5))
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(r.Uint32())
	}
	return data
}

// Every pair of address lines, either way, and no other than the one that is bridged.
func TestAddressBridges(t *testing.T) {
	data := random(4096)
	require.Empty(t, survey.Take(data, nil).Bridges)
	for j := 1; j < 12; j++ {
		for i := range j {
			for _, lowWins := range []bool{false, true} {
				got := survey.Take(bridged(data, i, j, lowWins), nil).Bridges
				require.Len(t, got, 1, "A%d and A%d", i, j)
				require.Equal(t, []any{i, j, lowWins}, []any{got[0].Low, got[0].High, got[0].LowWins})
				require.InDelta(t, 1024, got[0].Busy, 30)
			}
		}
	}
}

// A bridge that one byte contradicts is none, wherever that byte is, and odd sizes are no trouble.
func TestAddressBridgesAreExact(t *testing.T) {
	read := bridged(random(2048), 3, 7, true)
	for at := 0; at < len(read); at += 7 {
		if at>>3&1 == at>>7&1 && at>>3&1 == 1 {
			continue // with both high the device is right whatever it reads
		}
		odd := bytes.Clone(read)
		odd[at] ^= 0x10
		require.Empty(t, survey.Take(odd, nil).Bridges, "%04X", at)
	}
	for size := range 300 {
		survey.Take(random(size), nil)
		survey.Take(bytes.Repeat([]byte{1, 2}, size), nil)
	}
}
