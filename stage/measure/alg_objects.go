package measure

import (
	"cmp"
	"slices"

	"scalewright/craft/cores"
)

// Limits of what counts as bare mat, in natural logarithms of light over the
// mat's own. A shadow takes light and leaves nearly all the colour: under the
// sky alone a mat keeps a quarter to a third of its light (ln = -1.4 to -1.1).
// A pixel whose colour has moved by more than a factor of e between channels is
// not mat, whatever its light.
const (
	otherColour = 0.9
	muchLighter = 0.8
	muchDarker  = -1.5
)

// kind of a pixel. The kinds by light alone are kept apart, so that a dark
// object touching a bright ruler does not run together with it.
type kind uint8

const (
	bare kind = iota
	lighter
	darker
	coloured
)

func (m ground) classify(otherColour float64) []kind {
	out := make([]kind, len(m.region))
	for i, in := range m.region {
		if !in {
			continue
		}
		q := m.looks.ratio[i]
		switch light := lightOf(q); {
		case tintOf(q) > otherColour:
			out[i] = coloured
		case light > muchLighter:
			out[i] = lighter
		case light < muchDarker:
			out[i] = darker
		}
	}
	return out
}

// found is an object and its area in pixels.
type found struct {
	mask grid
	area int
}

// findObjects returns the masks of objects, and of rulers by their shape, the
// largest first: patches, inside
// the region and not a ruler, of pixels that are not bare mat. Printed lines and
// scratches, up to thin pixels wide, are opened away first. Of two that share
// pixels the larger is kept.
func findObjects(kinds []kind, region []bool, w, h int, thin int, pxPerMM float64) (objects, rulers []grid) {
	var of [2]onMat
	cores.Each(len(of), func(k int) {
		of[k] = objectsOf([2]kind{lighter, darker}[k], kinds, region, grid{w: w, h: h}, thin, pxPerMM)
	})
	all := slices.Concat(of[0].objects, of[1].objects)
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.area, a.area) })
	for _, f := range all {
		if !slices.ContainsFunc(objects, f.mask.meets) {
			objects = append(objects, f.mask)
		}
	}
	return objects, slices.Concat(of[0].rulers, of[1].rulers)
}

// onMat is what lies on the mat by one side of its light.
type onMat struct {
	objects []found
	rulers  []grid
}

// objectsOf are those of a kind, lighter or darker than the mat, and of another colour.
func objectsOf(is kind, kinds []kind, region []bool, g grid, thin int, pxPerMM float64) (out onMat) {
	g.on = make([]bool, len(kinds))
	for i, k := range kinds {
		g.on[i] = k == is
	}
	if is == darker {
		// A light streak along a dark body leaves a hole in it. Printed lines are
		// light, so no square of the grid can be taken for one.
		g = g.filled()
	}
	for i, k := range kinds {
		g.on[i] = g.on[i] || k == coloured
	}
	g = g.grow(thin, false).grow(thin, true)
	for _, b := range g.blobs(region) {
		s := shapeOf(b, g.w)
		if s.ruler(pxPerMM) {
			out.rulers = append(out.rulers, g.only(b))
		}
		if b.touches || s.area < leastObject*pxPerMM*pxPerMM || s.ruler(pxPerMM) {
			continue
		}
		whole := g.only(b)
		out.objects = append(out.objects, found{whole, whole.count()})
	}
	return out
}

// leastObject is the least area of an object, mm²: a body 20 mm long and 5 across.
const leastObject = 100

// ownColour is the least difference of colour from the mat that the object
// itself shows: seven tenths of what nine tenths of its own pixels near its edge
// exceed. Above it lies the object but, in most pictures, not the printed lines,
// which are blends of ink and mat: taken as the limit, it keeps lines that end
// at the object from leaving stubs on it.
func (m ground) ownColour(object grid) float64 {
	core := object.grow(m.thin, false)
	deep := core.grow(2*m.thin, false)
	var tints []float64
	for i, on := range core.on {
		if on && !deep.on[i] {
			tints = append(tints, tintOf(m.looks.ratio[i]))
		}
	}
	if len(tints) == 0 {
		return 0
	}
	slices.Sort(tints)
	return 0.7 * tints[len(tints)/10]
}
