package lane

import (
	"fmt"
	"math"
	"slices"

	"scalewright/craft/development"
	"scalewright/drawing"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// saddleTurns is at how many turns a saddle is looked for.
const saddleTurns = 360

// landing is where a turned guest's surface meets its host's, by turns of the guest:
// on the host's side, a saddle, or on its flat end, a mitre.
type landing struct {
	guest []model.Point // station and radius on the guest's own axis
	host  []spot        // turn and station on the host's side; turns run on
	end   []solid.Point // places on the host's end, seen from outside it
}

// saddles are for turned guests that stand on a turned host: the wrap that marks
// where the guest is cut to fit, and its foot on the host.
func (t *templates) saddles() {
	for _, m := range t.r.Design.Mounts {
		guest, host := t.part(m.Guest), t.part(m.Host)
		if guest.Form != model.Turned || guest.OnBody() || host.Form == model.Flat || host.Form == model.Imported {
			continue
		}
		if l, ok := t.lands(guest, host); ok {
			t.saddle(m, guest, l)
			if len(l.end) > 0 {
				t.endFoot(m, l)
			} else {
				t.foot(m, l)
			}
		}
	}
}

// lands follows the guest's surface, at each turn, to the last place where it leaves
// the host.
func (t *templates) lands(guest, host model.Part) (landing, bool) {
	const sag, steps = 0.01, 400
	line, outer := guest.Outline.Polyline(sag), t.outerOf(host.ID)
	back, ok := host.Frame().Inverse()
	if !ok || len(line) < 2 || len(outer) < 2 {
		return landing{}, false
	}
	way := guest.Frame().Then(back)
	long := []float64{0}
	for i := 1; i < len(line); i++ {
		long = append(long, long[i-1]+math.Hypot(line[i].Station-line[i-1].Station, line[i].Radius-line[i-1].Radius))
	}
	on := func(share float64) model.Point { // along the guest's profile
		d := share * long[len(long)-1]
		i := max(1, min(len(line)-1, slices.IndexFunc(long, func(l float64) bool { return l >= d })))
		if long[i] == long[i-1] {
			return line[i]
		}
		k := (d - long[i-1]) / (long[i] - long[i-1])
		a, b := line[i-1], line[i]
		return model.Point{Station: a.Station + k*(b.Station-a.Station), Radius: a.Radius + k*(b.Radius-a.Radius)}
	}
	first, last := outer[0].Station, outer[len(outer)-1].Station
	var out landing
	for i := range saddleTurns {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / saddleTurns)
		place := func(share float64) solid.Vec {
			p := on(share)
			return way.Apply(solid.Vec{p.Radius * cos, p.Radius * sin, p.Station})
		}
		share, ok := development.Leaving(func(share float64) float64 {
			v := place(share)
			if v[2] < first || v[2] > last {
				return -math.Hypot(v[0], v[1]) // past the host's ends nothing is inside
			}
			return model.LowestBetween(outer, v[2], v[2]) - math.Hypot(v[0], v[1])
		}, steps)
		if !ok {
			return landing{}, false
		}
		v := place(share)
		out.guest = append(out.guest, on(share))
		const touching = 1e-3
		if below := math.Abs(v[2]-first) < touching; below || math.Abs(v[2]-last) < touching {
			x := v[0]
			if below {
				x = -x // seen from below
			}
			out.end = append(out.end, solid.Point{x, v[1]})
			continue
		}
		if math.Abs(model.LowestBetween(outer, v[2], v[2])-math.Hypot(v[0], v[1])) > touching {
			return landing{}, false // through a step
		}
		turn := math.Atan2(v[1], v[0])
		if len(out.host) > 0 {
			turn = out.host[0].turn + math.Remainder(turn-out.host[0].turn, 2*math.Pi)
		}
		out.host = append(out.host, spot{turn, v[2]})
	}
	// Round the rim of an end it would be both.
	return out, len(out.host) == 0 || len(out.end) == 0
}

// leastWrap is the least of paper that still holds on a guest, mm.
const leastWrap = 8.0

// apron is the paper of a saddle: it lies on the straight stretch of the guest's
// profile from its corner up, and below the corner, slit, along the profile.
type apron struct {
	skin         development.Skin
	corner, high float64       // stations
	line         []model.Point // the profile
	slit         bool
	off          float64
}

