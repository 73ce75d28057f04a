package limb_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"scalewright/craft/camera"
	"scalewright/craft/limb"
)

// above is a camera that looks nearly straight down from 500 mm at (150, 100).
func above(k1 float64) camera.Camera {
	cam := camera.Camera{
		F: 3000, Cx: 1999.5, Cy: 1499.5, K1: k1,
		R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
	}
	var d [camera.Params]float64
	d[5], d[6] = 0.06, -0.04
	cam = cam.Nudge(d)
	z := r3.Vec{X: cam.R[2][0], Y: cam.R[2][1], Z: cam.R[2][2]}
	cam.C = r3.Sub(r3.Vec{X: 150, Y: 100}, r3.Scale(-500/z.Z, z))
	return cam
}

func lying(heading, slope, k1 float64) limb.Pose {
	return limb.Pose{
		Camera: above(k1), Origin: r3.Vec{X: 150 - 80*math.Cos(heading), Y: 100 - 80*math.Sin(heading), Z: 30}, Stretch: 1.002,
		Along: r3.Vec{X: math.Cos(slope) * math.Cos(heading), Y: math.Cos(slope) * math.Sin(heading), Z: math.Sin(slope)},
	}
}

// Of a sphere the edge is known in closed form: the cone of tangents from the camera.
// Its axis points to the centre and the sine of its half angle is R over the distance.
func TestEdgeOfASphere(t *testing.T) {
	p := lying(0.3, 0.05, -0.02)
	const radius, middle = 25.0, 90.0
	centre := r3.Add(p.Origin, r3.Scale(middle/p.Stretch, p.Along))
	to := r3.Sub(centre, p.Camera.C)
	want := math.Asin(radius / p.Stretch / r3.Norm(to))
	for _, side := range []limb.Side{limb.Left, limb.Right} {
		for turn := -1.2; turn <= 1.2; turn += 0.3 { // of the normal towards the axis
			px, ok := p.Edge(middle+radius*math.Sin(turn), radius*math.Cos(turn), turn, side)
			if !ok {
				t.Fatalf("no edge at %v", turn)
			}
			got := math.Acos(r3.Dot(p.Camera.Ray(px), r3.Unit(to)))
			if math.Abs(got-want) > 1e-9 {
				t.Errorf("side %d, normal %.1f: the ray lies %.9f off the centre, want %.9f", side, turn, got, want)
			}
		}
	}
}

// Edge and Corner undo each other, and the two sides lie apart.
func TestCornerUndoesEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := lying(rapid.Float64Range(-3, 3).Draw(t, "heading"), rapid.Float64Range(-0.1, 0.1).Draw(t, "slope"), rapid.Float64Range(-0.05, 0.05).Draw(t, "k1"))
		s, r := rapid.Float64Range(0, 160).Draw(t, "station"), rapid.Float64Range(1, 30).Draw(t, "radius")
		psi := rapid.Float64Range(-1.2, 1.2).Draw(t, "psi")
		left, ok1 := p.Edge(s, r, psi, limb.Left)
		right, ok2 := p.Edge(s, r, psi, limb.Right)
		if !ok1 || !ok2 {
			t.Skip("no edge there")
		}
		if r2.Norm(r2.Sub(left, right)) < r {
			t.Fatalf("sides %v and %v", left, right)
		}
		for side, px := range map[limb.Side]r2.Vec{limb.Left: left, limb.Right: right} {
			gs, gr, ok := p.Corner(px, psi, side)
			if !ok || math.Abs(gs-s) > 1e-6 || math.Abs(gr-r) > 1e-6 {
				t.Fatalf("side %d: station %v and radius %v come back as %v and %v", side, s, r, gs, gr)
			}
		}
	})
}

// A place drawn on the surface by its definition is found by the ray of its pixel,
// wherever it faces the camera.
func TestSurface(t *testing.T) {
	cone := limb.Body{From: 0, To: 160, Most: 30, Radius: func(s float64) float64 { return 14 + 0.1*s }}
	rapid.Check(t, func(t *rapid.T) {
		p := lying(rapid.Float64Range(-3, 3).Draw(t, "heading"), rapid.Float64Range(-0.1, 0.1).Draw(t, "slope"), rapid.Float64Range(-0.05, 0.05).Draw(t, "k1"))
		s := rapid.Float64Range(5, 155).Draw(t, "station")
		want := limb.Place{Station: s, Radius: cone.Radius(s), Clock: rapid.Float64Range(-1.1, 1.1).Draw(t, "clock")}
		px, ok := p.Pixel(want)
		if !ok {
			t.Fatal("not before the camera")
		}
		got, ok := p.Surface(px, cone)
		if !ok || math.Abs(got.Station-want.Station) > 1e-6 || math.Abs(got.Radius-want.Radius) > 1e-6 || math.Abs(got.Clock-want.Clock) > 1e-7 {
			t.Fatalf("%+v comes back as %+v, %v", want, got, ok)
		}
	})
}

func TestNothingThere(t *testing.T) {
	cylinder := limb.Body{From: 0, To: 160, Most: 20, Radius: func(float64) float64 { return 20 }}
	var none limb.Pose
	if _, ok := none.Edge(1, 1, 0, limb.Left); ok {
		t.Error("the zero pose shows an edge")
	}
	if _, ok := none.Surface(r2.Vec{}, cylinder); ok {
		t.Error("the zero pose shows a surface")
	}
	p := lying(0, 0, 0)
	if _, ok := p.Surface(r2.Vec{X: -4000, Y: 0}, cylinder); ok {
		t.Error("a ray far off arrives")
	}
	if _, ok := p.Surface(r2.Vec{X: 2000, Y: 1500}, limb.Body{}); ok {
		t.Error("a body without radius is met")
	}
	if _, _, ok := p.Corner(r2.Vec{X: 2000, Y: 1500}, math.Pi/2, limb.Left); ok {
		t.Error("a face has an edge")
	}
	tip, ok := p.Edge(160, 0, 0, limb.Left)
	other, _ := p.Edge(160, 0, 0, limb.Right)
	if !ok || r2.Norm(r2.Sub(tip, other)) > 1e-9 {
		t.Errorf("a tip is seen at %v and at %v", tip, other)
	}
}

func ExamplePose_Corner() {
	p := limb.Pose{
		Camera: camera.Camera{F: 3000, Cx: 2000, Cy: 1500, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, C: r3.Vec{Z: 500}},
		Origin: r3.Vec{X: -50, Z: 20}, Along: r3.Vec{X: 1}, Stretch: 1,
	}
	px, _ := p.Edge(40, 20, 0, limb.Left)
	s, r, _ := p.Corner(r2.Vec{X: px.X + 3, Y: px.Y}, 0, limb.Left)
	fmt.Printf("three pixels along: station %.2f, radius %.2f\n", s, r)
	// Output: three pixels along: station 40.48, radius 20.00
}
