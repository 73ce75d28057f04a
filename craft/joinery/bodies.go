package joinery

import (
	"math"

	"scalewright/solid"
)

// Leaf is a flat body in the plane that holds the axis at a clocking: from one
// radius to another, from one station to another, half its thickness to either
// side.
func Leaf(clocking, thick, z0, z1, r0, r1 float64) (solid.Mesh, error) {
	box, err := solid.Box(solid.Vec{r0, -thick / 2, z0}, solid.Vec{r1, thick / 2, z1})
	if err != nil {
		return box, err
	}
	return box.Transform(turn(clocking)), nil
}

// Slot is a leaf with a roof at 45° over its upper end, or under its lower one, so
// that it prints without support whichever end is down.
func Slot(clocking, thick, z0, z1, r0, r1 float64, roofAbove bool) (solid.Mesh, error) {
	h := thick / 2
	loop := []solid.Point{{-h, z0}, {h, z0}, {h, z1}, {0, z1 + h}, {-h, z1}}
	if !roofAbove {
		loop = []solid.Point{{-h, z0}, {0, z0 - h}, {h, z0}, {h, z1}, {-h, z1}}
	}
	prism, err := solid.Prism(solid.Region{Outer: loop}, r0, r1)
	if err != nil {
		return prism, err
	}
	// Across, up, out become out, across, up.
	stand := solid.Transform{M: [3][3]float64{{0, 0, 1}, {1, 0, 0}, {0, 1, 0}}}
	return prism.Transform(stand).Transform(turn(clocking)), nil
}

// Wedge is the stretch of a ring between two clockings, its sides radial: about a
// middle, so far to either side, from one radius to another. Its curved sides lie
// outside the outer circle and inside the inner one, so that it cuts a wall whole.
func Wedge(middle, half, z0, z1, r0, r1 float64) (solid.Mesh, error) {
	n := max(2, int(math.Ceil(2*half/wedgeStep)))
	bulge := 1 / math.Cos(half/float64(n)) // flats of the outer arc touch its circle
	var ring []solid.Point
	at := func(r float64, i int) solid.Point {
		sin, cos := math.Sincos(middle - half + 2*half*float64(i)/float64(n))
		return solid.Point{r * cos, r * sin}
	}
	for i := range n + 1 {
		ring = append(ring, at(r1*bulge, i))
	}
	for i := n; i >= 0; i-- {
		ring = append(ring, at(r0, i))
	}
	return solid.Prism(solid.Region{Outer: ring}, z0, z1)
}

// Flats of a wedge's arcs take no more than this, rad.
const wedgeStep = 3 * math.Pi / 180

// Drill is a round body along the radius at a clocking and a station, from one
// radius to another; its flats lie outside the circle, so that what is round goes
// through.
func Drill(clocking, station, across, r0, r1 float64) (solid.Mesh, error) {
	radius := across / 2 * solid.FacetScale(drillFlats)
	rod, err := solid.Tube(solid.TubeSize{Outer: radius, Low: r0, High: r1, Segments: drillFlats})
	if err != nil {
		return rod, err
	}
	lie := solid.QuarterTurns(1, 1) // +Z becomes +X
	lie.T = solid.Vec{0, 0, station}
	return rod.Transform(lie).Transform(turn(clocking)), nil
}

// Rod is a round body along a line, from one place on it to another; its flats lie
// outside the circle.
func Rod(at, along solid.Vec, across, from, to float64) (solid.Mesh, error) {
	rod, err := solid.Tube(solid.TubeSize{Outer: across / 2 * solid.FacetScale(drillFlats), Low: from, High: to, Segments: drillFlats})
	if err != nil {
		return rod, err
	}
	return rod.Transform(onLine(at, along)), nil
}

// Sink is what a countersunk head takes along a line: a cone of 90° that is so wide
// at a place on it and sharp before, and a way in of that width to another place.
func Sink(at, along solid.Vec, across, face, to float64) (solid.Mesh, error) {
	r := across / 2 * solid.FacetScale(drillFlats)
	cone, err := solid.Turn([]solid.PointRZ{{R: 0, Z: face - r}, {R: r, Z: face}, {R: r, Z: to}, {R: 0, Z: to}}, drillFlats)
	if err != nil {
		return cone, err
	}
	return cone.Transform(onLine(at, along)), nil
}

// onLine takes the z axis to a line.
func onLine(at, along solid.Vec) solid.Transform {
	z := along.Unit()
	x := solid.Vec{1, 0, 0}
	if math.Abs(z[0]) > math.Sqrt2/2 {
		x = solid.Vec{0, 1, 0}
	}
	x = x.Sub(z.Scale(x.Dot(z))).Unit()
	y := z.Cross(x)
	t := solid.Transform{T: at}
	for i := range 3 {
		t.M[i] = [3]float64{x[i], y[i], z[i]}
	}
	return t
}

// drillFlats keeps a hole of 20 mm within 0.02 mm of its circle.
const drillFlats = 96

func turn(clocking float64) solid.Transform { return solid.Rotation(solid.Vec{0, 0, 1}, clocking) }
