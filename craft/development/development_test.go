package development_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/development"
)

// Paper round a pipe of 110 mm, 0.1 mm thick, is π·110.1 mm long.
func ExampleGirth() {
	fmt.Printf("%.2f\n", development.Girth(110, 0.1))
	// Output: 345.89
}

// A frustum of radii 60 and 40 over 80 mm: s = √(80² + 20²) = 82.462, the outer
// radius of its sector R·s/(R - r) = 247.386, its angle 2π(R - r)/s.
func TestFrustumIsASector(t *testing.T) {
	s := development.Skin{From: development.Place{Station: 0, Radius: 60}, To: development.Place{Station: 80, Radius: 40}}
	slant := math.Hypot(80, 20)
	apex := development.Point{Y: 60 * slant / 20}
	for i := range 13 {
		turn := 2 * math.Pi * float64(i-6) / 12
		for _, c := range []struct{ station, distance float64 }{{0, 60 * slant / 20}, {80, 40 * slant / 20}} {
			p := s.At(turn, c.station)
			if d := math.Hypot(p.X-apex.X, p.Y-apex.Y); math.Abs(d-c.distance) > 1e-9 {
				t.Errorf("turn %v, station %v lies %v from the apex, want %v", turn, c.station, d, c.distance)
			}
			if a := math.Atan2(p.X, apex.Y-p.Y); math.Abs(a-turn*20/slant) > 1e-9 {
				t.Errorf("turn %v lies at %v, want %v", turn, a, turn*20/slant)
			}
		}
	}
}

func genSkin(t *rapid.T) development.Skin {
	f := func(low, high float64, label string) float64 { return rapid.Float64Range(low, high).Draw(t, label) }
	from := f(-500, 500, "from")
	return development.Skin{
		From:  development.Place{Station: from, Radius: f(5, 400, "r0")},
		To:    development.Place{Station: from + f(1, 800, "high"), Radius: f(5, 400, "r1")},
		Paper: f(0, 0.5, "paper"), Inside: rapid.Bool().Draw(t, "inside"),
		Turn: f(-3, 3, "turn0"), Station: from + f(0, 1, "station0"),
	}
}

// Paper doesn't stretch: a step across it is as long as on the surface of its own
// middle, and what is unrolled rolls back.
func TestPaperKeepsLengths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSkin(t)
		sin := math.Abs(s.From.Radius-s.To.Radius) / math.Hypot(s.From.Radius-s.To.Radius, s.To.Station-s.From.Station)
		turn := s.Turn + rapid.Float64Range(-1, 1).Draw(t, "turn")*min(3, 3/max(1e-3, sin))
		turn = max(s.Turn-3.1, min(s.Turn+3.1, turn))
		z := s.From.Station + rapid.Float64Range(0, 1).Draw(t, "z")*(s.To.Station-s.From.Station)
		p := s.At(turn, z)
		backTurn, backZ := s.Back(p)
		if math.Abs(backTurn-turn) > 1e-6 || math.Abs(backZ-z) > 1e-5 {
			t.Fatalf("%+v: %v, %v comes back as %v, %v", s, turn, z, backTurn, backZ)
		}
		// A step on the middle of the paper in space, by the two angles, against the
		// paper: both by differences.
		const h = 1e-4
		_, cos := math.Sincos(math.Asin(sin))
		off := s.Paper / 2 * cos
		if s.Inside {
			off = -off
		}
		r := s.Radius(z) + off
		q := s.At(turn+h, z)
		if got, want := math.Hypot(q.X-p.X, q.Y-p.Y), h*r; math.Abs(got-want) > 1e-6*want+1e-9 {
			t.Fatalf("%+v: round %v, want %v", s, got, want)
		}
		q = s.At(turn, z+h)
		if got, want := math.Hypot(q.X-p.X, q.Y-p.Y), h/cos; math.Abs(got-want) > 1e-6*want+1e-8 {
			t.Fatalf("%+v: along %v, want %v", s, got, want)
		}
		// Square to one another on the cone, square on the paper.
		a, b := s.At(turn+h, z), s.At(turn, z+h)
		if dot := (a.X-p.X)*(b.X-p.X) + (a.Y-p.Y)*(b.Y-p.Y); math.Abs(dot) > 1e-3*h*r*h/cos {
			t.Fatalf("%+v: not square, %v", s, dot)
		}
	})
}

// What is cut along the unrolled mitre lies in one plane once it is rolled up: its
// normal leans so far from the axis.
func TestMitreRollsIntoAPlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(5, 200).Draw(t, "r")
		lean := rapid.Float64Range(-1.2, 1.2).Draw(t, "lean")
		s := development.Skin{From: development.Place{Station: -1, Radius: r}, To: development.Place{Station: 1, Radius: r}, Paper: 0.1}
		for i := range 60 {
			turn := 2 * math.Pi * float64(i) / 60
			p := s.At(turn, development.Mitre(r, lean, turn))
			th, z := s.Back(p)
			x := r * math.Cos(th)
			if d := z*math.Cos(lean) - x*math.Sin(lean); math.Abs(d) > 1e-6 {
				t.Fatalf("off the plane by %v", d)
			}
		}
	})
}

