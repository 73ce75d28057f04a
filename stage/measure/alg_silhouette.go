package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// silhouette is the object's edge and a first guess of its axis.
type silhouette struct {
	edge  []edgePoint
	a, b  r2.Vec  // image points near the two ends, a to the left
	width float64 // rough width across the axis, mm
	even  bool    // alike on both sides of it, but for what a fin or a handle is
}

// mostOdd is the most that may stand out of a turned body on one side, as a share of
// all: a handle is a tenth, the angle of an L a quarter.
const mostOdd = 0.18

// ground is what of the picture is looked at, and what bare mat looks like there.
type ground struct {
	photo   *picture
	cam     *camera.Camera
	reduced *reduced
	region  []bool
	bare    *background
	looks   *look
	pitch   [2]float64    // of the grid in X and Y, mm
	scale   float64       // reduced pixels a millimetre
	ticks   []camera.Tick // of a ruler that was found
	faces   [][]bool      // where rulers lie, reduced pixels
	ruled   []bool        // and where one's print was taken out of what is seen
	beside  []bool        // of a ruler that the object lies across, what is not under it
	thin    int           // reduced pixels that half a printed line takes
	within  bool          // the object lies clear of where the grid ends
	brushes []Brush       // what the maker painted
}

// findGround looks at a region of the mat (pixels of the full picture).
func findGround(ctx context.Context, p *picture, cam *camera.Camera, region []r2.Vec, pitch [2]float64) (ground, error) {
	r, err := reduce(ctx, p)
	if err != nil {
		return ground{}, err
	}
	in := r.inside(region)
	m := ground{photo: p, cam: cam, reduced: r, region: in, bare: findBackground(r, in), pitch: pitch}
	m.scale = cam.F / cam.Height() / float64(r.n)
	m.thin = max(1, int(math.Ceil(thinLine*m.scale)))
	m.looks, err = m.look(ctx)
	if err != nil {
		return ground{}, err
	}
	m.readGrid(m.looks)
	m.looks.calm = m.calm(m.looks)
	return m, nil
}

// objects are the masks of what lies on the mat, the largest first. A ruler that was
// found is none.
func (m *ground) objects() []grid {
	m.findRuler()
	all := m.coloured(otherColour)
	if len(all) > 0 {
		if own := m.ownColour(all[0]); own > otherColour {
			// The first one's colour says nothing of the others.
			if again := m.coloured(own); len(again) > 0 {
				all[0] = again[0]
			}
		}
	}
	return m.bridged(m.withHiding(all))
}

// coloured are the masks of what has another colour than the mat.
func (m *ground) coloured(otherColour float64) []grid {
	r := m.reduced
	kinds := m.classify(otherColour)
	for _, face := range m.faces {
		for i, on := range face {
			if on {
				kinds[i] = bare
			}
		}
	}
	objects, rulers := findObjects(m.brushedKinds(kinds), m.region, r.w, r.h, m.thin, m.scale)
	for _, g := range rulers {
		face := g.grow(m.thin+1, true).on
		for i, on := range face {
			if on {
				m.looks.says[i] = 0
			}
		}
		m.faces = append(m.faces, face)
	}
	return objects
}

// toldByColour is the share of what hides the grid that must have another colour
// than the mat for the colour alone to be followed: in a deep shadow the grid hides
// too.
const toldByColour = 0.6

// withHiding puts what hides the grid first, with whatever of it was told by its
// colour.
func (m ground) withHiding(all []grid) []grid {
	h := m.hiding()
	if h.on == nil {
		return all
	}
	for k, g := range all {
		if g.meets(h) {
			rest := append(slices.Clone(all[:k]), all[k+1:]...)
			joined := g.clone()
			if float64(g.count()) < toldByColour*float64(h.count()) {
				joined.add(h)
			} else {
				rest = m.withOwnHue(joined, h, rest)
			}
			return append([]grid{joined}, rest...)
		}
	}
	return append([]grid{h}, all...)
}

// What hides the grid in full light is no shadow, though it be of the mat's own hue. Where
// so much of it lies on no object it is a part of the one that it runs on from, with
// whatever lies on it.
const (
	fullLight = -0.5 // median of the logarithm of light over the mat's
	ownHue    = 0.25 // share that lies on no object: else it is another object close by
	shownMost = 0.25 // of what hides lines in that share, that may show them: a gap does
)

// withOwnHue adds to an object what hides the grid beside it in full light, and leaves out
// of the rest what that takes in.
func (m ground) withOwnHue(g, hides grid, rest []grid) []grid {
	told := g.clone()
	for _, o := range rest {
		told.add(o)
	}
	more := hides.clone()
	for i, on := range g.on {
		more.on[i] = more.on[i] && !on
	}
	more = more.grow(m.thin, false).grow(m.thin, true)
	near := g.grow(2*m.thin+1, true)
	for _, b := range more.blobs(m.region) {
		touches, bare, hidden, shown := false, 0, 0, 0
		light := make([]float64, len(b.pixels))
		for k, i := range b.pixels {
			touches = touches || near.on[i]
			light[k] = lightOf(m.looks.ratio[i])
			if told.on[i] {
				continue
			}
			bare++
			switch s := m.looks.says[i]; {
			case s&saysHidden != 0:
				hidden++
			case s&saysMat != 0:
				shown++
			}
		}
		n := float64(len(b.pixels))
		if !touches || n < leastObject*m.scale*m.scale || float64(bare) < ownHue*n ||
			float64(shown) > shownMost*float64(hidden) || median(light) < fullLight {
			continue
		}
		for _, i := range b.pixels {
			g.on[i] = true
		}
	}
	var left []grid
	for _, o := range rest {
		if o.meets(g) {
			g.add(o)
		} else {
			left = append(left, o)
		}
	}
	return left
}

// edgeOf is an object's edge to a fraction of a pixel; ok is false where it is
// not to be told from the mat.
func (m ground) edgeOf(ctx context.Context, g grid) ([]edgePoint, bool, error) {
	outline := trace(m.reduced, g)
	if outline == nil {
		return nil, false, nil
	}
	edge, err := m.refineEdge(ctx, outline)
	if err != nil {
		return nil, false, err
	}
	good := 0
	for _, e := range edge {
		if e.good {
			good++
		}
	}
	return edge, good >= 40 && 2*good >= len(edge), nil
}

// silhouetteOf is the edge of an object and a first guess of its axis.
func (m ground) silhouetteOf(ctx context.Context, g grid) (silhouette, bool, error) {
	cut, ok, err := m.cut(ctx, g)
	if !ok || err != nil {
		return silhouette{}, false, err
	}
	g = m.brushed(cut.mask)
	edge, ok, err := m.edgeOf(ctx, g)
	if !ok || err != nil {
		return silhouette{}, false, err
	}
	s := silhouette{edge: edge, width: m.shape(g).short / m.scale, even: cut.odd < mostOdd}
	s.a, s.b = cut.plane.ends()
	return s, true, nil
}

func (m ground) shape(g grid) shape {
	var pixels []int
	for i, on := range g.on {
		if on {
			pixels = append(pixels, i)
		}
	}
	return shapeOf(blob{pixels: pixels}, g.w)
}

// thinLine is how wide, mm, half a printed line or scratch is at most, its blur
// included.
const thinLine = 0.55
