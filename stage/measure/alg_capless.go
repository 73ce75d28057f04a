package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// capless takes away what stands before an end's rim and hardly any edge shows, and reports
// whether there was any: a few stray points make a cap of a plain face, or a needle.
func (f *fitting) capless() bool {
	any := false
	for _, step := range [2]int{1, -1} {
		end := 0
		if step < 0 {
			end = len(f.form.joints) - 1
		}
		rim := f.bareCap(end, step)
		if rim == end {
			rim = f.bareNeedle(end, step)
		}
		if rim == end || len(f.form.joints)-(rim-end)*step < 3 {
			continue
		}
		f.form.joints = slices.Delete(f.form.joints, min(end, rim+1), max(rim, end+1))
		f.form.spans = slices.Delete(f.form.spans, min(end, rim), max(rim, end))
		any = true
	}
	return any
}

// bareCap is the rim behind a blunt cap that hardly shows, or the end itself.
func (f *fitting) bareCap(end, step int) int {
	a, rim := f.form.joints[end], end
	for i := end; i >= 0 && i < len(f.form.joints) && math.Abs(f.form.joints[i].s-a.s) < capReach; i += step {
		j := f.form.joints[i]
		if j.r > f.form.joints[rim].r && j.r-a.r >= capSteep*math.Abs(j.s-a.s) {
			rim = i
		}
	}
	b := f.form.joints[rim]
	front := a.s - capRim*float64(step) // a blunt cap shows at its own rim
	if b.s == a.s || f.shown(front, b.s) > capShown*b.r/mmPerPixel(f.view, f.axis) {
		return end
	}
	return rim
}

// bareNeedle is the joint up to which an end of any shape hardly shows at its sides and lies
// outside the silhouette, or the end itself.
func (f *fitting) bareNeedle(end, step int) int {
	a, rim := f.form.joints[end], end
	mm := mmPerPixel(f.view, f.axis)
	for i := end + step; i >= 0 && i < len(f.form.joints); i += step {
		j := f.form.joints[i]
		long := math.Abs(j.s - a.s)
		if long > needleReach {
			break
		}
		if long > needleLeast && j.r >= f.form.joints[rim].r && f.shown(a.s, j.s) < needleShown*2*long/mm && f.sticksOut(a.s, j.s) {
			rim = i
		}
	}
	return rim
}

// drawnIn cuts off an end that runs on beyond where the silhouette closes and hardly shows an
// edge there, and reports whether there was any: sides that are drawn a little too wide or too
// narrow before a tip make a needle of it.
func (f *fitting) drawnIn() bool {
	any := false
	mm := mmPerPixel(f.view, f.axis)
	for _, step := range [2]int{1, -1} {
		end := 0
		if step < 0 {
			end = len(f.form.joints) - 1
		}
		a := f.form.joints[end]
		out := 0.0
		for out < needleReach && !f.inside(a.s+out*float64(step)) {
			out += overshotStep
		}
		at := a.s + out*float64(step)
		if out < overshotLeast || out >= needleReach || f.shown(a.s, at) >= needleShown*2*out/mm {
			continue
		}
		any = f.form.cutAt(at, step) || any
	}
	return any
}

// cutAt ends a form at a station, blunt, within the line or the arc that it lies on; step is
// the way inwards.
func (g *form) cutAt(s float64, step int) bool {
	r, _ := g.at(s)
	i := 0 // the first joint that stays
	if step < 0 {
		i = len(g.joints) - 1
	}
	for i >= 0 && i < len(g.joints) && (g.joints[i].s-s)*float64(step) <= 0 {
		i += step
	}
	if r < leastRadius || i < 1 || i > len(g.joints)-2 {
		return false
	}
	k := min(i, i-step)
	left := g.spans[k].over(g.joints[k], g.joints[k+1], math.Hypot(g.joints[i].s-s, g.joints[i].r-r))
	if step > 0 {
		g.joints = append([]joint{{s, r}}, g.joints[i:]...)
		g.spans = append([]span{left}, g.spans[i:]...)
	} else {
		g.joints = append(g.joints[:i+1], joint{s, r})
		g.spans = append(g.spans[:i], left)
	}
	return true
}

// over is a span between two joints over a shorter chord: an arc stays as bent as it is.
func (s span) over(a, b joint, chord float64) span {
	if s.kind != arcSpan {
		return span{}
	}
	bend := arcOver(a, b, s.rise).bend
	return span{arcSpan, math.Copysign(math.Abs(bend)-math.Sqrt(max(0, bend*bend-chord*chord/4)), s.rise)}
}

// overshotLeast is how far, mm, an end runs on that is cut off, and overshotStep how finely
// that is asked.
const (
	overshotLeast = 1.0
	overshotStep  = 0.1
)

