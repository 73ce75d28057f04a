package measure

import (
	"context"
	"math"
	"slices"

	"scalewright/craft/camera"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// fill turns a solution into the result: stations from the datum end, what is
// hidden replaced by what was typed, doubt from the edge and from what all
// stations share.
func (out *Result) fill(ctx context.Context, p *picture, fit *camera.Fitted, edge []edgePoint, sol solution, set settings, in Input, list *finding.List) error {
	n := int(math.Floor((sol.hi.s-sol.lo.s)/stationStep)) + 1
	all, err := sharedDoubts(ctx, fit, edge, sol, set, n+1)
	if err != nil {
		return err
	}
	length, stretch := lengthValue(sol, all, in, list)
	out.Trace.Length = length
	if in.Length.X <= 0 {
		checkEnds(&sol, set, in, list)
	}
	out.Length = Length{length.X, length.U}
	sin := sol.axis.u.Z
	lo, hi := sol.axis.p.Z+sol.lo.s*sin, sol.axis.p.Z+sol.hi.s*sin
	first, last := sol.lo, sol.hi
	if set.flip {
		lo, hi = hi, lo
		first, last = last, first
	}
	out.Axis = Axis{lo, hi}

	drawn := sol.fromDatum(set.flip, n, last.u)
	for k := range drawn {
		drawn[k].s, drawn[k].r = drawn[k].s*stretch, drawn[k].r*stretch
	}
	end := drawn[len(drawn)-1]
	for i, h := range in.Hidden {
		if i == 0 {
			in.Hidden = slices.Clone(in.Hidden)
		}
		in.Hidden[i] = atEnd(h, end.s)
	}
	out.hide(drawn, in, list)
	v := view{&fit.Camera, edge, sights(&fit.Camera, edge)}
	bias := v.bias(&sol) * mmPerPixel(v, sol.axis)
	for k := range drawn {
		d := &drawn[k]
		if d.known {
			d.value = unit.Estimate(d.r, d.u)
		} else {
			// The datum end's own doubt shifts every station alike.
			src := append(sources(all, min(k, n)),
				unit.Source{Name: "photograph: datum end", U: sol.shifted(d.s/stretch, first.u, set.flip)},
				unit.Source{Name: "photograph: edge", U: bias})
			d.value = unit.Estimate(d.r, d.u, src...)
		}
		out.Trace.Profile = append(out.Trace.Profile, model.TracePoint{Station: d.s, Radius: d.value})
		out.Profile = append(out.Profile, Point{d.s, d.value.X, d.value.U})
	}
	out.Trace.Outline = outlineOf(sol.outline(set.flip).Scaled(stretch), in.Hidden)
	if trouble, at := out.Trace.Outline.Trouble(); trouble != "" {
		list.Add(finding.New("outline-not-drawn", in.PhotoAt, finding.Args{
			"trouble": finding.Name(trouble), "at": finding.Size(at.Station),
		}))
	}
	out.correct(in, list)
	out.Lies = sol.lies(&fit.Camera, set.flip, stretch)
	out.feature(in, set.marked, all, list)
	out.Segments = listSegments(out.Trace.Outline)
	sayPose(list, sol, in)
	return nil
}

// row is one station of the result under way.
type row struct {
	station
	value unit.Value
	known bool // typed: nothing of the photograph is in it

	outlined bool // the radius is that of lines and arcs, seen there or run on
}

// outline is the form from the datum end.
func (o *solution) outline(flip bool) model.Outline {
	zero := o.lo.s
	if flip {
		zero = o.hi.s
	}
	return o.form.outline(zero, flip)
}

// fromDatum lists the profile at even stations from the datum end, and at the far end.
func (o *solution) fromDatum(flip bool, n int, uFar float64) []row {
	out := make([]row, 0, n+1)
	for k := range n {
		out = append(out, o.row(stationStep*float64(k), flip))
	}
	if length := o.hi.s - o.lo.s; length-out[n-1].s > 1e-6 {
		out = append(out, o.row(length, flip))
	}
	o.carryOn(out, flip)
	ends := [2]*end{&o.lo, &o.hi}
	if flip {
		ends[0], ends[1] = ends[1], ends[0]
	}
	for k, r := range [2]*row{&out[0], &out[len(out)-1]} {
		r.seen = bothSides
		r.u = ends[k].u * min(2, math.Abs(r.slope))
		if k == 1 {
			r.u = uFar * min(2, math.Abs(r.slope))
		}
	}
	return out
}

// carryOn takes the outline over short stretches that no edge tells where a line or an arc
// of it is told on both sides: a printed line that ends there has taken the edge away.
func (o *solution) carryOn(rows []row, flip bool) {
	for _, run := range unseenRuns(rows) {
		i, j := run[0], run[1]
		if i == 0 || j == len(rows) {
			continue
		}
		gap := rows[j].s - rows[i-1].s
		a, b := o.own(rows[i-1].s, flip), o.own(rows[j].s, flip)
		if gap > unseenLeast || o.form.turns(min(a, b), max(a, b)) {
			continue
		}
		for k := i; k < j; k++ {
			own := int(math.Round((o.own(rows[k].s, flip) - o.lo.s) / stationStep))
			rows[k].seen = oneSide
			rows[k].u = math.Hypot(o.uForm[min(max(own, 0), len(o.uForm)-1)], carryDoubt*gap)
		}
	}
}

// carryDoubt is how far a body may swell or narrow unseen, as a share of the stretch: half of
// what it may where nothing says that it goes on as it was.
const carryDoubt = 0.05

// row is one station of the profile: the radius of the form, and its doubt.
func (o *solution) row(s float64, flip bool) (out row) {
	own := o.own(s, flip)
	out.s, out.outlined = s, true
	out.r, out.slope = o.form.at(own)
	if flip {
		out.slope = -out.slope
	}
	if k := int(math.Round((own - o.lo.s) / stationStep)); k >= 0 && k < len(o.told) && o.told[k] {
		out.seen, out.u = bothSides, o.uForm[k]
	}
	return out
}

// shifted is what a shift of all stations by u changes of the radius at one of them: of a
// round end, where the slope has no bound, no more than the outline holds.
func (o *solution) shifted(s, u float64, flip bool) float64 {
	return (o.read(s+u, flip) - o.read(s-u, flip)) / 2
}

// drawEnds sets the radii at both ends, where the edge turns across the axis and
// readings along it stop: the rim of a blunt end, nought at a tip. The far end's
// station is as unsure as the length.
func drawEnds(rows []row, first, last end, length float64, uFar float64) []row {
	if length-rows[len(rows)-1].s > 1e-6 {
		rows = append(rows, row{station: station{s: length}})
	}
	put := func(k, inward int, e end, u float64) {
		r := &rows[k]
		if e.rim {
			r.r, r.seen = e.r, bothSides
			r.u = math.Hypot(2*e.u, 0.25*math.Abs(rows[k+2*inward].r-e.r))
			return
		}
		r.r, r.seen = 0, bothSides
		// A tip that lies u farther on is √(open·u) wide here.
		r.u = math.Sqrt(e.open * u)
	}
	put(0, 1, first, first.u)
	put(len(rows)-1, -1, last, uFar)
	for k := range rows { // close to a tip: between what is seen and nought
		if rows[k].seen == notSeen && (rows[k].s < tipGap || length-rows[k].s < tipGap) {
			bridgeTip(rows, k)
		}
	}
	return rows
}

// tipGap is how near an end, mm, stations without a reading are bridged.
const tipGap = 2.0

func bridgeTip(rows []row, k int) {
	i, j := k, k
	for i > 0 && rows[i].seen == notSeen {
		i--
	}
	for j < len(rows)-1 && rows[j].seen == notSeen {
		j++
	}
	a, b := rows[i], rows[j]
	if a.seen == notSeen || b.seen == notSeen || b.s <= a.s {
		return
	}
	t := (rows[k].s - a.s) / (b.s - a.s)
	rows[k].r = math.Sqrt(a.r*a.r + t*(b.r*b.r-a.r*a.r)) // r² is nearly straight near a tip
	rows[k].slope = (b.r - a.r) / (b.s - a.s)
	rows[k].u = math.Hypot(0.25*math.Abs(b.r-a.r)*math.Sqrt(t*(1-t)), math.Hypot(a.u, b.u))
	rows[k].seen = oneSide
}

func sayPose(list *finding.List, sol solution, in Input) {
	switch {
	case sol.differ && in.Known == nil: // else the camera leans, nobody knows how
		list.Add(finding.New("rests-otherwise", in.PhotoAt, finding.Args{
			"rings": finding.Number(sol.rimTilt / deg), "rests": finding.Number(sol.hullTilt / deg),
		}))
	case sol.from == slopeGuessed:
		list.Add(finding.New("slope-guessed", in.PhotoAt, finding.Args{"doubt": finding.Number(levelDoubt / deg)}))
	}
}
