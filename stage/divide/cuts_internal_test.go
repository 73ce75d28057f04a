package divide

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/unit"
)

// cheapest tries every set of up to so many cuts: slow and obvious.
func (w work) cheapest(at []float64, from, most int) float64 {
	last := len(at) - 1
	best := w.pieceHours(at[from], at[last], from == 0)
	if most == 0 {
		return best
	}
	for i := from + 1; i < last; i++ {
		if piece := w.pieceHours(at[from], at[i], false); !math.IsInf(piece, 1) {
			best = min(best, piece+w.seamHours(at[i])+w.cheapest(at, i, most-1))
		}
	}
	return best
}

// The dynamic programme finds what trying all sets of cuts finds.
func TestPathIsTheCheapestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := model.Raw{Outer: []model.Point{{Radius: 60}}}
		w := work{part: model.Part{ID: "a", Wall: 3}}
		for range rapid.IntRange(2, 3).Draw(t, "corners") {
			last := raw.Outer[len(raw.Outer)-1]
			p := model.Point{
				Station: last.Station + float64(rapid.SampledFrom([]int{56, 61, 30, 12, 0}).Draw(t, "run")),
				Radius:  float64(rapid.SampledFrom([]int{60, 40, 80, 75}).Draw(t, "radius")),
			}
			w.part.Outline = append(w.part.Outline, model.Segment{Kind: model.Line, From: last, To: p})
			raw.Outer = append(raw.Outer, p)
		}
		w.raw = raw
		end := raw.Outer[len(raw.Outer)-1].Station
		if end == 0 {
			return
		}
		high := float64(rapid.SampledFrom([]int{75, 90, 110, 300}).Draw(t, "high"))
		w.printers = []model.Printer{{ID: "m", Build: [3]unit.Length{200, 200, unit.Length(high)}, Line: 0.6, Layer: 0.3, Speed: 80, Flow: 2}}
		at := w.places(0, end)
		// No more cuts than that fit: each leaves leastPiece.
		most := int(end / leastPiece)
		want := w.cheapest(at, 0, most)
		cuts, found := w.path(0, end)
		if math.IsInf(want, 1) {
			if !found.Blocked() {
				t.Errorf("cuts %v where none can be", cuts)
			}
			return
		}
		got, from := 0.0, 0.0
		for _, c := range cuts {
			got += w.pieceHours(from, float64(c.Station), false) + w.seamHours(float64(c.Station))
			from = float64(c.Station)
		}
		got += w.pieceHours(from, end, len(cuts) == 0)
		if found.Blocked() || math.Abs(got-want) > 1e-9*want {
			t.Errorf("cuts %v cost %v hours, the cheapest set costs %v; found %v", cuts, got, want, found)
		}
	})
}

// A cut that is kept as it is written, to the hundredth, lies where it was computed if
// that is a step, and where it is written if not.
func TestKeptCutsStayInTheirSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := work{part: model.Part{ID: "a", Wall: 3}, raw: model.Raw{Outer: []model.Point{{Radius: 60}}}}
		steps := map[float64]bool{}
		for range rapid.IntRange(1, 4).Draw(t, "steps") {
			last := w.raw.Outer[len(w.raw.Outer)-1]
			up := model.Point{Station: last.Station + rapid.Float64Range(50, 150).Draw(t, "run"), Radius: last.Radius}
			over := model.Point{Station: up.Station, Radius: last.Radius + rapid.SampledFrom([]float64{-4, 5, 9}).Draw(t, "step")}
			w.raw.Outer = append(w.raw.Outer, up, over)
			steps[up.Station] = true
		}
		end := w.raw.Outer[len(w.raw.Outer)-1]
		w.raw.Outer = append(w.raw.Outer, model.Point{Station: end.Station + 60, Radius: end.Radius})
		w.part.Span.To = unit.Length(end.Station + 60)
		for i := 1; i < len(w.raw.Outer); i++ {
			w.part.Outline = append(w.part.Outline, model.Segment{Kind: model.Line, From: w.raw.Outer[i-1], To: w.raw.Outer[i]})
		}
		w.printers = []model.Printer{{ID: "m", Build: [3]unit.Length{400, 400, 200}, Line: 0.6, Layer: 0.3, Speed: 80, Flow: 2}}
		cuts, found := w.chooseCuts(nil)
		if found.Blocked() {
			return
		}
		kept := slices.Clone(cuts)
		for i := range kept {
			kept[i].ID, kept[i].Provisional, kept[i].Station = fmt.Sprint("c", i+1), false, unit.Length(math.Round(float64(kept[i].Station)*100)/100)
		}
		again, _ := w.chooseCuts(kept)
		if len(again) != len(cuts) {
			t.Fatalf("%v cuts became %v", cuts, again)
		}
		for i, c := range again {
			want := kept[i].Station
			if steps[float64(cuts[i].Station)] {
				want = cuts[i].Station
			}
			if c.Station != want {
				t.Errorf("cut %d, computed at %v and kept at %v, lies at %v", i+1, cuts[i].Station, kept[i].Station, c.Station)
			}
		}
	})
}
