package solidtest

import (
	"math"

	"scalewright/solid"
)

// nearSilhouette is how near to a silhouette that isn't its own a point is left
// out, mm: there a ray that starts a little off decides by that little.
const nearSilhouette = 0.1

// offset is how far before an edge a ray starts, relative to the size: past the
// faces that meet in the edge, by far more than a rounding.
const offset = 1e-7

// Agreement is what rays say to the lines of a projection.
type Agreement struct {
	Points, Agree       int // all points
	Kept, KeptAgree     int // those not near a silhouette of something else
	Outlines, Uncovered int // places where rays see a silhouette, and those without a visible line
	Visible, Hidden     float64
}

// Share is the share of the kept points that agree.
func (a Agreement) Share() float64 {
	if a.Kept == 0 {
		return 1
	}
	return float64(a.KeptAgree) / float64(a.Kept)
}

// Rays holds the lines of a projection to rays from points along them, and to
// silhouettes that rays find by themselves.
type Rays struct {
	scene  Scene
	frame  solid.Frame
	solids []solid.Mesh
	tree   *solid.Tree
	owner  []int
	size   float64
	lines  []solid.Polyline
}

// NewRays returns a checker. Solids are moved and cut by plain means.
func NewRays(scene Scene, p solid.Projection) *Rays {
	r := &Rays{scene: scene, frame: p.Frame, lines: p.Lines}
	for i, s := range scene.Solids {
		m := s.Mesh.Transform(s.At)
		if cut := scene.View.Section; cut != (solid.Plane{}) {
			above, below, err := solid.Cut(m, cut)
			if err != nil {
				panic(err)
			}
			m = below
			if cut.Normal.Dot(scene.View.Eye) < 0 {
				m = above
			}
		}
		r.solids = append(r.solids, m)
		for range m.Triangles {
			r.owner = append(r.owner, i)
		}
	}
	all := solid.Join(r.solids...)
	tree, err := solid.NewTree(all)
	if err != nil {
		panic(err)
	}
	r.tree, r.size = tree, all.Bounds().Size().Length()
	return r
}

// segment is a segment of a line on the paper, with the depths of its ends.
type segment struct {
	a, b   solid.Point
	da, db float64
}

func segmentOf(l solid.Polyline, i int) segment {
	return segment{l.Points[i-1], l.Points[i], l.Depths[i-1], l.Depths[i]}
}

// follows reports whether two segments share an end in space.
func (s segment) follows(o segment) bool {
	return s.a == o.a && s.da == o.da || s.a == o.b && s.da == o.db || s.b == o.a && s.db == o.da || s.b == o.b && s.db == o.db
}

// nearest is the segment's point nearest to p: an end to the last bit where it is
// that.
func (s segment) nearest(p solid.Point) solid.Point {
	x, y := s.b[0]-s.a[0], s.b[1]-s.a[1]
	t := ((p[0]-s.a[0])*x + (p[1]-s.a[1])*y) / (x*x + y*y)
	switch {
	case t >= 1:
		return s.b
	case t > 0:
		return solid.Point{s.a[0] + t*x, s.a[1] + t*y}
	default: // NaN: the segment is a point
		return s.a
	}
}

func distance(p, q solid.Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }

// Check looks at n points spread evenly along all lines, and at the outlines that
// rays on a lattice of rows find.
func (r *Rays) Check(n, rows int) Agreement {
	out := Agreement{}
	r.along(n, &out)
	r.outlines(rows, &out)
	return out
}

func (r *Rays) along(n int, out *Agreement) {
	var silhouettes []segment
	total := 0.0
	for _, l := range r.lines {
		total += l.Length()
		if l.Kind != solid.Silhouette && l.Kind != solid.Boundary {
			continue
		}
		for i := 1; i < len(l.Points); i++ {
			silhouettes = append(silhouettes, segmentOf(l, i))
		}
	}
	step, next, done := total/float64(n), total/float64(2*n), 0.0
	for _, l := range r.lines {
		if l.Hidden {
			out.Hidden += l.Length()
		} else {
			out.Visible += l.Length()
		}
		for i := 1; i < len(l.Points); i++ {
			own := segmentOf(l, i)
			length := math.Hypot(own.b[0]-own.a[0], own.b[1]-own.a[1])
			for ; next < done+length; next += step {
				t := (next - done) / length
				p := solid.Point{own.a[0] + t*(own.b[0]-own.a[0]), own.a[1] + t*(own.b[1]-own.a[1])}
				depth := l.Depths[i-1] + t*(l.Depths[i]-l.Depths[i-1])
				agree := r.hidden(p, depth) == l.Hidden
				out.Points++
				if agree {
					out.Agree++
				}
				if nearAnother(silhouettes, own, p) {
					continue
				}
				out.Kept++
				if agree {
					out.KeptAgree++
				}
			}
			done += length
		}
	}
}

