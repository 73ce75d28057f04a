package photograph

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// From is the same scene taken by the same lens from elsewhere: the camera looks
// at the same place of the mat, from height mm, its axis leaned by tilt off the
// plumb line towards azimuth, the picture turned by roll; all in radians.
func (s Scene) From(height, roll, tilt, azimuth float64) Scene {
	old := s.lens.r[2]
	at := r3.Add(s.lens.c, r3.Scale(s.lens.c.Z/-old.Z, old))
	s.lens.aim(roll, tilt, azimuth)
	s.lens.c = r3.Sub(at, r3.Scale(height/math.Cos(tilt), s.lens.r[2]))
	return s
}
