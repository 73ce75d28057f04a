package lane_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"scalewright/job"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// Every bay is cut, and no fewer cuts would do: as many bays lie apart from each
// other, found by trying all sets of them.
func TestStationsAcross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var r job.Result
		var spans []model.Span
		for i := range rapid.IntRange(0, 8).Draw(t, "bays") {
			low, long := rapid.IntRange(0, 100).Draw(t, "low"), rapid.IntRange(1, 40).Draw(t, "long")
			spans = append(spans, model.Span{From: unit.Length(low), To: unit.Length(low + long)})
			b := model.Bay{Component: fmt.Sprint("c", i), Axes: [3][3]float64{{0, 0, 1}, {0, 1, 0}, {1, 0, 0}}}
			b.Size[0], b.Centre[2] = unit.Length(long), unit.Length(low)+unit.Length(long)/2
			r.Places.Bays = append(r.Places.Bays, b)
		}
		cuts := lane.StationsAcross(r)
		for _, s := range spans {
			met := false
			for _, z := range cuts {
				met = met || s.From < z && z < s.To
			}
			if !met {
				t.Fatalf("%v is not cut by %v", s, cuts)
			}
		}
		most := 0
		for set := range 1 << len(spans) {
			n, apart := 0, true
			for i, a := range spans {
				if set>>i&1 == 0 {
					continue
				}
				n++
				for k, b := range spans[:i] {
					apart = apart && (set>>k&1 == 0 || a.To <= b.From || b.To <= a.From)
				}
			}
			if apart {
				most = max(most, n)
			}
		}
		if len(cuts) != most {
			t.Fatalf("%d cuts of %v, %d would do", len(cuts), spans, most)
		}
	})
}
