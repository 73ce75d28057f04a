package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/finding"
	scenes "scalewright/internal/photograph"
	"scalewright/model"
	"scalewright/unit"
)

// laid is a mat with a ruler on it, seen from 500 mm.
type laid struct {
	scale      [2]float64
	lean, bend float64 // rise along the ruler, mm a mm, and mm at 100 mm from its middle
	ruler      bool
	strange    bool    // a second row beside it is no ruler's
	graduation float64 // what its strokes are taken to be apart, mm; they are 1 mm
}

func (l laid) seen(rng *rand.Rand) (marks []camera.Mark, ticks []camera.Tick) {
	cam := camera.Camera{F: 2253, Cx: 1499.5, Cy: 1124.5, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}}
	var d [camera.Params]float64
	d[5], d[6], d[7] = 0.06, -0.04, 0.2
	cam = cam.Nudge(d)
	z := r3.Vec{X: cam.R[2][0], Y: cam.R[2][1], Z: cam.R[2][2]}
	cam.C = r3.Sub(r3.Vec{X: 200, Y: 140}, r3.Scale(-500/z.Z, z))
	blurred := func(p r3.Vec) r2.Vec {
		px, _ := cam.Project(p)
		return r2.Vec{X: px.X + 0.1*rng.NormFloat64(), Y: px.Y + 0.1*rng.NormFloat64()}
	}
	for x := 0.0; x <= 400; x += 20 {
		for y := 0.0; y <= 280; y += 20 {
			marks = append(marks, camera.Mark{Px: blurred(r3.Vec{X: l.scale[0] * x, Y: l.scale[1] * y}), Mm: r2.Vec{X: x, Y: y}})
		}
	}
	if !l.ruler {
		return marks, nil
	}
	for a := 0.0; a <= 200; a += 10 {
		t := (a - 100) / 100
		at := r3.Vec{X: 100 + a, Y: 30, Z: 1 + l.lean*a}
		at.X += l.bend * t * t * t
		ticks = append(ticks, camera.Tick{Px: blurred(at), At: l.graduation * a})
	}
	for a := 0.0; l.strange && a <= 150; a += 10 {
		ticks = append(ticks, camera.Tick{Px: blurred(r3.Vec{X: 100 + 1.05*a + 0.001*a*a, Y: 60}), At: a, Edge: 1})
	}
	return marks, ticks
}

// Every way in which the scale may be known, or not, is said, and a true mat beside
// a true ruler is no matter for words.
func TestCheckScale(t *testing.T) {
	even := [2]float64{1, 1}
	for _, tt := range []struct {
		name   string
		laid   laid
		length unit.Value
		want   []finding.Code
	}{
		{"true mat and ruler", laid{scale: even, ruler: true, graduation: 1}, unit.Value{}, nil},
		{"a strange row beside the ruler", laid{scale: even, ruler: true, strange: true, graduation: 1}, unit.Value{}, nil},
		{"no ruler", laid{scale: even}, unit.Value{}, []finding.Code{"mat-scale-unchecked"}},
		{"no ruler, but a length", laid{scale: even}, unit.Value{X: 200, U: 0.2}, nil},
		{"misprinted", laid{scale: [2]float64{0.985, 0.99}, ruler: true, graduation: 1}, unit.Value{}, []finding.Code{"mat-misprinted"}},
		{"uneven", laid{scale: [2]float64{1, 1.02}}, unit.Value{X: 200, U: 0.2}, []finding.Code{"mat-uneven"}},
		{"leaning", laid{scale: even, ruler: true, graduation: 1, lean: 0.012}, unit.Value{}, []finding.Code{"ruler-out-of-plane"}},
		{"bent", laid{scale: even, ruler: true, graduation: 1, bend: 1}, unit.Value{}, []finding.Code{"ruler-not-straight", "mat-scale-unchecked"}},
		{"inches", laid{scale: even, ruler: true, graduation: 1.5875}, unit.Value{}, []finding.Code{"ruler-not-read", "mat-scale-unchecked"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(1, 2))
			marks, ticks := tt.laid.seen(rng)
			s := evidence{marks: marks, ticks: ticks, step: 20, found: true}
			seen := sightings{known: s.known(&picture{w: 3000, h: 2250, f35: 26})}
			in := Input{Length: tt.length}
			var list finding.List
			fit, err := seen.fit(marks, in, &list)
			if err != nil {
				t.Fatal(err)
			}
			checkScale(&list, &fit, true, in)
			var got []finding.Code
			for _, f := range list {
				got = append(got, f.Code)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("findings %v, want %v; scale %.4f ± %.4f, ruler %+v", list, tt.want, fit.Scale, fit.ScaleDoubt, fit.Ruler.Sigma)
			}
			if math.Abs(fit.Scale[0]-tt.laid.scale[0]) > max(0.001, 2*fit.ScaleDoubt[0]) {
				t.Errorf("scale %.4f ± %.4f, want %.4f", fit.Scale[0], fit.ScaleDoubt[0], tt.laid.scale[0])
			}
		})
	}
}

