package assembly

import (
	"math"
	"slices"

	"scalewright/model"
)

// thing is what the order moves: a piece, the core, the stand's post.
type thing struct {
	name  string
	piece *model.Piece // nil: not printed
	part  string
	// Of what is turned on the build's axis: its extent at each radius.
	rows  []row
	bands map[int][]gap // material at each whole millimetre of station
	low   float64       // stations that it reaches
	high  float64
}

// row is the lowest and the highest station of a thing between two radii, at
// both of them; the edges between are straight.
type row struct {
	in, out      float64
	low0, low1   float64 // at in, at out
	high0, high1 float64
}

// gap is a stretch of radii.
type gap struct{ in, out float64 }

func (g gap) wide() float64 {
	if g.in == 0 {
		return 2 * g.out // across the axis
	}
	return g.out - g.in
}

// turned gives a thing the shape of loops in the half plane.
func (t *thing) turned(loops [][]model.Point) {
	t.rows = rowsOf(loops)
	t.bands = bandsOf(loops)
	t.low, t.high = math.Inf(1), math.Inf(-1)
	for _, loop := range loops {
		for _, p := range loop {
			t.low, t.high = min(t.low, p.Station), max(t.high, p.Station)
		}
	}
}

// tube is the loop of a pipe.
func tube(from, to, in, out float64) [][]model.Point {
	return [][]model.Point{{{Station: from, Radius: in}, {Station: from, Radius: out}, {Station: to, Radius: out}, {Station: to, Radius: in}}}
}

// rowsOf cuts loops at the radii of their corners, so that between two of them
// the same edges are lowest and highest throughout.
func rowsOf(loops [][]model.Point) []row {
	var radii []float64
	for _, loop := range loops {
		for _, p := range loop {
			radii = append(radii, p.Radius)
		}
	}
	slices.Sort(radii)
	radii = slices.Compact(radii)
	var out []row
	for i := 1; i < len(radii); i++ {
		r := row{in: radii[i-1], out: radii[i]}
		mid := (r.in + r.out) / 2
		low, high := math.Inf(1), math.Inf(-1)
		eachEdge(loops, func(a, b model.Point) {
			if (a.Radius < mid) == (b.Radius < mid) {
				return
			}
			at := func(radius float64) float64 {
				return a.Station + (radius-a.Radius)/(b.Radius-a.Radius)*(b.Station-a.Station)
			}
			if z := at(mid); z < low {
				low, r.low0, r.low1 = z, at(r.in), at(r.out)
			}
			if z := at(mid); z > high {
				high, r.high0, r.high1 = z, at(r.in), at(r.out)
			}
		})
		if low < high {
			out = append(out, r)
		}
	}
	return out
}

// bandsOf is the material of loops at whole millimetres and a half, which no wall
// is too thin for: the nozzle alone lays half of one, and a wall has two lines.
func bandsOf(loops [][]model.Point) map[int][]gap {
	crossings := map[int][]float64{}
	eachEdge(loops, func(a, b model.Point) {
		if a.Station > b.Station {
			a, b = b, a
		}
		for k := int(math.Ceil(a.Station - 0.5)); float64(k)+0.5 < b.Station; k++ {
			z := float64(k) + 0.5
			crossings[k] = append(crossings[k], a.Radius+(z-a.Station)/(b.Station-a.Station)*(b.Radius-a.Radius))
		}
	})
	bands := map[int][]gap{}
	for k, radii := range crossings {
		slices.Sort(radii)
		for i := 1; i < len(radii); i += 2 {
			bands[k] = append(bands[k], gap{radii[i-1], radii[i]})
		}
	}
	return bands
}

func eachEdge(loops [][]model.Point, f func(a, b model.Point)) {
	for _, loop := range loops {
		for i := range loop {
			f(loop[i], loop[(i+1)%len(loop)])
		}
	}
}

// What is turned on an axis so near the build's moves along it like the rest.
const (
	onAxisWithin = 0.5   // mm
	onAxisLean   = 0.001 // as a tangent
)
