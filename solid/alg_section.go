package solid

import (
	"cmp"
	"math"
	"slices"
)

// Slice is the section of a solid by a plane, in coordinates of the plane.
type Slice struct {
	Frame     Frame
	Regions   []Region
	Area      float64 // mm²
	Perimeter float64 // mm
}

// Section returns the section of a closed solid by a plane. A vertex exactly on
// the plane counts as above it, so the section at the height of a face is that
// of the material just below: the top of a box has its full section, the bottom
// none. The errors are those of [Cut].
func Section(m Mesh, p Plane) (Slice, error) {
	if err := p.check(); err != nil {
		return Slice{}, err
	}
	edges, err := m.edgeNumbers()
	if err != nil {
		return Slice{}, err
	}
	side := make([]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		side[i] = p.Side(v)
	}
	return m.slice(p, edges, side), nil
}

// slice follows the section through the triangles, given the number of the edge
// of each half-edge and on which side each vertex lies.
func (m Mesh) slice(p Plane, edges []int32, side []float64) Slice {
	frame := p.Frame()
	s := newSlicer(m, edges)
	for t := range int32(len(m.Triangles)) {
		s.add(t, func(v int32) bool { return side[v] < 0 })
	}
	out := Slice{Frame: frame}
	loops := s.loops(func(a, b int32) Point { return frame.Flatten(crossingPoint(m, side, a, b)) })
	loops = slices.Clone(loops)
	for _, group := range nested(loops) {
		r := Region{Outer: slices.Clone(loops[group[0]])}
		for _, h := range group[1:] {
			r.Holes = append(r.Holes, slices.Clone(loops[h]))
		}
		out.Regions = append(out.Regions, r)
	}
	out.Area, out.Perimeter = s.area, s.perimeter
	return out
}

// Layer is a section by a plane z = Z. Loops run anticlockwise round material
// and clockwise round holes, x and y as in space.
type Layer struct {
	Z         float64
	Area      float64 // mm²
	Perimeter float64 // mm, holes included
	Loops     [][]Point
}

// Regions groups the loops of the layer by nesting.
func (l Layer) Regions() []Region {
	var out []Region
	for _, group := range nested(l.Loops) {
		r := Region{Outer: l.Loops[group[0]]}
		for _, h := range group[1:] {
			r.Holes = append(r.Holes, l.Loops[h])
		}
		out = append(out, r)
	}
	return out
}

