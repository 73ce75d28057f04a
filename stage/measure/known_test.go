package measure_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/finding"
	drawn "scalewright/internal/photograph"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// lensOf is the camera that took a drawn photograph.
func lensOf(truth drawn.Truth) camera.Camera {
	c := &truth.Camera
	return camera.Camera{
		F: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.K1, K2: c.K2, R: c.R,
		C: r3.Vec{X: c.Centre[0], Y: c.Centre[1], Z: c.Centre[2]},
	}
}

// knownAt is a known length between two places of a drawn photograph, as a hand picks
// them.
func knownAt(t *testing.T, truth drawn.Truth, a, b r3.Vec) *measure.KnownLength {
	t.Helper()
	lens := lensOf(truth)
	p, ok1 := lens.Project(a)
	q, ok2 := lens.Project(b)
	if !ok1 || !ok2 {
		t.Fatal("the known length is not in the picture")
	}
	return &measure.KnownLength{
		From: [2]float64{math.Round(p.X), math.Round(p.Y)}, To: [2]float64{math.Round(q.X), math.Round(q.Y)},
		Length: unit.Estimate(r3.Norm(r3.Sub(b, a)), 0.05), HeightMM: a.Z,
	}
}

// On plain tables, with one length known that lies beside the body or along its axis,
// the truth lies within twice the doubt, and the doubt is said.
func TestKnownLength(t *testing.T) {
	for _, tt := range []struct {
		seed   uint64
		grey   float64
		onAxis bool
	}{
		{37, 0.2, false}, {37, 0.2, true}, {8, 0.1, true}, {60, 0.1, false},
	} {
		if testing.Short() && tt.seed != 37 {
			continue // the others by bench/run
		}
		scene := drawn.Seeded(tt.seed).Sized(1500).OnTable(tt.grey)
		photo, truth, err := scene.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		o := &truth.Object
		at := func(s float64) r3.Vec {
			return r3.Vec{X: o.P0[0] + s*o.Dir[0], Y: o.P0[1] + s*o.Dir[1], Z: o.P0[2] + s*o.Dir[2]}
		}
		var known *measure.KnownLength
		if tt.onAxis {
			known = knownAt(t, truth, at(0), at(o.Length))
			known.HeightMM, known.OnAxis = 0, true
		} else {
			side := r3.Scale(o.MaxRadius+15, r3.Vec{X: -o.Dir[1], Y: o.Dir[0]})
			a, b := r3.Add(at(10), side), r3.Add(at(o.Length-10), side)
			a.Z, b.Z = 1, 1
			known = knownAt(t, truth, a, b)
		}
		r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo, Known: known})
		if err != nil || len(r.Profile) == 0 {
			t.Errorf("seed %d: no profile: %v, error %v", tt.seed, list, err)
			continue
		}
		said := false
		for _, f := range list {
			said = said || f.Code == "scale-by-length"
		}
		if !said || r.Scale.By != measure.ByLength {
			t.Errorf("seed %d: that the scale hangs on one length is not said: %v", tt.seed, list)
		}
		off := r.Length.Value - o.Length
		in, worst := insideOf(truth, r)
		t.Logf("seed %d on axis %v: length off %.2f ± %.2f (2u), radius off %.2f at most, %.0f %% within 2u, camera at %.0f of %.0f; %v",
			tt.seed, tt.onAxis, off, 2*r.Length.U, worst, 100*in, r.Camera.HeightMM, truth.Camera.Height, list)
		if math.Abs(off) > 2*r.Length.U {
			t.Errorf("seed %d: length %.2f ± %.2f, true %.2f", tt.seed, r.Length.Value, 2*r.Length.U, o.Length)
		}
		if in < 0.9 {
			t.Errorf("seed %d: %.0f %% of the radii lie within twice their doubt", tt.seed, 100*in)
		}
		for _, f := range list {
			if slices.Contains(shotCodes, f.Code) {
				t.Errorf("seed %d: a good shot is blamed for %s: %v", tt.seed, f.Code, f.Args)
			}
		}
	}
}

// insideOf is the share of radii, 3 mm clear of steps and ends, within twice their
// doubt, counted from whichever end fits, and the worst error, mm.
func insideOf(truth drawn.Truth, r measure.Result) (share, worst float64) {
	o := &truth.Object
	for _, flip := range []bool{false, true} {
		in, all, most := 0, 0, 0.0
		for _, p := range r.Profile {
			s := p.Station
			if flip {
				s = r.Length.Value - s
			}
			clear := s > 3 && s < o.Length-3
			for _, g := range o.Segments {
				clear = clear && (g.S0 != g.S1 || math.Abs(g.S0-s) > 3)
			}
			if !clear {
				continue
			}
			k := int(s / o.Dense.Step)
			want := o.Dense.Radius[min(k, len(o.Dense.Radius)-1)]
			all++
			d := math.Abs(p.Radius - want)
			most = max(most, d)
			if d <= 2*p.U {
				in++
			}
		}
		if v := float64(in) / float64(max(all, 1)); v >= share {
			share, worst = v, most
		}
	}
	return share, worst
}

// A known length that is none is said, not guessed at.
func TestKnownLengthRefused(t *testing.T) {
	var photo bytes.Buffer
	if err := png.Encode(&photo, image.NewGray(image.Rect(0, 0, 400, 300))); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name  string
		known measure.KnownLength
		want  finding.Code
	}{
		{"one place", measure.KnownLength{From: [2]float64{100, 100}, To: [2]float64{100, 101}, Length: unit.Estimate(10, 0)}, "known-length-none"},
		{"no number", measure.KnownLength{From: [2]float64{math.NaN(), 100}, To: [2]float64{100, 101}, Length: unit.Estimate(10, 0)}, "known-length-none"},
		{"nought", measure.KnownLength{To: [2]float64{100, 101}}, "known-length-none"},
		{"beyond the table", measure.KnownLength{To: [2]float64{9e5, 0}, Length: unit.Estimate(10, 0)}, "known-length-unseen"},
		{"nothing on the table", measure.KnownLength{To: [2]float64{100, 101}, Length: unit.Estimate(60, 0)}, "silhouette-lost"},
	} {
		_, list, err := measure.Run(t.Context(), measure.Input{Photo: photo.Bytes(), Known: &tt.known})
		if err != nil || len(list) == 0 || list[0].Code != tt.want {
			t.Errorf("%s: %v, error %v, want %s", tt.name, list, err, tt.want)
		}
	}
}
