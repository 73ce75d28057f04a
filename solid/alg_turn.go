package solid

import (
	"math"
)

// PointRZ is a point of a profile: distance from the axis and station along it.
type PointRZ struct{ R, Z float64 }

// Turn returns the body of revolution of a profile about +Z, with exactly the
// given number of flats, at least 3.
//
// The profile is a closed polygon in the half plane r ≥ 0, anticlockwise with r
// to the right and z up, its first point not repeated. Points exactly on the
// axis (r = 0) become one vertex each, and edges along the axis no triangles, so
// a solid shaft is {0,0} {r,0} {r,h} {0,h}. Corner 0 of every ring lies at +X,
// so solids of equal segments nest flat to flat. Where segments is a multiple
// of four the solid is exactly its own mirror image in the planes x = 0, y = 0
// and x = y.
//
// The corners lie on the circle of radius r and the middles of the flats inside
// it, at r·cos(π/segments): a bore must be made larger by [FacetScale] to let
// the true cylinder through.
//
// A profile that is clockwise, crosses or touches itself, or meets the axis in
// a single point is refused with a [*LoopError] that names index and station.
func Turn(profile []PointRZ, segments int) (Mesh, error) {
	return TurnLoops([][]PointRZ{profile}, segments)
}

// TurnLoops is [Turn] for a profile of several loops: outer ones anticlockwise,
// voids inside them clockwise, islands inside those anticlockwise again.
func TurnLoops(loops [][]PointRZ, segments int) (Mesh, error) {
	if segments < 3 {
		return Mesh{}, &ValueError{"segments", float64(segments), "at least 3"}
	}
	points := 0
	flat := make([][]Point, len(loops))
	for l, loop := range loops {
		points += len(loop)
		for _, p := range loop {
			flat[l] = append(flat[l], Point{p.R, p.Z})
		}
	}
	// Half-edges are numbered in 32 bits: 2 triangles × 3 a flat of each edge.
	if points > (math.MaxInt32/6)/segments {
		return Mesh{}, &ValueError{"segments", float64(segments), "fewer (the solid has too many triangles)"}
	}
	if err := checkProfile(flat); err != nil {
		return Mesh{}, err
	}
	table := circleTable(segments)
	var m Mesh
	for _, loop := range flat {
		m.turnLoop(loop, table)
	}
	return m, nil
}

func checkProfile(loops [][]Point) error {
	if err := checkLoops(loops); err != nil {
		e := *err.(*LoopError)
		e.turned = true
		return &e
	}
	for l, loop := range loops {
		n := len(loop)
		for i, p := range loop {
			fault := LoopFault(0)
			switch {
			case p[0] < 0:
				fault = NegativeRadius
			case p[0] == 0 && loop[(i+n-1)%n][0] != 0 && loop[(i+1)%n][0] != 0:
				// The solid would touch itself in that point.
				fault = TouchesAxis
			}
			if fault != 0 {
				e := loopError(fault, l, i, p)
				e.turned = true
				return e
			}
		}
	}
	return nil
}

func (m *Mesh) turnLoop(loop []Point, table []Point) {
	n := len(table)
	ring := make([]int32, len(loop)) // first vertex of each profile point
	for i, p := range loop {
		ring[i] = int32(len(m.Vertices))
		if p[0] == 0 {
			m.Vertices = append(m.Vertices, Vec{0, 0, p[1]})
			continue
		}
		for _, c := range table {
			m.Vertices = append(m.Vertices, Vec{p[0] * c[0], p[0] * c[1], p[1]})
		}
	}
	for i, p := range loop {
		j := (i + 1) % len(loop)
		q := loop[j]
		for s := range int32(n) {
			s1 := (s + 1) % int32(n)
			switch {
			case p[0] == 0 && q[0] == 0:
			case p[0] == 0:
				m.Triangles = append(m.Triangles, [3]int32{ring[i], ring[j] + s1, ring[j] + s})
			case q[0] == 0:
				m.Triangles = append(m.Triangles, [3]int32{ring[i] + s, ring[i] + s1, ring[j]})
			default:
				m.Triangles = append(m.Triangles,
					[3]int32{ring[i] + s, ring[i] + s1, ring[j] + s1},
					[3]int32{ring[i] + s, ring[j] + s1, ring[j] + s})
			}
		}
	}
	m.dropUnused()
}

// dropUnused removes vertices that no triangle uses: points in the middle of a
// stretch along the axis.
func (m *Mesh) dropUnused() {
	index := make([]int32, len(m.Vertices))
	for _, t := range m.Triangles {
		for _, v := range t {
			index[v] = 1
		}
	}
	n := int32(0)
	for v, used := range index {
		if used != 0 {
			m.Vertices[n] = m.Vertices[v]
			index[v] = n
			n++
		}
	}
	m.Vertices = m.Vertices[:n]
	for i, t := range m.Triangles {
		m.Triangles[i] = [3]int32{index[t[0]], index[t[1]], index[t[2]]}
	}
}

// circleTable returns cosine and sine of 2πk/n for k = 0 … n−1. Each angle is
// brought into the first eighth of the circle in whole numbers, so quarter turns
// are exact and mirror images have the same bits.
func circleTable(n int) []Point {
	table := make([]Point, n)
	for k := range table {
		quarter, rest := 4*k/n, 4*k%n // the angle is (quarter + rest/n)·π/2
		var c, s float64
		switch {
		case 2*rest < n:
			s, c = math.Sincos(float64(rest) / float64(n) * (math.Pi / 2))
		case 2*rest == n:
			c, s = math.Sqrt2/2, math.Sqrt2/2
		default:
			c, s = math.Sincos(float64(n-rest) / float64(n) * (math.Pi / 2))
		}
		switch quarter {
		case 0:
			table[k] = Point{c, s}
		case 1:
			table[k] = Point{-s, c}
		case 2:
			table[k] = Point{-c, -s}
		default:
			table[k] = Point{s, -c}
		}
		// −0 would print as "-0" in a file.
		table[k][0], table[k][1] = table[k][0]+0, table[k][1]+0
	}
	return table
}

// FacetScale returns 1/cos(π/segments): the radius at which the corners of a
// turned bore must lie for the middles of its flats to lie on the unit circle.
// Multiply the radius of a bore by it, or a round pipe will bind on the flats.
// An outside surface needs none: its corners are its largest radius. segments
// must be at least 3; below that the result is NaN.
func FacetScale(segments int) float64 {
	if segments < 3 {
		return math.NaN()
	}
	return 1 / math.Cos(math.Pi/float64(segments))
}

// maxSegments keeps a mistaken sagitta from asking for a mesh without end.
const maxSegments = 1 << 20

// SegmentsFor returns the least multiple of four at which the flats of a circle
// of the given radius stay within sagitta of it: r·(1 − cos(π/n)) ≤ sagitta.
func SegmentsFor(radius, sagitta float64) (int, error) {
	if !(radius > 0) || math.IsInf(radius, 1) {
		return 0, &ValueError{"radius", radius, "positive and finite"}
	}
	if !(sagitta > 0) {
		return 0, &ValueError{"sagitta", sagitta, "positive"}
	}
	if sagitta >= radius {
		return 4, nil
	}
	// acos(1 − x) = 2·asin(√(x/2)), which keeps its digits for small x.
	n := math.Pi / (2 * math.Asin(math.Sqrt(sagitta/radius/2)))
	if n > maxSegments {
		return 0, &ValueError{"sagitta", sagitta, "larger (the circle would have over a million flats)"}
	}
	return 4 * max(1, int(math.Ceil(n/4))), nil
}
