package recipe_test

import (
	"context"
	"fmt"

	"scalewright/job/recipe"
	"scalewright/unit"
)

// One is declared for each stage.
var shaping = recipe.Stage[unit.Length]{Name: "shape", Version: 1, Codec: recipe.Plain[unit.Length]()}

func ExampleDo() {
	memo := recipe.NewMemo(recipe.Options{})
	shape := func(wall unit.Length) {
		girth, err := recipe.Do(context.Background(), memo, shaping.Key("body", wall), shaping,
			func(context.Context) (unit.Length, error) { return 252 + 2*wall, nil })
		fmt.Println(girth, err)
	}
	shape(3)
	shape(3)
	shape(4)
	counts := memo.Counts()["shape"]
	fmt.Println(counts.Computed, "worked for,", counts.Memory, "recalled")
	// Output:
	// 258 <nil>
	// 258 <nil>
	// 260 <nil>
	// 2 worked for, 1 recalled
}

func ExampleEach() {
	names, err := recipe.Each(context.Background(), []string{"bell", "tail", "body"},
		func(_ context.Context, i int, part string) (string, error) {
			return fmt.Sprintf("%d %s", i+1, part), nil
		})
	fmt.Println(names, err)
	// Output: [1 bell 2 tail 3 body] <nil>
}

func ExampleSettle() {
	settled, err := recipe.Settle(context.Background(), recipe.MostReruns,
		func(_ context.Context, told recipe.Assumptions) (recipe.Outcome[unit.Length], error) {
			var out recipe.Outcome[unit.Length]
			film := out.Assumed.AssumeFilm(told, "body-tail", 0.2*unit.Millimetre) // decide
			out.Value = film
			out.Observed.ObserveFilm("body-tail", 0.45) // judge
			return out, nil
		})
	fmt.Println(settled.Value, settled.Runs, len(settled.Unmet), err)
	// Output: 0.45 2 0 <nil>
}

func ExampleDerive() {
	for _, d := range recipe.Derive(context.Background(), []float64{5, 6}, func(_ context.Context, ratio float64) (unit.Length, error) {
		return unit.Length(218.5 * ratio), nil
	}) {
		fmt.Println(d.Ratio, d.Value, d.Err)
	}
	// Output:
	// 5 1092.5 <nil>
	// 6 1311 <nil>
}
