package recipe_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"runtime"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/job/recipe"
	"scalewright/unit"
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

func TestMemoryIsBounded(t *testing.T) {
	const each = 10_000
	bulk := recipe.Stage[string]{Name: "bulk", Version: 1, Size: func(string) int { return each }}
	m := recipe.NewMemo(recipe.Options{Bytes: 3*each + 3*200}) // three, and what an entry costs
	ask := func(in string) {
		if _, err := recipe.Do(t.Context(), m, bulk.Key(in), bulk, func(context.Context) (string, error) { return in, nil }); err != nil {
			t.Fatal(err)
		}
	}
	for _, in := range []string{"a", "b", "c", "a", "d", "a", "c", "b"} {
		ask(in)
		if m.Held() > 3*each+3*200 {
			t.Fatalf("holds %d bytes", m.Held())
		}
	}
	// a b c are worked for, a recalled, d pushes b out; a and c are recalled, b
	// is worked for anew.
	if got := m.Counts()["bulk"]; got != (recipe.Counts{Computed: 5, Memory: 3}) {
		t.Errorf("counts = %+v", got)
	}
	none := recipe.NewMemo(recipe.Options{Bytes: -1})
	do(t, none, "a", "alpha")
	do(t, none, "a", "alpha")
	if got := none.Counts()["spell"]; got.Computed != 2 || none.Held() != 0 {
		t.Errorf("a memo without memory: %+v, %d bytes", got, none.Held())
	}
}

// A hull says how large it is.
type hull struct{ bytes int }

func (h hull) Bytes() int { return h.bytes }

func TestSizes(t *testing.T) {
	type pair struct {
		A, B []float64
		Name string
		Next *pair
		Hull hull
	}
	shared := make([]float64, 100)
	for _, c := range []struct {
		name  string
		value any
		want  int // bytes, without the interface that holds it
	}{
		{"number", 1.0, 8},
		{"string", "abcd", 16 + 4},
		{"flat slice", make([]float64, 3, 10), 24 + 80},
		{"strings", []string{"ab", "c"}, 24 + 32 + 3},
		{"array of slices", [2][]byte{make([]byte, 5), nil}, 48 + 5},
		{"map", map[int64]string{1: "ab"}, 8 + 8 + 16 + 2},
		{"struct", pair{A: shared, Name: "xy"}, 80 + 800 + 2},
		{"pointer", &pair{Next: &pair{B: shared}}, 8 + 80 + 80 + 800},
		{"told", hull{5000}, 5000},
		{"told inside", pair{Hull: hull{5000}}, 80 - 8 + 5000},
		{"told in a slice", []hull{{5000}, {1000}}, 24 + 6000},
	} {
		any1 := recipe.Stage[any]{Name: "size", Version: 1}
		var m recipe.Memo
		if _, err := recipe.Do(t.Context(), &m, any1.Key(), any1, func(context.Context) (any, error) { return c.value, nil }); err != nil {
			t.Fatal(err)
		}
		if got := m.Held() - 200 - 16; got != c.want { // the entry, and the interface
			t.Errorf("size of %s = %d, want %d", c.name, got, c.want)
		}
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

// An edit of one wall recomputes only what hangs on it: a model of the house.
// Parts are shaped one by one, each seam is fitted from its two parts, and the
// whole hangs on all seams.
func TestEditRecomputesWhatHangsOnIt(t *testing.T) {
	shape := recipe.Stage[float64]{Name: "shape", Version: 1}
	fit := recipe.Stage[float64]{Name: "fit", Version: 1}
	sum := recipe.Stage[float64]{Name: "sum", Version: 1}
	derive := func(m *recipe.Memo, walls []unit.Length) float64 {
		var partKeys, seamKeys []recipe.Key
		parts, err := recipe.Each(t.Context(), walls, func(ctx context.Context, _ int, w unit.Length) (float64, error) {
			return recipe.Do(ctx, m, shape.Key(w), shape, func(context.Context) (float64, error) { return float64(w * w), nil })
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range walls {
			partKeys = append(partKeys, shape.Key(w))
		}
		for i := range partKeys[1:] {
			seamKeys = append(seamKeys, fit.Key(partKeys[i], partKeys[i+1]))
		}
		seams, err := recipe.Each(t.Context(), seamKeys, func(ctx context.Context, i int, k recipe.Key) (float64, error) {
			return recipe.Do(ctx, m, k, fit, func(context.Context) (float64, error) { return parts[i] + parts[i+1], nil })
		})
		if err != nil {
			t.Fatal(err)
		}
		whole, err := recipe.Do(t.Context(), m, sum.Key(seamKeys), sum, func(context.Context) (float64, error) {
			all := 0.0
			for _, s := range seams {
				all += s
			}
			return all, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return whole
	}
	rapid.Check(t, func(rt *rapid.T) {
		var m recipe.Memo
		n := rapid.IntRange(2, 8).Draw(rt, "parts")
		walls := make([]unit.Length, n)
		for i := range walls {
			walls[i] = unit.Length(i + 1)
		}
		derive(&m, walls)
		m.ResetCounts()
		edited := rapid.IntRange(0, n-1).Draw(rt, "edited")
		walls[edited] = unit.Length(rapid.IntRange(100, 200).Draw(rt, "wall"))
		got := derive(&m, walls)
		seams := 2
		if edited == 0 || edited == n-1 {
			seams = 1
		}
		want := map[string]recipe.Counts{
			"shape": {Computed: 1, Memory: n - 1},
			"fit":   {Computed: seams, Memory: n - 1 - seams},
			"sum":   {Computed: 1},
		}
		if diff := cmp.Diff(want, m.Counts()); diff != "" {
			rt.Fatalf("counts (-want +got):\n%s", diff)
		}
		if fresh := derive(nil, walls); math.Float64bits(fresh) != math.Float64bits(got) {
			rt.Fatalf("remembered %v, fresh %v", got, fresh)
		}
	})
}

// Whatever is asked for in whatever order with however little memory, the
// answer is what the work gives.
func TestDoIsTransparent(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := recipe.NewMemo(recipe.Options{Bytes: rapid.SampledFrom([]int{-1, 300, 700, 0}).Draw(rt, "bytes"), Keeper: &shelf{}})
		for _, in := range rapid.SliceOf(rapid.SampledFrom([]string{"a", "b", "c"})).Draw(rt, "asks") {
			do(t, m, in, strings.Repeat(in, 40))
		}
		total := recipe.Counts{}
		for _, c := range maps.All(m.Counts()) {
			total = c
		}
		if total.Computed > 3 || total.Failed+total.Shared > 0 {
			rt.Fatalf("counts = %+v", total)
		}
	})
}
