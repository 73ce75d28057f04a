package recipe_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"

	"scalewright/job/recipe"
)

// A shelf is a keeper in memory whose entries a test may spoil.
type shelf struct {
	mu   sync.Mutex
	data map[[32]byte][]byte
	puts int
	err  error
}

func (s *shelf) Get(key [32]byte) ([]byte, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	data, ok := s.data[key]
	return data, ok
}

func (s *shelf) Put(key [32]byte, data []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err != nil {
		return s.err
	}
	if s.data == nil {
		s.data = map[[32]byte][]byte{}
	}
	s.data[key] = data
	s.puts++
	return nil
}

type text struct{ S string }

var spell = recipe.Stage[text]{Name: "spell", Version: 1, Codec: recipe.Plain[text]()}

func say(s string) func(context.Context) (text, error) {
	return func(context.Context) (text, error) { return text{s}, nil }
}

func do(t *testing.T, m *recipe.Memo, in, out string) {
	t.Helper()
	got, err := recipe.Do(t.Context(), m, spell.Key(in), spell, say(out))
	if err != nil || got.S != out {
		t.Fatalf("Do(%s) = %q, %v; want %q", in, got.S, err, out)
	}
}

func TestDoRemembers(t *testing.T) {
	disk := &shelf{}
	m := recipe.NewMemo(recipe.Options{Keeper: disk})
	do(t, m, "a", "alpha")
	do(t, m, "a", "alpha")
	do(t, m, "b", "beta")
	want := map[string]recipe.Counts{"spell": {Computed: 2, Memory: 1}}
	if diff := cmp.Diff(want, m.Counts()); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	m = recipe.NewMemo(recipe.Options{Keeper: disk}) // the program is started again
	do(t, m, "a", "alpha")
	do(t, m, "a", "alpha")
	if disk.puts != 2 {
		t.Errorf("%d were written to disk, want 2: what comes from there stands there", disk.puts)
	}
	want = map[string]recipe.Counts{"spell": {Disk: 1, Memory: 1}}
	if diff := cmp.Diff(want, m.Counts()); diff != "" {
		t.Errorf("counts after a restart (-want +got):\n%s", diff)
	}
	m.ResetCounts()
	do(t, m, "a", "alpha")
	if got := m.Counts()["spell"]; got != (recipe.Counts{Memory: 1}) {
		t.Errorf("counts after a reset = %+v", got)
	}
}

func TestZeroAndNilMemo(t *testing.T) {
	var m recipe.Memo
	do(t, &m, "a", "alpha")
	do(t, &m, "a", "alpha")
	if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1, Memory: 1}) {
		t.Errorf("zero memo: %+v", got)
	}
	do(t, nil, "a", "alpha")
	if _, err := recipe.Do(t.Context(), nil, spell.Key(), spell, boom); !strings.Contains(err.Error(), "boom") {
		t.Errorf("nil memo: %v", err)
	}
}

// An entry of another make-up, or cut off, is worked for anew.
func TestSpoiltEntryIsAbsent(t *testing.T) {
	disk := &shelf{}
	do(t, recipe.NewMemo(recipe.Options{Keeper: disk}), "a", "alpha")
	key := [32]byte(spell.Key("a"))
	whole := disk.data[key]
	for n := range whole {
		disk.data[key] = whole[:n]
		m := recipe.NewMemo(recipe.Options{Keeper: disk})
		do(t, m, "a", "alpha")
		if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1}) {
			t.Fatalf("cut at %d: %+v", n, got)
		}
	}
}

func TestDiskFullFailsNoWork(t *testing.T) {
	full := errors.New("no space left")
	m := recipe.NewMemo(recipe.Options{Keeper: &shelf{err: full}})
	do(t, m, "a", "alpha")
	if err := m.KeepErr(); !errors.Is(err, full) || !strings.Contains(err.Error(), "stage spell") {
		t.Errorf("KeepErr = %v", err)
	}
}

