package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// In every package of the core that asks for json.go, the file must be what the tags give today; no other package has one.
func TestGeneratedFilesAreCurrent(t *testing.T) {
	asked, present := map[string]bool{}, map[string]bool{}
	err := filepath.WalkDir("../..", func(path string, entry fs.DirEntry, err error) error {
		require.NoError(t, err)
		if entry.Name() == output {
			present[filepath.Dir(path)] = true
		}
		if strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			if strings.Contains(string(text), "\n//go:generate go run lunette/core/jsontext/generate\n") {
				asked[filepath.Dir(path)] = true
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.Equal(t, asked, present)
	require.GreaterOrEqual(t, len(asked), 6)
	for dir := range asked {
		want, err := Generate(dir)
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(dir, output))
		require.NoError(t, err)
		require.Equal(t, string(want), string(got), "%s is out of date: go generate ./core/...", dir)
	}
}

// What would be written otherwise than encoding/json writes it is refused, and the error says where.
func TestGenerateRefuses(t *testing.T) {
	for field, complaint := range map[string]string{
		"F map[string]int `json:\"f\"`":            "p.T.F: no JSON is known for a map[string]int",
		"F *int `json:\"f\"`":                      "p.T.F: no JSON is known for a *int",
		"F any `json:\"f\"`":                       "p.T.F: no JSON is known for a any",
		"F [2]int `json:\"f\"`":                    "p.T.F: no JSON is known for a [2]int",
		"F [][]int `json:\"f\"`":                   "p.T.F: no JSON is known for a []int",
		"F struct{ X int } `json:\"f\"`":           "p.T.F: no JSON is known for a struct{X int}",
		"F strings.Builder `json:\"f\"`":           "p.T.F: no JSON is known for a invalid type",
		"F []byte `json:\"f\"`":                    "p.T.F: a list of bytes is not supported",
		"F int `json:\"f,string\"`":                "p.T.F: the option \"string\" is not supported",
		"F int `json:\"a<b\"`":                     "p.T.F: the name \"a<b\" may need escapes",
		"F U `json:\"f,omitempty\"`":               "p.T.F: omitempty means nothing for a example/p.U",
		"U `json:\"u\"`":                           "p.T.U: embedded fields are not supported",
		"F int `json:\"f\"`; G chan int; h string": "p.T.G: no JSON is known for a chan int",
	} {
		t.Run(field, func(t *testing.T) {
			root := t.TempDir()
			require.NoError(t, os.Mkdir(filepath.Join(root, "p"), 0o755))
			source := "package p\nimport \"strings\"\ntype U struct { X int `json:\"x\"` }\ntype T struct { " + field + " }\n"
			require.NoError(t, os.WriteFile(filepath.Join(root, "go.mod"), []byte("module example\n"), 0o644))
			require.NoError(t, os.WriteFile(filepath.Join(root, "p", "p.go"), []byte(source), 0o644))
			_, err := Generate(filepath.Join(root, "p"))
			require.ErrorContains(t, err, complaint)
		})
	}
}

func TestGenerateNeedsAPackageInAModule(t *testing.T) {
	root := t.TempDir()
	_, err := Generate(root)
	require.ErrorContains(t, err, "is in no module")
	require.NoError(t, os.WriteFile(filepath.Join(root, "go.mod"), []byte("module example\n"), 0o644))
	_, err = Generate(root)
	require.ErrorContains(t, err, "no Go files in "+root)
}
