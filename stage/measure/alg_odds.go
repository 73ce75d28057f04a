package measure

import (
	"math"
)

// What a pixel says is worth less than its look alone would have it: neighbours look
// alike for the same reason, and what is drawn wrong is learned wrong.
const (
	coreDepth   = 0.15 // of the object's width: further inside nothing is drawn wrong
	hiddenSays  = 1.5  // nats, of a line that should show and does not
	objectShare = 0.25 // of an object taken to show in light or shade of any depth
	shadowShare = 0.35 // of the mat taken to lie in a shadow of any depth
)

// trust is how much the looks may say, as a share of what they would, and how much of
// an object's look is learned from all of it; the rest is learned from its core alone,
// where nothing that lies beside it can have been taken for it.
type trust struct{ looks, rim float64 }

// trusts are tried in turn: much trust finds an object whose edge is hard to see, little
// keeps shadow from being taken for it.
var trusts = [...]trust{{0.3, 1}, {0.15, 0.3}}

// odds is, for each pixel of a patch, the logarithm of how likely its look is of what
// lies there if not the object, over how likely of the object, when the object is as
// drawn so far. The grid has its say too.
//
// On the ruler, what lies close to the object as it is drawn so far may belong to it
// and is not counted; on the mat the shadow lies there.
func (m ground) odds(p patch, g grid, by trust) []float64 {
	on := p.of(g)
	near := p.grown(g, int(math.Ceil(cutClear*m.scale)), true)
	ruler := m.overRuler(p)
	core := p.grown(g, int(coreDepth*m.shape(g).short), false)
	object, inner := p.count(func(i int) bool { return on[i] }), p.count(func(i int) bool { return core[i] })
	for b := range object {
		object[b] = by.rim*object[b] + (1-by.rim)*inner[b]
	}
	object = anyLight(object, objectShare)
	mat := p.mat(func(i int) bool { return !on[i] && !ruler[i] })
	face := anyLight(p.count(func(i int) bool { return !near[i] && ruler[i] }), shadowShare)
	overMat, overFace := by.nats(mat, object), by.nats(face, object)
	f := make([]float64, len(on))
	for i := range f {
		nats := overMat
		if ruler[i] {
			nats = overFace
		}
		f[i] = nats[p.box[p.full(i)]]
		if ruler[i] && m.looksRuled(p.full(i)) {
			f[i] = max(f[i], 0) // an object may be as white, but need not
		}
		switch s := p.says[p.full(i)]; {
		case m.beside != nil && m.beside[p.full(i)]:
			f[i] = cutTrust
		case s&saysMat != 0:
			f[i] = cutTrust
		case s&saysHidden != 0:
			f[i] -= hiddenSays
		case m.within && !m.region[p.full(i)]:
			f[i] = max(f[i], 0) // the mat's margin has no line to tell it
		}
	}
	return f
}

// nats is how much more each look is the other's than the object's.
func (t trust) nats(other, object []float64) []float64 {
	out := make([]float64, len(object))
	for b := range out {
		out[b] = min(max(t.looks*math.Log(other[b]/object[b]), -cutTrust), cutTrust)
	}
	return out
}

// of is a mask within the patch.
func (p patch) of(g grid) []bool {
	on := make([]bool, p.w*p.h)
	for y := range p.h {
		copy(on[y*p.w:(y+1)*p.w], g.on[(p.y0+y)*g.w+p.x0:])
	}
	return on
}

// grown is a mask within the patch, grown or shrunk: what lies beyond is too far to tell.
func (p patch) grown(g grid, n int, value bool) []bool {
	wide := patch{x0: p.x0 - 1, y0: p.y0 - 1, w: p.w + 2, h: p.h + 2}
	within := patch{x0: 1, y0: 1, w: p.w, h: p.h}
	return within.of(grid{wide.w, wide.h, wide.of(g)}.grow(n, value))
}

// overRuler is which pixels of the patch may show a ruler instead of the mat.
func (m ground) overRuler(p patch) []bool {
	out := make([]bool, p.w*p.h)
	for _, face := range m.faces {
		for i := range out {
			out[i] = out[i] || face[p.full(i)]
		}
	}
	return out
}

// count is the share of each box among some pixels, softened over neighbouring
// boxes, with a little for what was never seen.
func (p patch) count(which func(i int) bool) []float64 {
	n := make([]float64, boxes)
	total := 0.0
	for i := range p.w * p.h {
		if which(i) {
			n[p.box[p.full(i)]]++
			total++
		}
	}
	for _, axis := range [3]struct{ stride, steps int }{{1, grainSteps}, {grainSteps, tintSteps}, {grainSteps * tintSteps, lightSteps}} {
		soft := make([]float64, boxes)
		for b := range n {
			k := b / axis.stride % axis.steps
			low, high := b, b
			if k > 0 {
				low = b - axis.stride
			}
			if k < axis.steps-1 {
				high = b + axis.stride
			}
			soft[b] += n[b] / 2
			soft[low] += n[b] / 4
			soft[high] += n[b] / 4
		}
		n = soft
	}
	for b := range n {
		n[b] = (1-unseenShare)*n[b]/max(total, 1) + unseenShare/boxes
	}
	return n
}

// mat counts the mat: all that is not the object, the same in shadow, and, as much
// again, what is seen of it in real shadow beside lines that show.
func (p patch) mat(which func(i int) bool) []float64 {
	n := anyLight(p.count(which), shadowShare)
	dark := 0
	inShadow := func(i int) bool {
		k := p.full(i)
		return which(i) && p.says[k]&saysBare != 0 && lightOf(p.ratio[k]) < shadowLight
	}
	for i := range p.w * p.h {
		if inShadow(i) {
			dark++
		}
	}
	if dark < leastShadow {
		return n
	}
	for b, v := range p.count(inShadow) {
		n[b] = (n[b] + v) / 2
	}
	return n
}

// shadowLight is the logarithm of light below which the mat lies in shadow, and
// leastShadow how many pixels say how it looks there.
const (
	shadowLight = -0.3
	leastShadow = 300
)

// anyLight lets every tint and grain occur in shadow too, the grain there also a step
// weaker, since the dark end of a photograph is flat.
func anyLight(n []float64, share float64) []float64 {
	const stride = tintSteps * grainSteps
	const deep, full = 4, 13 // boxes: a seventh of the light, and a quarter more than full
	out := make([]float64, len(n))
	for k := range stride {
		sum := 0.0
		for l := range lightSteps {
			sum += n[l*stride+k] / 2
			if k%grainSteps+1 < grainSteps {
				sum += n[l*stride+k+1] / 2
			}
		}
		for l := range lightSteps {
			out[l*stride+k] = (1 - share) * n[l*stride+k]
			if l >= deep && l <= full {
				out[l*stride+k] += share * sum / float64(full-deep+1)
			}
		}
	}
	return out
}
