package lane

import (
	"cmp"
	"slices"
)

func sorted(xs []float64) []float64 { slices.Sort(xs); return xs }

// order are the indices of a list by a key, equal ones as they come.
func order[T any](list []T, key func(int) float64) []int {
	out := make([]int, len(list))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(key(a), key(b)) })
	return out
}
