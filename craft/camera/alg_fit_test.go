package camera_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// above returns a camera looking down at (200, 140) from height h with a small
// tilt, by turning one that looks straight down.
func above(f, h, tiltX, tiltY, spin float64) camera.Camera {
	c := camera.Camera{F: f, Cx: 1499.5, Cy: 1124.5, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}}
	var d [camera.Params]float64
	d[5], d[6], d[7] = tiltX, tiltY, spin
	c = c.Nudge(d)
	// Stand so that the optical axis meets the mat near the middle.
	z := r3.Vec{X: c.R[2][0], Y: c.R[2][1], Z: c.R[2][2]}
	c.C = r3.Sub(r3.Vec{X: 200, Y: 140}, r3.Scale(-h/z.Z, z))
	return c
}

// board is a spread of marks over a 400 × 280 mat.
func board(nx, ny int) (out []r2.Vec) {
	for i := range nx {
		for j := range ny {
			out = append(out, r2.Vec{X: 400 * float64(i) / float64(nx-1), Y: 280 * float64(j) / float64(ny-1)})
		}
	}
	return out
}

func see(c camera.Camera, at []r2.Vec, noise float64, rng *rand.Rand) (out []camera.Mark) {
	for _, p := range at {
		px, _ := c.Project(r3.Vec{X: p.X, Y: p.Y})
		px.X += noise * rng.NormFloat64()
		px.Y += noise * rng.NormFloat64()
		out = append(out, camera.Mark{Px: px, Mm: p})
	}
	return out
}

// Law: Undistort is the inverse of Distort, and Ray the inverse of Project.
func TestProjectRay(t *testing.T) {
	c := above(2300, 480, 0.05, -0.03, 0.4)
	c.K1, c.K2 = -0.04, 0.018
	for _, p := range []r3.Vec{{X: 0, Y: 0}, {X: 400, Y: 280, Z: 30}, {X: 200, Y: 140, Z: 5}, {X: 10, Y: 270, Z: -4}} {
		px, ok := c.Project(p)
		if !ok {
			t.Fatalf("Project(%v) lies behind the camera", p)
		}
		q, ok := c.OnPlane(px, p.Z)
		if !ok || r3.Norm(r3.Sub(p, q)) > 1e-9 {
			t.Errorf("OnPlane(Project(%v)) = %v", p, q)
		}
	}
}

// Law: a mark's distance from its true place, in standard deviations of the
// covariance, is what the covariance says over many random cameras.
func TestFitRecoversWithinDoubt(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const rounds = 60
	var chi, chiPlace float64
	for range rounds {
		truth := above(2253.5*math.Exp(0.02*rng.NormFloat64()), 350+550*rng.Float64(),
			0.14*(rng.Float64()-0.5), 0.14*(rng.Float64()-0.5), 6*rng.Float64())
		truth.Cx += 15 * rng.NormFloat64()
		truth.Cy += 15 * rng.NormFloat64()
		truth.K1, truth.K2 = 0.04*rng.NormFloat64(), 0.02*rng.NormFloat64()
		got, err := camera.Fit(see(truth, board(4, 4), 0.5, rng), camera.Known{Width: 3000, Height: 2250, F35: 26, PrintTrue: true})
		if err != nil {
			t.Fatal(err)
		}
		e := got.F - truth.F
		chi += e * e / got.Cov[0][0]
		// A point 25 mm above the mat, seen through the fitted camera: the modes
		// must tell its error.
		p := r3.Vec{X: 150, Y: 100, Z: 25}
		px, _ := truth.Project(p)
		back, _ := got.OnPlane(px, 25)
		u := 0.0
		for _, m := range got.Modes() {
			q, _ := m.OnPlane(px, 25)
			u += (q.X - back.X) * (q.X - back.X)
		}
		chiPlace += (back.X - p.X) * (back.X - p.X) / u
	}
	// χ² with 60 degrees of freedom lies in 33.3 to 95.3 with probability 0.995
	// (0.0025 a side); estimated noise widens it, a prior narrower than the truth
	// would burst it.
	for name, c := range map[string]float64{"focal length": chi, "place": chiPlace} {
		if c < 20 || c > 100 {
			t.Errorf("sum of squared standardised errors of the %s over %d cameras = %.1f", name, rounds, c)
		}
	}
}

func TestFitExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	truth := above(2300, 500, 0.1, 0.06, 1)
	truth.K1 = 0.03
	got, err := camera.Fit(see(truth, board(30, 20), 0.01, rng), camera.Known{Width: 3000, Height: 2250, F35: 26, PrintTrue: true})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.F-truth.F) > 3*math.Sqrt(got.Cov[0][0]) || math.Abs(got.K1-0.03) > 0.001 || got.RMS > 0.05 {
		t.Errorf("Fit = f %.2f k1 %.5f rms %.4f, want f %.2f k1 0.03", got.F, got.K1, got.RMS, truth.F)
	}
}

// One mark clicked on the wrong crossing must not bend the map.
func TestFitOutlier(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	truth := above(2300, 500, 0.1, 0.06, 1)
	marks := see(truth, board(4, 4), 0.3, rng)
	marks[5].Px.X += 46
	got, err := camera.Fit(marks, camera.Known{Width: 3000, Height: 2250, F35: 26})
	if err != nil {
		t.Fatal(err)
	}
	worst := 0
	for i, o := range got.Off {
		if o > got.Off[worst] {
			worst = i
		}
	}
	if worst != 5 {
		t.Errorf("worst mark = %d, want 5", worst)
	}
	p := r3.Vec{X: 200, Y: 140}
	px, _ := truth.Project(p)
	back, _ := got.OnPlane(px, 0)
	if r3.Norm(r3.Sub(back, p)) > 1 {
		t.Errorf("the middle of the mat moved by %.2f mm", r3.Norm(r3.Sub(back, p)))
	}
}

func TestFitRefuses(t *testing.T) {
	c := above(2300, 500, 0.1, 0.06, 0)
	rng := rand.New(rand.NewPCG(7, 8))
	at := func(pts ...r2.Vec) []camera.Mark { return see(c, pts, 0, rng) }
	nan := at(board(2, 2)...)
	nan[0].Px.X = math.NaN()
	mirrored := at(board(3, 3)...)
	for i := range mirrored {
		mirrored[i].Mm.X = 400 - mirrored[i].Mm.X
	}
	for _, tt := range []struct {
		name  string
		marks []camera.Mark
		want  error
	}{
		{"none", nil, camera.ErrTooFew},
		{"three", at(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{Y: 100}), camera.ErrTooFew},
		{"line", at(r2.Vec{}, r2.Vec{X: 100, Y: 50}, r2.Vec{X: 200, Y: 100}, r2.Vec{X: 300, Y: 150}), camera.ErrOnALine},
		{"three of four on a line", at(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{X: 200}, r2.Vec{X: 100, Y: 100}), camera.ErrOnALine},
		{"same twice", at(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{Y: 100}, r2.Vec{X: 100}), camera.ErrCoincident},
		{"not a number", nan, camera.ErrNotFinite},
		{"mirrored", mirrored, camera.ErrNoSolution},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := camera.Fit(tt.marks, camera.Known{Width: 3000, Height: 2250, F35: 26}); !errors.Is(err, tt.want) {
				t.Errorf("Fit(%s) = %v, want %v", tt.name, err, tt.want)
			}
		})
	}
}

// Without a focal length in the photograph the doubt must grow, not vanish.
func TestFitUnknownFocal(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	truth := above(2300, 500, 0.02, 0.01, 0)
	marks := see(truth, board(4, 4), 0.3, rng)
	with, err := camera.Fit(marks, camera.Known{Width: 3000, Height: 2250, F35: 26})
	if err != nil {
		t.Fatal(err)
	}
	without, err := camera.Fit(marks, camera.Known{Width: 3000, Height: 2250})
	if err != nil {
		t.Fatal(err)
	}
	if without.FocalKnown || without.Cov[0][0] < 9*with.Cov[0][0] {
		t.Errorf("u(f) without EXIF %.0f px, with %.0f px", math.Sqrt(without.Cov[0][0]), math.Sqrt(with.Cov[0][0]))
	}
}

// CIPA DCG-001: 35 mm equivalent over the diagonal. A 3000 × 2250 image has a
// diagonal of exactly 3750, film one of 43.2666 mm.
func TestFocalPixels(t *testing.T) {
	if got := camera.FocalPixels(26, 3000, 2250); math.Abs(got-2253.47) > 0.01 {
		t.Errorf("FocalPixels(26) = %.3f", got)
	}
}

