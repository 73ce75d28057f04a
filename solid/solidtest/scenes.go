package solidtest

import (
	"context"
	"math"
	"slices"
	"sync"

	"scalewright/solid"
)

// Scene is a view of placed solids that hidden lines are tried on, about 100 mm
// in size.
type Scene struct {
	Name   string
	Solids []solid.Placed
	View   solid.View
	// Special: edges lie behind one another on the paper.
	Special bool
}

// From is a view from no special place.
var From = solid.View{Eye: solid.Vec{3, -5, 2}}

// Scenes returns views of simple, turned, cut and carved solids, of several that
// are nested, touch or pass through each other, and from special places.
func Scenes() []Scene { return slices.Clone(allScenes()) }

var allScenes = sync.OnceValue(func() []Scene {
	s := scenes{}
	s.simple()
	s.turned()
	s.made()
	s.several()
	s.coinciding()
	return s.all
})

type scenes struct{ all []Scene }

func (s *scenes) add(name string, v solid.View, solids ...solid.Mesh) {
	scene := Scene{Name: name, View: v}
	for i, m := range solids {
		scene.Solids = append(scene.Solids, solid.Placed{ID: string(rune('a' + i)), Mesh: m, At: solid.Identity()})
	}
	s.all = append(s.all, scene)
}

// special is add for a view in which edges lie behind one another.
func (s *scenes) special(name string, v solid.View, solids ...solid.Mesh) {
	s.add(name, v, solids...)
	s.all[len(s.all)-1].Special = true
}

func must(m solid.Mesh, err error) solid.Mesh {
	if err != nil {
		panic(err) // the recipes are right, or a test says so
	}
	return m
}

func brick(x0, y0, z0, x1, y1, z1 float64) solid.Mesh {
	return must(solid.Box(solid.Vec{x0, y0, z0}, solid.Vec{x1, y1, z1}))
}

func ball(r float64, n int) solid.Mesh { return must(solid.Sphere(solid.Vec{}, r, n)) }

func pipe(outer, bore, high float64, n int) solid.Mesh {
	return must(solid.Turn([]solid.PointRZ{{R: bore, Z: 0}, {R: outer, Z: 0}, {R: outer, Z: high}, {R: bore, Z: high}}, n))
}

func ring(major, minor float64, n, segments int) solid.Mesh {
	var profile []solid.PointRZ
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		profile = append(profile, solid.PointRZ{R: major + minor*cos, Z: minor * sin})
	}
	return must(solid.Turn(profile, segments))
}

// aslant turns a solid so that nothing of it is along an axis.
func aslant(m solid.Mesh) solid.Mesh {
	return m.Transform(solid.Rotation(solid.Vec{1, 2, 3}, 0.7))
}

func (s *scenes) simple() {
	s.add("box, isometric", solid.Isometric(), brick(0, 0, 0, 60, 40, 30))
	s.special("box, from in front", solid.View{Eye: solid.Vec{0, -1, 0}}, brick(0, 0, 0, 60, 40, 30))
	tetrahedron := solid.Mesh{
		Vertices:  []solid.Vec{{40, 40, 40}, {40, -40, -40}, {-40, 40, -40}, {-40, -40, 40}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 1}, {1, 3, 2}},
	}
	s.add("tetrahedron", solid.View{Eye: solid.Vec{2, -7, 3}}, tetrahedron)
	s.special("tetrahedron, a face edge-on", From, tetrahedron)
	s.add("coarse ball", From, ball(50, 12))
	s.add("ball", From, ball(50, 48))
	s.add("fine ball", From, Sphere(64, 50, solid.Vec{}))
	s.add("stairs", From, must(solid.Prism(solid.Region{Outer: []solid.Point{
		{0, 0}, {60, 0}, {60, 15}, {45, 15}, {45, 30}, {30, 30}, {30, 45}, {15, 45}, {15, 60}, {0, 60},
	}}, 0, 50)))
	s.special("plate with a window", solid.Isometric(), must(solid.Prism(solid.Region{
		Outer: []solid.Point{{0, 0}, {100, 0}, {100, 60}, {0, 60}},
		Holes: [][]solid.Point{{{20, 10}, {20, 50}, {60, 50}, {60, 10}}, {{70, 20}, {70, 40}, {90, 40}, {90, 20}}},
	}, 0, 12)))
}

func (s *scenes) turned() {
	s.add("torus", From, ring(40, 12, 32, 64))
	s.add("torus, nearly from the side", solid.View{Eye: solid.Vec{1, -8, 1}}, ring(40, 12, 24, 48))
	s.add("cup", From, must(solid.Turn([]solid.PointRZ{
		{R: 0, Z: 0}, {R: 30, Z: 0}, {R: 40, Z: 70}, {R: 37, Z: 70}, {R: 27, Z: 4}, {R: 0, Z: 4},
	}, 72)))
	var vase []solid.PointRZ
	for k := range 41 {
		vase = append(vase, solid.PointRZ{R: 28 + 12*math.Sin(float64(k)*0.22), Z: 2.5 * float64(k)})
	}
	vase = append(vase, solid.PointRZ{R: 0, Z: 100}, solid.PointRZ{R: 0, Z: 0})
	s.add("vase", solid.View{Eye: solid.Vec{2, -3, 2.5}}, must(solid.Turn(vase, 96)))
	s.special("pipe, along it", solid.View{Eye: solid.Vec{0, 0, 1}}, pipe(50, 46, 80, 64))
	s.special("pipe, across", solid.View{Eye: solid.Vec{0, -1, 0}}, pipe(50, 46, 80, 64))
	s.add("cone", From, must(solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 40, Z: 0}, {R: 0, Z: 90}}, 60)))
}

