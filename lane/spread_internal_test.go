package lane

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
)

// Laws of spread: the order stays, neighbours keep their pitch, all lie within
// bounds that have the room, and what was apart already does not move.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 15).Draw(t, "places")
		slices.Sort(xs)
		const pitch, least, most = 6.0, 2.0, 98.0
		before := slices.Clone(xs)
		apart := xs[0] >= least && xs[len(xs)-1] <= most
		for i := 1; i < len(xs); i++ {
			apart = apart && xs[i]-xs[i-1] >= pitch
		}
		spread(xs, pitch, least, most)
		for i, x := range xs {
			if x < least-1e-9 || x > most+1e-9 {
				t.Fatalf("%v leaves the bounds", x)
			}
			if i > 0 && x-xs[i-1] < pitch-1e-9 {
				t.Fatalf("%v and %v are nearer than the pitch", xs[i-1], x)
			}
			if apart && math.Abs(x-before[i]) > 1e-9 {
				t.Fatalf("%v moved to %v without need", before[i], x)
			}
		}
	})
}

// spread is no worse, in squares, than any other row that keeps the laws.
func TestSpreadIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(30, 70), 2, 5).Draw(t, "places")
		slices.Sort(xs)
		const pitch = 6.0
		got := slices.Clone(xs)
		spread(got, pitch, -1e9, 1e9)
		rival := []float64{rapid.Float64Range(0, 70).Draw(t, "first")}
		for range len(xs) - 1 {
			rival = append(rival, rival[len(rival)-1]+pitch+rapid.Float64Range(0, 10).Draw(t, "gap"))
		}
		far := func(ys []float64) float64 {
			sum := 0.0
			for i := range ys {
				sum += (ys[i] - xs[i]) * (ys[i] - xs[i])
			}
			return sum
		}
		if far(got) > far(rival)+1e-6 {
			t.Fatalf("%v lies farther from %v than %v", got, xs, rival)
		}
	})
}

// A tube with a groove: walls by subtraction.
func TestWallAt(t *testing.T) {
	c := model.Carved{
		Reach: model.Span{From: 0, To: 40},
		Loops: [][]model.Point{{
			{Station: 0, Radius: 20},
			{Station: 0, Radius: 25},
			{Station: 10, Radius: 25},
			{Station: 10, Radius: 22},
			{Station: 14, Radius: 22},
			{Station: 14, Radius: 25},
			{Station: 40, Radius: 25},
			{Station: 40, Radius: 20},
		}},
	}
	for _, k := range []struct{ station, in, out float64 }{{5, 20, 25}, {12, 20, 22}, {30, 20, 25}, {50, 0, 0}} {
		if in, out := wallAt(c, k.station); in != k.in || out != k.out {
			t.Errorf("wall at %v from %v to %v, want %v to %v", k.station, in, out, k.in, k.out)
		}
	}
	if w := thinnest([]model.Carved{c}, 12); w != 2 {
		t.Errorf("thinnest at the groove %v, want 2", w)
	}
	if w := thinnest([]model.Carved{c}, 60); !math.IsInf(w, 1) {
		t.Errorf("thinnest off the piece %v", w)
	}
	if h := throat(c); h != 20 {
		t.Errorf("throat %v, want 20", h)
	}
}

// The directions of an arc's ends against the circle they lie on: a quarter
// from the widest place to a tip on the axis begins along the axis and ends
// square to it.
func TestHeadings(t *testing.T) {
	quarter := model.Segment{
		Kind: model.Arc, From: model.Point{Station: 10, Radius: 20}, To: model.Point{Station: 30, Radius: 0},
		Centre: model.Point{Station: 10, Radius: 0}, R: 20,
	}
	leaves, arrives := headings(quarter)
	if math.Abs(leaves) > 1e-12 || math.Abs(arrives+math.Pi/2) > 1e-12 {
		t.Errorf("headings %v, %v, want 0 and -π/2", leaves, arrives)
	}
}
