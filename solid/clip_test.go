package solid_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// What lies in a frame and what lies outside of it is the whole: the lengths in
// the tiles of a grid add up.
func TestClipTiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := solidtest.From
		v.Section = solid.Plane{Normal: solid.Vec{0, -1, 0}, Offset: rapid.Float64Range(-20, 20).Draw(t, "offset")}
		p, err := kernel.Project(context.Background(), []solid.Placed{at("a", torus(40, 12, 12, 24))}, v)
		if err != nil {
			t.Fatal(err)
		}
		low, high, _ := p.Bounds()
		x := rapid.Float64Range(low[0], high[0]).Draw(t, "x")
		y := rapid.Float64Range(low[1], high[1]).Draw(t, "y")
		area := func(p solid.Projection) (a float64) {
			for _, c := range p.Cuts {
				for _, r := range c.Regions {
					a += r.Area()
				}
			}
			return a
		}
		var visible, hidden, cut float64
		for _, f := range [][2]solid.Point{
			{{low[0] - 1, low[1] - 1}, {x, y}},
			{{x, low[1] - 1}, {high[0] + 1, y}},
			{{low[0] - 1, y}, {x, high[1] + 1}},
			{{x, y}, {high[0] + 1, high[1] + 1}},
		} {
			tile := p.ClipRectangle(f[0], f[1])
			a, b := tile.Length()
			visible, hidden, cut = visible+a, hidden+b, cut+area(tile)
			for _, l := range tile.Lines {
				if len(l.Points) != len(l.Depths) || len(l.Points) < 2 {
					t.Fatalf("line %v", l)
				}
				for _, q := range l.Points {
					if over := max(f[0][0]-q[0], q[0]-f[1][0], f[0][1]-q[1], q[1]-f[1][1]); over > 1e-9 {
						t.Fatalf("%v is outside of %v", q, f)
					}
				}
			}
		}
		v1, h1 := p.Length()
		if math.Abs(visible-v1)+math.Abs(hidden-h1) > 1e-9*(v1+h1) || math.Abs(cut-area(p)) > 1e-9*(1+area(p)) {
			t.Fatalf("tiles have %g, %g and %g, the whole %g, %g and %g", visible, hidden, cut, v1, h1, area(p))
		}
	})
}

// A chord at a distance h from the middle of a circle is 2·√(r² − h²) long.
func TestClipCircle(t *testing.T) {
	p := project(t, solid.View{Eye: solid.Vec{0, 0, 1}}, at("a", box(-50, -30, 0, 50, 30, 5)))
	seen, _ := p.ClipCircle(solid.Point{0, 0}, 40).Length()
	if want := 2 * 2 * math.Sqrt(40*40-30*30); !near(seen, want, 1e-12) {
		t.Errorf("in the circle is %g, want %g", seen, want)
	}
	if lines := p.ClipCircle(solid.Point{0, 0}, 20).Lines; len(lines) != 0 {
		t.Errorf("in the middle is %v", lines)
	}
	if v1, h1 := p.ClipCircle(solid.Point{0, 0}, 200).Length(); v1 != 320 || h1 != 320 {
		t.Errorf("all around are %g and %g", v1, h1)
	}
	for _, r := range []float64{0, -1, math.NaN()} {
		if lines := p.ClipCircle(solid.Point{}, r).Lines; len(lines) != 0 {
			t.Errorf("in a circle of %g is %v", r, lines)
		}
	}
	v := solid.View{Eye: solid.Vec{0, 0, 1}, Section: solid.PlaneZ(2)}
	p = project(t, v, at("a", box(-50, -50, 0, 50, 50, 5)))
	cut := p.ClipCircle(solid.Point{0, 0}, 20)
	if len(cut.Cuts) != 1 || !near(cut.Cuts[0].Regions[0].Area(), 400*math.Pi, 1e-3) {
		t.Errorf("the face in the circle is %v", cut.Cuts)
	}
}
