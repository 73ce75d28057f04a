package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// fan is directions from the camera about a plane through its centre. What is turned
// about an axis in that plane is seen alike on both sides of it, whatever the lens: a
// circle about the axis is its own mirror image in every plane through the axis.
//
// Rows are directions along the plane, columns angles out of it to either side.
type fan struct {
	cam         *camera.Camera
	mid, along  r3.Vec    // unit, in the plane: to its middle, and square to that
	across      r3.Vec    // unit normal of the plane
	seen        [3]r3.Vec // the three of them as the camera has them
	step        float64   // rad, from one row or column to the next
	first, rows int       // row 0 is this many steps from the middle
	cols        int
}

// fanThrough is the fan about the plane through the camera and two image points, long
// enough to reach room pixels beyond them and wide pixels to either side.
func fanThrough(cam *camera.Camera, a, b r2.Vec, room, wide, step float64) (fan, bool) {
	ra, rb := cam.Ray(a), cam.Ray(b)
	n := r3.Cross(ra, rb)
	if r3.Norm(n) < 1e-9 {
		return fan{}, false
	}
	f := fan{cam: cam, across: r3.Unit(n), mid: r3.Unit(r3.Add(ra, rb)), step: step / cam.F}
	f.along = r3.Cross(f.across, f.mid)
	for k, v := range [3]r3.Vec{f.mid, f.along, f.across} {
		f.seen[k] = cam.Turned(v)
	}
	half := math.Acos(min(1, r3.Dot(ra, f.mid)))
	f.rows = int(2 * (half + room/cam.F) / f.step)
	f.first = -f.rows / 2
	f.cols = int(wide / step)
	return f, f.rows > 3 && f.cols > 3
}

// turn is an angle by its sine and cosine.
type turn struct{ sin, cos float64 }

// ray is a row's direction in the plane, as the camera has it; columns are how far each
// column is turned out of it.
func (f fan) ray(row int) r3.Vec {
	sin, cos := math.Sincos(f.step * (float64(f.first+row) + 0.5))
	return r3.Add(r3.Scale(cos, f.seen[0]), r3.Scale(sin, f.seen[1]))
}

func (f fan) columns() []turn {
	out := make([]turn, f.cols)
	for col := range out {
		out[col] = f.column(col)
	}
	return out
}

func (f fan) column(col int) turn {
	sin, cos := math.Sincos(f.step * (float64(col) + 0.5))
	return turn{sin, cos}
}

// at is the place of the full picture seen along a row's ray turned to one side, 1 or -1.
func (f fan) at(ray r3.Vec, out turn, side float64) (r2.Vec, bool) {
	q := r3.Add(r3.Scale(out.cos, ray), r3.Scale(side*out.sin, f.seen[2]))
	if q.Z <= 0 {
		return r2.Vec{}, false
	}
	return f.cam.Distort(r2.Vec{X: q.X / q.Z, Y: q.Y / q.Z}), true
}

// pixel is the place of the full picture that row and column look at; side is 1 or -1.
func (f fan) pixel(row, col int, side float64) (r2.Vec, bool) {
	return f.at(f.ray(row), f.column(col), side)
}

// cell is the row and the columns out of the plane at which a pixel is seen.
func (f fan) cell(px r2.Vec) (row, col float64) {
	d := f.cam.Ray(px)
	row = math.Atan2(r3.Dot(d, f.along), r3.Dot(d, f.mid))/f.step - float64(f.first)
	return row, math.Asin(min(max(r3.Dot(d, f.across), -1), 1)) / f.step
}
