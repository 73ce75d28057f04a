package lane_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/unit"
)

// Half way down a joint the drawing has plug and bore where fit puts them, at a scale
// of 1:1, and its depth stands over it.
func TestDetailIsToScale(t *testing.T) {
	const width, height = 79.0, 60.0
	for _, name := range []string{"foyer-rocket", "angled-handle"} {
		r := prepared(t, name).Result
		for _, s := range r.Division.Seams {
			scene := lane.Detail(r, s, width, height, 1, unit.Metric)
			if scene == nil {
				t.Fatalf("%s has no detail", s.ID)
			}
			x := width/2 + float64(s.Engage)/2
			var crossed []float64
			var words []string
			for _, item := range scene.Items {
				if text, ok := item.(drawing.Text); ok {
					words = append(words, text.String)
				}
				d, ok := item.(drawing.Drawn)
				if !ok || d.Style.Stroke.Width != drawing.Outline.Width {
					continue
				}
				for _, line := range d.Path.Segments() {
					if (line.A.X < x) != (line.B.X < x) {
						crossed = append(crossed, line.A.Y+(x-line.A.X)/(line.B.X-line.A.X)*(line.B.Y-line.A.Y))
					}
				}
			}
			fits := r.Fits.Of(s.ID)
			fit := fits[len(fits)-1] // of a collar the upper: where this looks
			gap := float64(fit.Bore.Nominal-fit.MaleSize.Nominal) / 2
			found := slices.ContainsFunc(crossed, func(bore float64) bool {
				return slices.ContainsFunc(crossed, func(plug float64) bool { return math.Abs(plug-bore-gap) < 0.02 })
			})
			if !found {
				t.Errorf("%s: cut at %v; no two are %v apart", s.ID, crossed, gap)
			}
			if !slices.Contains(words, unit.Metric.Figure(s.Engage)) {
				t.Errorf("%s: its depth, %v, is not on it: %q", s.ID, s.Engage, words)
			}
		}
	}
}