func boom(context.Context) (text, error) { panic("boom") }

func TestFailedIsNeverKept(t *testing.T) {
	disk := &shelf{}
	m := recipe.NewMemo(recipe.Options{Keeper: disk})
	wrong := errors.New("wrong")
	_, err := recipe.Do(t.Context(), m, spell.Key("a"), spell, func(context.Context) (text, error) { return text{"half"}, wrong })
	if !errors.Is(err, wrong) {
		t.Errorf("err = %v", err)
	}
	_, err = recipe.Do(t.Context(), m, spell.Key("a"), spell, boom)
	bug, ok := errors.AsType[*recipe.Bug](err)
	if !ok || bug.Stage != "spell" || bug.Value != "boom" || !strings.Contains(string(bug.Stack), "recipe_test.boom") {
		t.Errorf("a panic gives %#v", err)
	}
	if want := "our bug in stage spell: boom"; err.Error() != want {
		t.Errorf("err = %q, want %q", err, want)
	}
	if len(disk.data) > 0 {
		t.Error("failed work is on disk")
	}
	do(t, m, "a", "alpha")
	if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1, Failed: 2}) {
		t.Errorf("counts = %+v", got)
	}
}

func TestCancelledIsNeverKept(t *testing.T) {
	disk := &shelf{}
	m := recipe.NewMemo(recipe.Options{Keeper: disk})
	ctx, cancel := context.WithCancel(t.Context())
	// Work that does not look at ctx and returns what it has.
	got, err := recipe.Do(ctx, m, spell.Key("a"), spell, func(context.Context) (text, error) {
		cancel()
		return text{"half"}, nil
	})
	if !errors.Is(err, context.Canceled) || got != (text{}) {
		t.Errorf("cancelled: %v, %v", got, err)
	}
	if _, err := recipe.Do(ctx, m, spell.Key("b"), spell, boom); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before: %v", err)
	}
	do(t, m, "a", "alpha")
	if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1, Failed: 1}) || len(disk.data) != 1 {
		t.Errorf("counts = %+v, %d on disk", got, len(disk.data))
	}
}

// A bug of an inner stage is told once, with the inner stage's name.
func TestBugKeepsItsFirstStage(t *testing.T) {
	var m recipe.Memo
	outer := recipe.Stage[text]{Name: "outer", Version: 1}
	_, err := recipe.Do(t.Context(), &m, outer.Key(), outer, func(ctx context.Context) (text, error) {
		v, err := recipe.Do(ctx, &m, spell.Key("a"), spell, boom)
		if err != nil {
			return v, fmt.Errorf("look up: %w", err)
		}
		return v, nil
	})
	if want := "look up: our bug in stage spell: boom"; err.Error() != want {
		t.Errorf("err = %q, want %q", err, want)
	}
	// A bug inside of a fan out has no stage until one is left.
	_, err = recipe.Do(t.Context(), &m, outer.Key(), outer, func(ctx context.Context) (text, error) {
		_, err := recipe.Each(ctx, []int{1, 2}, func(context.Context, int, int) (text, error) { return boom(ctx) })
		return text{}, err
	})
	bug, ok := errors.AsType[*recipe.Bug](err)
	if !ok || bug.Stage != "outer" || !strings.Contains(string(bug.Stack), "recipe_test.boom") {
		t.Errorf("from a fan out: %v", err)
	}
	_, err = recipe.Guard("derive", func() (text, error) {
		out := recipe.Derive(t.Context(), []float64{1}, func(ctx context.Context, _ float64) (text, error) { return boom(ctx) })
		return out[0].Value, out[0].Err
	})
	if want := "our bug in stage derive: boom"; err.Error() != want {
		t.Errorf("err = %q, want %q", err, want)
	}
}

func TestBugUnwraps(t *testing.T) {
	_, err := recipe.Guard("fit", func() (int, error) { panic(fmt.Errorf("deep: %w", errors.ErrUnsupported)) })
	if !errors.Is(err, errors.ErrUnsupported) {
		t.Errorf("err = %v", err)
	}
}

