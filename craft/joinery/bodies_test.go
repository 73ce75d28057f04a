package joinery_test

import (
	"context"
	"math"
	"testing"

	"scalewright/craft/joinery"
	"scalewright/solid"
)

func sound(t *testing.T, m solid.Mesh, err error) solid.Mesh {
	t.Helper()
	if err == nil {
		err = m.Solid()
	}
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestLeafLiesInItsPlane(t *testing.T) {
	m, err := joinery.Leaf(math.Pi/2, 4, 10, 30, 50, 80)
	m = sound(t, m, err)
	b := m.Bounds()
	want := solid.Bounds{Min: solid.Vec{-2, 50, 10}, Max: solid.Vec{2, 80, 30}}
	for k := range 3 {
		if math.Abs(b.Min[k]-want.Min[k]) > 1e-9 || math.Abs(b.Max[k]-want.Max[k]) > 1e-9 {
			t.Errorf("bounds %v, want %v", b, want)
		}
	}
}

// A slot is its leaf and a roof: a triangle as wide as the leaf, half as high.
func TestSlotHasARoof(t *testing.T) {
	for _, above := range []bool{true, false} {
		m, err := joinery.Slot(0.4, 6, 10, 40, 20, 30, above)
		m = sound(t, m, err)
		if want := 6*30*10.0 + 6*3/2*10.0; math.Abs(m.Volume()-want) > 1e-9*want {
			t.Errorf("volume %v, want %v", m.Volume(), want)
		}
		b := m.Bounds()
		if above && math.Abs(b.Max[2]-43) > 1e-9 || !above && math.Abs(b.Min[2]-7) > 1e-9 {
			t.Errorf("roof above %v: from %v to %v", above, b.Min[2], b.Max[2])
		}
	}
}

// A wedge takes its share of a wall: angle over a turn, to what flats leave.
func TestWedgeTakesItsShare(t *testing.T) {
	wall, err := solid.Tube(solid.TubeSize{Outer: 100, Bore: 95, Low: 0, High: 200, Segments: 720})
	wall = sound(t, wall, err)
	wedge, err := joinery.Wedge(1, 0.3, 50, 150, 90, 105)
	wedge = sound(t, wedge, err)
	cut, err := solid.Kernel{}.Intersect(context.Background(), wall, wedge)
	cut = sound(t, cut, err)
	want := wall.Volume() * (0.6 / (2 * math.Pi)) * 100 / 200
	if math.Abs(cut.Volume()-want) > 1e-3*want {
		t.Errorf("%v mm³ of the wall, want %v", cut.Volume(), want)
	}
}

// A round hole along a radius through a tube's wall: the volume by quadrature of
// the chord lengths, V = ∫∫ (√(R² - y²) - √(r² - y²)) dA over the hole's circle,
// y square to both axes.
func TestDrillThroughAWall(t *testing.T) {
	const outer, bore, hole = 100.0, 90.0, 20.0
	wall, err := solid.Tube(solid.TubeSize{Outer: outer, Bore: bore, Low: 0, High: 200, Segments: 1440})
	wall = sound(t, wall, err)
	drill, err := joinery.Drill(0.7, 100, 2*hole, 50, 120)
	drill = sound(t, drill, err)
	cut, err := solid.Kernel{}.Intersect(context.Background(), wall, drill)
	cut = sound(t, cut, err)
	want, n := 0.0, 4000
	for i := range n {
		y := -hole + (float64(i)+0.5)*2*hole/float64(n)
		want += (math.Sqrt(outer*outer-y*y) - math.Sqrt(bore*bore-y*y)) * 2 * math.Sqrt(hole*hole-y*y) * 2 * hole / float64(n)
	}
	if math.Abs(cut.Volume()-want) > 2e-3*want {
		t.Errorf("the hole takes %v mm³, want %v", cut.Volume(), want)
	}
}

// A rod is its cylinder and a sink a cone and a cylinder, to what 96 flats leave,
// along any line.
func TestRodAndSinkAlongALine(t *testing.T) {
	at, along := solid.Vec{3, -4, 5}, solid.Vec{1, 2, -2}
	rod, err := joinery.Rod(at, along, 6, -2, 8)
	rod = sound(t, rod, err)
	if want := math.Pi * 9 * 10; math.Abs(rod.Volume()-want) > 2e-3*want || rod.Volume() < want*0.9999 {
		t.Errorf("a rod of %v mm³, want %v", rod.Volume(), want)
	}
	middle := at.Add(along.Unit().Scale(3))
	if c := rod.Centroid(); c.Sub(middle).Length() > 1e-9 {
		t.Errorf("its middle lies at %v, want %v", c, middle)
	}
	sink, err := joinery.Sink(at, along, 6, 5, 9)
	sink = sound(t, sink, err)
	if want := math.Pi*9*3/3 + math.Pi*9*4; math.Abs(sink.Volume()-want) > 3e-3*want {
		t.Errorf("a sink of %v mm³, want %v", sink.Volume(), want)
	}
}