// Law: whichever way two photographs were held, the same place of the sensor is
// found in both.
func TestSamePlaceOfTheSensor(t *testing.T) {
	const w, h = 30, 20 // stored
	upright := func(orientation int) *picture {
		if orientation >= 5 {
			return &picture{w: h, h: w, orientation: orientation}
		}
		return &picture{w: w, h: h, orientation: orientation}
	}
	// The upright pixel whose stored one is (x, y), by looking at all.
	lookup := func(p *picture, x, y int) r2.Vec {
		for v := range p.h {
			for u := range p.w {
				if sx, sy := source(p.orientation, w, h, u, v); sx == x && sy == y {
					return r2.Vec{X: float64(u), Y: float64(v)}
				}
			}
		}
		t.Fatalf("orientation %d has no (%d, %d)", p.orientation, x, y)
		return r2.Vec{}
	}
	for one := 1; one <= 8; one++ {
		for two := 1; two <= 8; two++ {
			p, q := upright(one), upright(two)
			for _, at := range [][2]int{{0, 0}, {29, 0}, {3, 17}, {11, 6}} {
				got, want := p.as(q, lookup(p, at[0], at[1])), lookup(q, at[0], at[1])
				if got != want {
					t.Fatalf("from orientation %d to %d: %v, want %v", one, two, got, want)
				}
			}
		}
	}
}

// Two photographs drawn from 24° aside tell the lens of a square one, nothing
// picked in any: the height of the camera comes out three times as well, and true.
func TestOthersFoundByThemselves(t *testing.T) {
	t.Parallel()
	scene := scenes.Seeded(20).Sized(1500)
	photo, truth, err := scene.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	high := truth.Camera.Centre[2]
	told := model.Marks{PitchMM: truth.Mat.Pitch}
	in := Input{Photo: photo, Marks: told}
	for _, way := range []float64{0.3, 1.9} {
		other, _, err := scene.From(1.1*high, 0.3, 0.42, way).Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		in.Others = append(in.Others, Other{Photo: other, Marks: told})
	}
	p, err := decode(t.Context(), photo)
	if err != nil {
		t.Fatal(err)
	}
	var list finding.List
	seen, ok, err := marksFor(t.Context(), p, in, &list)
	if err != nil || !ok {
		t.Fatal(err, list)
	}
	var doubt [2]float64
	for k := range doubt {
		s := sightings{known: seen.known(p)}
		if k == 1 {
			if err := s.addOthers(t.Context(), p, in, &list); err != nil || len(s.others) != 2 {
				t.Fatal(err, len(s.others), list)
			}
		}
		fit, err := s.fit(seen.marks, in, &list)
		if err != nil {
			t.Fatal(err)
		}
		doubt[k] = math.Sqrt(fit.Cov[10][10])
		t.Logf("%d further photographs: camera at %.2f ± %.2f mm, %.2f in truth", len(s.others), fit.Height(), doubt[k], high)
		if math.Abs(fit.Height()-high) > 2*doubt[k] {
			t.Errorf("%d further photographs: camera at %.2f ± %.2f mm, %.2f in truth", len(s.others), fit.Height(), doubt[k], high)
		}
	}
	if doubt[1] > doubt[0]/3 || len(list) > 0 {
		t.Errorf("doubt %.2f mm alone, %.2f together; %v", doubt[0], doubt[1], list)
	}
}