// The outside reference: cameras of an independent ray tracer, with its own
// crossings in pixels.
func TestFitTruthFiles(t *testing.T) {
	for _, name := range []string{"ex1_rocket", "ex2_plumb", "ex3_spindle"} {
		t.Run(name, func(t *testing.T) {
			raw, err := os.ReadFile(filepath.Join("..", "..", "..", "shared", "data", "photos", name+".json"))
			if err != nil {
				t.Skipf("truth file not on this machine: %v", err)
			}
			var truth struct {
				Camera struct {
					F      float64       `json:"f_px"`
					Cx     float64       `json:"cx"`
					Cy     float64       `json:"cy"`
					K1     float64       `json:"k1"`
					K2     float64       `json:"k2"`
					F35    float64       `json:"exif_f35"`
					R      [3][3]float64 `json:"R_world_to_cam"`
					Centre [3]float64    `json:"centre_mm"`
					Tilt   float64       `json:"tilt_deg"`
				} `json:"camera"`
				Mat struct {
					Crossings []mark `json:"crossings"`
					Suggested []mark `json:"suggested_marks"`
				} `json:"mat"`
			}
			if err := json.Unmarshal(raw, &truth); err != nil {
				t.Fatal(err)
			}
			tc := truth.Camera
			c := camera.Camera{
				F: tc.F, Cx: tc.Cx, Cy: tc.Cy, K1: tc.K1, K2: tc.K2, R: tc.R,
				C: r3.Vec{X: tc.Centre[0], Y: tc.Centre[1], Z: tc.Centre[2]},
			}
			for _, m := range truth.Mat.Crossings {
				px, _ := c.Project(r3.Vec{X: m.Mm[0], Y: m.Mm[1]})
				if math.Hypot(px.X-m.Px[0], px.Y-m.Px[1]) > 2e-3 {
					t.Fatalf("our convention sees %v at %v, the truth at %v", m.Mm, px, m.Px)
				}
			}
			if math.Abs(c.Tilt()*180/math.Pi-tc.Tilt) > 0.2 {
				t.Errorf("Tilt = %.3f°, want %.1f°", c.Tilt()*180/math.Pi, tc.Tilt)
			}
			// The EXIF prior must hold the truth within two of its standard deviations.
			if e := math.Log(tc.F / camera.FocalPixels(tc.F35, 3000, 2250)); math.Abs(e) > 0.04 {
				t.Errorf("the EXIF focal length is off by %.3f", e)
			}
			var marks []camera.Mark
			for _, m := range truth.Mat.Suggested {
				marks = append(marks, camera.Mark{Px: r2.Vec{X: math.Round(m.Px[0]*10) / 10, Y: math.Round(m.Px[1]*10) / 10}, Mm: r2.Vec{X: m.Mm[0], Y: m.Mm[1]}})
			}
			got, err := camera.Fit(marks, camera.Known{Width: 3000, Height: 2250, F35: tc.F35, PrintTrue: true})
			if err != nil {
				t.Fatal(err)
			}
			worst := 0.0
			for _, m := range truth.Mat.Crossings {
				p, _ := got.OnPlane(r2.Vec{X: m.Px[0], Y: m.Px[1]}, 0)
				worst = max(worst, math.Hypot(p.X-m.Mm[0], p.Y-m.Mm[1]))
			}
			t.Logf("rms %.3f px, sigma %.3f, f %.1f ± %.1f (truth %.1f), height %.2f (truth %.0f), worst mat point %.3f mm",
				got.RMS, got.Sigma, got.F, math.Sqrt(got.Cov[0][0]), tc.F, got.Height(), tc.Centre[2], worst)
			if worst > 0.1 || got.RMS > 0.1 || math.Abs(got.F-tc.F) > 3*math.Sqrt(got.Cov[0][0]) {
				t.Errorf("worst mat point %.3f mm, rms %.3f px, f %.1f ± %.1f want %.1f", worst, got.RMS, got.F, math.Sqrt(got.Cov[0][0]), tc.F)
			}
		})
	}
}

type mark struct {
	Mm [2]float64 `json:"true_mm"`
	Px [2]float64 `json:"px"`
}
