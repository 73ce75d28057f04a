package server

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/build"
	"scalewright/craft/limb"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// ringSteps is of how many pieces a mark's shape on the body is made.
const ringSteps = 48

// ringOf is a mark as it lies on the body, seen again: a circle that was drilled
// straight, a rectangle along and round the body, a line on its surface.
func ringOf(r job.Result, f measure.Featured) [][2]float64 {
	out := [][2]float64{}
	a, b := f.Ends[0], f.Ends[1]
	add := func(station, clock float64) {
		radius := r.Trace.Outline.RadiusAt(station)
		if q, ok := r.Measured.Lies.Pixel(limb.Place{Station: station, Radius: radius, Clock: clock}); ok {
			out = append(out, px(q))
		}
	}
	turn := math.Remainder(b.Clock-a.Clock, 2*math.Pi)
	along := b.Station - a.Station
	switch f.Kind {
	case model.FeatureCircle:
		half, radius := f.Across.X/2, (a.Radius+b.Radius)/2
		for i := range ringSteps + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / ringSteps)
			aside := min(max(half*sin/max(radius, half), -1), 1)
			add(f.Middle.X+half*cos, f.Clock.X*math.Pi/180+math.Asin(aside))
		}
	case model.FeatureRectangle:
		for side := range 4 {
			for i := range ringSteps / 4 {
				t := float64(i) / (ringSteps / 4)
				at := [4][2]float64{{0, t}, {t, 1}, {1, 1 - t}, {1 - t, 0}}[side]
				add(a.Station+at[0]*along, a.Clock+at[1]*turn)
			}
		}
		add(a.Station, a.Clock)
	default:
		for i := range ringSteps + 1 {
			t := float64(i) / ringSteps
			add(a.Station+t*along, a.Clock+t*turn)
		}
	}
	return out
}

func featureOf(r job.Result, f measure.Featured, all []model.DeclaredFeature) Feature {
	out := Feature{ID: f.ID, Is: string(f.Kind), Lost: f.Lost, Ring: [][2]float64{}, Takes: []Cure{}, Drop: []Change{}}
	if slices.ContainsFunc(all, func(d model.DeclaredFeature) bool { return d.ID == f.ID }) {
		path := "reference.features." + f.ID
		if len(all) == 1 {
			path = "reference.features"
		}
		out.Drop = []Change{{Op: "drop", At: Place{build.BuildFile, path}}}
	}
	if f.Lost {
		out.Says = "not on the side of the body"
		return out
	}
	give := func(v unit.Value) string { return fmt.Sprintf("%.1f ± %.1f", v.X, 2*v.U) }
	switch f.Kind {
	case model.FeatureRectangle:
		out.Says = give(f.Along) + " along, " + give(f.Round) + " round"
	case model.FeatureCircle:
		out.Says = give(f.Across) + " across"
	default:
		out.Says = give(f.Across) + " long"
	}
	out.Says += fmt.Sprintf(", at station %s mm, %.1f ± %.1f° round", give(f.Middle), f.Clock.X, 2*f.Clock.U)
	out.Ring = ringOf(r, f)
	out.Takes = takesOf(r, f)
	return out
}

// takesOf are edits by which an opening of the build takes a mark's place and size, or
// by which the mark becomes one.
func takesOf(r job.Result, f measure.Featured) []Cure {
	out := []Cure{}
	if f.Kind == model.FeatureLine {
		return out
	}
	ref := func(v unit.Value) string { return fmt.Sprintf("%.1f ref", v.X) }
	clock := fmt.Sprintf("%.1f", f.Clock.X)
	sizes := map[string]string{"across": ref(f.Across)}
	if f.Kind == model.FeatureRectangle {
		sizes = map[string]string{"high": ref(f.Along), "wide": ref(f.Round)}
	}
	var size []string
	for _, key := range []string{"across", "high", "wide"} {
		if sizes[key] != "" {
			size = append(size, key)
		}
	}
	named := false
	for _, o := range r.Design.Openings {
		named = named || o.ID == f.ID
		if (o.Across > 0) != (f.Kind == model.FeatureCircle) {
			continue
		}
		path := "openings." + o.ID + "."
		changes := []Change{
			{Op: "put", At: Place{build.BuildFile, path + "at"}, Text: ref(f.Middle)},
			{Op: "put", At: Place{build.BuildFile, path + "clocking_deg"}, Text: clock},
		}
		for _, key := range size {
			changes = append(changes, Change{Op: "put", At: Place{build.BuildFile, path + key}, Text: sizes[key]})
		}
		out = append(out, Cure{Says: "opening " + o.ID + " takes this place and size", Changes: changes})
	}
	full := f.Middle.X * r.Enlarge.Ratio
	k := slices.IndexFunc(r.Design.Parts, func(p model.Part) bool {
		return p.OnBody() && p.Declared != "" && p.Span.Holds(unit.Length(full))
	})
	if k >= 0 && !named && f.ID != "" {
		var text strings.Builder
		text.WriteString(fmt.Sprintf("{part: %s, at: %s, clocking_deg: %s", r.Design.Parts[k].Declared, ref(f.Middle), clock))
		for _, key := range size {
			text.WriteString(", " + key + ": " + sizes[key])
		}
		out = append(out, Cure{
			Says:    "make an opening of it in " + r.Design.Parts[k].Declared,
			Changes: []Change{{Op: "add", At: Place{build.BuildFile, "openings." + f.ID}, Text: text.String() + "}"}},
		})
	}
	return out
}

type featureIn struct {
	OnBuild
	Body MarkFeature
}

// markFeature says what two places come to, and the edit that keeps them under a name
// of their own.
func markFeature(ctx context.Context, d *desk, in featureIn) (MarkedFeature, error) {
	s, ref, err := d.seenByHand(ctx)
	if err != nil {
		return MarkedFeature{}, err
	}
	m := s.result.Measured
	from, to := r2.Vec{X: in.Body.From[0], Y: in.Body.From[1]}, r2.Vec{X: in.Body.To[0], Y: in.Body.To[1]}
	one := m.Mark(measure.Feature{ID: nextFeature(ref.Features, in.Body.Is), Kind: model.FeatureKind(in.Body.Is)}, from, to)
	out := MarkedFeature{Feature: featureOf(s.result, one, ref.Features), Changes: []Change{}}
	out.Feature.Takes = []Cure{}
	if one.Lost {
		out.Feature.Ring = [][2]float64{in.Body.From, in.Body.To}
		return out, nil
	}
	a, ok1 := m.Lies.OnMat(from)
	b, ok2 := m.Lies.OnMat(to)
	if ok1 && ok2 {
		out.Changes = []Change{{
			Op: "add", At: Place{build.BuildFile, "reference.features." + one.ID},
			Text: fmt.Sprintf("{is: %s, from: [%.2f, %.2f], to: [%.2f, %.2f]}", in.Body.Is, a.X, a.Y, b.X, b.Y),
		}}
	}
	return out, nil
}

// nextFeature is a free name for a mark.
func nextFeature(all []model.DeclaredFeature, kind string) string {
	for n := 1; ; n++ {
		id := fmt.Sprintf("%s-%d", kind, n)
		if !slices.ContainsFunc(all, func(f model.DeclaredFeature) bool { return f.ID == id }) {
			return id
		}
	}
}
