package solid_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func at(id string, m solid.Mesh) solid.Placed {
	return solid.Placed{ID: id, Mesh: m, At: solid.Identity()}
}

func project(t testing.TB, v solid.View, placed ...solid.Placed) solid.Projection {
	t.Helper()
	p, err := kernel.Project(context.Background(), placed, v)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Some 40 scenes against rays of the kernel's own tree; `go run
// ./bench/hiddenlines` does the same with 10,000 points each.
func TestProjectAgreesWithRays(t *testing.T) {
	scenes := solidtest.Scenes()
	if len(scenes) < 30 {
		t.Fatalf("%d scenes", len(scenes))
	}
	kept := 0
	for _, scene := range scenes {
		p := project(t, scene.View, scene.Solids...)
		a := solidtest.NewRays(scene, p).Check(1000, 30)
		kept += a.Kept
		if a.Share() < 0.995 {
			t.Errorf("%s: of %d points %d agree with rays", scene.Name, a.Kept, a.KeptAgree)
		}
		if a.Points != 1000 || a.Outlines < 50 {
			t.Errorf("%s: %d points, %d places of outlines", scene.Name, a.Points, a.Outlines)
		}
		if a.Uncovered > 0 {
			t.Errorf("%s: at %d of %d places where rays see something end there is no line", scene.Name, a.Uncovered, a.Outlines)
		}
	}
	if kept < 850*len(scenes) {
		t.Errorf("only %d points of %d scenes were not near a silhouette", kept, len(scenes))
	}
}

// Of the edges that count nothing is missing and nothing is there twice, and what
// is covered is what every triangle looked at for every edge covers.
func TestProjectAgreesWithEveryTriangle(t *testing.T) {
	compared := 0
	for _, scene := range solidtest.Scenes() {
		if scene.View.Section != (solid.Plane{}) {
			continue
		}
		p := project(t, scene.View, scene.Solids...)
		visible, hidden, crossing := 0.0, 0.0, false
		for _, l := range p.Lines {
			switch {
			case l.Kind == solid.Intersection:
				crossing = true
			case l.Hidden:
				hidden += l.Length()
			default:
				visible += l.Length()
			}
		}
		var meshes []solid.Mesh
		for _, s := range scene.Solids {
			meshes = append(meshes, s.Mesh.Transform(s.At))
		}
		edges := solidtest.SlowEdges(meshes, p.Frame, solid.DefaultCrease)
		whole := 0.0
		for _, e := range edges {
			whole += e.Length
		}
		if !near(visible+hidden, whole, 1e-9) {
			t.Errorf("%s: %g seen and %g hidden of %g", scene.Name, visible, hidden, whole)
		}
		// The slow way doesn't care for coincidences, nor has time for much.
		if all := solid.Join(meshes...); len(edges)*len(all.Triangles) < 3e6 && !crossing && !scene.Special {
			solidtest.SlowCover(edges, all, p.Frame)
			want := 0.0
			for _, e := range edges {
				want += e.Hidden()
			}
			if math.Abs(hidden-want) > 1e-5*whole {
				t.Errorf("%s: %g of %g hidden, by every triangle %g", scene.Name, hidden, whole, want)
			}
			compared++
		}
	}
	if compared < 15 {
		t.Errorf("only %d scenes compared", compared)
	}
}

// count counts the edges of lines: those of one line that go on straight are one.
func count(lines []solid.Polyline) int {
	n := 0
	for _, l := range lines {
		n += len(l.Points) - 1
	}
	return n
}

// Closed forms. An isometric view shortens the axes by √(2/3): the eye's direction
// has 1/√3 along each, and what is left of a unit is √(1 − 1/3).
func TestProjectClosedForms(t *testing.T) {
	iso := math.Sqrt(2.0 / 3)
	cube := box(0, 0, 0, 10, 10, 10)
	p := project(t, solid.Isometric(), at("cube", cube))
	if v, h := count(p.Visible()), count(p.Hidden()); v != 9 || h != 3 {
		t.Errorf("a cube shows %d edges and hides %d, want 9 and 3", v, h)
	}
	if v, h := p.Length(); !near(v, 90*iso, 1e-12) || !near(h, 30*iso, 1e-12) {
		t.Errorf("a cube shows %g and hides %g, want %g and %g", v, h, 90*iso, 30*iso)
	}
	kinds := map[solid.EdgeKind]int{}
	for _, l := range p.Lines {
		kinds[l.Kind] += len(l.Points) - 1
	}
	if kinds[solid.Silhouette] != 6 || kinds[solid.Crease] != 6 {
		t.Errorf("a cube has %v", kinds)
	}

	tetrahedron := solid.Mesh{
		Vertices:  []solid.Vec{{1, 0, 0}, {-0.5, math.Sqrt(3) / 2, 0}, {-0.5, -math.Sqrt(3) / 2, 0}, {0, 0, math.Sqrt2}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}},
	}
	for eye, want := range map[solid.Vec][2]float64{
		{0, 0, 1}:  {3*math.Sqrt(3) + 3, 0}, // the rim, and its corners to the tip
		{0, 0, -1}: {3 * math.Sqrt(3), 3},
	} {
		v, h := project(t, solid.View{Eye: eye}, at("tetrahedron", tetrahedron)).Length()
		if !near(v, want[0], 1e-12) || math.Abs(h-want[1]) > 1e-12 {
			t.Errorf("a tetrahedron from %v shows %g and hides %g, want %v", eye, v, h, want)
		}
	}

	// The outline of a ball is a great circle; a chord of the angle φ is shorter than
	// its arc by φ²/24 of it, and the polygon's corners stay within the ball.
	for _, n := range []int{16, 64, 158} {
		p := project(t, solidtest.From, at("ball", must(solid.Sphere(solid.Vec{}, 50, n))))
		v, h := p.Length()
		if round, phi := 100*math.Pi, math.Pi/2/float64(n); v > round || v < round*(1-phi*phi) || h != 0 {
			t.Errorf("a ball of %d shows %.9g and hides %g, want %.9g within %.1e", n, v, h, round, phi*phi)
		}
		if len(p.Lines) != 1 || p.Lines[0].Points[0] != p.Lines[0].Points[len(p.Lines[0].Points)-1] {
			t.Errorf("a ball of %d has %d lines", n, len(p.Lines))
		}
	}

	// Of the rear one of two squares what the front one covers is hidden.
	front, rear := box(0, 0, 0, 40, 10, 40), box(20, 30, 20, 70, 40, 60)
	p = project(t, solid.View{Eye: solid.Vec{0, -1, 0}}, at("front", front), at("rear", rear))
	seen := map[string]float64{}
	for _, l := range p.Visible() {
		seen[l.Solid] += l.Length()
	}
	if !near(seen["front"], 160, 1e-12) || !near(seen["rear"], 2*(50+40)-20-20, 1e-12) {
		t.Errorf("of two boxes is seen %v", seen)
	}
}