// Rolled back, every place of the saddle lies on both cylinders: its distance from
// each axis, by the cross product with the axis's direction, is that radius. No
// formula is shared with what made it.
func TestSaddleLiesOnBothPipes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		host := rapid.Float64Range(10, 200).Draw(t, "host")
		guest := rapid.Float64Range(2, 0.95*host).Draw(t, "guest")
		angle := rapid.Float64Range(0.3, math.Pi-0.3).Draw(t, "angle")
		offset := rapid.Float64Range(-1, 1).Draw(t, "offset") * (host - guest) * 0.95
		pipes := development.Pipes{Guest: guest, Host: host, Angle: angle, Offset: offset}
		s := development.Skin{From: development.Place{Station: -1, Radius: guest}, To: development.Place{Station: 1, Radius: guest}, Paper: 0.1}
		// The guest's axis is z at y = offset, x towards the host's direction.
		direction := [3]float64{math.Sin(angle), 0, math.Cos(angle)}
		for i := range 90 {
			turn := 2 * math.Pi * float64(i) / 90
			along, ok := pipes.Saddle(turn)
			if !ok {
				t.Fatalf("%+v passes by at %v", pipes, turn)
			}
			th, z := s.Back(s.At(turn, along))
			p := [3]float64{guest * math.Cos(th), offset + guest*math.Sin(th), z}
			if d := math.Hypot(p[0], p[1]-offset) - guest; math.Abs(d) > 1e-6 {
				t.Fatalf("%v off the guest", d)
			}
			c := [3]float64{
				p[1]*direction[2] - p[2]*direction[1],
				p[2]*direction[0] - p[0]*direction[2],
				p[0]*direction[1] - p[1]*direction[0],
			}
			if d := math.Sqrt(c[0]*c[0]+c[1]*c[1]+c[2]*c[2]) - host; math.Abs(d) > 1e-5 {
				t.Fatalf("%+v: %v off the host at %v", pipes, d, turn)
			}
			if z < 0 && offset == 0 && math.Abs(angle-math.Pi/2) < 1e-9 {
				t.Fatalf("on the far side: %v", z)
			}
		}
	})
}

// A saddle square on a pipe of its own size is |sin| of the turn: two half cylinders
// meet in two ellipses at 45° (the groin of two like barrel vaults).
func TestSaddleOfLikePipes(t *testing.T) {
	for i := range 32 {
		turn := 2 * math.Pi * float64(i) / 32
		got, _ := development.Pipes{Guest: 50, Host: 50, Angle: math.Pi / 2}.Saddle(turn)
		if want := 50 * math.Abs(math.Cos(turn)); math.Abs(got-want) > 1e-6 {
			t.Errorf("turn %v: %v, want %v", turn, got, want)
		}
	}
	if _, ok := (development.Pipes{Guest: 10, Host: 20, Angle: 1, Offset: 15}).Saddle(math.Pi / 2); ok {
		t.Error("a guest that passes its host by meets it")
	}
}

func TestLeaving(t *testing.T) {
	// Inside from 0.2 to 0.4 and from 0.6 to √½.
	depth := func(t float64) float64 { return -(t - 0.2) * (t - 0.4) * (t - 0.6) * (t - math.Sqrt2/2) }
	if at, ok := development.Leaving(func(t float64) float64 { return depth(t) }, 50); !ok || math.Abs(at-math.Sqrt2/2) > 1e-12 {
		t.Errorf("leaves at %v, %v", at, ok)
	}
	if _, ok := development.Leaving(func(float64) float64 { return -1 }, 10); ok {
		t.Error("leaves what it is never in")
	}
	if _, ok := development.Leaving(func(float64) float64 { return 1 }, 10); ok {
		t.Error("leaves though its end is inside")
	}
}

// Gores of a half sphere cover it: their area is between that of the half sphere,
// 2πr², and of the body round it by as much as they stand off; along their edges
// they stand off as said, measured on the strip laid straight across.
func TestGoresOfADome(t *testing.T) {
	const r = 100.0
	var profile []development.Place
	for i := range 181 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 180)
		profile = append(profile, development.Place{Station: r * sin, Radius: r * cos})
	}
	profile[180].Radius = 0
	g := development.CutGores(profile, 0, 1)
	if want := 23; g.Number != want { // 100(1/cos(π/22)-1) = 1.03, of 23 it is 0.94
		t.Errorf("%d gores, want %d", g.Number, want)
	}
	area := 0.0
	for i := 1; i < len(g.Middle); i++ {
		a, b := g.Middle[i-1], g.Middle[i]
		area += (b.Station - a.Station) * (a.Radius + b.Radius) * float64(g.Number)
	}
	if want := 2 * math.Pi * r * r; math.Abs(area-want) > 1e-3*want {
		t.Errorf("area %v, want %v", area, want)
	}
	worst := 0.0
	for _, p := range profile {
		// The strip's edge, straight across, before it is pressed down.
		half := p.Radius * math.Tan(math.Pi/float64(g.Number))
		worst = max(worst, math.Hypot(p.Radius, half)-p.Radius)
	}
	if math.Abs(worst-g.Off) > 1e-9 || g.Off > 1 {
		t.Errorf("edges stand off %v, said %v", worst, g.Off)
	}
	if end := g.Middle[180]; end.Radius != 0 || math.Abs(end.Station-math.Pi*r/2) > 0.01 {
		t.Errorf("a gore ends at %v", end)
	}
	if none := development.CutGores(nil, 0.1, 1); none.Number != 3 || none.Off != 0 {
		t.Errorf("gores of nothing: %+v", none)
	}
}

// An arc's sagitta is what it strays from its chord: r - √(r² - c²/4).
func TestStraying(t *testing.T) {
	var profile []development.Place
	for i := range 201 {
		z := -30 + 0.3*float64(i)
		profile = append(profile, development.Place{Station: z, Radius: math.Sqrt(100*100 - z*z)})
	}
	r := math.Sqrt(100*100 - 30*30)
	s := development.Skin{From: development.Place{Station: -30, Radius: r}, To: development.Place{Station: 30, Radius: r}}
	if got, want := s.Straying(profile), 100-r; math.Abs(got-want) > 1e-9 {
		t.Errorf("strays %v, want %v", got, want)
	}
}
