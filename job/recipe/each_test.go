package recipe_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/job/recipe"
)

// withProcs runs f at 1 and at 8 processors.
func withProcs(t *testing.T, f func(procs int)) {
	t.Helper()
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	for _, n := range []int{1, 8} {
		runtime.GOMAXPROCS(n)
		f(n)
	}
}

var errOdd = errors.New("odd")

// What a plain loop would answer, Each answers, at any number of processors.
func TestEachIsALoop(t *testing.T) {
	withProcs(t, func(procs int) {
		rapid.Check(t, func(t *rapid.T) {
			items := rapid.SliceOfN(rapid.IntRange(0, 9), 0, 40).Draw(t, "items")
			work := func(_ context.Context, i, item int) (string, error) {
				if item == 9 {
					return "", fmt.Errorf("item %d: %w", i, errOdd)
				}
				return fmt.Sprint(i, item), nil
			}
			want := make([]string, len(items))
			var wantErr error
			for i, item := range items {
				if want[i], wantErr = work(t.Context(), i, item); wantErr != nil {
					want = nil
					break
				}
			}
			got, err := recipe.Each(t.Context(), items, work)
			if diff := cmp.Diff(want, got); diff != "" || fmt.Sprint(err) != fmt.Sprint(wantErr) {
				t.Fatalf("procs %d: error %v, want %v; results (-want +got):\n%s", procs, err, wantErr, diff)
			}
		})
	})
}

func TestEachIsBounded(t *testing.T) {
	withProcs(t, func(procs int) {
		synctest.Test(t, func(t *testing.T) {
			var now, most atomic.Int64
			begun := time.Now()
			_, err := recipe.Each(t.Context(), make([]int, 24), func(context.Context, int, int) (int, error) {
				n := now.Add(1)
				defer now.Add(-1)
				for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
				}
				time.Sleep(time.Minute)
				return 0, nil
			})
			if err != nil || int(most.Load()) != procs || time.Since(begun) != time.Duration(24/procs)*time.Minute {
				t.Errorf("procs %d: at most %d at once, %v, %v", procs, most.Load(), time.Since(begun), err)
			}
		})
	})
}

// A late failure at a low index wins over an early one at a high index, and
// nothing past the failure is begun.
func TestEachFirstErrorByOrder(t *testing.T) {
	before := runtime.GOMAXPROCS(4)
	defer runtime.GOMAXPROCS(before)
	synctest.Test(t, func(t *testing.T) {
		var begun atomic.Int64
		out, err := recipe.Each(t.Context(), make([]int, 100), func(_ context.Context, i, _ int) (int, error) {
			begun.Add(1)
			time.Sleep(time.Duration(10-i) * time.Minute)
			return i, fmt.Errorf("item %d", i)
		})
		if out != nil || fmt.Sprint(err) != "item 0" {
			t.Errorf("Each = %v, %v", out, err)
		}
		if begun.Load() != 4 {
			t.Errorf("%d were begun, want 4", begun.Load())
		}
	})
}

func TestEachCancelled(t *testing.T) {
	before := runtime.GOMAXPROCS(2)
	defer runtime.GOMAXPROCS(before)
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithTimeout(t.Context(), 90*time.Second)
		defer cancel()
		var begun atomic.Int64
		out, err := recipe.Each(ctx, make([]int, 100), func(context.Context, int, int) (int, error) {
			begun.Add(1)
			time.Sleep(time.Minute)
			return 0, nil
		})
		if out != nil || !errors.Is(err, context.DeadlineExceeded) || begun.Load() != 4 {
			t.Errorf("Each = %v, %v after %d were begun", out, err, begun.Load())
		}
	})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := recipe.Each(ctx, []int(nil), func(context.Context, int, int) (int, error) { return 0, nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before, nothing to do: %v", err)
	}
}

func TestEachCarriesPanics(t *testing.T) {
	withProcs(t, func(int) {
		defer func() {
			bug, ok := recover().(*recipe.Bug)
			if !ok || bug.Error() != "our bug: boom 3" || !strings.Contains(string(bug.Stack), "TestEachCarriesPanics") {
				t.Errorf("panics with %v", bug)
			}
		}()
		_, _ = recipe.Each(t.Context(), make([]int, 9), func(_ context.Context, i, _ int) (int, error) {
			if i >= 3 {
				panic(fmt.Sprint("boom ", i))
			}
			return 0, nil
		})
		t.Error("goes on")
	})
}

func TestEachGoexit(t *testing.T) {
	_, err := recipe.Each(t.Context(), make([]int, 3), func(_ context.Context, i, _ int) (int, error) {
		if i == 1 {
			runtime.Goexit()
		}
		return 0, nil
	})
	if err == nil {
		t.Error("work that left counts as done")
	}
}

func TestDerive(t *testing.T) {
	withProcs(t, func(procs int) {
		ratios := []float64{6, 1, 5.5, 13, 2}
		got := recipe.Derive(t.Context(), ratios, func(_ context.Context, ratio float64) (string, error) {
			switch ratio {
			case 1:
				return "half", errOdd
			case 13:
				panic("boom")
			}
			return fmt.Sprint(218.5 * ratio), nil
		})
		var text []string
		for _, d := range got {
			text = append(text, fmt.Sprint(d.Ratio, " ", d.Value, " ", d.Err))
		}
		want := []string{"6 1311 <nil>", "1  odd", "5.5 1201.75 <nil>", "13  our bug: boom", "2 437 <nil>"}
		if diff := cmp.Diff(want, text); diff != "" {
			t.Errorf("procs %d (-want +got):\n%s", procs, diff)
		}
	})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, d := range recipe.Derive(ctx, []float64{1, 2}, func(context.Context, float64) (int, error) { return 1, nil }) {
		if !errors.Is(d.Err, context.Canceled) || d.Ratio == 0 || d.Value != 0 {
			t.Errorf("cancelled: %+v", d)
		}
	}
}

func TestMeter(t *testing.T) {
	type report struct{ done, total int }
	var got []report // not guarded: the meter is
	m := recipe.NewMeter(recipe.ProgressFunc(func(stage string, done, total int) {
		if stage != "carve" {
			t.Errorf("stage %q", stage)
		}
		got = append(got, report{done, total})
	}))
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			step := m.Start("carve", 10)
			for range 12 { // two too many
				step()
			}
		})
	}
	group.Wait()
	last := report{}
	for _, r := range got {
		if r.done < last.done || r.total < last.total || r.done > r.total || r == last {
			t.Fatalf("%v after %v", r, last)
		}
		last = r
	}
	if last != (report{80, 80}) || len(got) != 88 {
		t.Errorf("ends at %v after %d reports", last, len(got))
	}
	recipe.NewMeter(nil).Start("carve", 1)() // nobody to tell
}
