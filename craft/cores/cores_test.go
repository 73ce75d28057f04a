package cores_test

import (
	"context"
	"slices"
	"sync/atomic"
	"testing"

	"scalewright/craft/cores"
)

func TestEveryItemOnce(t *testing.T) {
	for _, n := range []int{0, 1, 2, 63, 1000} {
		done := make([]int, n)
		cores.Each(n, func(i int) { done[i]++ })
		mustAllBe(t, "Each", done, 1)
		if err := cores.Rows(t.Context(), n, func(y int) { done[y]++ }); err != nil {
			t.Fatal(err)
		}
		mustAllBe(t, "Rows", done, 2)
		if err := cores.Bands(t.Context(), n, func(from, to int) {
			for y := from; y < to; y++ {
				done[y]++
			}
		}); err != nil {
			t.Fatal(err)
		}
		mustAllBe(t, "Bands", done, 3)
	}
}

func TestRowsCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	const n = 100_000
	var done atomic.Int64
	err := cores.Rows(ctx, n, func(int) {
		cancel()
		done.Add(1)
	})
	if err == nil || done.Load() == n {
		t.Errorf("all %d rows worked on after the context was cancelled, error %v", done.Load(), err)
	}
}

func mustAllBe(t *testing.T, name string, done []int, times int) {
	t.Helper()
	if i := slices.IndexFunc(done, func(n int) bool { return n != times }); i >= 0 {
		t.Errorf("%s of %d: item %d worked on %d times, not %d", name, len(done), i, done[i], times)
	}
}
