package camera

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// results reads what was found out of a fit that has come to rest.
func (f *fitter) results() ([]Fitted, error) {
	w := f.weigh()
	excess := make([]float64, len(f.views))
	for v := range f.views {
		excess[v] = f.together(v)
		for i := range w.marks[v] {
			w.marks[v][i] /= math.Sqrt(excess[v])
		}
	}
	info, _, cost := f.normal(w)
	if !isFinite(cost) {
		return nil, ErrNoSolution
	}
	all, ok := doubtsOf(info)
	if !ok {
		return nil, ErrNoSolution
	}
	off := f.offMarks()
	out := make([]Fitted, len(f.views))
	for v := range out {
		o := &out[v]
		*o = Fitted{
			Camera: f.at.cams[v], Sigma: f.sigma[v], Off: off[v], RMS: rms(off[v]),
			Together: math.Sqrt(excess[v]), FocalKnown: f.prior.focalKnown, Scale: f.at.scaleOf(v),
		}
		if o.modes, o.Cov, ok = all.modes(f.layout, v); !ok {
			return nil, ErrNoSolution
		}
		if f.scales > 0 {
			at := f.layout.scale(v)
			o.ScaleDoubt = [2]float64{all.of(at), all.of(at + 1)}
			o.UnevenDoubt = math.Sqrt(max(0, all.cov.At(at, at)+all.cov.At(at+1, at+1)-2*all.cov.At(at, at+1)))
		}
	}
	if len(f.ticks) > 0 {
		out[0].Ruler = f.rulerFound(all)
	}
	return out, nil
}

func (f *fitter) rulerFound(all doubts) Ruler {
	at := f.layout.ruler()
	r := Ruler{
		Height: f.at.ruler.height, HeightDoubt: all.of(at + 3),
		Lean: f.at.ruler.lean, LeanDoubt: all.of(at + 4),
		Sigma: f.tick,
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i, o := range f.offTicks() {
		r.Off = append(r.Off, math.Hypot(o[0], o[1]))
		at := f.at.ruler.run(f.ticks[i].At, f.edge[i])
		low, high = min(low, at), max(high, at)
	}
	r.RMS, r.Span = rms(r.Off), high-low
	return r
}

func rms(off []float64) float64 {
	ss := 0.0
	for _, r := range off {
		ss += r * r
	}
	return math.Sqrt(ss / float64(len(off)))
}

// True takes a place in the mat's print to true millimetres, those of the camera.
func (f *Fitted) True(printed r2.Vec) r2.Vec {
	return r2.Vec{X: f.Scale[0] * printed.X, Y: f.Scale[1] * printed.Y}
}