// station is where on the skin a place of the profile lies: past the corner as far
// as the profile is long.
func (a apron) station(z float64) float64 {
	if z >= a.corner || !a.slit {
		return z
	}
	long := 0.0
	for i := 1; i < len(a.line); i++ {
		p, q := a.line[i-1], a.line[i]
		from, to := max(p.Station, z), min(q.Station, a.corner)
		switch {
		case q.Station == p.Station && z < p.Station && p.Station < a.corner:
			long += math.Abs(q.Radius - p.Radius) // a step
		case from < to:
			slope := (q.Radius - p.Radius) / (q.Station - p.Station)
			long += (to - from) * math.Hypot(1, slope)
		}
	}
	slope := (a.skin.To.Radius - a.skin.From.Radius) / (a.skin.To.Station - a.skin.From.Station)
	return a.corner - long/math.Hypot(1, slope)
}

// apronOn is the paper for a guest that is cut between two stations of its own.
func apronOn(line []model.Point, low, top float64) (apron, bool) {
	a := apron{corner: low, high: top, line: line}
	for i := 1; i < len(line); i++ { // the straight stretch that the cut's top lies on
		if line[i-1].Station <= top && top < line[i].Station {
			a.high = line[i].Station
			a.corner = max(low, line[i-1].Station)
		}
	}
	a.high = min(a.high, top+2*stripHigh)
	if a.high-top < leastWrap {
		return a, false
	}
	skin, off, ok := skinOn(line, low, a.high)
	a.skin, a.off = skin, off
	if ok && off > leastOff {
		a.skin, _, ok = skinOn(line, a.corner, a.high)
		a.slit = true
		a.off = 0
		for _, p := range line {
			if low <= p.Station && p.Station < a.corner { // a strip between slits is straight across
				a.off = max(a.off, p.Radius*(1/math.Cos(slitStep/2)-1))
			}
		}
	}
	return a, ok
}

// slitStep is the turn between slits, rad.
const slitStep = math.Pi / 12

// saddle is wrapped round the guest, its curved edge where the guest is cut.
func (t *templates) saddle(m model.Mount, guest model.Part, l landing) {
	low, top := math.Inf(1), math.Inf(-1)
	for _, p := range l.guest {
		low, top = min(low, p.Station), max(top, p.Station)
	}
	a, ok := apronOn(guest.Outline.Polyline(0.01), low, top)
	if !ok {
		return
	}
	a.skin.Paper = t.paper
	w := newWrap(a.skin, 0, 2*math.Pi, a.station(low), a.high, lapped)
	var curve []drawing.Point
	cut := func(i int) float64 { return a.station(l.guest[i%saddleTurns].Station) }
	for i := range saddleTurns + 1 {
		curve = append(curve, w.pt(2*math.Pi*float64(i)/saddleTurns, cut(i)))
	}
	edge := w.edge(0, 2*math.Pi, a.high)
	slices.Reverse(edge)
	w.s.Path(drawing.Polygon(append(curve, edge...)...), drawing.Lined(drawing.Outline))
	end := w.flapEnd()
	w.s.Path(drawing.Polyline(w.pt(2*math.Pi, cut(0)), w.pt(end, cut(0)), w.pt(end, a.high), w.pt(2*math.Pi, a.high)), drawing.Lined(drawing.Hidden))
	w.lap((cut(0) + a.high) / 2)
	for q := range 4 {
		turn := float64(q) * math.Pi / 2
		w.along(turn, cut(q*saddleTurns/4), a.high, drawing.CentreLine)
		w.beside(turn, a.high-4, degrees(turn), drawing.SizeCaption)
	}
	words := ""
	if a.slit {
		words = "; slit it from the cut up along the thin lines, so that it follows the root"
		for i := range 24 {
			if z := cut(i * saddleTurns / 24); z < a.corner {
				w.along(float64(i)*slitStep, z, a.corner, drawing.Thin)
			}
		}
	}
	room := math.Pi / 2 * w.skin.Radius(a.high)
	if drawing.Measure(m.Guest, drawing.Regular, drawing.SizeSmall) < room-2 {
		w.letter(3*math.Pi/4, a.high-9, m.Guest, 0)
	}
	w.farEnd(math.Pi/4, top+2, min(20, a.high-top-8))
	kind := "saddle"
	if len(l.end) > 0 {
		kind = "mitre"
	}
	t.add(Template{
		Name: kind + "-" + m.ID, Title: fmt.Sprintf("%s of %s on %s", kind, m.Guest, m.Host), Use: "cut or check the end that fits",
		Where: fmt.Sprintf("round %s, upper edge %s along it", m.Guest, t.u.Whole(unit.Length(a.high))),
		Lay:   fmt.Sprintf("Wrap it round %s, its upper edge %s along from its own station 0, the arrow away from the body; the curved edge is the cut", m.Guest, t.u.Whole(unit.Length(a.high))) + words + offWords(a.off), Figure: w.s,
	})
}

