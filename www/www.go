// Package www holds the static page, so that a server or a test can hand it out without the folder beside it.
package www

import (
	"embed"
	"errors"
	"io/fs"
)

//go:embed *.html *.js *.svg css built
var files embed.FS

// Built are the files that `make build` puts in place; without them the page stands but has no core.
var Built = []string{"built/wasm_exec.js", "built/lunette.wasm.packed", "built/halden-u41.bin.gz"}

// Files returns the page's files as a host serves them, and an error when the page has not been built.
func Files() (fs.FS, error) {
	for _, name := range Built {
		if _, err := fs.Stat(files, name); err != nil {
			return nil, errors.New(name + " is missing from the page; run make build")
		}
	}
	return files, nil
}
