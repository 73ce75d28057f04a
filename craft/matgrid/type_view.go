package matgrid

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// view takes places of the photograph to steps of the grid and back.
type view struct {
	cam  camera.Camera // over a mat of ten to a step
	step [2]float64    // true tens of the camera's world to a step, along either family
	w, h int
}

func viewOf(fit *camera.Fitted, w, h int) view {
	return view{fit.Camera, [2]float64{10 * fit.Scale[0], 10 * fit.Scale[1]}, w, h}
}

func (v view) steps(px r2.Vec) (r2.Vec, bool) {
	p, ok := v.cam.OnPlane(px, 0)
	return r2.Vec{X: p.X / v.step[0], Y: p.Y / v.step[1]}, ok
}

func (v view) px(s r2.Vec) (r2.Vec, bool) {
	return v.cam.Project(r3.Vec{X: v.step[0] * s.X, Y: v.step[1] * s.Y})
}
