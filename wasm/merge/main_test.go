package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// memory returns what the data section of a program puts into memory, and the other sections.
func memory(t testing.TB, program []byte) (filled, others []byte, segments int) {
	in := input{program[len(header):]}
	for len(in.left) > 0 {
		id, content := in.byte(), in.take(in.unsigned())
		if id != dataSection {
			others = append(append(others, id), content...)
			continue
		}
		all, err := read(content)
		require.NoError(t, err)
		for _, s := range all {
			if end := s.address + len(s.content); end > len(filled) {
				filled = append(filled, make([]byte, end-len(filled))...)
			}
			copy(filled[s.address:], s.content)
		}
		segments = len(all)
	}
	return filled, others, segments
}

// A program of Go's puts the same into memory afterwards, in far fewer segments, and all else is as it was. Where Node is
// there, its compiler takes it.
func TestMerge(t *testing.T) {
	dir := t.TempDir()
	source, built := filepath.Join(dir, "main.go"), filepath.Join(dir, "main.wasm")
	require.NoError(t, os.WriteFile(source, []byte("package main\nfunc main() { println(len(\"hello\")) }\n"), 0o644))
	build := exec.Command("go", "build", "-o", built, source)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	output, err := build.CombinedOutput()
	require.NoError(t, err, string(output))
	program, err := os.ReadFile(built)
	require.NoError(t, err)

	merged, err := Merge(program)
	require.NoError(t, err)
	before, othersBefore, many := memory(t, program)
	after, othersAfter, few := memory(t, merged)
	require.True(t, bytes.Equal(before, after))
	require.True(t, bytes.Equal(othersBefore, othersAfter))
	require.Greater(t, many, 100*few)

	if node, err := exec.LookPath("node"); err == nil {
		require.NoError(t, os.WriteFile(built, merged, 0o644))
		valid := `process.exit(WebAssembly.validate(require("fs").readFileSync(process.argv[1])) ? 0 : 1)`
		require.NoError(t, exec.Command(node, "-e", valid, built).Run())
	}
}

func TestMergeRefuses(t *testing.T) {
	for name, program := range map[string]string{
		"no wasm":          "MZ",
		"cut section":      header + "\x0B\x20\x01",
		"passive segment":  header + "\x0B\x04\x01\x01\x01\xAA",
		"too many claimed": header + "\x0B\x01\x05",
		"data left over":   header + "\x0B\x08\x01\x00\x41\x08\x0B\x01\xAA\xBB",
	} {
		_, err := Merge([]byte(program))
		require.Error(t, err, name)
	}
}

func FuzzMerge(f *testing.F) {
	f.Add([]byte(header + "\x0B\x0D\x02\x00\x41\x08\x0B\x01\xAA\x00\x41\x10\x0B\x01\xBB"))
	f.Fuzz(func(t *testing.T, program []byte) {
		merged, err := Merge(program)
		if err == nil {
			again, err := Merge(merged)
			require.NoError(t, err)
			require.Equal(t, merged, again)
		}
	})
}
