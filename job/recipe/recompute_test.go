package recipe_test

import (
	"context"
	"maps"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/job/recipe"
	"scalewright/unit"
)

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
