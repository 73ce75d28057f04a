package solid_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func thickness(t testing.TB, m solid.Mesh) solid.Thickness {
	t.Helper()
	th, err := solid.Kernel{}.Thickness(t.Context(), m, solid.ThicknessOptions{Balls: true})
	if err != nil {
		t.Fatal(err)
	}
	return th
}

// The walls of a plate are known for each face: the ray is an edge of the box;
// the ball is the plate's height on the large faces, and on the sides twice the
// distance from the centroid to the nearest face, a third of the edge.
func TestThicknessOfPlate(t *testing.T) {
	th := thickness(t, box(0, 0, 0, 90, 60, 3))
	ray := slices.Sorted(slices.Values(th.Ray.Of))
	if want := []float64{3, 3, 3, 3, 60, 60, 60, 60, 90, 90, 90, 90}; !slices.Equal(ray, want) {
		t.Errorf("rays %v, want %v", ray, want)
	}
	ball := slices.Sorted(slices.Values(th.Ball.Of))
	for i, want := range []float64{2, 2, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3} {
		if !near(ball[i], want, 1e-11) {
			t.Errorf("balls %v, want eight of 2 and four of 3", ball)
			break
		}
	}
	if th.Ray.Min != 3 || th.Ray.P50 != 60 || th.Ray.P99 != 90 || th.Ray.Measured != 12 || th.Ray.Of[th.Ray.At] != 3 {
		t.Errorf("figures %+v", th.Ray)
	}
}

// In a tube of n flats the ray from a flat outside meets the bore's flat at the
// distance of the two planes, (R − r)·cos(π/n), and so does the largest ball,
// away from the ends. In the bore's corners and on the ends it is the ball's own
// affair.
func TestThicknessOfTube(t *testing.T) {
	const n, outer, bore, height = 64, 60.0, 57.0, 200.0
	m := tube(outer, bore, height, n)
	th := thickness(t, m)
	wall := (outer - bore) * math.Cos(math.Pi/n)
	seen := 0
	for i, f := range m.Triangles {
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		normal := b.Sub(a).Cross(c.Sub(a)).Unit()
		if math.Abs(normal[2]) > 0.5 {
			continue
		}
		foot := a.Add(b).Add(c).Scale(1.0 / 3)
		if normal[0]*foot[0]+normal[1]*foot[1] < 0 {
			continue // the bore's side
		}
		seen++
		if !near(th.Ray.Of[i], wall, 1e-12) || !near(th.Ball.Of[i], wall, 1e-12) {
			t.Fatalf("triangle %d: ray %.15g, ball %.15g, want %.15g", i, th.Ray.Of[i], th.Ball.Of[i], wall)
		}
	}
	if seen != 2*n {
		t.Errorf("%d triangles outside, want %d", seen, 2*n)
	}
}

// Across a ball the ray is a chord through nearly the centre: 2R but for the
// depth of the flats. No ball inside is wider.
func TestThicknessOfBall(t *testing.T) {
	const radius, lattice = 50.0, 8
	th := thickness(t, solidtest.Sphere(lattice, radius, solid.Vec{3, 2, 1}))
	sagitta := radius * math.Pow(math.Pi/2/lattice, 2) * 1.5
	for i, ray := range th.Ray.Of {
		if math.Abs(ray-2*radius) > 2*sagitta || th.Ball.Of[i] > ray {
			t.Fatalf("triangle %d: ray %g, ball %g, want %g and no more", i, ray, th.Ball.Of[i], 2*radius)
		}
	}
}

