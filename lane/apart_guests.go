package lane

import (
	"slices"

	"scalewright/model"
	"scalewright/solid"
)

// guest moves a piece that another carries off the line: with its host, and then
// the way it came from. Depth ends hosts that carry each other.
func (a *apart) guest(i, depth int) {
	if a.done[i] || depth == 0 {
		return
	}
	a.done[i] = true
	piece := a.r.Division.Pieces[i]
	if piece.ID.Kind == model.Panel {
		a.panel(i)
		return
	}
	if !piece.Own || a.onAxis(i) {
		return
	}
	// Of several that carry it the one that takes it deepest.
	var best way
	for _, m := range a.r.Design.Mounts {
		if m.Guest != piece.ID.Part {
			continue
		}
		if w, ok := a.wayOf(i, m); ok && (best.out == (solid.Vec{}) || w.deep > best.deep) {
			best = w
		}
	}
	if best.out == (solid.Vec{}) {
		return
	}
	a.guest(best.host, depth-1)
	carried := a.by[best.host]
	move := carried.Add(best.out.Scale(best.deep + 3*a.air))
	a.by[i] = a.by[i].Add(move)
	for _, at := range best.at {
		a.traces = append(a.traces, [2]solid.Vec{at.Add(a.by[i]), at.Add(carried)})
	}
}

// way is how a guest comes off its host.
type way struct {
	host int
	out  solid.Vec // unit vector
	deep float64   // it reaches so far into the host
	at   []solid.Vec
}

// wayOf is the way in which a mount lets a piece come off.
func (a *apart) wayOf(i int, m model.Mount) (way, bool) {
	id := a.r.Division.Pieces[i].ID
	w := way{host: -1}
	for _, t := range a.r.Division.Tabs {
		if t.Mount != m.ID || t.Guest != id {
			continue
		}
		out := solid.Rotation(solid.Vec{0, 0, 1}, t.Clocking).Turn(solid.Vec{1, 0, 0})
		at := out.Scale(float64(t.Top)).Add(solid.Vec{0, 0, float64(t.Span.From+t.Span.To) / 2})
		w.host, w.out, w.deep = a.index(t.Host), out, max(w.deep, float64(t.Top-t.Tip))
		w.at = append(w.at, at)
	}
	for _, h := range a.r.Division.Holds {
		if h.Mount != m.ID || h.Guest != id {
			continue
		}
		w.host, w.out = a.index(h.Host), solid.Vec(h.Out)
		w.at = append(w.at, solid.Vec(h.At))
	}
	if w.host < 0 {
		w = a.glued(i, m)
	}
	return w, w.host >= 0
}

// glued is the way of a guest that nothing but glue holds: along its own axis,
// which leads away from the host, or square to its plate.
func (a *apart) glued(i int, m model.Mount) way {
	w := way{host: -1}
	if host, _ := a.step(i); host >= 0 && a.r.Division.Pieces[host].ID.Part == m.Host {
		w.host = host
	} else {
		w.host = slices.IndexFunc(a.r.Division.Pieces[:len(a.by)], func(p model.Piece) bool { return p.ID.Part == m.Host })
	}
	if w.host < 0 {
		return w
	}
	frame := partOf(a.r, a.r.Division.Pieces[i]).Frame()
	w.out = frame.Turn(solid.Vec{0, 0, 1}).Unit()
	middle := a.middle(i)
	if middle.Sub(a.middle(w.host)).Dot(w.out) < 0 {
		w.out = w.out.Scale(-1)
	}
	low, _, _, _ := reach(a.r.Carved[i].Solid, w.out)
	w.at = []solid.Vec{middle.Add(w.out.Scale(low - middle.Dot(w.out)))}
	return w
}

// panel lifts a panel off its opening.
func (a *apart) panel(i int) {
	id := a.r.Division.Pieces[i].ID
	for _, v := range a.r.Division.Windows {
		if v.Panel != id {
			continue
		}
		host := a.index(v.Piece)
		if host < 0 {
			return
		}
		a.guest(host, 1)
		out := solid.Rotation(solid.Vec{0, 0, 1}, v.Opening.Clocking).Turn(solid.Vec{1, 0, 0})
		at := out.Scale(float64(v.Radius)).Add(solid.Vec{0, 0, float64(v.Opening.Station)})
		at = partOf(a.r, a.r.Division.Pieces[host]).Frame().Apply(at)
		out = partOf(a.r, a.r.Division.Pieces[host]).Frame().Turn(out)
		a.by[i] = a.by[host].Add(out.Scale(4 * a.air))
		a.traces = append(a.traces, [2]solid.Vec{at.Add(a.by[i]), at.Add(a.by[host])})
	}
}
