package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/internal/photograph"
	"scalewright/model"
	"scalewright/stage/measure"
)

// sample is a photograph to measure and what is true of it.
type sample struct {
	name  string
	photo []byte
	truth photograph.Truth
	mask  *image.Gray
	traps []string
}

// load reads NAME.jpg, NAME.json and NAME_mask.png of a folder.
func load(dir, name string, traps []string) (sample, error) {
	s := sample{name: name, traps: traps}
	raw, err := os.ReadFile(filepath.Join(dir, name+".json"))
	if err != nil {
		return s, err
	}
	if err := json.Unmarshal(raw, &s.truth); err != nil {
		return s, fmt.Errorf("read %s: %w", name, err)
	}
	if s.photo, err = os.ReadFile(filepath.Join(dir, s.truth.Image)); err != nil {
		return s, err
	}
	file, err := os.Open(filepath.Join(dir, s.truth.Mask))
	if err != nil {
		return s, err
	}
	img, err := png.Decode(file)
	if err := errors.Join(err, file.Close()); err != nil {
		return s, fmt.Errorf("read %s: %w", s.truth.Mask, err)
	}
	gray, ok := img.(*image.Gray)
	if !ok {
		return s, fmt.Errorf("read %s: not a grey picture", s.truth.Mask)
	}
	s.mask = gray
	return s, nil
}

// seeded is a drawn photograph, from the cache where it was drawn before.
func seeded(ctx context.Context, cache string, seed uint64) (sample, error) {
	if err := drawOne(ctx, cache, seed, 0); err != nil {
		return sample{}, err
	}
	scene := photograph.Seeded(seed)
	return load(cache, scene.Name, scene.Traps)
}

// cacheDir is where photographs of this version of the drawing are kept.
func cacheDir() (string, error) {
	user, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(user, "scalewright", fmt.Sprintf("photographs-v%d", photograph.Version))
	return dir, os.MkdirAll(dir, 0o755)
}

// input is the photograph alone; with marks, what a hand would pick under a loupe
// besides, to a tenth of a pixel. The datum is the end that the truth calls 0.
func (s *sample) input(marks bool) measure.Input {
	in := measure.Input{Photo: s.photo, Datum: "left", Flat: true} // as scalewright measure asks
	if s.truth.Object.StartPx[0] > s.truth.Object.EndPx[0] {
		in.Datum = "right"
	}
	if marks {
		in.Marks.PitchMM = s.truth.Mat.Pitch
		for _, m := range s.truth.Mat.Suggested {
			in.Marks.Marks = append(in.Marks.Marks, model.Mark{
				Pixel: [2]float64{math.Round(m.Px[0]*10) / 10, math.Round(m.Px[1]*10) / 10}, Mat: m.Printed,
			})
		}
	}
	return in
}

// lens is the camera that took the photograph.
func (s *sample) lens() *camera.Camera {
	c := &s.truth.Camera
	return &camera.Camera{
		F: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.K1, K2: c.K2, R: c.R,
		C: r3.Vec{X: c.Centre[0], Y: c.Centre[1], Z: c.Centre[2]},
	}
}

// guessable reports whether the picture tells how large things are: a misprinted
// mat alone does not, nor does a ruler that lies beside what the picture shows.
func (s *sample) guessable() bool {
	wrong := math.Abs(s.truth.Mat.Scale[0]-1) > 0.002 || math.Abs(s.truth.Mat.Scale[1]-1) > 0.002
	return !wrong || s.rulerShown() > shownEnough
}

// shownEnough is how many centimetres of a ruler, or crossings of one of the mat's
// outer lines, are enough to tell its millimetres.
const shownEnough = 4

// rulerShown is how many of the ruler's centimetre lines lie within the picture.
func (s *sample) rulerShown() (n int) {
	pose := s.truth.Ruler.Pose
	if !s.truth.Ruler.Present || pose == nil {
		return 0
	}
	lens := s.lens()
	sin, cos := math.Sincos(pose.Ang * math.Pi / 180)
	for mm := 0.0; mm <= 300; mm += 10 {
		px, ok := lens.Project(r3.Vec{X: pose.P[0] + mm*cos, Y: pose.P[1] + mm*sin, Z: s.truth.Ruler.TickPlane})
		if ok && px.X > 0 && px.Y > 0 && px.X < float64(s.truth.Size[0]) && px.Y < float64(s.truth.Size[1]) {
			n++
		}
	}
	return n
}

// stepTold reports whether the picture tells the grid's step: by a ruler's
// millimetres, or by the ticks along the mat's border, at the lines i = 0 and j = 0.
func (s *sample) stepTold() bool {
	low, left := 0, 0
	for _, c := range s.truth.Mat.Crossings {
		if c.Visible && c.J == 0 {
			low++
		}
		if c.Visible && c.I == 0 {
			left++
		}
	}
	return s.rulerShown() > shownEnough || low > shownEnough || left > shownEnough
}
