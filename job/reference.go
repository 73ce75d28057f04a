package job

import (
	"context"
	"fmt"
	"strconv"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/stage/enlarge"
	"scalewright/stage/measure"
	"scalewright/stage/outline"
	"scalewright/unit"
)

// trace is the reference's outline: as typed, or as measured; none where no part
// is a stretch of it.
func (r *runner) trace(ctx context.Context) error {
	if r.in.Declared.Reference.Photo != "" {
		return r.measure(ctx)
	}
	ref := r.in.Declared.Reference
	if ref.Outline == "" {
		return nil // nothing is turned on the build's axis
	}
	typed, ok := r.in.Outlines[ref.Outline]
	if !ok {
		return fmt.Errorf("read outline %q: it is not loaded", ref.Outline)
	}
	in := outline.Input{Path: typed.Path, DoubtMM: typed.DoubtMM, At: finding.Place{File: ref.Outline, Path: "path"}}
	r.trail = outlineStage.Key(in)
	value, found, err := remember(ctx, r, outlineStage, r.trail, func(ctx context.Context) (model.Trace, finding.List, error) {
		return outline.Run(ctx, in)
	})
	r.out.Trace = value
	r.found.Add(found...)
	return err
}

// measure takes the outline from the photograph.
func (r *runner) measure(ctx context.Context) error {
	step := r.meter.Start("measure", 1)
	ref := r.in.Declared.Reference
	in := measure.Input{
		Photo: r.in.Photo, Marks: r.in.Marks, Around: ref.Around, Datum: ref.Datum,
		Length:  unit.Value{X: ref.Length.MM, U: ref.Length.U},
		PhotoAt: ref.At.Key("photo"), MarksAt: ref.At.Key("marks"),
	}
	if ref.Grid.MM > 0 {
		in.Marks.PitchMM = ref.Grid.MM
	}
	if k := ref.Known; k != nil {
		in.Known = &measure.KnownLength{
			From: k.From, To: k.To, Length: unit.Value{X: k.Length.MM, U: k.Length.U}, HeightMM: k.Above.MM, OnAxis: k.OnAxis, At: k.At,
		}
	}
	others := make([]recipe.Key, len(ref.More))
	for i, name := range ref.More {
		o := measure.Other{Photo: r.in.Models[name], PhotoAt: ref.At.Key("more_photos").Key(strconv.Itoa(i))}
		o.Marks.PitchMM, o.MarksAt = ref.Grid.MM, o.PhotoAt
		in.Others, others[i] = append(in.Others, o), recipe.Content(o.Photo)
	}
	for _, h := range ref.Hidden {
		in.Hidden = append(in.Hidden, r.hidden(h))
	}
	for _, rest := range ref.Rests {
		in.Rests = append(in.Rests, measure.Rest{StationMM: rest.At.MM, ReachMM: rest.Below.MM, U: rest.Below.U})
	}
	for _, b := range ref.Brushes {
		in.Brushes = append(in.Brushes, measure.Brush(b))
	}
	for _, c := range ref.Corrections {
		in.Corrections = append(in.Corrections, measure.Correction{Correction: c.Correction, At: c.At})
	}
	for _, f := range ref.Features {
		in.Features = append(in.Features, measure.Feature{ID: f.ID, Kind: f.Kind, From: f.From, To: f.To, At: f.At})
	}
	r.trail = measureStage.Key(recipe.Content(in.Photo), others, in.Marks, in.Around, in.Datum, in.Length, in.PhotoAt, in.MarksAt, in.Hidden, in.Rests, in.Brushes, in.Corrections, in.Features, in.Known)
	value, found, err := remember(ctx, r, measureStage, r.trail, func(ctx context.Context) (measure.Result, finding.List, error) {
		return measure.Run(ctx, in)
	})
	step()
	r.out.Measured, r.out.Trace = &value, value.Trace
	r.found.Add(found...)
	return err
}

// hidden is a stretch that the photograph does not show, with the outline typed
// for it.
func (r *runner) hidden(h model.DeclaredHidden) measure.Hidden {
	typed := r.in.Outlines[h.Outline]
	return measure.Hidden{
		From: h.From.MM, To: h.To.MM, Because: h.Because, At: h.At,
		Typed: typed.Path, DoubtMM: typed.DoubtMM,
	}
}

func (r *runner) enlarge(ctx context.Context) error {
	in := enlarge.Input{Reference: r.in.Declared.Reference, Enlarge: r.in.Declared.Enlarge, Trace: r.out.Trace}
	if r.out.Measured != nil {
		in.Reference.Length = unit.Dim{} // measuring has weighed the reading already
	}
	key := enlargeStage.Key(in.Reference, in.Enlarge, r.trail)
	value, found, err := remember(ctx, r, enlargeStage, key, func(ctx context.Context) (enlarge.Result, finding.List, error) {
		return enlarge.Run(ctx, in)
	})
	r.out.Enlarge = value
	r.found.Add(found...)
	return err
}