func (s *scenes) made() {
	var k solid.Kernel
	ctx := context.Background()
	plate := brick(0, 0, 0, 100, 80, 8)
	var drills []solid.Mesh
	for i := range 4 {
		for j := range 3 {
			drills = append(drills, pipe(float64(4+i), 0, 20, 32).Translate(solid.Vec{14 + 24*float64(i), 16 + 24*float64(j), -6}))
		}
	}
	s.add("drilled plate", From, must(k.Subtract(ctx, plate, drills...)))
	b := ball(40, 40)
	cross := pipe(18, 0, 120, 40).Translate(solid.Vec{0, 0, -60})
	s.add("ball less rods", From, must(k.Subtract(ctx, b, cross, cross.Transform(solid.QuarterTurns(0, 1)))))
	s.add("ball and box in one", solid.Isometric(), must(k.Union(ctx, b, brick(0, -20, -20, 60, 20, 20))))
	s.add("what ball and box share", From, must(k.Intersect(ctx, b, brick(-30, -30, -30, 30, 30, 30))))
	s.add("tube with holes", From, must(k.Subtract(ctx, Tube(64, 20), Drills()[:40]...)).Transform(solid.Scaling(0.4)))
	hollow := must(k.Subtract(ctx, brick(0, 0, 0, 80, 80, 80), brick(10, 10, 10, 70, 70, 70)))
	s.add("hollow box", From, hollow)
	cut := From
	cut.Section = solid.Plane{Normal: solid.Vec{0, -1, 0}, Offset: -40}
	s.add("hollow box, cut open", cut, hollow)
	cut.Section = solid.Plane{Normal: solid.Vec{0, -1, 0}}
	s.add("torus and ball, cut open", cut, ring(40, 12, 24, 48), ball(20, 32))
}

func (s *scenes) several() {
	s.add("two boxes through each other", solid.Isometric(), brick(0, 0, 0, 60, 40, 30), brick(20, -20, 10, 40, 60, 50))
	s.add("ball through a plate", From, ball(40, 40), brick(-60, -60, -4, 60, 60, 4))
	s.add("two rings linked", From, ring(30, 8, 20, 48), ring(30, 8, 20, 48).Transform(solid.QuarterTurns(0, 1)).Translate(solid.Vec{30, 0, 0}))
	s.add("thin plates near each other", From, brick(0, 0, 0, 80, 60, 0.4), brick(5, 5, 0.5, 75, 55, 0.9), brick(10, 10, 1, 70, 50, 1.4))
	s.add("balls in balls", From, ball(50, 32), ball(40, 32), ball(30, 32))
	pulled := Scene{Name: "pieces pulled apart", View: From}
	for i := range 5 {
		pulled.Solids = append(pulled.Solids, solid.Placed{
			ID: string(rune('a' + i)), Mesh: pipe(30-float64(2*i), 20-float64(2*i), 14, 48), At: solid.Translation(solid.Vec{0, 0, 22 * float64(i)}),
		})
	}
	s.all = append(s.all, pulled)
}

func (s *scenes) coinciding() {
	s.special("box behind box", solid.View{Eye: solid.Vec{0, -1, 0}}, brick(0, 0, 0, 40, 10, 40), brick(20, 30, 20, 70, 40, 60))
	s.special("box behind an equal one", solid.View{Eye: solid.Vec{0, -1, 0}}, brick(0, 0, 0, 40, 10, 40), brick(0, 30, 0, 40, 40, 40))
	s.add("boxes flush on each other", From, brick(0, 0, 0, 50, 50, 25), brick(0, 0, 25, 50, 50, 60))
	s.add("boxes flush on each other, turned", From, aslant(brick(0, 0, 0, 50, 50, 25)), aslant(brick(0, 0, 25, 50, 50, 60)))
	s.add("box on a plate, turned", From, aslant(brick(0, 0, 0, 80, 80, 10)), aslant(brick(20, 30, 10, 50, 60, 40)))
	s.add("rod in a bore of its size", From, pipe(40, 20, 50, 48), pipe(20, 0, 90, 48))
	s.add("boxes that share an edge", From, brick(0, 0, 0, 40, 40, 40), brick(40, 40, 0, 80, 80, 40))
	s.add("plates flush through each other", From, brick(0, 0, 0, 80, 50, 10), brick(30, -20, 0, 50, 70, 10))
}
