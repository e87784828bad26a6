package sorted_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/sorted"
)

// Go's package slices is the reference.
func TestByEqualsSlices(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 200 {
		s := make([][2]int, n)
		for i := range s {
			s[i] = [2]int{r.IntN(10), i}
		}
		want := slices.Clone(s)
		byFirst := func(a, b [2]int) int { return a[0] - b[0] }
		slices.SortStableFunc(want, byFirst)
		sorted.By(s, byFirst)
		require.Equal(t, want, s)

		numbers := r.Perm(n)
		sorted.Ascending(numbers)
		require.True(t, slices.IsSorted(numbers))
	}
}
