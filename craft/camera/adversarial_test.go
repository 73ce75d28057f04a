package camera_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"scalewright/craft/camera"
)

// Law: whatever the marks and ticks are, a fit ends, with an error or with a camera
// all of whose figures are numbers.
func TestFitOfAnything(t *testing.T) {
	number := rapid.OneOf(
		rapid.Float64Range(-10, 3000),
		rapid.SampledFrom([]float64{0, 1, -1, 400, 1e-300, 1e9, -1e9, 1e155, 1e300, math.MaxFloat64, math.Inf(1), math.NaN()}),
	)
	spoil := func(t *rapid.T, places ...*float64) {
		if rapid.IntRange(0, 49).Draw(t, "spoilt") == 0 {
			*places[rapid.IntRange(0, len(places)-1).Draw(t, "which")] = number.Draw(t, "by")
		}
	}
	truth := scene{Camera: above(2300, 500, 0.08, 0.05, 0.3), scale: [2]float64{1, 1}, height: 1, rng: rand.New(rand.NewPCG(41, 42))}
	whole, strokes := truth.marks(40), truth.ticks(r2.Vec{X: 100, Y: 20}, 0.02)
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		known := camera.Known{
			Width: rapid.IntRange(0, 4000).Draw(t, "width"), Height: rapid.IntRange(0, 4000).Draw(t, "height"),
			F35: rapid.SampledFrom([]float64{0, 26, 1e-9, 1e9}).Draw(t, "f35"), Sigma: rapid.SampledFrom([]float64{0, 0.1, math.NaN()}).Draw(t, "sigma"),
			PrintTrue: rapid.Bool().Draw(t, "true print"),
		}
		for range rapid.SampledFrom([]int{0, 0, 2, 8, 20}).Draw(t, "ticks") {
			k := rapid.SampledFrom(strokes).Draw(t, "tick")
			spoil(t, &k.Px.X, &k.Px.Y, &k.At)
			known.Ticks = append(known.Ticks, k)
		}
		var views [][]camera.Mark
		for range rapid.IntRange(1, 2).Draw(t, "views") {
			var marks []camera.Mark
			for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(whole)-1), 3, 14, rapid.ID[int]).Draw(t, "marks") {
				m := whole[i]
				spoil(t, &m.Px.X, &m.Px.Y, &m.Mm.X, &m.Mm.Y)
				marks = append(marks, m)
			}
			views = append(views, marks)
		}
		all, err := camera.FitAll(views, known)
		if err != nil {
			return
		}
		fitted++
		for _, f := range all {
			sum := f.F + f.Cx + f.Cy + f.K1 + f.K2 + f.C.X + f.C.Y + f.C.Z + f.Sigma + f.RMS + f.Scale[0] + f.Scale[1] + f.ScaleDoubt[0] + f.Ruler.RMS
			for i := range f.Cov {
				sum += f.Cov[i][i]
			}
			if math.IsNaN(sum) || math.IsInf(sum, 0) {
				t.Fatalf("a camera of no numbers: %+v", f)
			}
		}
	})
	if fitted == 0 {
		t.Error("nothing that was drawn could be fitted")
	}
}