// Where a ball of radius R passes through planes at a distance h from its middle
// the circles have the radius √(R² − h²).
func TestProjectIntersection(t *testing.T) {
	ball := must(solid.Sphere(solid.Vec{}, 50, 96))
	p := project(t, solid.View{Eye: solid.Vec{0, 0, 1}}, at("ball", ball), at("plate", box(-80, -80, -30, 80, 80, 30)))
	want := 2 * math.Pi * 40
	for _, hidden := range []bool{false, true} {
		length := 0.0
		for _, l := range p.Lines {
			if l.Kind == solid.Intersection && l.Hidden == hidden {
				length += l.Length()
				if l.Solid != "ball" || l.Other != "plate" {
					t.Errorf("between %q and %q", l.Solid, l.Other)
				}
			}
		}
		if math.Abs(length-want) > 2e-3*want {
			t.Errorf("hidden %t: %g of intersections, want %g", hidden, length, want)
		}
	}
	// Equal faces in one plane have no line between them.
	p = project(t, solidtest.From, at("a", box(0, 0, 0, 10, 10, 10)), at("b", box(0, 0, 0, 10, 10, 10)))
	for _, l := range p.Lines {
		if l.Kind == solid.Intersection {
			t.Errorf("two equal boxes: %v", l)
		}
	}
}

