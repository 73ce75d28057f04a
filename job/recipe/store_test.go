package recipe_test

import (
	"context"
	"testing"

	"scalewright/job/recipe"
)

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
