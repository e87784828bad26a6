// Package outside forwards to lunette/core/outside, which see.
package outside

import "lunette/core/outside"

var (
	Tool = outside.Tool
	Run  = outside.Run
)
