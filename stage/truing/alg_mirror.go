package truing

import (
	"math"

	"scalewright/craft/redraw"
	"scalewright/finding"
	"scalewright/model"
)

// alike reports whether the far half of an outline has the segments of the near one in
// turn.
func alike(o model.Outline) bool {
	for i, s := range o {
		q := o[len(o)-1-i]
		if s.Kind != q.Kind || step(s) != step(q) || steep(s) != steep(q) {
			return false
		}
	}
	return len(o) > 0
}

// mirror makes the halves alike: each segment becomes the mean of itself and of its
// fellow of the other half, turned round the middle.
func (t *trued) mirror() {
	place := t.in.True.At.Key("symmetric")
	if !alike(t.old) {
		t.found.Add(finding.New("trued-not-alike", place, finding.Args{"count": finding.Count(len(t.old))}))
		return
	}
	if p, ok := t.symmetry(); ok && p < unlikelyP {
		t.found.Add(finding.New("trued-lopsided", place, finding.Args{"chance": finding.Number(100 * p)}))
	}
	middle := (t.old.Start() + t.old.End()) / 2
	was := append([]redraw.Carrier(nil), t.moved...)
	for i := range was {
		j := len(was) - 1 - i
		if t.kept[i] || t.kept[j] {
			continue
		}
		t.moved[i] = mean(was[i], mirrored(was[j], middle))
		t.out.Moved = append(t.out.Moved, Moved{Truth: model.Symmetric, Segment: i, From: t.old[i].From.Station, To: t.old[i].To.Station})
	}
}

// unlikelyP is the chance that goes with unlikely.
const unlikelyP = 0.001

func mirrored(c redraw.Carrier, middle float64) redraw.Carrier {
	turn := func(p model.Point) model.Point { return model.Point{Station: 2*middle - p.Station, Radius: p.Radius} }
	c.P, c.Centre = turn(c.P), turn(c.Centre)
	c.Dir.Radius = -c.Dir.Radius
	return c
}

// mean is half way between two carriers of a kind that lie nearly on one another.
func mean(a, b redraw.Carrier) redraw.Carrier {
	half := func(p, q model.Point) model.Point {
		return model.Point{Station: (p.Station + q.Station) / 2, Radius: (p.Radius + q.Radius) / 2}
	}
	if a.Kind == model.Arc {
		a.Centre, a.R = half(a.Centre, b.Centre), (a.R+b.R)/2
		return a
	}
	if float64(a.Dir.Station*b.Dir.Station)+float64(a.Dir.Radius*b.Dir.Radius) < 0 {
		b.Dir = model.Point{Station: -b.Dir.Station, Radius: -b.Dir.Radius}
	}
	d := half(a.Dir, b.Dir)
	run := math.Hypot(d.Station, d.Radius)
	if run == 0 {
		return a
	}
	a.P, a.Dir = half(a.P, b.P), model.Point{Station: d.Station / run, Radius: d.Radius / run}
	return a
}
