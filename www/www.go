// Package www holds the static page, so that a server or a test can hand it out without the folder beside it.
package www

import (
	"embed"
	"errors"
	"io/fs"
)

//go:embed *.html *.js *.svg *.png *.webmanifest css built
var source embed.FS

// Built are the files that `make build` puts in place; without them the page stands but has no core.
var Built = []string{"built/wasm_exec.js", "built/lunette.wasm.packed", "built/halden-u41.bin.gz"}

// Files returns the page's files as a host serves them, and an error when the page has not been built.
func Files() (fs.FS, error) { return FilesAt("") }

// FilesAt returns the page's files for a host whose address is known, as in "https://example.org/lunette/": links to the
// page then show its card. With no address that is left out, for a card wants whole addresses (https://ogp.me).
func FilesAt(address string) (fs.FS, error) {
	for _, name := range Built {
		if _, err := fs.Stat(source, name); err != nil {
			return nil, errors.New(name + " is missing from the page; run make build")
		}
	}
	return assemble(source, address)
}