// peakless takes away what rises to a point above its neighbours, lies outside the silhouette
// and hardly shows an edge, and reports whether there was any.
func (f *fitting) peakless() bool {
	any := false
	mm := mmPerPixel(f.view, f.axis)
	for i := 1; i < len(f.form.joints)-1; i++ {
		a, j, b := f.form.joints[i-1], f.form.joints[i], f.form.joints[i+1]
		high := j.r - max(a.r, b.r)
		if high < peakLeast || f.covered(joint{j.s, j.r - peakLeast/2}) > 0 || f.shown(a.s, b.s) >= needleShown*2*max(b.s-a.s, high)/mm {
			continue
		}
		if f.form.leaveOut(i, lineSpan) {
			any = true
			i--
		}
	}
	return any
}

// pitless takes away narrow pits that the silhouette fills to half their depth on both sides,
// slits that are too narrow to be seen, and necks that would hold nothing together, and reports
// whether there were any.
func (f *fitting) pitless() bool {
	any := false
	for i := 1; i < len(f.form.joints)-1; i++ {
		for _, floor := range [2]int{1, 2} { // joints
			if i+floor < len(f.form.joints) && f.filledPit(i, floor) {
				f.form.joints = slices.Delete(f.form.joints, i, i+floor)
				f.form.spans = slices.Delete(f.form.spans, i, i+floor)
				f.form.spans[i-1] = span{}
				if f.form.joints[i-1].s == f.form.joints[i].s {
					f.form.spans[i-1].kind = faceSpan
				}
				any = true
				i--
				break
			}
		}
	}
	return any
}

// filledPit reports whether so many joints from one on are the floor of a pit that is none.
func (f *fitting) filledPit(i, floor int) bool {
	a, b := f.form.joints[i-1], f.form.joints[i+floor]
	low := f.form.joints[i].r
	for _, j := range f.form.joints[i : i+floor] {
		low = max(low, j.r)
	}
	deep := min(a.r, b.r) - low
	switch wide := b.s - a.s; {
	case low < neckLeast && deep > neckLeast:
		return true
	case deep < peakLeast || wide > grooveWide:
		return false
	case wide < slitWide*mmPerPixel(f.view, f.axis):
		return true
	}
	for _, j := range f.form.joints[i : i+floor] {
		if f.covered(joint{j.s, low + deep/2}) < 2 {
			return false
		}
	}
	return true
}

// covered is on how many of its two sides the silhouette covers a place of the outline.
func (f *fitting) covered(j joint) (sides int) {
	at := r3.Add(f.axis.p, r3.Scale(j.s, f.axis.u))
	across := r3.Unit(r3.Cross(f.axis.u, r3.Sub(f.cam.C, f.axis.p)))
	for _, side := range [2]float64{1, -1} {
		if px, ok := f.cam.Project(r3.Add(at, r3.Scale(side*j.r, across))); ok && f.encloses(px) {
			sides++
		}
	}
	return sides
}

// sticksOut reports whether the axis lies outside the silhouette along most of a stretch.
func (f *fitting) sticksOut(from, to float64) bool {
	const places = 9
	out := 0
	for k := range places {
		if !f.inside(from + (to-from)*(float64(k)+0.5)/places) {
			out++
		}
	}
	return 2*out > places
}

// inside reports whether a place of the axis lies within the silhouette.
func (f *fitting) inside(s float64) bool {
	px, ok := f.cam.Project(r3.Add(f.axis.p, r3.Scale(s, f.axis.u)))
	return ok && f.encloses(px)
}

// encloses reports whether a pixel lies within the silhouette.
func (v view) encloses(px r2.Vec) bool {
	in := false
	for i := range v.edge {
		a, b := v.edge[i].at, v.edge[(i+1)%len(v.edge)].at
		if (a.Y > px.Y) != (b.Y > px.Y) && px.X < a.X+(px.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// shown is how many rays touch the outline between two stations and bear it out.
func (f *fitting) shown(from, to float64) float64 {
	x, at := f.residuals()
	n := 0.0
	for k, m := range at {
		if m.ok && math.Abs(x[k]) < strayTold*f.scale && (m.at.s-to)*(from-m.at.s) > 0 {
			n++
		}
	}
	return n
}

// capSteep is how steeply, as a slope, a cap runs in that may be none: what is more pointed
// shows at its sides. capShown is how much edge a cap has that is one, as a share of its
// rim's radius: where it shows, it shows nearly all round.
const (
	capSteep = 1.5
	capShown = 0.5
	capReach = 8.0  // mm of the axis looked at
	capRim   = 1e-6 // mm
)

// peakLeast is from how high above its neighbours, mm, a peak is asked about, and a pit from
// how deep below them.
const peakLeast = 2.0

// slitWide is how wide, pixels, a pit is at least that can be seen at all; neckLeast is the
// radius, mm, from which on a neck can hold a body together.
const (
	slitWide  = 2.0
	neckLeast = 0.4
)

// needleShown is how much edge a needle has that is one, as a share of its two sides;
// needleLeast and needleReach are how long, mm, it is looked for.
const (
	needleShown = 0.15
	needleLeast = 3.0
	needleReach = 30.0
)
