package measure

import (
	"context"

	"scalewright/craft/camera"
	"scalewright/craft/limb"
	"scalewright/finding"
)

// Look finds the mat's grid and the camera over it, and nothing of what lies there: a
// first look at a photograph, while it can be taken again. Findings and error are as
// those of [Run].
func Look(ctx context.Context, in Input) (Result, finding.List, error) {
	var list finding.List
	out := Result{Units: "mm", View: "side", Lost: true}
	p, err := decode(ctx, in.Photo)
	if err != nil {
		if ctx.Err() != nil {
			return out, nil, ctx.Err()
		}
		list.Add(decodeFinding(err, in.PhotoAt))
		return out, list, nil
	}
	printed, ok, err := marksFor(ctx, p, in, &list)
	if err != nil || !ok {
		return out, list, err
	}
	out.Grid = Grid{Found: printed.found, PitchMM: printed.step, Crossings: len(printed.marks)}
	fit, err := camera.Fit(printed.marks, printed.known(p))
	if err != nil {
		list.Add(fitFinding(err, len(printed.marks), in.MarksAt))
		return out, list, nil
	}
	out.Grid.RMSPx, out.Lens, out.Marks = fit.RMS, fit.Camera, printed.marks
	out.Lies = limb.Pose{Camera: fit.Camera}
	out.Camera = Camera{K1: fit.K1, K2: fit.K2, HeightMM: fit.Height(), TiltDeg: fit.Tilt() / deg}
	return out, list, nil
}
