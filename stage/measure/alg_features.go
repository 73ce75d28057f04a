package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/craft/limb"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Feature is something on the body's side that the maker marked on the photograph by
// two places, each where the ray of its place on the mat arrives: a circle by two ends of
// a diameter, a rectangle by two opposite corners, a line by its ends.
type Feature struct {
	ID       string
	Kind     model.FeatureKind
	From, To [2]float64 // mm on the mat
	At       finding.Place
}

// Featured is a feature as it lies on the body.
type Featured struct {
	ID     string
	Kind   model.FeatureKind
	At     finding.Place
	Lost   bool          // it does not lie on the body
	Ends   [2]limb.Place // where its two places lie, mm of the reference
	Middle unit.Value    // station, mm
	Clock  unit.Value    // of the middle, degrees from straight up off the mat
	Along  unit.Value    // from station to station, mm
	Round  unit.Value    // round the body, along the arc, mm
	Across unit.Value    // straight from one place to the other, mm
}

// handPx is the standard deviation, pixels, of a place picked by hand in each
// direction (common practice under a loupe; a guess until logged).
const handPx = 1.0

// spans are what two places are apart, and what lies between them.
type spans [5]float64

func spansOf(a, b limb.Place) spans {
	turn := math.Remainder(b.Clock-a.Clock, 2*math.Pi)
	along := math.Abs(b.Station - a.Station)
	flat := a.Radius*a.Radius + b.Radius*b.Radius - 2*a.Radius*b.Radius*math.Cos(turn)
	return spans{
		(a.Station + b.Station) / 2, (a.Clock + turn/2) / deg, along,
		math.Abs(turn) * (a.Radius + b.Radius) / 2, math.Sqrt(along*along + max(0, flat)),
	}
}

// marked is a feature's two places in pixels.
type marked [2]r2.Vec

func (m marked) on(p limb.Pose, body limb.Body) (ends [2]limb.Place, ok bool) {
	a, ok1 := p.Surface(m[0], body)
	b, ok2 := p.Surface(m[1], body)
	return [2]limb.Place{a, b}, ok1 && ok2
}

// markedOf are the features' pixels; those that no pixel shows lie outside the picture.
func markedOf(cam *camera.Camera, features []Feature) []marked {
	out := make([]marked, len(features))
	for i, f := range features {
		for k, q := range [2][2]float64{f.From, f.To} {
			px, ok := cam.Project(r3.Vec{X: q[0], Y: q[1]})
			if !ok {
				px = r2.Vec{X: -1e6, Y: -1e6}
			}
			out[i][k] = px
		}
	}
	return out
}

// lies is how a solved body lies.
func (o *solution) lies(cam *camera.Camera, flip bool, stretch float64) limb.Pose {
	at, along := o.lo.s, o.axis.u
	if flip {
		at, along = o.hi.s, r3.Scale(-1, o.axis.u)
	}
	return limb.Pose{Camera: *cam, Origin: r3.Add(o.axis.p, r3.Scale(at, o.axis.u)), Along: along, Stretch: stretch}
}

// body is the form from the datum end.
func (o *solution) body(flip bool) limb.Body {
	return limb.Body{To: o.hi.s - o.lo.s, Most: o.outline(flip).MaxRadius(), Radius: func(s float64) float64 { return o.read(s, flip) }}
}

// apart is what a displaced solution changes at the marked features.
func (b again) apart(m again, set settings) []spans {
	out := make([]spans, len(set.marked))
	if len(out) == 0 || !b.ok || !m.ok {
		return out
	}
	was, is := b.lies(b.cam, set.flip, 1), m.lies(m.cam, set.flip, 1)
	wasBody, isBody := b.body(set.flip), m.body(set.flip)
	for i, f := range set.marked {
		e, ok1 := f.on(was, wasBody)
		g, ok2 := f.on(is, isBody)
		if !ok1 || !ok2 {
			continue
		}
		from, to := spansOf(e[0], e[1]), spansOf(g[0], g[1])
		for k := range from {
			out[i][k] = to[k] - from[k]
		}
	}
	return out
}

// feature lays the marked features on the finished outline. Their doubt is the hand's
// in each of four pixels, the profile's own where each place lies, and what all shared
// causes do.
func (out *Result) feature(in Input, seen []marked, all []shared, list *finding.List) {
	o := out.Trace.Outline
	if trouble, _ := o.Trouble(); trouble != "" {
		return
	}
	body := limb.Body{From: o.Start(), To: o.End(), Most: o.MaxRadius(), Radius: o.RadiusAt}
	for i, f := range in.Features {
		one := Featured{ID: f.ID, Kind: f.Kind, At: f.At}
		ends, ok := seen[i].on(out.Lies, body)
		if !ok {
			one.Lost = true
			list.Add(finding.New("feature-off-body", f.At, finding.Args{"id": finding.Name(f.ID)}))
			out.Features = append(out.Features, one)
			continue
		}
		one.Ends = ends
		is := spansOf(ends[0], ends[1])
		own := out.ownDoubt(seen[i], body, is)
		values := [len(is)]*unit.Value{&one.Middle, &one.Clock, &one.Along, &one.Round, &one.Across}
		for k, v := range values {
			var from []unit.Source
			for _, c := range all {
				if !c.missing && c.marked[i][k] != 0 {
					from = append(from, unit.Source{Name: c.name, U: c.marked[i][k]})
				}
			}
			*v = unit.Estimate(is[k], own[k], from...)
		}
		out.Features = append(out.Features, one)
	}
}

// Mark is a feature before it is kept, by two pixels. Its doubt lacks what all
// shared causes do, which only a whole run tells.
func (out *Result) Mark(f Feature, from, to r2.Vec) Featured {
	bare := *out
	bare.Features = nil
	bare.feature(Input{Features: []Feature{f}}, []marked{{from, to}}, nil, new(finding.List))
	if len(bare.Features) == 0 {
		return Featured{ID: f.ID, Kind: f.Kind, At: f.At, Lost: true}
	}
	return bare.Features[0]
}

// ownDoubt is what the hand and the profile's own doubt do to a feature.
func (out *Result) ownDoubt(m marked, body limb.Body, is spans) (u spans) {
	add := func(m marked, body limb.Body) {
		ends, ok := m.on(out.Lies, body)
		if !ok {
			return
		}
		moved := spansOf(ends[0], ends[1])
		for k := range u {
			u[k] = math.Hypot(u[k], moved[k]-is[k])
		}
	}
	for end := range m {
		for _, by := range [2]r2.Vec{{X: handPx}, {Y: handPx}} {
			moved := m
			moved[end] = r2.Add(m[end], by)
			add(moved, body)
		}
	}
	wider := body
	wider.Radius = func(s float64) float64 { return body.Radius(s) + out.independent(s) }
	add(m, wider)
	return u
}

// independent is the profile's own doubt at a station.
func (out *Result) independent(s float64) float64 {
	k := min(max(int(math.Round(s/stationStep)), 0), len(out.Trace.Profile)-1)
	return out.Trace.Profile[k].Radius.Independent()
}
