package drawing

import "math"

// Point is a place on the paper in millimetres, y down.
type Point struct{ X, Y float64 }

// Pt is short for Point{x, y}.
func Pt(x, y float64) Point { return Point{x, y} }

// Add returns p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns the way from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns p stretched by k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dist is the distance between two points.
func (p Point) Dist(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

func (p Point) finite() bool { return finite(p.X) && finite(p.Y) }

// maxCoordinate refuses places no sheet can have (10 m from the corner, where
// the longest ISO 216 sheet has 1.2 m); it also refuses NaN and infinities.
const maxCoordinate = 10_000

func finite(v float64) bool { return math.Abs(v) <= maxCoordinate }

// Rect is an upright box: its upper left corner, width and height.
type Rect struct{ X, Y, W, H float64 }

// Overlaps reports whether the insides of the two boxes meet. Boxes that only
// touch do not overlap.
func (r Rect) Overlaps(o Rect) bool {
	return r.X < o.X+o.W && o.X < r.X+r.W && r.Y < o.Y+o.H && o.Y < r.Y+r.H
}

// Contains reports whether o lies wholly in r.
func (r Rect) Contains(o Rect) bool {
	return o.X >= r.X && o.Y >= r.Y && o.X+o.W <= r.X+r.W && o.Y+o.H <= r.Y+r.H
}

// Inset returns the box with d taken off each side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Centre is the middle of the box.
func (r Rect) Centre() Point { return Point{r.X + r.W/2, r.Y + r.H/2} }

// crossesSegment reports whether the segment a-b passes through the inside of
// r (Liang and Barsky, "A new concept and method for line clipping", ACM TOG
// 3(1), 1984: the part of the segment inside all four half-planes).
func (r Rect) crossesSegment(a, b Point) bool {
	if max(a.X, b.X) <= r.X || min(a.X, b.X) >= r.X+r.W || max(a.Y, b.Y) <= r.Y || min(a.Y, b.Y) >= r.Y+r.H {
		return false // most lines of a drawing are nowhere near
	}
	d := b.Sub(a)
	lo, hi := 0.0, 1.0
	for _, e := range [4][2]float64{
		{-d.X, a.X - r.X}, {d.X, r.X + r.W - a.X}, {-d.Y, a.Y - r.Y}, {d.Y, r.Y + r.H - a.Y},
	} {
		switch p, q := e[0], e[1]; {
		case p == 0:
			if q <= 0 {
				return false
			}
		case p < 0:
			lo = max(lo, q/p)
		default:
			hi = min(hi, q/p)
		}
	}
	return lo < hi
}
