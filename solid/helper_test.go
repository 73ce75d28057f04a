package solid_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}

// near reports whether got is want within a relative error.
func near(got, want, rel float64) bool {
	return math.Abs(got-want) <= rel*math.Max(math.Abs(got), math.Abs(want))
}

func wantSolid(t testing.TB, what string, m solid.Mesh) {
	t.Helper()
	if faults := m.Check(); len(faults) > 0 {
		t.Fatalf("%s: %d faults, first: %v", what, len(faults), faults[0])
	}
}

func tube(outer, bore, h float64, n int) solid.Mesh {
	return must(solid.Turn([]solid.PointRZ{{R: bore, Z: 0}, {R: outer, Z: 0}, {R: outer, Z: h}, {R: bore, Z: h}}, n))
}

func box(x0, y0, z0, x1, y1, z1 float64) solid.Mesh {
	return must(solid.Box(solid.Vec{x0, y0, z0}, solid.Vec{x1, y1, z1}))
}

// torus returns a torus whose profile has n corners on its circle.
func torus(major, minor float64, n, segments int) solid.Mesh {
	var profile []solid.PointRZ
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		profile = append(profile, solid.PointRZ{R: major + minor*cos, Z: minor * sin})
	}
	return must(solid.Turn(profile, segments))
}

// frameSolid is a square plate with a square hole, a block standing on it, and a
// groove: coplanar faces at 0, 5 and 10, edges at 7.
func frameSolid() solid.Mesh {
	return must(solid.Prism(solid.Region{
		Outer: []solid.Point{{0, 0}, {20, 0}, {20, 10}, {14, 10}, {12, 7}, {10, 10}, {8, 5}, {4, 5}, {4, 10}, {0, 10}},
		Holes: [][]solid.Point{{{2, 1}, {2, 3}, {17, 3}, {17, 1}}},
	}, 0, 6))
}

// someSolid draws one of several kinds of solid.
func someSolid(t *rapid.T) solid.Mesh {
	segments := rapid.IntRange(3, 24).Draw(t, "segments")
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		return torus(50, 10, rapid.IntRange(3, 12).Draw(t, "corners"), segments)
	case 1:
		return tube(30, 20, 40, segments)
	case 2:
		return frameSolid()
	case 3:
		return must(solid.TurnLoops([][]solid.PointRZ{
			{{R: 0, Z: 0}, {R: 30, Z: 0}, {R: 20, Z: 60}, {R: 0, Z: 60}},
			{{R: 5, Z: 10}, {R: 5, Z: 40}, {R: 15, Z: 40}, {R: 15, Z: 10}},
		}, segments))
	default:
		return must(solid.Turn(someProfile(t), segments))
	}
}

// someProfile draws a star-shaped profile, simple by construction.
func someProfile(t *rapid.T) []solid.PointRZ {
	n := rapid.IntRange(3, 20).Draw(t, "points")
	var out []solid.PointRZ
	for k := range n {
		r := rapid.Float64Range(5, 40).Draw(t, "r")
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		out = append(out, solid.PointRZ{R: 60 + r*cos, Z: r * sin})
	}
	return out
}

// somePlane draws a plane: anywhere, through vertices, or along a face.
func somePlane(t *rapid.T, m solid.Mesh) solid.Plane {
	vertex := func(label string) solid.Vec {
		return m.Vertices[rapid.IntRange(0, len(m.Vertices)-1).Draw(t, label)]
	}
	coord := rapid.Float64Range(-1, 1)
	switch rapid.IntRange(0, 4).Draw(t, "plane") {
	case 0: // through one vertex, along an axis
		var n solid.Vec
		k := rapid.IntRange(0, 2).Draw(t, "axis")
		n[k] = rapid.SampledFrom([]float64{1, -1, 3}).Draw(t, "length")
		return solid.Plane{Normal: n, Offset: n[k] * vertex("v")[k]}
	case 1: // through three vertices
		a, b, c := vertex("a"), vertex("b"), vertex("c")
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		if n == (solid.Vec{}) {
			n = solid.Vec{0, 0, 1}
		}
		return solid.Plane{Normal: n, Offset: n.Dot(a)}
	case 2: // along a face
		f := m.Triangles[rapid.IntRange(0, len(m.Triangles)-1).Draw(t, "face")]
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		if n == (solid.Vec{}) {
			n = solid.Vec{1, 0, 0} // a face that fell flat in a chain of cuts
		}
		if rapid.Bool().Draw(t, "flip") {
			n = n.Scale(-1)
		}
		return solid.Plane{Normal: n, Offset: n.Dot(a)}
	case 3: // through one vertex, any direction
		n := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), 1}
		return solid.Plane{Normal: n, Offset: n.Dot(vertex("v"))}
	default:
		n := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}
		if n.Length() < 1e-3 {
			n = solid.Vec{1, 0, 0}
		}
		mid := m.Centroid()
		return solid.Plane{Normal: n, Offset: n.Dot(mid) + 30*coord.Draw(t, "offset")*n.Length()}
	}
}

// stopEverywhere ends work at every step it tells of, in turn, and wants to hear
// the context's error each time.
func stopEverywhere(t *testing.T, least int, work func(ctx context.Context, k solid.Kernel) error) {
	t.Helper()
	steps := map[string]bool{}
	for {
		ctx, cancel := context.WithCancel(context.Background())
		stopped := ""
		err := work(ctx, solid.Kernel{Workers: 1, Progress: func(step string, _ float64) {
			if !steps[step] && stopped == "" {
				stopped = step
				cancel()
			}
		}})
		cancel()
		if stopped == "" {
			break
		}
		steps[stopped] = true
		if !errors.Is(err, context.Canceled) {
			t.Errorf("stopped in %q: %v", stopped, err)
		}
	}
	if len(steps) < least {
		t.Errorf("only these steps were told: %v", steps)
	}
}
