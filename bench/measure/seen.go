package main

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/stage/measure"
)

// lensOf is the camera that the stage fits to the marks it is given.
func (s *sample) lensOf(in measure.Input) (camera.Camera, bool) {
	known := camera.Known{Width: s.truth.Size[0], Height: s.truth.Size[1]}
	if f := s.truth.Camera.F35; f != nil {
		known.F35 = float64(*f)
	}
	fit, err := camera.Fit(marksOf(in), known)
	return fit.Camera, err == nil
}

func marksOf(in measure.Input) (out []camera.Mark) {
	for _, m := range in.Marks.Marks {
		out = append(out, camera.Mark{Px: r2.Vec{X: m.Pixel[0], Y: m.Pixel[1]}, Mm: r2.Vec{X: m.Mat[0], Y: m.Mat[1]}})
	}
	return out
}

// contourOf is the body's outline: up one side and down the other.
func contourOf(r measure.Result) (out [][2]float64) {
	for _, p := range r.Seen.Sides[0] {
		out = append(out, p.Px)
	}
	for _, p := range slices.Backward(r.Seen.Sides[1]) {
		out = append(out, p.Px)
	}
	return out
}
