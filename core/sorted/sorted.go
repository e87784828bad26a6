// Package sorted sorts slices as package slices does, from one piece of code for all types: slices compiles its sort anew
// for each, which came to a tenth of the page's first visit.
package sorted

import (
	"cmp"
	"sort"
)

// By sorts s by compare, which is negative when a comes before b; what compares as equal keeps its order.
func By[T any](s []T, compare func(a, b T) int) {
	sort.SliceStable(s, func(i, j int) bool { return compare(s[i], s[j]) < 0 })
}

// Ascending sorts s from the lowest value up.
func Ascending[T cmp.Ordered](s []T) { By(s, cmp.Compare[T]) }
