package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/stat"

	"scalewright/craft/limb"
)

// A needle is narrow where it ends, and shows little edge there: it is drawn too short on a
// mat of its own colour, and on to a printed line that lies before it. Its sides say how it
// runs, and what lies between them is the needle's colour up to its end and the mat's from
// there on.
const (
	needleLong   = 8.0  // mm, a straight side at least
	needleNear   = 10.0 // mm from the end where it was found, where that begins at most
	needleThin   = 4.0  // mm, its radius at the end at most
	needleSteep  = 0.7  // its slope at most
	needleAhead  = 12.0 // mm beyond the end where it was found, that are looked at
	needleColour = 8.0  // mm within the end where it was found, that tell its colour
	needlePlaces = 20   // places seen, at least
	needleBody   = 6    // of them on it, at least
	needleAlike  = 4.0  // of them that share their noise
	needleSure   = 3.0  // nats that its end must be better by
	needleOn     = 0.25 // of its straight side, that it may go on at most
	needleOff    = 2.0  // pixels that it must lie off
	needleThread = 0.1  // mm, the least radius looked along
	needleKeep   = 2.0  // mm of the side that stay as they are drawn
)

// needle is a straight side that runs out at an end of a form.
type needle struct {
	end, root joint   // where the end was found, and where the side begins
	span      int     // of the form
	slope     float64 // of the radius, inwards
	in        float64 // the way inwards
}

// radius is its radius at a station, mm: less than nought where its sides have met.
func (n *needle) radius(s float64) float64 { return n.root.r + n.slope*(s-n.root.s)*n.in }

// needleOf is the needle of a form's end.
func (g *form) needleOf(last bool) (needle, bool) {
	n := needle{end: g.joints[0], in: 1}
	if last {
		n.end, n.in = g.joints[len(g.joints)-1], -1
	}
	for k := range g.spans {
		a, b := g.joints[k], g.joints[k+1]
		if n.span = k; last {
			n.span = len(g.spans) - 1 - k
			a, b = g.joints[n.span+1], g.joints[n.span]
		}
		long := math.Abs(b.s - a.s)
		n.root, n.slope = b, (b.r-a.r)/long
		switch {
		case math.Abs(a.s-n.end.s) > needleNear:
			return n, false
		case g.spans[n.span].kind == lineSpan && long > needleLong && n.slope > 0 && n.slope < needleSteep:
			return n, n.radius(n.end.s) < needleThin
		}
	}
	return n, false
}

// needlePlace is what lies between the sides at a station: less the mat beside them, and less
// what lies beside them of its own kind, be it mat or a printed line.
type needlePlace struct {
	s          float64
	body, bare colour
}

// needleEnd is where a needle ends by what lies between its sides, and whether that is surely
// elsewhere than where it was found.
func (m ground) needleEnd(v view, o *solution, n *needle) (s float64, elsewhere bool) {
	mm := mmPerPixel(v, o.axis)
	ahead := needleAhead
	if apex := math.Abs(n.radius(n.end.s)) / n.slope; n.radius(n.end.s) > 0 {
		ahead = min(ahead, apex) // farther out its sides have met
	}
	pose := limb.Pose{Camera: *v.cam, Origin: o.axis.p, Along: o.axis.u, Stretch: 1}
	var all []needlePlace
	for at := -ahead; at < min(needleColour, math.Abs(n.root.s-n.end.s)); at += mm / 2 {
		if p, ok := m.needlePlace(&pose, n, n.end.s+n.in*at); ok {
			all = append(all, p)
		}
	}
	if len(all) < needlePlaces {
		return 0, false
	}
	best, now := -1, 0
	left := make([]float64, len(all)-needleBody)
	for k := range left {
		left[k] = bodyFrom(all, k)
		if best < 0 || left[k] < left[best] {
			best = k
		}
		if math.Abs(all[k].s-n.end.s) < math.Abs(all[now].s-n.end.s) {
			now = k
		}
	}
	if best == 0 { // its end is not seen
		return 0, false
	}
	s = (all[best].s + all[best-1].s) / 2
	if (n.end.s-s)*n.in > math.Abs(n.root.s-n.end.s)*needleOn {
		return 0, false // farther than its side can tell
	}
	noise := left[best] / float64(3*len(all))
	return s, math.Abs(s-n.end.s) > needleOff*mm && (left[now]-left[best])/(2*noise*needleAlike) > needleSure
}

// bodyFrom is the sum of squares of what is left where a needle begins at place k: before it
// there is nothing but the mat, and from it on a colour that changes evenly.
func bodyFrom(all []needlePlace, k int) (left float64) {
	for _, p := range all[:k] {
		left += p.bare.dot(p.bare)
	}
	body := all[k:]
	x, y := make([]float64, len(body)), make([]float64, len(body))
	for c := range 3 {
		for i, p := range body {
			x[i], y[i] = p.s, p.body[c]
		}
		a, b := stat.LinearRegression(x, y, nil, false)
		for i := range body {
			d := y[i] - a - b*x[i]
			left += d * d
		}
	}
	return left
}

// needlePlace is what lies between a needle's sides at a station.
func (m ground) needlePlace(pose *limb.Pose, n *needle, s float64) (needlePlace, bool) {
	r := max(n.radius(s), needleThread)
	psi := -n.in * math.Atan(n.slope)
	a, ok := pose.Edge(s, r, psi, limb.Left)
	b, too := pose.Edge(s, r, psi, limb.Right)
	if !ok || !too {
		return needlePlace{}, false
	}
	across := r2.Sub(b, a)
	wide := r2.Norm(across)
	across = r2.Scale(1/wide, across)
	var in, out [2][]colour // of the mat, of a printed line
	for _, t := range [3]float64{0.3, 0.5, 0.7} {
		at := r2.Add(a, r2.Scale(t*wide, across))
		k := lined(m.onLine(at))
		in[k] = append(in[k], m.photo.at(at.X, at.Y))
	}
	for t := 3.0; t <= 5; t++ {
		for _, at := range [2]r2.Vec{r2.Sub(a, r2.Scale(t, across)), r2.Add(b, r2.Scale(t, across))} {
			k := lined(m.onLine(at))
			out[k] = append(out[k], m.photo.at(at.X, at.Y))
		}
	}
	kind := lined(len(in[0]) == 0)
	if len(out[0]) == 0 || len(out[kind]) == 0 {
		return needlePlace{}, false
	}
	seen := middle(in[kind])
	return needlePlace{s, seen.minus(middle(out[0])), seen.minus(middle(out[kind]))}, true
}

// lined is 1 for a printed line, 0 for the bare mat.
func lined(on bool) int {
	if on {
		return 1
	}
	return 0
}
