package recipe

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
)

// Each runs work on every item, at most GOMAXPROCS at a time, and returns the
// results in input order. It is the house's fan out over a fixed slice: the
// goroutine that has item i writes out[i] and nothing else.
//
// Of several errors the first in input order is returned, and no results. That
// is the one a plain loop would have met: items are begun in order, none is
// begun past the first known to have failed, and those before it run to their
// end. A panic counts as a failure of its item and goes on in the caller's
// goroutine, as a [Bug] with the stack of where it happened. When ctx is
// cancelled no further item is begun and its error is returned; work must look
// at ctx itself to stop sooner.
func Each[T, R any](ctx context.Context, items []T, work func(ctx context.Context, i int, item T) (R, error)) ([]R, error) {
	out := make([]R, len(items))
	errs := each(ctx, len(items), true, func(i int) (err error) {
		out[i], err = work(ctx, i, items[i])
		return err
	})
	for _, err := range errs {
		if b, ok := err.(*thrown); ok {
			panic(b.bug)
		}
		if err != nil && ctx.Err() == nil {
			return nil, err
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// thrown marks the panic of an item, so that it is told apart from an error
// which happens to be a Bug.
type thrown struct{ bug *Bug }

func (t *thrown) Error() string { return t.bug.Error() }

// each calls do for 0 to n-1 and returns their errors. With stop, none past the
// first failure is begun; what was not begun has no error.
func each(ctx context.Context, n int, stop bool, do func(i int) error) []error {
	errs := make([]error, n)
	var next, failed atomic.Int64
	failed.Store(int64(n))
	worker := func() {
		for ctx.Err() == nil {
			i := int(next.Add(1)) - 1
			if i >= n || i > int(failed.Load()) {
				return
			}
			errs[i] = errLeft // stands if do never returns
			errs[i] = tried(i, do)
			if errs[i] != nil && stop {
				lower(&failed, int64(i))
			}
		}
	}
	var group sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(worker)
	}
	group.Wait()
	return errs
}

// errLeft is the error of an item whose work ended its goroutine, as a failing
// test does.
var errLeft = errors.New("the work left by runtime.Goexit")

// tried calls do and makes an error of its panic.
func tried(i int, do func(int) error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &thrown{caught("", v)}
		}
	}()
	return do(i)
}

// lower sets x to at most y.
func lower(x *atomic.Int64, y int64) {
	for {
		old := x.Load()
		if old <= y || x.CompareAndSwap(old, y) {
			return
		}
	}
}
