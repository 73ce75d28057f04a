package place

import (
	"math"

	"scalewright/model"
	"scalewright/solid"
)

// apart reports whether two bays share no room, by separating axes: two boxes are
// apart when along one of their face normals or of the products of their edges
// they are (Gottschalk, Lin & Manocha, SIGGRAPH 1996). A wound strip is a ring.
func apart(a, b model.Bay) bool {
	switch {
	case a.Wound > 0 && b.Wound > 0:
		return math.Abs(float64(a.Centre[2]-b.Centre[2])) >= float64(a.Size[2]+b.Size[2])/2
	case a.Wound > 0:
		return ringApart(a, b)
	case b.Wound > 0:
		return ringApart(b, a)
	}
	var axes []solid.Vec
	for i := range 3 {
		axes = append(axes, solid.Vec(a.Axes[i]), solid.Vec(b.Axes[i]))
		for k := range 3 {
			axes = append(axes, solid.Vec(a.Axes[i]).Cross(solid.Vec(b.Axes[k])))
		}
	}
	off := middle(b).Sub(middle(a))
	for _, axis := range axes {
		if axis.Length() < 1e-9 {
			continue // the edges run the same way
		}
		if math.Abs(off.Dot(axis)) >= reach(a, axis)+reach(b, axis) {
			return true
		}
	}
	return false
}

func middle(b model.Bay) solid.Vec {
	return solid.Vec{float64(b.Centre[0]), float64(b.Centre[1]), float64(b.Centre[2])}
}

// reach is half of what a box takes along an axis.
func reach(b model.Bay, axis solid.Vec) float64 {
	r := 0.0
	for k := range 3 {
		r += float64(b.Size[k]) / 2 * math.Abs(solid.Vec(b.Axes[k]).Dot(axis))
	}
	return r
}

// ringApart reports whether a box keeps off a ring inside or along the axis.
func ringApart(ring, b model.Bay) bool {
	up := solid.Vec{0, 0, 1}
	if math.Abs(float64(ring.Centre[2]-b.Centre[2])) >= float64(ring.Size[2])/2+reach(b, up) {
		return true
	}
	far := math.Hypot(float64(b.Centre[0]), float64(b.Centre[1])) + math.Hypot(reach(b, solid.Vec{1, 0, 0}), reach(b, solid.Vec{0, 1, 0}))
	return far <= float64(ring.Wound)-float64(ring.Size[0])
}
