package www

import "io/fs"

// Source and Assemble let the tests make other versions of the page.
var (
	Source   fs.FS = source
	Assemble       = assemble
)
