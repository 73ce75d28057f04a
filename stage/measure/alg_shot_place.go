package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/finding"
)

func checkTilt(tilt float64, in Input, list *finding.List) {
	if tilt > tiltMost {
		list.Add(finding.New("camera-tilted", in.PhotoAt, finding.Args{
			"tilt": rounded(tilt/deg, 1), "limit": rounded(tiltMost/deg, 0),
			"hides": rounded(100*math.Tan(tilt), 0),
		}))
	}
}

// parallaxDoubt is what the height leaves unsure of a body's radius at rest on the
// mat. Seen from H above it, it looks H/(H - r) as wide at its axis as it would on the
// mat, so that a height wrong by dh, or a camera wrong by dH, puts the radius off by
// r/(H - r)·dh or r/(H - r)·(r/H)·dH (both by differentiation).
func parallaxDoubt(r, h, uAxis, uCamera float64) float64 {
	return r / (h - r) * math.Hypot(uAxis, r*uCamera)
}

// heightFor is the camera's height from which on that doubt, as a share of the
// radius, is under a limit, with the same share uCamera of the height unsure.
func heightFor(r, uAxis, uCamera, limit float64) float64 {
	return r + math.Hypot(uAxis, r*uCamera)/limit
}

// checkNear says whether the camera stood too near to the body.
func checkNear(fit *camera.Fitted, sol solution, in Input, list *finding.List) {
	widest := 0.0
	for _, st := range sol.prof {
		if st.seen != notSeen && st.s >= sol.lo.s && st.s <= sol.hi.s {
			widest = max(widest, st.r)
		}
	}
	h := fit.Height()
	if widest == 0 || widest >= h {
		return
	}
	uCamera := math.Sqrt(max(0, fit.Cov[camera.Params-1][camera.Params-1])) / h
	if !fit.FocalKnown {
		uCamera = min(uCamera, focalUnsure) // the rest of it is another finding's
	}
	u := parallaxDoubt(widest, h, sol.uHeight, uCamera) / widest
	if u <= parallaxMost {
		return
	}
	list.Add(finding.New("camera-near", in.PhotoAt, finding.Args{
		"height": finding.Long(h), "radius": finding.Size(widest),
		"share": rounded(100*widest/(h-widest), 1), "metre": finding.Size(1000 * u),
		"enough": finding.Long(heightFor(widest, sol.uHeight, uCamera, parallaxMost)), "limit": finding.Size(1000 * parallaxMost),
	}))
}

// checkInside says whether the object reaches over the printed grid, or out of the
// picture, where its edge is seen; blocked: it cannot be measured so.
func checkInside(p *picture, fit *camera.Fitted, marks []camera.Mark, step float64, edge []edgePoint, in Input, list *finding.List) {
	var mm []r2.Vec
	for _, m := range marks {
		mm = append(mm, fit.True(m.Mm))
	}
	if len(mm) > 0 { // else there is no mat
		mm = hull(mm)
	}
	worst, at, cut := 0.0, r2.Vec{}, 0
	for _, e := range edge {
		if min(e.at.X, e.at.Y, float64(p.w-1)-e.at.X, float64(p.h-1)-e.at.Y) < cutPx {
			cut++
		}
		q, ok := fit.OnPlane(e.at, 0)
		if !ok || len(mm) < 3 {
			continue
		}
		if d := beyond(mm, r2.Vec{X: q.X, Y: q.Y}); d > worst {
			worst, at = d, e.at
		}
	}
	switch {
	case cut > 0:
		list.Add(finding.New("object-cut-off", in.PhotoAt, finding.Args{
			"side": finding.Name(sideOf(p, edge)),
		}))
	case worst > farOver+step: // the grid's last lines may not have been found
		list.Add(finding.New("object-over-mat", in.PhotoAt, finding.Args{
			"over": finding.Long(worst), "x": finding.Count(int(at.X)), "y": finding.Count(int(at.Y)),
		}))
	}
}

// beyond is how far a place lies outside of a convex outline, anticlockwise; nought
// within.
func beyond(outline []r2.Vec, p r2.Vec) float64 {
	out := 0.0
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		d := r2.Sub(b, a)
		if n := r2.Norm(d); n > 0 {
			out = max(out, -r2.Cross(d, r2.Sub(p, a))/n)
		}
	}
	return out
}

// sideOf names the sides of the picture that an outline comes to.
func sideOf(p *picture, edge []edgePoint) string {
	var sides []string
	for _, s := range []struct {
		name string
		at   func(e edgePoint) float64
	}{
		{"left", func(e edgePoint) float64 { return e.at.X }},
		{"right", func(e edgePoint) float64 { return float64(p.w-1) - e.at.X }},
		{"upper", func(e edgePoint) float64 { return e.at.Y }},
		{"lower", func(e edgePoint) float64 { return float64(p.h-1) - e.at.Y }},
	} {
		if slices.ContainsFunc(edge, func(e edgePoint) bool { return s.at(e) < cutPx }) {
			sides = append(sides, s.name)
		}
	}
	return string(finding.Names(sides...))
}

// overEdge is the largest thing that lies over the edge of what is looked at, of
// another colour than the mat and not a ruler; no pixels where there is none worth a
// word.
func (m ground) overEdge() blob {
	kinds := m.classify(otherColour)
	g := grid{m.reduced.w, m.reduced.h, make([]bool, len(kinds))}
	for i, k := range kinds {
		g.on[i] = k != bare
	}
	for _, face := range m.faces {
		for i, on := range face {
			g.on[i] = g.on[i] && !on
		}
	}
	var best blob
	for _, b := range g.grow(m.thin, false).grow(m.thin, true).blobs(m.region) {
		if b.touches && len(b.pixels) > len(best.pixels) && !shapeOf(b, g.w).ruler(m.scale) {
			best = b
		}
	}
	if float64(len(best.pixels)) < leastObject*m.scale*m.scale {
		return blob{}
	}
	return best
}

// lostBecause says why no object was told from the mat: something lies over the edge
// of what is looked at, or the shot is at fault.
func (m ground) lostBecause(ctx context.Context, in Input, list *finding.List) error {
	b := m.overEdge()
	list.Add(finding.New("silhouette-lost", in.PhotoAt, nil))
	if len(b.pixels) > 0 {
		m.sayOver(b, in, list)
	}
	return checkPicture(ctx, m.photo, in, list)
}

// checkOver says of a silhouette that is not a turned body's whether it is that of
// something which lies over the edge.
func (m ground) checkOver(ctx context.Context, edge []edgePoint, in Input, list *finding.List) error {
	b := m.overEdge()
	if len(b.pixels) == 0 {
		return nil
	}
	line := make([]r2.Vec, len(edge))
	for i, e := range edge {
		line[i] = e.at
	}
	inside, n := m.reduced.inside(line), 0
	for _, i := range b.pixels {
		if inside[i] {
			n++
		}
	}
	if 2*n > len(b.pixels) {
		m.sayOver(b, in, list)
	}
	return nil
}

func (m ground) sayOver(b blob, in Input, list *finding.List) {
	s := shapeOf(b, m.reduced.w)
	at := m.reduced.full(s.cx, s.cy)
	list.Add(finding.New("object-off-grid", in.PhotoAt, finding.Args{
		"x": finding.Count(int(at.X)), "y": finding.Count(int(at.Y)),
	}))
}
