package measure_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/measure"
)

// from is the camera of tilted, leaned otherwise.
func from(high, leanX, leanY, turn float64) camera.Camera {
	cam := tilted()
	cam.R = [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	var d [camera.Params]float64
	d[5], d[6], d[7] = leanX, leanY, turn
	cam = cam.Nudge(d)
	z := r3.Vec{X: cam.R[2][0], Y: cam.R[2][1], Z: cam.R[2][2]}
	cam.C = r3.Sub(r3.Vec{X: 150, Y: 100}, r3.Scale(-high/z.Z, z))
	return cam
}

// picked are crossings as a hand picks them, a third of a pixel off.
func picked(cam camera.Camera, rng *rand.Rand) (out model.Marks) {
	out.PitchMM = 10
	for i := range 5 {
		for j := range 4 {
			mm := [2]float64{10 + 70*float64(i), 10 + 60*float64(j)}
			px, _ := cam.Project(r3.Vec{X: mm[0], Y: mm[1]})
			out.Marks = append(out.Marks, model.Mark{
				Pixel: [2]float64{px.X + 0.3*rng.NormFloat64(), px.Y + 0.3*rng.NormFloat64()}, Mat: mm,
			})
		}
	}
	return out
}

func codes(list finding.List) (out []finding.Code) {
	for _, f := range list {
		out = append(out, f.Code)
	}
	return out
}

// A square view of a mat by a camera that does not say its focal length leaves the
// camera's height open; two tilted ones by the same camera settle it.
func TestOthersTellTheLens(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	mat := blank(t, 1600, 1200)
	in := measure.Input{Photo: mat, Marks: picked(from(420, 0.01, 0.008, 0.1), rng)}
	for _, lean := range [][2]float64{{0.4, 0.1}, {-0.15, 0.42}} {
		in.Others = append(in.Others, measure.Other{Photo: mat, Marks: picked(from(450, lean[0], lean[1], -0.2), rng)})
	}
	joined, found, err := measure.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	if slices.Contains(codes(found), "focal-length-unknown") || math.Abs(joined.Camera.HeightMM-420) > 0.02*420 {
		t.Errorf("together: camera at %.1f mm, want 420 within 2 %%; %v", joined.Camera.HeightMM, codes(found))
	}
	in.Others = nil
	alone, found, err := measure.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("camera at %.1f mm alone, %.1f together, 420 in truth", alone.Camera.HeightMM, joined.Camera.HeightMM)
	if !slices.Contains(codes(found), "focal-length-unknown") {
		t.Errorf("alone: %v, want focal-length-unknown", codes(found))
	}
}

// A further photograph that cannot help is left out and said; the measured one is
// measured all the same.
func TestOthersThatDoNotHelp(t *testing.T) {
	t.Parallel()
	photo, marks := blank(t, 1600, 1200), picked(tilted(), rand.New(rand.NewPCG(5, 6)))
	few := model.Marks{PitchMM: 10, Marks: marks.Marks[:3]}
	for _, tt := range []struct {
		name  string
		other measure.Other
		want  finding.Code
	}{
		{"another size", measure.Other{Photo: blank(t, 800, 600), Marks: marks}, "photo-other-camera"},
		{"no picture", measure.Other{Photo: []byte("no picture"), Marks: marks}, "photo-helps-not"},
		{"empty", measure.Other{}, "photo-helps-not"},
		{"three marks", measure.Other{Photo: photo, Marks: few}, "photo-helps-not"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.other.PhotoAt = finding.Place{File: "other.jpg"}
			r, found, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: marks, Others: []measure.Other{tt.other}})
			if err != nil {
				t.Fatal(err)
			}
			at := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Code == tt.want })
			if at < 0 || found[at].At.File != "other.jpg" || r.Camera.HeightMM == 0 {
				t.Errorf("findings %v, want %s at other.jpg; camera at %.0f mm", found, tt.want, r.Camera.HeightMM)
			}
		})
	}
}