// The ball holds nothing of the surface, and one a little wider does: the
// definition, looked at triangle by triangle.
func TestThicknessBallTouches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		th, err := solid.Kernel{Workers: 1}.Thickness(context.Background(), m, solid.ThicknessOptions{Balls: true})
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(m.Triangles)-1).Draw(t, "triangle")
		f := m.Triangles[i]
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		foot, normal := a.Add(b).Add(c).Scale(1.0/3), b.Sub(a).Cross(c.Sub(a)).Unit()
		room := func(radius float64) float64 {
			centre := foot.Sub(normal.Scale(radius))
			least := math.Inf(1)
			for j, g := range m.Triangles {
				if j != i {
					least = min(least, slowNearest(centre, m.Vertices[g[0]], m.Vertices[g[1]], m.Vertices[g[2]]))
				}
			}
			return least - radius
		}
		size := m.Bounds().Size().Length()
		radius := th.Ball.Of[i] / 2
		if r := room(radius); r < -1e-10*size {
			t.Fatalf("triangle %d: the ball of radius %g is entered by %g", i, radius, -r)
		}
		if r := room(radius * 1.001); r > 1e-10*size {
			t.Fatalf("triangle %d: a ball wider than %g has %g to spare", i, radius, r)
		}
	})
}

func TestThicknessNastyCases(t *testing.T) {
	if th := thickness(t, solid.Mesh{}); th.Ray.At != -1 || th.Ray.Measured != 0 || len(th.Ray.Of) != 0 {
		t.Errorf("empty: %+v", th)
	}
	flat := solid.Join(box(0, 0, 0, 1, 1, 1), flatMesh())
	th := thickness(t, flat)
	if th.Ray.Measured != 12 || th.Ray.Min != 1 || !math.IsInf(th.Ray.Of[12], 1) || !math.IsInf(th.Ball.Of[15], 1) {
		t.Errorf("degenerate triangles: %+v", th.Ray)
	}
	open := box(0, 0, 0, 1, 1, 1)
	open.Triangles = open.Triangles[2:]
	if th := thickness(t, open); th.Ray.Measured == 0 || th.Ray.Measured >= 10 {
		t.Errorf("open: %d of 10 measured", th.Ray.Measured)
	}
	away := solid.Vec{1e9, 1e9, 1e9}
	if th := thickness(t, box(0, 0, 0, 4, 4, 1).Translate(away)); th.Ray.Min != 1 {
		t.Errorf("far away: least %g, want 1", th.Ray.Min)
	}
	// Cubes that touch are two walls, not one.
	if th := thickness(t, solid.Join(solidtest.Cube(solid.Vec{}), solidtest.Cube(solid.Vec{1, 0, 0}))); th.Ray.P99 != 1 {
		t.Errorf("touching cubes: %+v, want 1 everywhere", th.Ray)
	}
	var notSolid *solid.NotSolidError
	bad := solid.Mesh{Vertices: []solid.Vec{{math.NaN(), 0, 0}}, Triangles: [][3]int32{{0, 0, 0}}}
	if _, err := (solid.Kernel{}).Thickness(t.Context(), bad, solid.ThicknessOptions{}); !errors.As(err, &notSolid) {
		t.Errorf("NaN: error %v", err)
	}
}

func TestThicknessAtAnyNumberOfWorkers(t *testing.T) {
	m := solid.Join(solidtest.Tube(64, 20), torus(500, 20, 24, 40))
	var want string
	for _, workers := range []int{1, 2, 8} {
		steps := map[string]float64{}
		k := solid.Kernel{Workers: workers, Progress: func(step string, done float64) { steps[step] = done }}
		th, err := k.Thickness(t.Context(), m, solid.ThicknessOptions{Balls: true})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprintf("%x", th)
		if want == "" {
			want = got
		}
		if got != want {
			t.Errorf("%d workers: other bits", workers)
		}
		if steps["tree"] != 1 || steps["thickness"] != 1 {
			t.Errorf("%d workers: progress ends at %v", workers, steps)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	k := solid.Kernel{Progress: func(string, float64) { cancel() }}
	if _, err := k.Thickness(ctx, m, solid.ThicknessOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: error %v", err)
	}
}

func ExampleKernel_Thickness() {
	plate, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{90, 60, 3})
	th, _ := solid.Kernel{}.Thickness(context.Background(), plate, solid.ThicknessOptions{})
	fmt.Println(th.Ray.Min, th.Ray.P50, th.Ray.P99)
	// Output: 3 60 90
}
