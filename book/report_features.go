package book

import (
	"fmt"

	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// featureJSON is something marked on the body's side in the photograph, in mm of the
// reference.
type featureJSON struct {
	ID     string            `json:"id"`
	Kind   model.FeatureKind `json:"kind"`
	OnBody bool              `json:"on_body"`
	Middle valueJSON         `json:"middle_mm"` // station
	Clock  valueJSON         `json:"clock_deg"` // from straight up off the mat
	Along  valueJSON         `json:"along_mm"`  // from station to station
	Round  valueJSON         `json:"round_mm"`  // round the body
	Across valueJSON         `json:"across_mm"` // straight
}

func reportFeatures(m *measure.Result) (out []featureJSON) {
	for _, f := range m.Features {
		out = append(out, featureJSON{
			f.ID, f.Kind, !f.Lost, valueOf(f.Middle), valueOf(f.Clock), valueOf(f.Along), valueOf(f.Round), valueOf(f.Across),
		})
	}
	return out
}

// featureNotes say what the marks on the body's side came to.
func featureNotes(r job.Result, u unit.System) (out []string) {
	if r.Measured == nil {
		return nil
	}
	give := func(v unit.Value) string {
		return fmt.Sprintf("%s ± %s", u.Tenth(unit.Length(v.X)), u.Fine(unit.Length(2*v.U)))
	}
	for _, f := range r.Measured.Features {
		if f.Lost {
			continue
		}
		size := give(f.Across)
		if f.Kind == model.FeatureRectangle {
			size = fmt.Sprintf("%s round the body by %s along it", give(f.Round), give(f.Along))
		}
		out = append(out, fmt.Sprintf("Marked on the photograph, %s: a %s of %s at station %s of the reference, %.1f° ± %.1f° from its upper side.",
			f.ID, f.Kind, size, give(f.Middle), f.Clock.X, 2*f.Clock.U))
	}
	return out
}
