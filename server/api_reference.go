package server

import (
	"bytes"
	"context"
	"image"
	"strings"

	"scalewright/unit"
)

func reference(ctx context.Context, d *desk, in seenIn) (ReferenceSheet, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return ReferenceSheet{}, err
	}
	r := s.result
	out := ReferenceSheet{
		AsOf: asOf, Length: Doubtful{r.Trace.Length.X, r.Trace.Length.U}, Ratio: r.Enlarge.Ratio,
		Profile: []ProfilePoint{}, Segments: []Segment{}, Typed: []TypedStretch{}, Readings: []DeclaredPoint{},
	}
	if e := r.Design.Error; e.U > 0 {
		out.Worst = &WorstError{
			hundredth(float64(e.Station)), float64(e.U),
			"± " + in.system().Fine(2*e.U) + " on the radius, 95 times in 100, at station " + in.system().Whole(e.Station),
		}
	}
	for _, p := range r.Trace.Profile {
		out.Profile = append(out.Profile, ProfilePoint{p.Station, p.Radius.X, p.Radius.U})
	}
	for _, g := range r.Trace.Outline {
		one := Segment{Kind: string(g.Kind), From: [2]float64{g.From.Station, g.From.Radius}, To: [2]float64{g.To.Station, g.To.Radius}}
		if g.R != 0 {
			one.Centre, one.Radius = &[2]float64{g.Centre.Station, g.Centre.Radius}, g.R
		}
		out.Segments = append(out.Segments, one)
	}
	for _, h := range r.Trace.Typed {
		out.Typed = append(out.Typed, TypedStretch{float64(h.From), float64(h.To), h.Because})
	}
	for _, v := range s.loaded.Values() {
		if v.IsLength && v.Length.Owner == unit.OfReference && strings.HasPrefix(v.At.Path, "reference.") {
			out.Readings = append(out.Readings, DeclaredPoint{Place{v.At.File, v.At.Path}, strings.TrimPrefix(v.At.Path, "reference."), v.Text})
		}
	}
	out.Photo = photoFacts(s)
	return out, nil
}

// photoFacts is what is known of the photograph; nil where there is none.
func photoFacts(s *shown) *PhotoFacts {
	name := s.loaded.Declared.Reference.Photo
	if name == "" {
		return nil
	}
	out := &PhotoFacts{File: name, Pitch: s.loaded.Marks.PitchMM, Marks: []Mark{}, FoundMarks: [][2]float64{}, Edges: [][]EdgePoint{}, Outline: [][][2]float64{}, Band: [][][2]float64{}, Corners: []Corner{}, Strokes: []Stroke{}, Features: []Feature{}}
	if size, _, err := image.DecodeConfig(bytes.NewReader(s.loaded.Files[name])); err == nil {
		out.Width, out.Height = size.Width, size.Height
	}
	for _, m := range s.loaded.Marks.Marks {
		out.Marks = append(out.Marks, Mark{m.Pixel, m.Mat})
	}
	if m := s.result.Measured; m != nil {
		out.GridFound, out.Pitch, out.Crossings, out.RMS = m.Grid.Found, m.Grid.PitchMM, m.Grid.Crossings, m.Grid.RMSPx
		if m.Seen.Width > 0 {
			out.Width, out.Height = m.Seen.Width, m.Seen.Height
		}
		for _, side := range m.Seen.Sides {
			points := []EdgePoint{}
			for _, e := range side {
				points = append(points, EdgePoint{hundredth(e.Station), [2]float64{hundredth(e.Px[0]), hundredth(e.Px[1])}})
			}
			out.Edges = append(out.Edges, points)
		}
		out.Camera, out.Tilt, out.By = m.Camera.HeightMM, m.Camera.TiltDeg, m.Scale.By
		if m.Grid.Found {
			for _, k := range m.Marks {
				out.FoundMarks = append(out.FoundMarks, px(k.Px))
			}
		}
		byHand(out, s.result, s.loaded.Declared.Reference)
	}
	return out
}
