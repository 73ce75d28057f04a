package server

import (
	"context"
	"errors"
	"io/fs"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// GridSeen is the mat's grid as it is found in a photograph by itself.
type GridSeen struct {
	Found     bool         `json:"found"`
	Pitch     float64      `json:"pitch_mm" doc:"From line to line; 0: not known."`
	Crossings [][2]float64 `json:"crossings" doc:"Where they are seen, px of the upright photograph."`
	RMS       float64      `json:"rms_px"`
	AskPitch  bool         `json:"ask_pitch" doc:"The grid is seen, but how far its lines are apart is not, or is likely only: ask again with pitch_mm."`
	Says      string       `json:"says" doc:"What was found, or why nothing was."`
	Do        string       `json:"do,omitempty" doc:"What to do where nothing was found, or a step is likely only."`
}

type gridIn struct {
	PhotoIn
	Pitch float64 `query:"pitch_mm" minimum:"0" maximum:"1000" doc:"That the lines are known to be apart; 0: to be found."`
}

// seeGrid looks for the grid of a photograph that was stored, whatever the build names.
func seeGrid(ctx context.Context, d *desk, in gridIn) (GridSeen, error) {
	none := GridSeen{Crossings: [][2]float64{}}
	if !photoName.MatchString(photoDir + in.Name) {
		return none, notFound("there is no photograph of that name", "send it first")
	}
	data, err := d.folder.ReadFile(photoDir+in.Name, mostFile)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, build.ErrOutside) {
		return none, notFound("there is no photograph of that name", "send it first")
	}
	if err != nil {
		return none, err
	}
	select { // one at a time: a large photograph takes memory
	case d.trying <- struct{}{}:
		defer func() { <-d.trying }()
	case <-ctx.Done():
		return none, d.problemOf(ctx.Err())
	}
	r, found, err := measure.Look(ctx, measure.Input{Photo: data, Marks: model.Marks{PitchMM: in.Pitch}})
	if err != nil {
		return none, d.problemOf(err)
	}
	return gridSeenOf(r, found), nil
}

func gridSeenOf(r measure.Result, found finding.List) GridSeen {
	out := GridSeen{Found: r.Grid.Found && len(r.Marks) > 0, Pitch: r.Grid.PitchMM, RMS: r.Grid.RMSPx, Crossings: [][2]float64{}}
	for _, m := range r.Marks {
		out.Crossings = append(out.Crossings, px(m.Px))
	}
	words := finding.Writer{System: unit.Metric}
	for _, f := range found {
		ask := f.Code == "grid-step-unknown" || f.Code == "grid-step-likely"
		out.AskPitch = out.AskPitch || ask
		if ask || f.Severity == finding.Blocker && out.Says == "" {
			out.Says, out.Do = words.Message(f), words.Remedy(f)
		}
	}
	return out
}