// A ring cut through its axis shows two circles to hatch.
func TestProjectSection(t *testing.T) {
	v := solid.View{Eye: solid.Vec{0, -1, 0}, Section: solid.Plane{Normal: solid.Vec{0, 2, 0}}}
	p := project(t, v, at("ring", torus(40, 10, 96, 96)))
	if len(p.Cuts) != 1 || len(p.Cuts[0].Regions) != 2 || p.Cuts[0].Solid != "ring" {
		t.Fatalf("cuts %v", p.Cuts)
	}
	length := 0.0
	for _, l := range p.Lines {
		if l.Kind == solid.SectionEdge {
			length += l.Length()
			if l.Hidden {
				t.Errorf("the cut is hidden: %v", l)
			}
		}
	}
	area := 0.0
	for _, r := range p.Cuts[0].Regions {
		if r.Check() != nil {
			t.Errorf("region %v: %v", r, r.Check())
		}
		area += r.Area()
	}
	if want := 200 * math.Pi; !near(area, want, 2e-3) {
		t.Errorf("cut area %g, want %g", area, want)
	}
	if want := 40 * math.Pi; !near(length, want, 2e-3) {
		t.Errorf("rim of the cut %g, want %g", length, want)
	}
	// From the other side the same, mirrored.
	back := v
	back.Eye = solid.Vec{0, 1, 0}
	if q := project(t, back, at("ring", torus(40, 10, 96, 96))); len(q.Cuts) != 1 || !near(q.Cuts[0].Regions[0].Area(), area/2, 1e-9) {
		t.Errorf("from the other side %v", q.Cuts)
	}
}

// What is seen doesn't change where everything moves along the view, and little
// where view and solids turn together.
func TestProjectLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := someSolid(t), someSolid(t)
		coord := rapid.Float64Range(-1, 1)
		eye := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z") + 1.001}
		v := solid.View{Eye: eye, Up: solid.Vec{0, 1, 0}}
		// Nowhere does an edge of one lie in a face of the other: whether it counts as a
		// crossing besides hangs on the last digit.
		aside := solid.Translation(solid.Vec{20.31, 10.73, 30.17})
		placed := []solid.Placed{at("a", a), {ID: "b", Mesh: b, At: aside}}
		p, err := kernel.Project(context.Background(), placed, v)
		if err != nil {
			t.Fatal(err)
		}
		v1, h1 := p.Length()
		move := func(by solid.Transform, v solid.View) (float64, float64) {
			moved := make([]solid.Placed, len(placed))
			for i, s := range placed {
				moved[i] = solid.Placed{ID: s.ID, Mesh: s.Mesh, At: s.At.Then(by)}
			}
			q, err := kernel.Project(context.Background(), moved, v)
			if err != nil {
				t.Fatal(err)
			}
			return q.Length()
		}
		if v2, h2 := move(solid.Translation(eye.Scale(100)), v); math.Abs(v2-v1)+math.Abs(h2-h1) > 1e-4*(v1+h1) {
			t.Fatalf("%g and %g, moved along the view %g and %g", v1, h1, v2, h2)
		}
		turn := solid.Rotation(solid.Vec{1, 2, -1}, 1)
		if v2, h2 := move(turn, solid.View{Eye: turn.Turn(eye), Up: turn.Turn(v.Up)}); math.Abs(v2-v1)+math.Abs(h2-h1) > 1e-4*(v1+h1) {
			t.Fatalf("%g and %g, turned with the view %g and %g", v1, h1, v2, h2)
		}
	})
}