// foot is laid on the host: where the guest stands.
func (t *templates) foot(m model.Mount, l landing) {
	left, right, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range l.host {
		left, right, low, high = min(left, p.turn), max(right, p.turn), min(low, p.station), max(high, p.station)
	}
	outer := t.outerOf(m.Host)
	turn, z := (left+right)/2, (low+high)/2
	radius := model.LowestBetween(outer, z, z)
	if right-left > math.Pi || radius <= 0 {
		return
	}
	side := wrapRoom / radius
	skin, off, ok := skinAbout(outer, low, high, wrapRoom)
	if !ok {
		return
	}
	skin.Paper = t.paper
	w := newWrap(skin, left-side, right+side, skin.From.Station, skin.To.Station, 0)
	w.border()
	var curve []drawing.Point
	for _, p := range l.host {
		curve = append(curve, w.pt(p.turn, p.station))
	}
	w.s.Path(drawing.Polygon(curve...), drawing.Lined(drawing.Outline))
	w.cross(turn, z)
	w.name(m.Guest)
	where := fmt.Sprintf("station %s, clocking %s", t.u.Tenth(unit.Length(z)), degrees(turn))
	t.add(Template{
		Name: "foot-" + m.ID, Title: fmt.Sprintf("foot of %s on %s", m.Guest, m.Host), Use: "mark where it sits", Where: "on " + m.Host + ", " + where,
		Lay: "Its cross on " + where + ", the arrow towards the far end" + offWords(off), Figure: w.s,
	})
}

// endFoot is laid on the host's flat end: where the guest stands.
func (t *templates) endFoot(m model.Mount, l landing) {
	path := make([]drawing.Point, len(l.end))
	for i, p := range l.end {
		path[i] = drawing.Pt(p[0], -p[1])
	}
	foot := drawing.Polygon(path...)
	box := foot.Bounds()
	// As far as the host's axis, which is the mark to lay it by.
	axis := drawing.Rect{X: min(box.X, 0), Y: min(box.Y, 0)}
	axis.W, axis.H = max(box.X+box.W, 0)-axis.X, max(box.Y+box.H, 0)-axis.Y
	axis = axis.Inset(-wrapRoom)
	s := drawing.New(axis.W, axis.H)
	by := drawing.Pt(-axis.X, -axis.Y)
	s.Rect(drawing.Rect{X: wrapRim, Y: wrapRim, W: axis.W - 2*wrapRim, H: axis.H - 2*wrapRim}, drawing.Lined(drawing.Outline))
	s.Path(foot.Moved(by), drawing.Lined(drawing.Outline))
	s.Line(by.Add(drawing.Pt(axis.X+wrapRim, 0)), by.Add(drawing.Pt(axis.X+axis.W-wrapRim, 0)), drawing.CentreLine)
	s.Line(by.Add(drawing.Pt(0, axis.Y+wrapRim)), by.Add(drawing.Pt(0, axis.Y+axis.H-wrapRim)), drawing.CentreLine)
	s.Text(drawing.Text{At: drawing.Pt(3, 5), String: m.Guest, Size: drawing.SizeSmall})
	s.Text(drawing.Text{At: drawing.Pt(axis.W-3, by.Y-1.5), H: drawing.End, String: "0°", Size: drawing.SizeCaption, Halo: 0.5})
	t.add(Template{
		Name: "foot-" + m.ID, Title: fmt.Sprintf("foot of %s on the end of %s", m.Guest, m.Host), Use: "mark where it sits", Where: "on the end of " + m.Host,
		Lay: "Its chain lines cross on the axis, 0° at the clocking 0°", Figure: s,
	})
}