// nearAnother reports whether a point is near a silhouette that isn't its own. One
// that only comes to its own's end and goes on from there doesn't count.
func nearAnother(silhouettes []segment, own segment, p solid.Point) bool {
	for _, s := range silhouettes {
		if s == own {
			continue
		}
		at := s.nearest(p)
		if distance(at, p) < nearSilhouette && !(s.follows(own) && (at == own.a || at == own.b)) {
			return true
		}
	}
	return false
}

// at is the place in space of a place of the paper, so far towards the eye.
func (r *Rays) at(p solid.Point, depth float64) solid.Vec {
	return r.frame.Lift(p).Add(r.frame.N.Scale(depth))
}

func (r *Rays) hidden(p solid.Point, depth float64) bool {
	ray, err := solid.NewRay(r.at(p, depth+offset*r.size), r.frame.N, math.Inf(1))
	if err != nil {
		panic(err)
	}
	_, hit := r.tree.FirstHit(ray)
	return hit
}

// sight is what a ray from the eye meets first.
type sight struct {
	depth  float64
	owner  int // −1: it meets nothing
	normal solid.Vec
}

func (r *Rays) seen(p solid.Point) sight {
	from := r.at(p, 2*r.size)
	ray, err := solid.NewRay(from, r.frame.N.Scale(-1), math.Inf(1))
	if err != nil {
		panic(err)
	}
	hit, ok := r.tree.FirstHit(ray)
	if !ok {
		return sight{math.Inf(-1), -1, solid.Vec{}}
	}
	m := r.tree.Mesh()
	t := m.Triangles[hit.Triangle]
	a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
	return sight{hit.At.Dot(r.frame.N), r.owner[hit.Triangle], b.Sub(a).Cross(c.Sub(a)).Unit()}
}

// outlines looks along rows and columns for places where the depth jumps, and
// wants a visible line at each.
func (r *Rays) outlines(rows int, out *Agreement) {
	var visible []segment
	low, high := solid.Point{math.Inf(1), math.Inf(1)}, solid.Point{math.Inf(-1), math.Inf(-1)}
	for _, m := range r.solids {
		for _, v := range m.Vertices {
			p := r.frame.Flatten(v)
			low = solid.Point{min(low[0], p[0]), min(low[1], p[1])}
			high = solid.Point{max(high[0], p[0]), max(high[1], p[1])}
		}
	}
	for _, l := range r.lines {
		if l.Hidden {
			continue
		}
		for i := 1; i < len(l.Points); i++ {
			visible = append(visible, segmentOf(l, i))
		}
	}
	for axis := range 2 {
		other := 1 - axis
		for i := range rows {
			var p, q solid.Point
			p[other] = low[other] + (float64(i)+0.5)/float64(rows)*(high[other]-low[other])
			q[other] = p[other]
			width := high[axis] - low[axis]
			steps := 4 * rows
			for k := -1; k <= steps; k++ {
				p[axis] = low[axis] + float64(k)/float64(steps)*width
				q[axis] = low[axis] + float64(k+1)/float64(steps)*width
				at, jumps := r.jump(p, q, axis)
				if !jumps {
					continue
				}
				out.Outlines++
				covered := false
				for _, s := range visible {
					if distance(s.nearest(at), at) < nearSilhouette {
						covered = true
						break
					}
				}
				if !covered {
					out.Uncovered++
				}
			}
		}
	}
}

// differ reports whether a line must lie between two sights: one is of nothing,
// the depth jumps, or another solid starts; not where faces of two solids lie in
// one plane, of which a ray meets either.
func (r *Rays) differ(x, y sight) bool {
	if x.owner < 0 || y.owner < 0 {
		return x.owner != y.owner
	}
	return math.Abs(x.depth-y.depth) > 1e-3*r.size || x.owner != y.owner && x.normal.Dot(y.normal) < 0.999
}

// jump returns where between two places something ends, found by halving until a
// slope can't explain the difference.
func (r *Rays) jump(p, q solid.Point, axis int) (solid.Point, bool) {
	sp, sq := r.seen(p), r.seen(q)
	for q[axis]-p[axis] > 1e-6*r.size {
		if !r.differ(sp, sq) {
			return p, false
		}
		mid := p
		mid[axis] = (p[axis] + q[axis]) / 2
		if sm := r.seen(mid); r.differ(sp, sm) {
			q, sq = mid, sm
		} else {
			p, sp = mid, sm
		}
	}
	return p, r.differ(sp, sq)
}
