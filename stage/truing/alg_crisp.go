package truing

import (
	"math"
	"slices"

	"scalewright/craft/redraw"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// An edge is soft where it lies between neighbours this many times as long.
const longer = 2.0

// sharpen makes soft edges of an outline into corners and says where those are. An
// edge stays where its neighbours don't meet, or would not bear the edge of the shop.
func (t *trued) sharpen(o model.Outline) (model.Outline, []model.Point) {
	under := t.in.True.Crisp.MM
	if !t.in.True.Crisp.Written() || under <= 0 {
		return o, nil
	}
	stays := t.stays(o)
	var corners []model.Point
	for i := 0; i < len(o); i++ {
		size, soft := softEdge(o, i, under)
		if !soft || stays(o[i]) {
			continue
		}
		sharp, at, ok := sharpened(o, i, under)
		crisp := sharp
		if ok && t.edge() > 0 {
			crisp, ok = edged(sharp, at, t.edge(), t.in.True.Chamfered)
		}
		if trouble, _ := crisp.Trouble(); !ok || trouble != "" {
			t.found.Add(finding.New("edge-stays", t.in.True.At.Key("crisp"), finding.Args{
				"at": finding.Size(unit.Length((o[i].From.Station + o[i].To.Station) / 2)), "size": finding.Fine(unit.Length(size)),
			}).AtStation(unit.Length(o[i].From.Station * t.in.Ratio)))
			continue
		}
		by, _ := redraw.Apart(o, crisp)
		t.out.Edges = append(t.out.Edges, Edge{Station: at.Station, Size: size, By: unit.Length(by * t.in.Ratio)})
		corners = append(corners, at)
		o = sharp
	}
	return o, corners
}

// edge is the edge of the shop, mm of the reference; 0: sharp.
func (t *trued) edge() float64 {
	if !t.in.True.Edge.Written() || t.in.Ratio <= 0 {
		return 0
	}
	return t.in.True.Edge.MM / t.in.Ratio
}

// crisp gives corners that were soft the edge of the shop, each where it lies once the
// outline is trued.
func (t *trued) crisp(o model.Outline, corners []model.Point) model.Outline {
	if t.edge() <= 0 || len(o) == 0 {
		return o
	}
	for _, was := range corners {
		at := o[0].From
		for _, s := range o {
			if off(s.To, was) < off(at, was) {
				at = s.To
			}
		}
		if next, ok := edged(o, at, t.edge(), t.in.True.Chamfered); ok {
			if trouble, _ := next.Trouble(); trouble == "" {
				o = next
			}
		}
	}
	return o
}

func off(a, b model.Point) float64 { return math.Hypot(a.Station-b.Station, a.Radius-b.Radius) }

// stays tells segments that were said to stay as measured.
func (t *trued) stays(o model.Outline) func(model.Segment) bool {
	var kept []model.Segment
	for _, d := range t.in.True.Segments {
		if i := t.segment(d); d.Is == model.AsIs && i >= 0 {
			kept = append(kept, o[i])
		}
	}
	return func(s model.Segment) bool { return slices.Contains(kept, s) }
}

// softEdge reports whether a segment is a soft edge, and its radius or the leg of its
// chamfer. At an end of the body its other neighbour is the face across it.
func softEdge(o model.Outline, i int, under float64) (size float64, soft bool) {
	s := o[i]
	size = s.R
	if s.Kind == model.Line {
		run, rise := s.To.Station-s.From.Station, math.Abs(s.To.Radius-s.From.Radius)
		size = max(run, rise)
		// Flatter than 20° or steeper than 70° it is no chamfer but a cone or a step.
		if min(run, rise) < math.Tan(20*math.Pi/180)*size {
			return size, false
		}
	}
	if size > under || len(o) < 2 {
		return size, false
	}
	for _, j := range [2]int{i - 1, i + 1} {
		if j < 0 && s.From.Radius < longer*size || j >= len(o) && s.To.Radius < longer*size {
			return size, false // a tip
		}
		if j >= 0 && j < len(o) && length(o[j]) < longer*size {
			return size, false
		}
	}
	return size, true
}

// sharpened is the outline without an edge, its neighbours carried on to where they
// meet.
func sharpened(o model.Outline, i int, under float64) (model.Outline, model.Point, bool) {
	face := func(station float64) redraw.Carrier {
		return redraw.Carrier{Kind: model.Line, P: model.Point{Station: station}, Dir: model.Point{Radius: 1}}
	}
	before, after := face(o[i].From.Station), face(o[i].To.Station)
	if i > 0 {
		before = redraw.Of(o[i-1])
	}
	if i < len(o)-1 {
		after = redraw.Of(o[i+1])
	}
	middle := model.Point{Station: (o[i].From.Station + o[i].To.Station) / 2, Radius: (o[i].From.Radius + o[i].To.Radius) / 2}
	at, ok := redraw.Cross(before, after, middle)
	if !ok || math.Hypot(at.Station-middle.Station, at.Radius-middle.Radius) > 2*under || at.Radius < 0 {
		return o, at, false
	}
	var out model.Outline
	out = append(out, o[:i]...)
	if i > 0 {
		out[i-1].To = at
	}
	out = append(out, o[i+1:]...)
	if i < len(o)-1 {
		out[i].From = at
	}
	return out, at, true
}

// edged gives the corner at a place an edge of a size: a chamfer with legs of it, or
// an arc of that radius. A corner at an end of the body keeps its face.
func edged(o model.Outline, at model.Point, size float64, chamfered bool) (model.Outline, bool) {
	for i := range o {
		if o[i].To != at && (i > 0 || o[i].From != at) {
			continue
		}
		before, after := model.Segment{Kind: model.Line, From: model.Point{Station: at.Station}, To: at}, model.Segment{Kind: model.Line, From: at, To: model.Point{Station: at.Station}}
		first := i == 0 && o[i].From == at
		last := !first && i == len(o)-1
		if !first {
			before = o[i]
		} else {
			after = o[i]
		}
		if !first && !last {
			after = o[i+1]
		}
		turn := math.Remainder(slopeAt(after, at)-slopeAt(before, at), 2*math.Pi)
		leg := size
		if !chamfered {
			leg = size * math.Tan(math.Abs(turn)/2)
		}
		const most = 0.5 // of a neighbour's length
		if leg > most*length(before) || leg > most*length(after) {
			return o, false
		}
		p, q := along(before, at, leg), along(after, at, leg)
		edge := model.Segment{Kind: model.Line, From: p, To: q}
		if !chamfered {
			edge = arcBetween(p, q, size, turn)
		}
		var out model.Outline
		out = append(out, o...)
		switch {
		case first:
			out[0].From = q
			return append(model.Outline{edge}, out...), true
		case last:
			out[i].To = p
			return append(out, edge), true
		}
		out[i].To, out[i+1].From = p, q
		return append(out[:i+1:i+1], append(model.Outline{edge}, out[i+1:]...)...), true
	}
	return o, false
}

// along is the place of a segment at a distance from one of its ends; on an arc by the
// chord.
func along(s model.Segment, end model.Point, by float64) model.Point {
	other := s.From
	if end == s.From {
		other = s.To
	}
	if s.Kind == model.Line {
		k := by / length(s)
		return model.Point{Station: end.Station + k*(other.Station-end.Station), Radius: end.Radius + k*(other.Radius-end.Radius)}
	}
	turn := 2 * math.Asin(min(1, by/(2*s.R)))
	a := math.Atan2(end.Radius-s.Centre.Radius, end.Station-s.Centre.Station)
	b := math.Atan2(other.Radius-s.Centre.Radius, other.Station-s.Centre.Station)
	a += math.Copysign(turn, math.Remainder(b-a, 2*math.Pi))
	return model.Point{Station: s.Centre.Station + s.R*math.Cos(a), Radius: s.Centre.Radius + s.R*math.Sin(a)}
}

// arcBetween is the arc of a radius between two places on the side that a corner's
// turn says: a body that turns towards its axis (turn < 0) has the centre inside.
func arcBetween(p, q model.Point, r, turn float64) model.Segment {
	chord := math.Hypot(q.Station-p.Station, q.Radius-p.Radius)
	r = max(r, chord/2)
	h := math.Sqrt(max(0, r*r-chord*chord/4))
	nx, ny := -(q.Radius-p.Radius)/chord, (q.Station-p.Station)/chord
	h = math.Copysign(h, turn)
	return model.Segment{
		Kind: model.Arc, From: p, To: q, R: r,
		Centre: model.Point{Station: (p.Station+q.Station)/2 + h*nx, Radius: (p.Radius+q.Radius)/2 + h*ny},
	}
}
