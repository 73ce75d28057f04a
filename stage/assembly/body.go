package assembly

import (
	"math"
	"slices"

	"scalewright/model"
	"scalewright/solid"
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

// onAxis brings the loops of a piece to the build's axis; false where the piece
// is not turned on it.
func onAxis(part model.Part, shape Shape) ([][]model.Point, bool) {
	if part.OnBody() {
		return shape.Loops, len(shape.Loops) > 0
	}
	if part.Form == model.Flat && part.Plate.Lie == model.Across {
		return disc(part, shape)
	}
	frame := part.Frame()
	at := frame.Apply(solid.Vec{})
	along := frame.Turn(solid.Vec{0, 0, 1})
	if len(shape.Loops) == 0 || math.Hypot(at[0], at[1]) > onAxisWithin || math.Hypot(along[0], along[1]) > onAxisLean {
		return nil, false
	}
	var out [][]model.Point
	for _, loop := range shape.Loops {
		moved := slices.Clone(loop)
		for i := range moved {
			moved[i].Station = at[2] + along[2]*moved[i].Station
		}
		out = append(out, moved)
	}
	return out, true
}

// What is turned on an axis so near the build's moves along it like the rest.
const (
	onAxisWithin = 0.5   // mm
	onAxisLean   = 0.001 // as a tangent
)

// disc is what a plate across the axis takes at every clocking: out to the
// nearest place of its edge, in to the nearest place of a hole round the axis. A
// plate that the axis doesn't pierce is no disc.
func disc(part model.Part, shape Shape) ([][]model.Point, bool) {
	frame := part.Frame()
	edge := func(o model.Outline) (nearest float64, round bool) {
		var corners [][2]float64
		for _, p := range o.Polyline(0.1) {
			q := frame.Apply(solid.Vec{p.Station, p.Radius, 0})
			corners = append(corners, [2]float64{q[0], q[1]})
		}
		return around(corners)
	}
	out, round := edge(part.Plate.Outer)
	if !round || math.Abs(frame.Turn(solid.Vec{0, 0, 1})[2]) < 1-onAxisLean {
		return nil, false
	}
	in := 0.0
	for _, hole := range part.Plate.Holes {
		if r, round := edge(hole); round {
			in = r
		}
	}
	if in >= out {
		return nil, false
	}
	return tube(float64(shape.Span.From), float64(shape.Span.To), in, out), true
}

// around is how near a closed polygon comes to the origin, and whether it goes
// round it.
func around(corners [][2]float64) (nearest float64, round bool) {
	nearest = math.Inf(1)
	turns := 0.0
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		dx, dy := b[0]-a[0], b[1]-a[1]
		t := 0.0
		if n := dx*dx + dy*dy; n > 0 {
			t = min(1, max(0, -(a[0]*dx+a[1]*dy)/n))
		}
		nearest = min(nearest, math.Hypot(a[0]+t*dx, a[1]+t*dy))
		turns += math.Atan2(a[0]*b[1]-a[1]*b[0], a[0]*b[0]+a[1]*b[1])
	}
	return nearest, math.Abs(turns) > math.Pi
}

// passes reports whether x may come to its place past y from the nose, both
// turned on the axis: at every radius y ends before x begins.
func passes(x, y *thing) bool {
	blocked := 0.0
	for i, j := 0, 0; i < len(x.rows) && j < len(y.rows); {
		a, b := x.rows[i], y.rows[j]
		in, out := max(a.in, b.in), min(a.out, b.out)
		if in < out {
			d0 := at(b.high0, b.high1, b, in) - at(a.low0, a.low1, a, in)
			d1 := at(b.high0, b.high1, b, out) - at(a.low0, a.low1, a, out)
			blocked += (out - in) * above(d0-meets, d1-meets)
		}
		if a.out < b.out {
			i++
		} else {
			j++
		}
	}
	return blocked <= rubs
}

func at(v0, v1 float64, r row, radius float64) float64 {
	return v0 + (radius-r.in)/(r.out-r.in)*(v1-v0)
}

// above is the share of a stretch on which a straight line is positive.
func above(d0, d1 float64) float64 {
	switch {
	case d0 <= 0 && d1 <= 0:
		return 0
	case d0 > 0 && d1 > 0:
		return 1
	case d0 > 0:
		return d0 / (d0 - d1)
	}
	return d1 / (d1 - d0)
}
