package solid

import (
	"fmt"
	"math"
)

// LoftSection is the outline of a loft at one station.
type LoftSection struct {
	Station float64
	// Loop runs anticlockwise seen from +z, its first point not repeated. The
	// first and the last section may be a single point: a tip.
	Loop []Point
}

// LoftError is a section a [Loft] can't be made with.
type LoftError struct {
	Section int // from 0
	Err     error
}

// Error says which section is wrong and how.
func (e *LoftError) Error() string {
	return fmt.Sprintf("section %d of the loft: %v", e.Section, e.Err)
}

// Unwrap returns what is wrong with the section.
func (e *LoftError) Unwrap() error { return e.Err }

// Loft returns the solid through outlines at stations that rise, ruled from each
// to the next, with flat ends.
//
// The first points of all outlines belong together. Where two neighbours have
// equally many points, point i is joined to point i, and the quadrilaterals are
// divided by their shorter diagonal; so a square and the square above it make a
// prismatoid whatever their sizes. Where the numbers differ, the points follow
// each other by the share of the outline's length that lies before them.
//
// The result is closed by construction. Each slice between two stations stays
// between them, so slices don't meet; but within one, outlines of very different
// shape or turned far against each other make a wall that passes through itself,
// which isn't looked for. Where it goes so far that no volume is left the error
// is a [*NotSolidError]; a wrong section is a [*LoftError].
func Loft(sections []LoftSection) (Mesh, error) {
	if err := checkLoft(sections); err != nil {
		return Mesh{}, err
	}
	var m Mesh
	first := make([]int32, len(sections)) // of a section: its first vertex
	for i, s := range sections {
		first[i] = int32(len(m.Vertices))
		for _, p := range s.Loop {
			m.Vertices = append(m.Vertices, Vec{p[0], p[1], s.Station})
		}
	}
	for i := range sections[1:] {
		b := loftBand{mesh: &m, low: sections[i], high: sections[i+1], lowFirst: first[i], highFirst: first[i+1]}
		b.stitch()
	}
	last := len(sections) - 1
	if low := sections[0].Loop; len(low) > 1 {
		for _, t := range triangulate([][]Point{low}, 0, nil).triangles {
			m.Triangles = append(m.Triangles, [3]int32{t[0], t[2], t[1]})
		}
	}
	if high := sections[last].Loop; len(high) > 1 {
		f := first[last]
		for _, t := range triangulate([][]Point{high}, 0, nil).triangles {
			m.Triangles = append(m.Triangles, [3]int32{f + t[0], f + t[1], f + t[2]})
		}
	}
	if err := m.Solid(); err != nil {
		return Mesh{}, err
	}
	return m, nil
}

func checkLoft(sections []LoftSection) error {
	if len(sections) < 2 {
		return &ValueError{"number of sections", float64(len(sections)), "at least 2"}
	}
	points := 0
	for i, s := range sections {
		points += len(s.Loop)
		if s.Station-s.Station != 0 {
			return &LoftError{i, &ValueError{"station", s.Station, "finite"}}
		}
		if i > 0 && !(s.Station > sections[i-1].Station) {
			return &LoftError{i, &ValueError{"station", s.Station, "above the one before it"}}
		}
		tip := len(s.Loop) == 1 && (i == 0 || i == len(sections)-1)
		if tip && s.Loop[0].finite() {
			continue
		}
		if err := checkLoops([][]Point{s.Loop}); err != nil {
			return &LoftError{i, err}
		}
	}
	// Half-edges are numbered in 32 bits: two triangles a point, three edges each.
	if points > math.MaxInt32/6 {
		return &ValueError{"number of points", float64(points), "fewer"}
	}
	if len(sections) == 2 && len(sections[0].Loop) == 1 && len(sections[1].Loop) == 1 {
		return &LoftError{1, loopError(TooFewPoints, 0, 0, sections[1].Loop[0])}
	}
	return nil
}

// loftBand is the wall between two neighbouring sections.
type loftBand struct {
	mesh                *Mesh
	low, high           LoftSection
	lowFirst, highFirst int32
}

// stitch walks both outlines at once, one point of one of them a triangle:
//
//	high  j ---- j+1
//	      |    /
//	      |  /
//	low   i ------- i+1
//
// With equally many points they take turns, and the shorter diagonal decides who
// begins.
func (b *loftBand) stitch() {
	n, m := len(b.low.Loop), len(b.high.Loop)
	if n == m {
		for i := range n {
			if b.across(i, i+1) < b.across(i+1, i) {
				b.stepHigh(i, i)
				b.stepLow(i, i+1)
			} else {
				b.stepLow(i, i)
				b.stepHigh(i+1, i)
			}
		}
		return
	}
	p, q := loftShares(b.low.Loop), loftShares(b.high.Loop)
	for i, j := 0, 0; i < n || j < m; {
		switch {
		case m == 1 || j == m:
			b.stepLow(i, j)
			i++
		case n == 1 || i == n:
			b.stepHigh(i, j)
			j++
		case p[i+1] < q[j+1] || p[i+1] == q[j+1] && b.across(i+1, j) <= b.across(i, j+1):
			b.stepLow(i, j)
			i++
		default:
			b.stepHigh(i, j)
			j++
		}
		if n == 1 && j == m || m == 1 && i == n {
			return
		}
	}
}

func (b *loftBand) lowVertex(i int) int32  { return b.lowFirst + int32(i%len(b.low.Loop)) }
func (b *loftBand) highVertex(j int) int32 { return b.highFirst + int32(j%len(b.high.Loop)) }

// stepLow adds the triangle from edge i of the low outline to point j above.
func (b *loftBand) stepLow(i, j int) {
	b.mesh.Triangles = append(b.mesh.Triangles, [3]int32{b.lowVertex(i), b.lowVertex(i + 1), b.highVertex(j)})
}

// stepHigh adds the triangle from edge j of the high outline to point i below.
func (b *loftBand) stepHigh(i, j int) {
	b.mesh.Triangles = append(b.mesh.Triangles, [3]int32{b.lowVertex(i), b.highVertex(j + 1), b.highVertex(j)})
}

func (b *loftBand) across(i, j int) float64 {
	return nearestSquare(b.mesh.Vertices[b.lowVertex(i)], b.mesh.Vertices[b.highVertex(j)])
}

// loftShares returns the share of a loop's length before each point, and 1.
func loftShares(l []Point) []float64 {
	out := make([]float64, len(l)+1)
	whole := loopLength(l)
	var s sum
	for i, p := range l {
		s.add(dist2(p, l[(i+1)%len(l)]))
		out[i+1] = s.value() / whole
	}
	out[len(l)] = 1
	return out
}
