package limb

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pass is how the ray of a pixel passes an axis: all of it that a body of revolution
// can tell. In the half plane of station and radius the ray draws the hyperbola
// ρ² = Near² + ((s - Station)/Lean)².
type Pass struct {
	Near    float64 // least distance from the axis, mm
	Station float64 // of the axis, where that is
	Lean    float64 // how far along the axis the ray runs for each mm across it
	Depth   float64 // from the camera, mm
	Side    Side
}

// Normal is the direction of a surface's normal in the half plane of station and radius:
// its part along the axis and its part away from it.
type Normal struct{ Sin, Cos float64 }

// NormalAt is the normal turned by psi from square to the axis towards rising stations,
// up to a quarter turn each way.
func NormalAt(psi float64) Normal {
	if math.Abs(psi) >= math.Pi/2 {
		return Normal{math.Copysign(1, psi), 0}
	}
	sin, cos := math.Sincos(psi)
	return Normal{sin, cos}
}

// nearest is the least distance from the axis that is told apart, mm: a ray through the
// axis would touch a rim at the very slant at which nothing can be touched.
const nearest = 1e-6

// square is the least lean that is told apart: a ray square to the axis would touch rims
// by their faces only. It moves nothing by more than a micrometre.
const square = 1e-6

// PassOf is how the ray from c in the unit direction d passes the axis through origin in
// the unit direction along. A ray along the axis passes it nowhere in particular: its
// Lean is infinite, and nothing is touched by it.
func PassOf(origin, along, c, d r3.Vec) Pass {
	du := r3.Dot(d, along)
	w := r3.Sub(c, origin)
	wu := r3.Dot(w, along)
	dp, wp := r3.Sub(d, r3.Scale(du, along)), r3.Sub(w, r3.Scale(wu, along))
	qq := r3.Dot(dp, dp)
	if qq == 0 {
		return Pass{Station: wu, Lean: math.Inf(1)}
	}
	t := -r3.Dot(wp, dp) / qq
	q := math.Sqrt(qq)
	// The moment of the ray about the axis: its sign tells the side.
	moment := r3.Dot(r3.Cross(wp, dp), along) / q
	p := Pass{Near: max(math.Abs(moment), nearest), Station: wu + t*du, Lean: math.Copysign(max(math.Abs(du/q), square), du), Depth: t}
	if moment > 0 {
		p.Side = Right
	}
	return p
}

// Gap is how far outside a cone the ray passes, mm, less than nought where it runs
// through. The cone touches the circle of radius bend about a point (station, radius) of
// the half plane where its normal is n: a line of an outline with bend 0 and any of its points, a corner with bend 0
// and any psi between its neighbours' normals, an arc with its centre and radius, the
// radius taken below nought where the arc is hollow.
//
// With k = -tan ψ the slope of the cone, ρ - r along the ray is
// √(m² + τ²) - r(s) - k·g·τ, τ counted across the axis, whose least value is
// m·√(1 - k²g²) - r(s); times cos ψ it is a distance.
func (p *Pass) Gap(station, radius, bend float64, n Normal) float64 {
	return p.Near*p.open(n) - radius*n.Cos + (p.Station-station)*n.Sin - bend
}

// open is √(cos²ψ - g²·sin²ψ): nought where a cone is as steep as the ray leans, past
// which no ray leaning so touches it.
func (p *Pass) open(n Normal) float64 {
	return math.Sqrt(max(0, n.Cos*n.Cos-p.Lean*p.Lean*n.Sin*n.Sin))
}

// Slide is how far beyond the foot of (station, radius) on the cone's line the ray
// touches that cone, mm along the line towards rising stations: the derivative of
// [Pass.Gap] by psi. Where the cone is too steep to be touched it is infinite, as if
// touched beyond all ends.
func (p *Pass) Slide(station, radius float64, n Normal) float64 {
	open := p.open(n)
	if open == 0 {
		return math.Inf(int(-math.Copysign(1, n.Sin)))
	}
	return (p.Station-station)*n.Cos + radius*n.Sin - p.Near*n.Sin*n.Cos*(1+p.Lean*p.Lean)/open
}

