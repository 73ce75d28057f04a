// Package cores lets all processors work on one thing at once, so that what comes out is
// the same with any number of them.
//
// In: how many items or rows there are, and the work on one. Each piece of work writes only
// what belongs to its own item. Out: nothing, or the cancelled context's error.
package cores

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Each works on all of [0, n), every processor on what comes next.
func Each(n int, work func(i int)) {
	var all sync.WaitGroup
	var next atomic.Int64
	for range min(runtime.GOMAXPROCS(0), n) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	all.Wait()
}

// Bands works on [0, n), every processor on a band of it.
func Bands(ctx context.Context, n int, work func(from, to int)) error {
	count := min(runtime.GOMAXPROCS(0), n)
	Each(count, func(k int) { work(k*n/count, (k+1)*n/count) })
	return ctx.Err()
}

// Rows works on all of [0, n), every processor on a band of it. Where the context is
// cancelled it leaves rows out.
func Rows(ctx context.Context, n int, work func(y int)) error {
	const between = 64 // rows, looks at the context
	return Bands(ctx, n, func(from, to int) {
		for y := from; y < to; y++ {
			if y%between == 0 && ctx.Err() != nil {
				return
			}
			work(y)
		}
	})
}
