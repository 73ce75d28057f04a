package camera_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// views are a square photograph and two tilted ones of one camera, the other two
// of another mat where `other` is its scale.
//
// refocus and steady are how far their lenses part.
func views(rng *rand.Rand, other, refocus, steady float64) (all [][]camera.Mark, square scene) {
	lens := draw(rng)
	for i, tilt := range [][2]float64{{0.005, 0.004}, {0.45, 0.1}, {-0.1, 0.5}} {
		c := above(2300, 450+100*rng.Float64(), tilt[0], tilt[1], 0.5*rng.Float64())
		c.F, c.Cx, c.Cy, c.K1, c.K2 = lens.F, lens.Cx, lens.Cy, lens.K1, lens.K2
		if i > 0 {
			c.F *= math.Exp(refocus * rng.NormFloat64())
			c.Cx, c.Cy = c.Cx+steady*rng.NormFloat64(), c.Cy+steady*rng.NormFloat64()
		}
		s := scene{Camera: c, scale: lens.scale, height: 1, noise: 0.1, rng: rng}
		if i == 0 {
			square = s
		} else if other != 0 {
			s.scale = [2]float64{other, other}
		}
		all = append(all, s.marks(20))
	}
	return all, square
}

// Law: a tilted photograph tells the focal length for a square one, which alone
// has only the EXIF figure, and the truth still lies within twice the doubt.
func TestFitAllSettlesFocalLength(t *testing.T) {
	rng := rand.New(rand.NewPCG(29, 31))
	const rounds = 60
	var focal, height covered
	alone, joined := 0.0, 0.0
	for range rounds {
		marks, square := views(rng, 0, 0, 0)
		one, err := camera.Fit(marks[0], auto)
		if err != nil {
			t.Fatal(err)
		}
		all, err := camera.FitAll(marks, auto)
		if err != nil {
			t.Fatal(err)
		}
		got := all[0]
		focal.add(got.F-square.F, math.Sqrt(got.Cov[0][0]))
		height.add(got.Height()-square.Height(), math.Sqrt(got.Cov[10][10]))
		alone += math.Sqrt(one.Cov[0][0]) / one.F / rounds
		joined += math.Sqrt(got.Cov[0][0]) / got.F / rounds
		for _, f := range all[1:] {
			if f.F != got.F || f.Cx != got.Cx || f.Cy != got.Cy || f.K1 != got.K1 || f.K2 != got.K2 || f.Scale != got.Scale {
				t.Fatal("photographs of one camera have two lenses")
			}
		}
	}
	t.Logf("focal length to %.2f %% alone, %.3f %% together; within twice its doubt %d, height %d of %d", 100*alone, 100*joined, focal.in, height.in, rounds)
	if alone < 0.01 || joined > 0.002 {
		t.Errorf("focal length to %.2f %% alone, %.3f %% together", 100*alone, 100*joined)
	}
	// 95.45 % of 60 are 57.3; 52 to 60 hold all but 0.4 %.
	if focal.in < 52 || height.in < 52 {
		t.Errorf("within twice the doubt: focal length %d, height %d of %d", focal.in, height.in, rounds)
	}
}

// Law: where the lens is focused anew, the others tell its focal length as far as
// it stays, and the truth lies within twice the doubt.
func TestFitAllRefocused(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	const rounds = 60
	var focal, height covered
	joined := 0.0
	known := auto
	known.Refocus, known.Steady = 0.003, 6
	for range rounds {
		marks, square := views(rng, 0, known.Refocus, known.Steady)
		all, err := camera.FitAll(marks, known)
		if err != nil {
			t.Fatal(err)
		}
		got := all[0]
		focal.add(got.F-square.F, math.Sqrt(got.Cov[0][0]))
		height.add(got.Height()-square.Height(), math.Sqrt(got.Cov[10][10]))
		joined += math.Sqrt(got.Cov[0][0]) / got.F / rounds
		if all[1].F == got.F || all[1].K1 != got.K1 {
			t.Fatal("a lens that is focused anew keeps its distortion and nothing else")
		}
	}
	t.Logf("focal length to %.3f %%; within twice its doubt %d, height %d of %d", 100*joined, focal.in, height.in, rounds)
	// Two others, each 0.3 % off at random: 0.3/√2 %, and what the centres add.
	if joined < 0.0021 || joined > 0.004 {
		t.Errorf("focal length to %.3f %%", 100*joined)
	}
	if focal.in < 52 || height.in < 52 {
		t.Errorf("within twice the doubt: focal length %d, height %d of %d", focal.in, height.in, rounds)
	}
}

// Mats of two prints do not spoil one another when they are said to differ.
func TestFitAllMatsDiffer(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	marks, square := views(rng, 1.02, 0, 0)
	known := auto
	known.MatsDiffer = true
	known.Ticks = square.ticks(r2.Vec{X: 100, Y: 30}, 0.1)
	all, err := camera.FitAll(marks, known)
	if err != nil {
		t.Fatal(err)
	}
	got := all[0]
	for k := range 2 {
		if math.Abs(got.Scale[k]-square.scale[k]) > 2*got.ScaleDoubt[k] || got.ScaleDoubt[k] > 0.0015 {
			t.Errorf("scale %d of the first mat = %.5f ± %.5f, want %.5f", k, got.Scale[k], got.ScaleDoubt[k], square.scale[k])
		}
	}
	if len(got.Ruler.Off) == 0 || len(all[1].Ruler.Off) != 0 {
		t.Error("the ruler is not in the first photograph alone")
	}
	if math.Abs(got.F-square.F) > 3*math.Sqrt(got.Cov[0][0]) {
		t.Errorf("f = %.1f ± %.1f, want %.1f", got.F, math.Sqrt(got.Cov[0][0]), square.F)
	}
	if all[1].ScaleDoubt[0] < camera.MatDoubt/2 {
		t.Errorf("a mat without a ruler is known to %.5f", all[1].ScaleDoubt[0])
	}
}

func TestFitAllRefuses(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	marks, _ := views(rng, 0, 0, 0)
	for _, tt := range []struct {
		name  string
		views [][]camera.Mark
		want  error
	}{
		{"none", nil, camera.ErrTooFew},
		{"one empty", [][]camera.Mark{marks[0], nil}, camera.ErrTooFew},
		{"one on a line", [][]camera.Mark{marks[0], marks[1][:6]}, camera.ErrOnALine},
		{"good", marks, nil},
	} {
		if _, err := camera.FitAll(tt.views, auto); !errors.Is(err, tt.want) {
			t.Errorf("FitAll(%s) = %v, want %v", tt.name, err, tt.want)
		}
	}
}