// Touches are the normals between lo and hi, lo before hi where the circle of radius bend
// about (station, radius) is round and after it where it is hollow, at which the ray
// touches: where Gap is greatest locally, of a hollow circle where it is least. There are
// two at most: a ray may pass a rim at its near side and at its far side.
//
// With t = g·k/√(1-g²k²), k = tan ψ, the slide is up to a factor above nought
// H(t) = g·(s₀ - s) + r·t/√(1+t²) - M·t, M = m·(1+g²). Where M ≥ r it falls throughout;
// else it rises between ±t₀, where 1 + t₀² = (r/M)^⅔, and falls on both sides. Gap is
// greatest where H falls through nought as k rises, least where it rises.
func (p *Pass) Touches(station, radius, bend float64, lo, hi Normal) (at [2]Normal, n int) {
	lean := math.Abs(p.Lean)
	q := quarry{along: lean * (p.Station - station), radius: radius, m: p.Near * (1 + lean*lean), lean: lean}
	a, b := q.slant(lo), q.slant(hi)
	inner := 0.0 // t₀
	if q.m < radius {
		inner = math.Sqrt(math.Cbrt(radius*radius/(q.m*q.m)) - 1)
	}
	if bend < 0 {
		if t, ok := q.root(min(a, inner), max(b, -inner)); ok {
			at[0], n = normalOf(t, lean), 1
		}
		return at, n
	}
	if inner == 0 {
		if t, ok := q.root(a, b); ok {
			at[0], n = normalOf(t, lean), 1
		}
		return at, n
	}
	if a < -inner {
		if t, ok := q.root(a, min(b, -inner)); ok {
			at[n] = normalOf(t, lean)
			n++
		}
	}
	if b > inner {
		if t, ok := q.root(max(a, inner), b); ok {
			at[n] = normalOf(t, lean)
			n++
		}
	}
	return at, n
}

// normalOf is the normal of a t.
func normalOf(t, lean float64) Normal {
	k := t / math.Sqrt(1+t*t) / lean
	h := math.Sqrt(1 + k*k)
	return Normal{k / h, 1 / h}
}

// quarry is the equation of a touching place.
type quarry struct{ along, radius, m, lean float64 }

// slant is the t of a normal; of one too steep for any ray that leans so, a t beyond all
// roots.
func (q *quarry) slant(n Normal) float64 {
	if open := n.Cos*n.Cos - q.lean*q.lean*n.Sin*n.Sin; open > 0 {
		return q.lean * n.Sin / math.Sqrt(open)
	}
	return math.Copysign((math.Abs(q.along)+math.Abs(q.radius))/q.m+1, n.Sin)
}

func (q *quarry) at(t float64) (h, change float64) {
	w := 1 / math.Sqrt(1+t*t)
	return q.along + q.radius*t*w - q.m*t, q.radius*w*w*w - q.m
}

// guess is a place near a root: a ray that grazes has m ≈ r, and H is about
// g·(s₀ - s) + (r - M)·t - r·t³/2 while t is small.
func (q *quarry) guess() float64 {
	p, c := 2*(q.m-q.radius)/q.radius, 2*q.along/q.radius
	s := math.Cbrt(c)
	t := s + math.Copysign(math.Sqrt(max(0, -p)), c)
	if p > 0 {
		t = c / (p + s*s)
	}
	if math.Abs(t) > far {
		t = (q.along + q.radius*t/math.Sqrt(1+t*t)) / q.m
	}
	return t
}

// far is the t past which the cubic says little.
const far = 0.7

// root is where H, above nought at a, below it at b and falling or rising throughout
// between them, is nought: Newton's method from b, halving where that leaves the bracket.
func (q *quarry) root(a, b float64) (t float64, ok bool) {
	const (
		most = 60
		near = 1e-11 // of k, and of t where that is large; Gap is level there
	)
	if h, _ := q.at(a); !(h > 0) {
		return 0, false
	}
	h, change := q.at(b)
	if h > 0 {
		return 0, false
	}
	if h == 0 {
		return b, true
	}
	t = q.guess()
	if !(t > min(a, b) && t < max(a, b)) {
		t = b
	} else if h, change = q.at(t); h > 0 {
		a = t
	} else {
		b = t
	}
	for range most {
		next := t - h/change
		if math.Abs(next-t) < near*(q.lean+math.Abs(t)) {
			return next, true
		}
		if !(next > min(a, b) && next < max(a, b)) {
			next = (a + b) / 2
		}
		t = next
		if h, change = q.at(t); h > 0 {
			a = t
		} else {
			b = t
		}
	}
	return t, true
}

// Gradient is how Gap changes with Near, Station and Lean.
func (p *Pass) Gradient(n Normal) (near, station, lean float64) {
	open := p.open(n)
	if open > 0 {
		lean = -p.Near * p.Lean * n.Sin * n.Sin / open
	}
	return open, n.Sin, lean
}
