package faults_test

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// demo returns the demo board's ROM, as often as size bytes take.
func demo(t testing.TB, size int) []byte {
	t.Helper()
	rom, err := os.ReadFile("../../testdata/halden/u41.bin")
	require.NoError(t, err)
	return bytes.Repeat(rom, (size+len(rom)-1)/len(rom))[:size]
}

// reads are readbacks that take different ways through the diagnosis, the longest ways among them.
var reads = []struct {
	name string
	of   func(master []byte) []byte
}{
	{"identical", bytes.Clone},
	{"swapped", func(m []byte) []byte {
		read := bytes.Clone(m)
		for i := 0; i+1 < len(read); i += 2 {
			read[i], read[i+1] = read[i+1], read[i]
		}
		return read
	}},
	{"address line open", func(m []byte) []byte {
		read := bytes.Clone(m)
		for i := range read {
			read[i] = m[i&^0x40]
		}
		return read
	}},
	{"data lines exchanged", func(m []byte) []byte {
		read := bytes.Clone(m)
		for i, b := range read {
			read[i] = b&^0x0C | b>>1&4 | b<<1&8
		}
		return read
	}},
	{"weak bits", func(m []byte) []byte {
		read := bytes.Clone(m)
		for i := 77; i < len(read); i += 3001 {
			read[i] |= 0x11
		}
		return read
	}},
	{"lines in reverse", func(m []byte) []byte {
		read := bytes.Clone(m)
		for i := range read {
			from := 0
			for k := 1; k < len(m); k *= 2 {
				from *= 2
				if i&k != 0 {
					from++
				}
			}
			read[i] = m[from]
		}
		return read
	}},
	{"unrelated", func(m []byte) []byte {
		read := bytes.Clone(m)
		state := uint32(1)
		for i := range read {
			state = state*1664525 + 1013904223
			read[i] = byte(state >> 24)
		}
		return read
	}},
}
