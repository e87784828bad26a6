package bench

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/survey"
)

// sample returns size bytes as a large ROM has them: in each 64 KiB about 44 % machine code, 19 % text, 12 % packed or
// encrypted content, and the rest blank, in pieces of changing order. The code is that of the Go command itself, cut at
// random; so the sample is the same for one release of Go, its mix is the same at any size, and nothing large repeats.
func sample(t testing.TB, size int) []byte {
	t.Helper()
	code := goCommand(t)
	r := rand.New(rand.NewPCG(512, 64))
	pieces := []func() []byte{
		func() []byte { return cut(r, code, 14<<10) },
		func() []byte { return cut(r, code, 14<<10) },
		func() []byte { return prose(r, 12<<10) },
		func() []byte { return noise(r, 8<<10) },
		func() []byte { return fill(0xFF, 12<<10) },
		func() []byte { return fill(0x00, 4<<10) },
	}
	image := make([]byte, 0, size+64<<10)
	for len(image) < size {
		for _, i := range r.Perm(len(pieces)) {
			image = append(image, pieces[i]()...)
		}
	}
	return image[:size:size]
}

func goCommand(t testing.TB) []byte {
	t.Helper()
	path, err := exec.LookPath("go")
	require.NoError(t, err)
	path, err = filepath.EvalSymlinks(path)
	require.NoError(t, err)
	program, err := os.ReadFile(path)
	require.NoError(t, err)
	return program
}

func cut(r *rand.Rand, from []byte, size int) []byte {
	at := r.IntN(len(from) - size)
	return from[at : at+size]
}

// prose returns text of words that occur in messages of a machine.
func prose(r *rand.Rand, size int) []byte {
	words := strings.Fields("memory test passed failed at address press any key to continue insert system disk drive not " +
		"ready parity error in bank keyboard locked version of the monitor copyright all rights reserved load run stop")
	text := make([]byte, 0, size+16)
	for len(text) < size {
		text = append(text, words[r.IntN(len(words))]...)
		text = append(text, " ,.\x00\n"[r.IntN(5)])
	}
	return text[:size]
}

func noise(r *rand.Rand, size int) []byte {
	bytes := make([]byte, size)
	for i := range bytes {
		bytes[i] = byte(r.Uint32())
	}
	return bytes
}

func fill(value byte, size int) []byte {
	return []byte(strings.Repeat(string([]byte{value}), size))
}

func TestSampleIsTheSameEachTimeAndDoesNotRepeat(t *testing.T) {
	image := sample(t, 1<<20)
	require.Equal(t, image[:512<<10], sample(t, 512<<10))
	require.Zero(t, survey.Take(image, nil).Period)
}
