package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/finding"
)

// A polished body mirrors what it lies beside, and beside a white ruler its edge is white
// too: the strongest change is the inner border of the band in which it does, and the edge
// a fainter one outside it, all along that side. Which of the two it is no photograph tells
// for sure: what lies between is left open.
const (
	furtherFrom  = 3.0  // pixels outside what was found
	furtherTill  = 16.0 // from there on it is none of the body's
	furtherStep  = 0.5
	furtherShow  = 0.02 // change of the root of light within two pixels
	furtherMost  = 0.75 // share of the side's points that show it there
	furtherQuiet = 0.6  // and, at most, somewhere within furtherPast pixels of it outwards
	furtherPast  = 5.0
	furtherGap   = 0.95 // of the change there, the most that is left between the two
	furtherLeast = 60   // points of a side
	flankLean    = 0.7  // of an end, the least its normal leans along the axis
)

// flank is on which side of the axis an edge point lies, -1 or 1; nought at an end.
func (v view) flank(a axis, i int) int {
	t := a.contact(v.cam.C, v.sight[i])
	if !t.ok || math.Abs(r3.Dot(v.sight[i].n, a.u)) > flankLean {
		return 0
	}
	if r3.Dot(t.e, r3.Cross(a.u, r3.Sub(v.cam.C, a.p))) < 0 {
		return -1
	}
	return 1
}

// further is how far outside a solution's outline, pixels, each side shows another edge: the
// side of flank -1 and that of 1; nought where it shows none.
func (m ground) further(v view, o *solution) [2]float64 {
	parts, most := o.form.parts(), o.form.most()
	apart := v.unturned(o)
	const n = int((furtherTill+6)/furtherStep) + 1
	var sum, hits, count [3][n]float64
	for i, e := range v.edge {
		px, ok := v.outside(o.axis, parts, most, i)
		side := v.flank(o.axis, i)
		if !ok || apart[i] || side == 0 || math.Abs(px) > tracedMost {
			continue
		}
		for j := range n {
			at := r2.Add(e.at, r2.Scale(furtherStep*float64(j)-px, e.out))
			if m.onLine(at) || m.onLine(r2.Add(at, e.out)) || m.onLine(r2.Sub(at, e.out)) {
				continue
			}
			g := m.change(at, e.out)
			count[side+1][j]++
			sum[side+1][j] += g
			if g > furtherShow {
				hits[side+1][j]++
			}
		}
	}
	for k := range count {
		for j, c := range count[k] {
			sum[k][j], hits[k][j] = sum[k][j]/max(c, furtherLeast), hits[k][j]/max(c, furtherLeast)
		}
	}
	return [2]float64{outermost(sum[0][:], hits[0][:]), outermost(sum[2][:], hits[2][:])}
}

// outermost is the last place of a side at which a step shows along most of it, with less of
// one before it and nothing after it: by the mean step and the share of points that show one
// at places furtherStep apart.
func outermost(step, shown []float64) float64 {
	at := func(px float64) int { return int(px / furtherStep) }
	for j := at(furtherTill); j >= at(furtherFrom); j-- {
		if shown[j] < furtherMost || step[j] < step[j-1] || step[j] < step[j+1] {
			continue
		}
		if slices.Min(step[1:j]) < furtherGap*step[j] && slices.Min(shown[j:min(len(shown), j+at(furtherPast)+1)]) < furtherQuiet {
			return furtherStep * float64(j)
		}
		return 0
	}
	return 0
}

// change is how much the root of light changes within two pixels along a normal, by the
// mean over five across.
func (m ground) change(at, out r2.Vec) float64 {
	var d colour
	for _, side := range [5]float64{-2, -1, 0, 1, 2} {
		p := r2.Add(at, r2.Vec{X: -side * out.Y, Y: side * out.X})
		a, b := m.photo.at(p.X-out.X, p.Y-out.Y), m.photo.at(p.X+out.X, p.Y+out.Y)
		for ch := range d {
			d[ch] += (math.Sqrt(b[ch]) - math.Sqrt(a[ch])) / 5
		}
	}
	return math.Sqrt(d.dot(d))
}

// leftOpen is a solution that leaves open what lies between its outline and another edge that
// shows outside all of one side: anywhere between is as likely (JCGM 100:2008, 4.3.7).
func (m ground) leftOpen(v view, o solution, set settings) (view, solution) {
	px := m.further(v, &o)
	if px == [2]float64{} {
		return v, o
	}
	w := view{v.cam, slices.Clone(v.edge), v.sight}
	for i := range w.edge {
		side := v.flank(o.axis, i)
		if side == 0 {
			continue
		}
		if by := px[(side+1)/2] / math.Sqrt(3); by > math.Abs(w.edge[i].open) {
			w.edge[i].open = by
		}
	}
	next, ok := w.refit(o, set)
	if !ok {
		return v, o
	}
	next.further = max(px[0], px[1]) * mmPerPixel(v, o.axis)
	return w, next
}

// checkFurther says that another edge shows outside the one that was taken.
func (o *solution) checkFurther(in Input, list *finding.List) {
	if o.further > 0 {
		list.Add(finding.New("edge-further", in.PhotoAt, finding.Args{"by": finding.Size(o.further)}))
	}
}