// Sections returns the sections of a closed solid by planes z = stations[i], in
// the order given; a vertex on a plane counts as above it, see [Section].
func Sections(m Mesh, stations []float64) ([]Layer, error) {
	out := make([]Layer, len(stations))
	err := WalkSections(m, stations, func(i int, l Layer) bool {
		n := 0
		for _, loop := range l.Loops {
			n += len(loop)
		}
		// One block for all points of the layer.
		block := make([]Point, 0, n)
		loops := make([][]Point, len(l.Loops))
		for k, loop := range l.Loops {
			block = append(block, loop...)
			loops[k] = block[len(block)-len(loop) : len(block) : len(block)]
		}
		l.Loops = loops
		out[i] = l
		return true
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// WalkSections is [Sections] for those who keep little: visit is called with the
// place of the station in the list and its layer, by ascending station, until it
// returns false. The loops are only lent until visit returns.
//
// The triangles are sorted once by their lowest vertex and each layer looks only
// at those that reach it.
func WalkSections(m Mesh, stations []float64, visit func(i int, l Layer) bool) error {
	for _, z := range stations {
		if z-z != 0 {
			return &ValueError{"station", z, "finite"}
		}
	}
	edges, err := m.edgeNumbers()
	if err != nil {
		return err
	}
	type span struct {
		low, high float64
		t         int32
	}
	spans := make([]span, len(m.Triangles))
	for i, t := range m.Triangles {
		a, b, c := m.corners(t)
		spans[i] = span{min(a[2], b[2], c[2]), max(a[2], b[2], c[2]), int32(i)}
	}
	slices.SortFunc(spans, func(p, q span) int { return cmp.Or(cmp.Compare(p.low, q.low), cmp.Compare(p.t, q.t)) })
	order := make([]int, len(stations))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(stations[i], stations[j]) })

	s := newSlicer(m, edges)
	var active []span
	taken := 0
	for _, i := range order {
		z := stations[i]
		for ; taken < len(spans) && spans[taken].low < z; taken++ {
			active = append(active, spans[taken])
		}
		keep := active[:0]
		s.reset()
		for _, a := range active {
			if a.high < z {
				continue
			}
			keep = append(keep, a)
			s.add(a.t, func(v int32) bool { return m.Vertices[v][2] < z })
		}
		active = keep
		loops := s.loops(func(a, b int32) Point { return crossingAt(m.Vertices[a], m.Vertices[b], z) })
		if !visit(i, Layer{Z: z, Area: s.area, Perimeter: s.perimeter, Loops: loops}) {
			return nil
		}
	}
	return nil
}

// crossingAt returns x and y where the edge p–q, lower vertex first, passes z.
func crossingAt(p, q Vec, z float64) Point {
	t := (z - p[2]) / (q[2] - p[2])
	var out Point
	for k := range 2 {
		x := p[k] + float64(t*(q[k]-p[k]))
		out[k] = math.Max(math.Min(p[k], q[k]), math.Min(math.Max(p[k], q[k]), x))
	}
	return out
}

// edgeNumbers numbers the edges and returns the number for each half-edge.
func (m Mesh) edgeNumbers() ([]int32, error) {
	edges, err := m.Opposites()
	if err != nil {
		return nil, err
	}
	n := int32(0)
	for h, o := range edges {
		if int32(h) < o {
			edges[h] = n
			n++
		} else {
			edges[h] = edges[o]
		}
	}
	return edges, nil
}

// slicer links the segments in which triangles meet a plane. A triangle with
// vertices on both sides has exactly one edge up and one down through the plane;
// with the material on its left the outline runs from the edge down to the edge
// up, which is the edge down of the neighbour. So loops close by themselves.
type slicer struct {
	mesh      Mesh
	edges     []int32 // number of the edge of each half-edge
	up        []int32 // edge → half-edge up of the triangle in which it goes down
	layer     []int32 // edge → the layer in which up was set
	now       int32
	starts    []int32 // half-edges down, in the order of the triangles
	points    []Point
	out       [][]Point
	area      float64
	perimeter float64
}

func newSlicer(m Mesh, edges []int32) *slicer {
	n := len(edges) / 2
	return &slicer{mesh: m, edges: edges, up: make([]int32, n), layer: make([]int32, n), now: 1}
}

func (s *slicer) reset() {
	s.now++
	s.starts = s.starts[:0]
}

func (s *slicer) add(t int32, below func(v int32) bool) {
	tri := s.mesh.Triangles[t]
	a, b, c := below(tri[0]), below(tri[1]), below(tri[2])
	if a == b && b == c {
		return
	}
	low := [3]bool{a, b, c}
	down, up := int32(-1), int32(-1)
	for k := range 3 {
		if low[k] != low[(k+1)%3] {
			if low[k] {
				up = 3*t + int32(k)
			} else {
				down = 3*t + int32(k)
			}
		}
	}
	e := s.edges[down]
	s.up[e], s.layer[e] = up, s.now
	s.starts = append(s.starts, down)
}

// loops follows the segments. Points that repeat the one before are dropped, and
// loops of less than three points, which enclose nothing.
func (s *slicer) loops(place func(a, b int32) Point) [][]Point {
	s.points, s.out = s.points[:0], s.out[:0]
	var ends []int
	var area, length sum
	for _, h := range s.starts {
		e := s.edges[h]
		if s.layer[e] != s.now {
			continue // followed already
		}
		first := len(s.points)
		for s.layer[e] == s.now {
			s.layer[e] = s.now - 1
			a, b := s.mesh.tail(h), s.mesh.head(h)
			p := place(min(a, b), max(a, b))
			if len(s.points) == first || p != s.points[len(s.points)-1] {
				s.points = append(s.points, p)
			}
			h = s.up[e]
			e = s.edges[h]
		}
		for len(s.points) > first+1 && s.points[len(s.points)-1] == s.points[first] {
			s.points = s.points[:len(s.points)-1]
		}
		if len(s.points) < first+3 {
			s.points = s.points[:first]
			continue
		}
		ends = append(ends, len(s.points))
	}
	first := 0
	for _, end := range ends {
		loop := s.points[first:end:end]
		s.out = append(s.out, loop)
		area.add(loopArea(loop))
		length.add(loopLength(loop))
		first = end
	}
	s.area, s.perimeter = area.value(), length.value()
	return s.out
}
