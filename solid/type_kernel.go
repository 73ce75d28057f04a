package solid

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Kernel says how the long operations are run. The zero value uses every
// processor and tells nobody. A result never depends on it: one worker and
// sixteen give the same bytes.
type Kernel struct {
	// Workers is the number of goroutines that work at once; 0: GOMAXPROCS.
	Workers int
	// Progress, if set, is told the step being done and the share of it that is,
	// from 0 to 1. It is never called by two goroutines at once, and is called
	// again only after it has returned, so it should be quick.
	Progress func(step string, done float64)
}

func (k Kernel) workers() int {
	if k.Workers > 0 {
		return k.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// each calls work for runs [lo, hi) that cover 0 to n−1, several at once. work
// writes only what belongs to its numbers; that is what keeps a result the same
// at any number of workers. A run has grain numbers: as many as make some
// milliseconds of work, since the context is looked at between runs and must be
// seen within 50 ms. Where ctx ends the rest is left undone and its error
// returned. A panic of work is raised again here.
func (k Kernel) each(ctx context.Context, step string, n, grain int, work func(lo, hi int)) error {
	runs := (n + grain - 1) / grain
	var next atomic.Int64
	var told sync.Mutex
	finished, panicked := 0, any(nil)
	worker := func() {
		defer func() {
			if p := recover(); p != nil {
				told.Lock()
				panicked = p
				told.Unlock()
				next.Store(int64(runs))
			}
		}()
		for ctx.Err() == nil {
			r := int(next.Add(1)) - 1
			if r >= runs {
				return
			}
			work(r*grain, min(n, (r+1)*grain))
			if k.Progress != nil {
				told.Lock()
				finished++
				k.Progress(step, float64(finished)/float64(runs))
				told.Unlock()
			}
		}
	}
	var all sync.WaitGroup
	for range min(k.workers(), runs) - 1 {
		all.Go(worker)
	}
	worker()
	all.Wait()
	if panicked != nil {
		panic(panicked)
	}
	return ctx.Err()
}
