package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// step is the light across an edge, less the outside colour, over the difference of the
// two: along at the inside colour, nought at the outside one.
type step struct {
	reach float64
	v     []colour // at -reach, -reach + edgeStep, …
	along colour   // of length 1
	skip  []bool   // a printed line lies there
	clear bool
	lined bool // a printed line lies close outside
}

// leastContrast is the least difference of colour, in square root of light, that
// counts as an edge: about five grey steps of an 8-bit file.
const leastContrast = 0.03

// The inside colour is read so far within the path, pixels: close to the edge, since many
// a body is of one colour at its limb and of another further in.
const (
	innerFrom = 1.5
	innerTo   = 3.5
)

func (m ground) readStep(at, out r2.Vec, reach float64) step {
	// Read a little beyond the reach for the side colours.
	const beyond = 2.0
	n := int(2*(reach+beyond)/edgeStep) + 1
	line, lined := make([]colour, n), make([]bool, n)
	for k := range line {
		t := -reach - beyond + edgeStep*float64(k)
		line[k] = m.alongEdge(at, out, t)
		lined[k] = t > 0 && m.onLine(r2.Add(at, r2.Scale(t, out)))
	}
	side := int(beyond/edgeStep) + 3
	inner := middle(line[n/2-int(innerTo/edgeStep) : n/2-int(innerFrom/edgeStep)+1])
	s := step{reach: reach, lined: slices.Contains(lined[n/2:n/2+int(linedNear/edgeStep)], true)}
	var mat, ink []colour
	for k := n - 1; k > n/2; k-- {
		if !lined[k] && k > n/2+side && len(mat) < side {
			mat = append(mat, line[k])
		}
		if lined[k] && k < n/2+int(fitReach/edgeStep) {
			ink = append(ink, line[k])
		}
	}
	outer := m.bareAt(at)
	switch {
	case len(ink) > side: // along the edge runs a line: it is what lies outside
		outer = middle(ink)
		clear(lined)
	case len(mat) > 2:
		outer = middle(mat)
	}
	d := inner.minus(outer)
	if contrast(inner, outer) < leastContrast {
		return s
	}
	s.clear = true
	d = lightAndTint(d, 1)
	size := math.Sqrt(d.dot(d))
	s.along = colour{d[0] / size, d[1] / size, d[2] / size}
	for k := range line {
		if k*2 >= int(2*beyond/edgeStep) && k < n-int(beyond/edgeStep) {
			v := line[k].minus(outer)
			s.v = append(s.v, lightAndTint(v, size))
			s.skip = append(s.skip, lined[k])
		}
	}
	return s
}

// alongEdge is the mean colour over three pixels along an edge, t pixels outside it.
func (m ground) alongEdge(at, out r2.Vec, t float64) (c colour) {
	for _, side := range [3]float64{-1, 0, 1} {
		p := m.photo.at(at.X+t*out.X-side*out.Y, at.Y+t*out.Y+side*out.X)
		for j := range c {
			c[j] += p[j] / 3
		}
	}
	return c
}

// contrast is how far apart two colours lie, in square root of light, in the channel that
// shows it most.
func contrast(a, b colour) (most float64) {
	for j := range a {
		most = max(most, math.Abs(math.Sqrt(a[j])-math.Sqrt(b[j])))
	}
	return most
}

// lightAndTint parts a difference of colours into one of light and two of tint, over a size.
// A grey step is as high as in all three colours.
func lightAndTint(v colour, size float64) colour {
	y := 0.299*v[0] + 0.587*v[1] + 0.114*v[2] // as JPEG files part them (ITU-R BT.601)
	return colour{math.Sqrt(3) * y / size, (v[0] - y) / size, (v[2] - y) / size}
}

// tintBlur is how much more blurred tint is than light, pixels: most JPEG files keep one
// value of tint for two pixels by two.
const tintBlur = 1.0

// onLine reports whether a printed line of the grid, its blur included, lies at a place
// of the mat that no ruler hides.
func (m ground) onLine(px r2.Vec) bool {
	at, ok := m.cam.OnPlane(px, 0)
	if !ok || !m.looks.printed {
		return false
	}
	if _, over := m.onRuler(px); over {
		return false
	}
	dx := math.Abs(at.X - math.Round(at.X/m.pitch[0])*m.pitch[0])
	dy := math.Abs(at.Y - math.Round(at.Y/m.pitch[1])*m.pitch[1])
	return min(dx, dy) < lineHalf+lineBlur/m.perMM()
}

// lineBlur is how far, pixels, the picture's blur carries a printed line's light.
const lineBlur = 1.5

// perMM is how many pixels a millimetre of the mat takes.
func (m ground) perMM() float64 { return m.cam.F / m.cam.Height() }

// middle is the median of each channel: one printed line among the samples does
// not move it.
func middle(line []colour) (c colour) {
	v := make([]float64, len(line))
	for j := range c {
		for k := range line {
			v[k] = line[k][j]
		}
		slices.Sort(v)
		c[j] = v[len(v)/2]
	}
	return c
}

// crossing is the place where the step passes one half, the nearest to the
// middle where there are several.
func (s step) crossing() (t float64, ok bool) {
	best := math.Inf(1)
	for k := 1; k < len(s.v); k++ {
		u, v := s.v[k-1].dot(s.along), s.v[k].dot(s.along)
		if u < 0.5 || v >= 0.5 {
			continue
		}
		x := -s.reach + edgeStep*(float64(k-1)+(u-0.5)/(u-v))
		if math.Abs(x) < math.Abs(best) {
			best = x
		}
	}
	return best, !math.IsInf(best, 1)
}
