package place

import (
	"math"

	"scalewright/model"
	"scalewright/solid"
)

// apart reports whether two bays share no room. A wound strip is a ring.
func apart(a, b model.Bay) bool {
	off := middle(b).Sub(middle(a))
	if a.Wound > 0 || b.Wound > 0 {
		up := solid.Vec{0, 0, 1}
		if math.Abs(off[2]) > (reach(a, up)+reach(b, up))*(1+sphereSlack) {
			return true
		}
	} else if off.Length() > (diagonal(a)+diagonal(b))/2*(1+sphereSlack) {
		return true
	}
	return shared(a, b) <= 0
}

// sphereSlack keeps rounding from calling apart what [shared] would not: it is far
// above 2⁻⁵² and far below what matters.
const sphereSlack = 1e-9

func diagonal(b model.Bay) float64 {
	return solid.Vec{float64(b.Size[0]), float64(b.Size[1]), float64(b.Size[2])}.Length()
}

// shared is by how much two bays would have to move to share no room, by separating
// axes: two boxes are apart when along one of their face normals or of the products
// of their edges they are (Gottschalk, Lin & Manocha, SIGGRAPH 1996). Zero or less
// when they are apart.
func shared(a, b model.Bay) float64 {
	switch {
	case a.Wound > 0 && b.Wound > 0:
		along := float64(a.Size[2]+b.Size[2])/2 - math.Abs(float64(a.Centre[2]-b.Centre[2]))
		across := math.Min(float64(a.Wound-(b.Wound-b.Size[0])), float64(b.Wound-(a.Wound-a.Size[0])))
		return math.Min(along, across)
	case a.Wound > 0:
		return ringShared(a, b)
	case b.Wound > 0:
		return ringShared(b, a)
	}
	least := math.Inf(1)
	off := middle(b).Sub(middle(a))
	along := func(axis solid.Vec) {
		long := axis.Length()
		if long < parallel {
			return // the edges run the same way: a face normal says it
		}
		least = math.Min(least, (reach(a, axis)+reach(b, axis)-math.Abs(off.Dot(axis)))/long)
	}
	for i := range 3 {
		along(a.Axes[i])
		along(b.Axes[i])
		for k := range 3 {
			along(solid.Vec(a.Axes[i]).Cross(b.Axes[k]))
		}
	}
	return least
}

// parallel is the sine below which two unit vectors count as one direction: the
// product of their rounding, far above 2⁻⁵² and far below what moves a bay's corner
// by a hundredth of a millimetre.
const parallel = 1e-9

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

// ringShared is the same of a ring and a box, which may lie beyond its ends, within
// its bore or outside of it. Never less than the room that they share.
func ringShared(ring, b model.Bay) float64 {
	up := solid.Vec{0, 0, 1}
	along := float64(ring.Size[2])/2 + reach(b, up) - math.Abs(float64(ring.Centre[2]-b.Centre[2]))
	near, far := 0.0, 0.0
	out := solid.Vec{float64(b.Centre[0]), float64(b.Centre[1]), 0}
	if d := out.Length(); d > 0 {
		near = d - reach(b, out.Scale(1/d))
	}
	for i := range 8 {
		p := middle(b)
		for k := range 3 {
			side := float64(b.Size[k]) / 2
			if i>>k&1 == 1 {
				side = -side
			}
			p = p.Add(solid.Vec(b.Axes[k]).Scale(side))
		}
		far = math.Max(far, math.Hypot(p[0], p[1]))
	}
	within := far - float64(ring.Wound-ring.Size[0])
	outside := float64(ring.Wound) - near
	return math.Min(along, math.Min(within, outside))
}