func TestProjectRefuses(t *testing.T) {
	cube, bad := box(0, 0, 0, 1, 1, 1), solid.Mesh{Vertices: []solid.Vec{{}, {1, 0, 0}, {0, 1, 0}}, Triangles: [][3]int32{{0, 1, 3}}}
	wall := solid.View{Eye: solid.Vec{1, 0, 0}}
	wall.Section = solid.Plane{Normal: solid.Vec{0, 1, 0}}
	for name, c := range map[string]struct {
		v solid.View
		s solid.Placed
	}{
		"no direction":          {solid.View{}, at("a", cube)},
		"direction not finite":  {solid.View{Eye: solid.Vec{math.NaN(), 0, 1}}, at("a", cube)},
		"up not finite":         {solid.View{Eye: solid.Vec{0, 0, 1}, Up: solid.Vec{0, math.Inf(1), 0}}, at("a", cube)},
		"crease angle negative": {solid.View{Eye: solid.Vec{0, 0, 1}, Crease: -1}, at("a", cube)},
		"section edge-on":       {wall, at("a", cube)},
		"no placement":          {solid.Isometric(), solid.Placed{ID: "a", Mesh: cube}},
		"index out of range":    {solid.Isometric(), at("a", bad)},
		"placed out of range":   {solid.Isometric(), solid.Placed{ID: "a", Mesh: cube, At: solid.Translation(solid.Vec{1e60, 0, 0})}},
	} {
		_, err := kernel.Project(context.Background(), []solid.Placed{c.s}, c.v)
		var value *solid.ValueError
		var mesh *solid.NotSolidError
		if !errors.As(err, &value) && !errors.As(err, &mesh) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	if p := project(t, solid.Isometric(), at("nothing", solid.Mesh{})); len(p.Lines) != 0 {
		t.Errorf("of nothing %v is seen", p.Lines)
	}
	if p := project(t, solid.Isometric()); len(p.Lines) != 0 {
		t.Errorf("of no solid %v is seen", p.Lines)
	}
}

// An open mesh shows its rim, and its inside through it.
func TestProjectOpen(t *testing.T) {
	m := box(0, 0, 0, 10, 10, 10)
	var open solid.Mesh
	open.Vertices = m.Vertices
	for _, f := range m.Triangles {
		if !(m.Vertices[f[0]][2] == 10 && m.Vertices[f[1]][2] == 10 && m.Vertices[f[2]][2] == 10) {
			open.Triangles = append(open.Triangles, f)
		}
	}
	p := project(t, solid.View{Eye: solid.Vec{0, -1, 1}}, at("open", open))
	rim := 0.0
	for _, l := range p.Lines {
		if l.Kind == solid.Boundary {
			rim += l.Length()
		}
	}
	if want := 20 + 20*math.Sqrt2/2; !near(rim, want, 1e-12) {
		t.Errorf("rim %g, want %g", rim, want)
	}
}

func TestProjectSameBits(t *testing.T) {
	sum := func(workers int) [32]byte {
		h := sha256.New()
		k := solid.Kernel{Workers: workers}
		for _, scene := range solidtest.Scenes() {
			p, err := k.Project(context.Background(), scene.Solids, scene.View)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(h, "%#v", p)
		}
		return [32]byte(h.Sum(nil))
	}
	if want := sum(1); sum(8) != want || sum(3) != want {
		t.Error("with other numbers of workers the bits differ")
	}
}

func TestProjectStops(t *testing.T) {
	ball := solidtest.Sphere(48, 50, solid.Vec{})
	placed := []solid.Placed{at("a", ball), {ID: "b", Mesh: ball, At: solid.Translation(solid.Vec{30, 0, 0})}}
	stopEverywhere(t, 5, func(ctx context.Context, k solid.Kernel) error {
		_, err := k.Project(ctx, placed, solidtest.From)
		return err
	})
}