func TestAsksForItself(t *testing.T) {
	var m recipe.Memo
	var ask func(ctx context.Context) (text, error)
	ask = func(ctx context.Context) (text, error) { return recipe.Do(ctx, &m, spell.Key("a"), spell, ask) }
	if _, err := ask(t.Context()); err == nil || !strings.Contains(err.Error(), "asks for its own result") {
		t.Errorf("err = %v", err)
	}
}

func TestSingleFlight(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var m recipe.Memo
		var group sync.WaitGroup
		for range 10 {
			group.Go(func() {
				got, err := recipe.Do(t.Context(), &m, spell.Key("a"), spell, func(context.Context) (text, error) {
					time.Sleep(time.Hour)
					return text{"alpha"}, nil
				})
				if err != nil || got.S != "alpha" {
					t.Errorf("Do = %v, %v", got, err)
				}
			})
		}
		group.Wait()
		if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1, Shared: 9}) {
			t.Errorf("counts = %+v", got)
		}
	})
}

// The one who works is cancelled: of the two who wait one takes over. Another
// who waits gives up at once when cancelled himself.
func TestCancelledWhileOthersWait(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var m recipe.Memo
		slow := func(ctx context.Context) (text, error) {
			select {
			case <-time.After(time.Hour):
				return text{"alpha"}, nil
			case <-ctx.Done():
				return text{}, ctx.Err()
			}
		}
		ask := func(ctx context.Context) error {
			_, err := recipe.Do(ctx, &m, spell.Key("a"), spell, slow)
			return err
		}
		first, cancelFirst := context.WithCancel(t.Context())
		waiting, cancelWaiting := context.WithCancel(t.Context())
		errs := make([]error, 4)
		var group sync.WaitGroup
		group.Go(func() { errs[0] = ask(first) })
		synctest.Wait()
		group.Go(func() { errs[1] = ask(t.Context()) })
		group.Go(func() { errs[2] = ask(t.Context()) })
		group.Go(func() { errs[3] = ask(waiting) })
		synctest.Wait()
		cancelWaiting()
		synctest.Wait()
		if !errors.Is(errs[3], context.Canceled) {
			t.Errorf("who waited and was cancelled: %v", errs[3])
		}
		time.Sleep(30 * time.Minute)
		cancelFirst()
		group.Wait()
		if !errors.Is(errs[0], context.Canceled) || errs[1] != nil || errs[2] != nil {
			t.Errorf("errors = %v", errs)
		}
		if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1, Shared: 1, Failed: 1}) {
			t.Errorf("counts = %+v", got)
		}
	})
}

// Work that leaves by runtime.Goexit, as a failing test does, leaves nobody
// waiting for ever.
func TestGoexit(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var m recipe.Memo
		go func() {
			_, _ = recipe.Do(t.Context(), &m, spell.Key("a"), spell, func(context.Context) (text, error) {
				time.Sleep(time.Hour)
				runtime.Goexit()
				return text{}, nil
			})
		}()
		synctest.Wait()
		do(t, &m, "a", "alpha")
		if got := m.Counts()["spell"]; got != (recipe.Counts{Computed: 1, Failed: 1}) {
			t.Errorf("counts = %+v", got)
		}
	})
}

func TestTwoStagesOfOneName(t *testing.T) {
	var m recipe.Memo
	do(t, &m, "a", "alpha")
	other := recipe.Stage[int]{Name: "spell", Version: 1}
	defer func() {
		if got := fmt.Sprint(recover()); !strings.Contains(got, "recipe_test.text, not a int") {
			t.Errorf("panic = %q", got)
		}
	}()
	_, _ = recipe.Do(t.Context(), &m, spell.Key("a"), other, func(context.Context) (int, error) { return 1, nil })
	t.Error("not noticed")
}
