package outline

import (
	"context"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is the typed outline.
type Input struct {
	Path    model.Outline
	DoubtMM float64 // standard uncertainty of a radius
	At      finding.Place
}

// Stations of the profile lie at most this far apart, mm of the reference.
const profileStep = 1.0

// Run checks the outline and samples it.
func Run(_ context.Context, in Input) (model.Trace, finding.List, error) {
	if trouble, at := in.Path.Trouble(); trouble != "" {
		return model.Trace{}, finding.List{finding.New(code(trouble), in.At, where(trouble, at))}, nil
	}
	length := in.Path.End() - in.Path.Start()
	trace := model.Trace{Outline: in.Path, Length: unit.Estimate(length, in.DoubtMM)}
	n := math.Ceil(length / profileStep)
	for i := 0.0; i <= n; i++ {
		station := min(in.Path.End(), in.Path.Start()+length*i/n)
		if i == n {
			station = in.Path.End() // rounding may leave it short
		}
		trace.Profile = append(trace.Profile, model.TracePoint{
			Station: station,
			Radius:  unit.Estimate(in.Path.RadiusAt(station), in.DoubtMM),
		})
	}
	return trace, nil, nil
}

func code(t model.Trouble) finding.Code {
	switch t {
	case model.Crosses:
		return "outline-crosses"
	case model.RunsBack:
		return "outline-runs-back"
	case model.BelowAxis:
		return "outline-below-axis"
	case model.NoWidth:
		return "outline-no-width"
	case model.BadArc:
		return "outline-arc-off"
	}
	return "outline-too-short"
}

// where are the figures of a trouble that has a place.
func where(t model.Trouble, at model.Point) finding.Args {
	args := finding.Args{}
	switch t {
	case model.Crosses, model.BelowAxis, model.BadArc:
		args["at"], args["radius"] = finding.Size(at.Station), finding.Size(at.Radius)
	case model.RunsBack:
		args["at"] = finding.Size(at.Station)
	case model.TooShort, model.NoWidth:
	}
	return args
}
