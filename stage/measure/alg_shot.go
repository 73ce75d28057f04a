package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/finding"
)

// What is wrong with a shot, as far as it can be told from the photograph. Each
// limit is where a fault begins to cost more than the rest of the measuring does.
const (
	// blurPx and blurMM: a lens in focus and held still blurs by one pixel. Past two,
	// corners are read rounder than they are as soon as that is a tenth of a millimetre.
	blurPx, blurMM = 2.0, 0.1

	// burntEdge is the share of the object's edge, burntMat that of the mat, past which
	// too much is at the top of the scale. A clipped side puts the half-way light of a
	// blurred edge outside of where it is.
	burntEdge, burntMat = 0.3, 0.1
	burntAt             = 253 // of 255: the top of the scale after JPEG
	burntDepth          = 4.0 // pixels inside the edge

	// darkWhite is how light, of white, the lightest hundredth must be at least, most of
	// it printed lines: with nearly three stops unused the darker half of a mat has a
	// dozen 8-bit values left.
	darkWhite = 0.15

	// tiltMost: leaned further, a step hides more than a fifth of its height behind it.
	tiltMost = 11 * deg

	// parallaxMost is what the parallax may leave unsure of a radius, as a share, standard:
	// as much as a mat's print does.
	parallaxMost = camera.MatDoubt

	// farOver is how far the object may reach beyond the printed grid, mm, before its
	// edge is against something else than the mat; cutPx is how near to the picture's
	// border, pixels, it may come.
	farOver = 12.0
	cutPx   = 4.0
)

// checkPicture says what is wrong with a photograph in which no mat was found.
func checkPicture(ctx context.Context, p *picture, in Input, list *finding.List) error {
	sigma, ok, err := p.blur(ctx)
	if err != nil {
		return err
	}
	if ok && sigma > blurPx {
		list.Add(finding.New("photo-blurred-all", in.PhotoAt, finding.Args{"px": rounded(sigma, 1)}))
	}
	white, burnt := p.lightest()
	switch {
	case white < darkWhite:
		list.Add(finding.New("photo-dark", in.PhotoAt, finding.Args{"share": rounded(100*white, 1)}))
	case burnt > 2*burntMat:
		list.Add(finding.New("photo-burnt", in.PhotoAt, finding.Args{
			"edge": finding.Number(0), "mat": rounded(100*burnt, 0),
		}))
	}
	return nil
}

// rounded is a figure to so many places after the point.
func rounded(x float64, places int) finding.Number {
	k := math.Pow10(places)
	return finding.Number(math.Round(k*x) / k)
}

// burnt reports whether two channels of a pixel are at the top of the scale.
func (p *picture) burnt(i int) bool {
	n := 0
	for _, v := range p.rgb[i : i+3] {
		if v >= burntAt {
			n++
		}
	}
	return n >= 2
}

// lightest is the light, of white, that one pixel in a hundred exceeds, and the
// share of pixels at the top of the scale; one pixel in nine is looked at.
func (p *picture) lightest() (white, burnt float64) {
	var all tones
	for y := 1; y < p.h; y += 3 {
		for x := 1; x < p.w; x += 3 {
			all.add(p, 3*(y*p.w+x))
		}
	}
	return all.white(), all.burntShare()
}

// tones counts pixels by their largest value.
type tones struct {
	n     [256]int
	burnt int
	all   int
}

func (t *tones) add(p *picture, i int) {
	t.n[max(p.rgb[i], p.rgb[i+1], p.rgb[i+2])]++
	t.all++
	if p.burnt(i) {
		t.burnt++
	}
}

func (t *tones) white() float64 {
	over := t.all / 100
	for v := 255; v >= 0; v-- {
		if over -= t.n[v]; over < 0 {
			return float64(linear()[v])
		}
	}
	return 0
}

func (t *tones) burntShare() float64 { return float64(t.burnt) / float64(max(t.all, 1)) }

// checkLight says whether the object's edge or the mat is burnt out, or all too dark.
func (m ground) checkLight(edge []edgePoint, in Input, list *finding.List) {
	p := m.photo
	burnt, good := 0, 0
	for _, e := range edge {
		if !e.good {
			continue
		}
		q := r2.Sub(e.at, r2.Scale(burntDepth, e.out))
		x, y := int(math.Round(q.X)), int(math.Round(q.Y))
		if x < 0 || y < 0 || x >= p.w || y >= p.h {
			continue
		}
		good++
		if p.burnt(3 * (y*p.w + x)) {
			burnt++
		}
	}
	var all, mat tones
	for i, in := range m.region {
		if !in {
			continue
		}
		at := m.reduced.full(float64(i%m.reduced.w), float64(i/m.reduced.w))
		k := 3 * (int(at.Y)*p.w + int(at.X))
		all.add(p, k)
		if q := m.bare.ratio(i%m.reduced.w, i/m.reduced.w); max(q[0], q[1], q[2]) < muchLighter {
			mat.add(p, k)
		}
	}
	share := float64(burnt) / float64(max(good, 1))
	if bare := mat.burntShare(); share > burntEdge || bare > burntMat {
		list.Add(finding.New("photo-burnt", in.PhotoAt, finding.Args{
			"edge": rounded(100*share, 0), "mat": rounded(100*bare, 0),
		}))
	}
	if white := all.white(); white < darkWhite {
		list.Add(finding.New("photo-dark", in.PhotoAt, finding.Args{"share": rounded(100*white, 1)}))
	}
}

// checkShot says what is wrong with a shot in which an object's edge was found.
func (m ground) checkShot(ctx context.Context, edge []edgePoint, in Input, list *finding.List) error {
	m.checkLight(edge, in, list)
	sigma, ok, err := m.photo.blur(ctx)
	if err != nil {
		return err
	}
	if mm := sigma / m.scale / float64(m.reduced.n); ok && sigma > blurPx && mm > blurMM {
		list.Add(finding.New("photo-blurred", in.PhotoAt, finding.Args{
			"px": rounded(sigma, 1), "mm": finding.Fine(mm), "limit": finding.Number(blurPx),
		}))
	}
	return nil
}

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
