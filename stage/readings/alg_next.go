package readings

import (
	"math"
	"slices"

	"scalewright/model"
)

const (
	// What a caliper's jaws need to lie flat, and how deep they reach: of a caliper of
	// 150 mm (common practice; a guess until logged).
	jawWide = 3.0
	jawDeep = 40.0
	// A cone steeper than this, as a slope, no jaw holds: 5°.
	holds = 0.0875
	// A reading is worth taking where it lowers the doubt of the outline by this share.
	worth = 0.1
	// Two readings nearer than this, mm, are one.
	sameReading = 2.0
)

// next is the reading not yet taken that lowers the mean variance of the surface
// most; nil where it would not lower the outline's middle doubt by a tenth.
func (j *joining) next(p posterior) *Next {
	before := j.doubts(p, nil)
	best, least := Reading{}, before
	for _, r := range j.candidates() {
		if after := j.doubts(p, j.effect(r)); after.shared < least.shared {
			best, least = r, after
		}
	}
	if best.Kind == "" || least.middle > (1-worth)*before.middle {
		return nil
	}
	return &Next{
		Kind: best.Kind, Station: best.Station, From: best.From, To: best.To,
		Before: before.middle, After: least.middle, WorstBefore: before.worst, WorstAfter: least.worst,
	}
}

func (j *joining) effect(r Reading) *observation {
	o, ok := j.observe(r)
	if !ok {
		return nil
	}
	return &o
}

// candidates are the readings that a caliper could take, as long as the trace says.
func (j *joining) candidates() []Reading {
	var out []Reading
	add := func(r Reading) {
		for _, t := range j.taken {
			q := t.Reading
			if q.Kind == r.Kind && math.Abs(q.Station-r.Station) < sameReading && math.Abs(q.From-r.From) < sameReading && math.Abs(q.To-r.To) < sameReading {
				return
			}
		}
		out = append(out, r)
	}
	for i, s := range j.trace.Outline {
		middle := (s.From.Station + s.To.Station) / 2
		radius := radiusOf(s, middle)
		if j.sorts[i].step || s.To.Station-s.From.Station < jawWide || radius > jawDeep || radius <= 0 || slopeOf(s, middle) > holds {
			continue
		}
		add(Reading{Kind: Diameter, Station: middle, X: 2 * radius})
	}
	for a, from := range j.faces {
		for _, to := range j.faces[a+1:] {
			// Between an end and any face; else between jaws, from faces that look away
			// from each other.
			if j.lengthRead && a == 0 && to.end || to.station-from.station < jawWide || !from.end && !to.end && !(from.rises && !to.rises) {
				continue
			}
			add(Reading{Kind: Length, From: from.station, To: to.station, X: to.station - from.station})
		}
	}
	return out
}

// doubtful is how well the surface is known.
type doubtful struct {
	shared float64 // mean variance that the unknowns make, mm²: noise of single stations apart
	middle float64 // median of that as a doubt square to the surface, mm: the outline is drawn through many stations
	worst  float64
}

// doubts are those of the surface once one more observation is taken in.
func (j *joining) doubts(p posterior, more *observation) doubtful {
	n := len(j.trace.Profile)
	t := model.Trace{Profile: make([]model.TracePoint, n)}
	var cov []float64
	spread := 1.0
	if more != nil {
		spread = p.variance(more.h) + more.square
		cov = p.covariance(more.h)
	}
	var out doubtful
	all := make([]float64, n)
	for k, q := range j.trace.Profile {
		v := p.variance(j.radius[k])
		if more != nil {
			c := dot(j.radius[k], cov)
			v = max(0, v-c*c/spread)
		}
		t.Profile[k] = q
		t.Profile[k].Radius.U = math.Sqrt(v + j.own[k]*j.own[k])
		square := j.square(k)
		out.shared += v * square * square / float64(n)
		all[k] = math.Sqrt(v) * square
	}
	slices.Sort(all)
	out.middle = all[n/2]
	_, out.worst = t.WorstDoubt()
	return out
}

// square is the share of a radius' doubt that lies square to the surface.
func (j *joining) square(k int) float64 {
	p := j.trace.Profile
	a, b := p[max(0, k-1)], p[min(len(p)-1, k+1)]
	run := math.Hypot(b.Station-a.Station, b.Radius.X-a.Radius.X)
	if run == 0 {
		return 1
	}
	return (b.Station - a.Station) / run
}

// covariance of each unknown with a sum of them.
func (p posterior) covariance(h []float64) []float64 {
	out := append([]float64(nil), h...)
	if p.w == nil {
		return out
	}
	t := p.through(h)
	q, m := p.w.Dims()
	for j := range q {
		for i := range m {
			out[j] -= float64(p.w.At(j, i) * t[i])
		}
	}
	return out
}
