package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// A body once found tells where its edge must be, on the side too where a shadow's border
// or a gleam within it shows more than the edge does. There the edge is sought again, near
// the body's outline.
const (
	againReach = 6.0  // pixels to either side of the outline
	againMost  = 25.0 // pixels, that what was taken for the edge may lie off it
	againWorse = 1.5  // times as far off as where it was begun, a fit has gone astray
)

// again is a solution fitted to the edge that is sought near its outline, and whether it is a
// turned body by the edge as it was found before: what is sought near an outline is found
// there.
func (m ground) again(ctx context.Context, v view, o solution, set settings, even bool) (view, solution, bool, error) {
	marked := view{v.cam, slices.Clone(v.edge), v.sight}
	marked.grooved(&o)
	sought := o // its needles as long as their colour says
	edge, err := m.alongside(ctx, marked, &sought)
	if err != nil {
		return v, o, false, err
	}
	w := view{v.cam, edge, sights(v.cam, edge)}
	w.grooved(&sought)
	if next, ok := w.refit(sought, set); ok && w.off(&next) < againWorse*w.off(&o) {
		by := next
		by.prof, by.skip = v.profile(next.axis, o.skip, next.lo.s, next.hi.s), o.skip
		if v.turned(&by, even) {
			w, next = m.leftOpen(w, next, set)
			return w, next, true, nil
		}
	}
	turned := v.turned(&o, even)
	if turned {
		v, o = m.leftOpen(v, o, set)
	}
	return v, o, turned, nil
}

// alongside is the edge sought near a solution's outline, grooves let in and needles drawn out.
func (m ground) alongside(ctx context.Context, v view, o *solution) ([]edgePoint, error) {
	parts, most := o.form.parts(), o.form.most()
	apart := v.unturned(o)
	off := make([]float64, len(v.edge)) // how far outside the outline, of what is drawn to it
	for i := range v.edge {
		if px, ok := v.outside(o.axis, parts, most, i); ok && !apart[i] && math.Abs(px) < againMost {
			off[i] = px
		}
	}
	m.keepBody(v.edge, off)
	var grooves []dent
	if pts := v.drawn(off); pts != nil {
		grooves = m.missed(v, o, pts)
	}
	for i := range v.edge {
		if v.edge[i].groove && !v.within(grooves, o, i) {
			off[i] = 0
		}
	}
	pts := v.drawn(off)
	if pts == nil {
		return v.edge, nil
	}
	if len(grooves) > 0 {
		pts = v.letIn(o, pts, grooves)
	}
	pts = m.needled(v, o, pts)
	by := make(guide, len(pts))
	for i := range by {
		by[i].told = true
	}
	fine, path, err := m.stepsAlong(ctx, pts, by, againReach)
	if err != nil {
		return nil, err
	}
	if path == nil {
		return v.edge, nil
	}
	return m.held(ctx, fine, path)
}

// drawn is the edge moved inwards by so much.
func (v view) drawn(off []float64) []r2.Vec {
	pts := make([]r2.Vec, len(v.edge))
	for i, e := range v.edge {
		pts[i] = r2.Sub(e.at, r2.Scale(off[i], e.out))
	}
	return resample(smooth(pts), 1)
}

// keepBody leaves the edge where it is along stretches where the outline lies clearly inside
// it and what lies between is no mat: the outline left out some of the body there.
func (m ground) keepBody(edge []edgePoint, off []float64) {
	in := make([]bool, len(off))
	for i, px := range off {
		in[i] = px > leftOutPx
	}
	for _, r := range runs(in, 3) {
		var other []float64
		for k := range r.n {
			i := (r.from + k) % len(off)
			if at := r2.Sub(edge[i].at, r2.Scale(off[i]/2, edge[i].out)); in[i] && !m.onLine(at) {
				other = append(other, m.alienAt(at))
			}
		}
		if len(other) == 0 || median(other) < leftOutAlien {
			continue
		}
		for k := range r.n {
			if i := (r.from + k) % len(off); in[i] {
				off[i] = 0
			}
		}
	}
}

// leftOutPx is how far inside the edge, pixels, an outline leaves out some of the body, and
// leftOutAlien how surely what lies between is not the mat's, by the median.
const (
	leftOutPx    = 2.0
	leftOutAlien = 0.5
)

// refit is a solution fitted to another edge of the same body, from where it lies.
func (v view) refit(o solution, set settings) (solution, bool) {
	o.skip = v.wings(o.axis)
	v.finned(o.axis, o.fins, o.skip)
	o.oneSided, o.believed, o.contests, o.settled = nil, nil, nil, 0
	o.prof = v.profile(o.axis, o.skip, o.lo.s, o.hi.s)
	if len(o.prof) < 10 {
		return o, false
	}
	return o, v.finish(&o, set, o.form.clone())
}
