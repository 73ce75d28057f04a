package readings

import (
	"context"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Run joins readings and photograph. A reading that does not belong is left out and
// named.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	out := Result{Trace: in.Trace}
	var found finding.List
	if len(in.Trace.Outline) == 0 || len(in.Trace.Profile) < 2 || !(in.Trace.Outline.End() > in.Trace.Outline.Start()) {
		return out, nil, nil
	}
	j := joining{unknowns: newUnknowns(in.Trace, false), lengthRead: in.LengthRead}
	for _, r := range in.Readings {
		t := taken{Taken: Taken{Reading: r, U: r.doubt()}}
		var ok bool
		if t.obs, ok = j.observe(r); ok {
			t.Used = true
		} else {
			found.Add(nowhere(r))
		}
		j.taken = append(j.taken, t)
	}
	j.settle(&found)
	p := weigh(j.used(-1), len(j.names))
	for i := range j.taken {
		t := &j.taken[i]
		if t.obs.h != nil {
			rest := weigh(j.used(i), len(j.names))
			t.Seen = unit.Estimate(t.obs.seen+dot(t.obs.h, rest.x), math.Sqrt(rest.variance(t.obs.h)))
			t.Off = (t.Reading.X - t.Seen.X) / math.Hypot(t.Seen.U, math.Sqrt(t.obs.square))
			t.Joint = unit.Estimate(t.obs.seen+dot(t.obs.h, p.x), math.Sqrt(p.variance(t.obs.h)))
		}
		out.Taken = append(out.Taken, t.Taken)
	}
	out.Count, out.Chi = len(j.used(-1)), p.chi
	out.Next = j.next(p)
	if out.Count > 0 {
		joined, ok := j.apply(p)
		if ok {
			out.Trace = joined
		} else {
			found.Add(finding.New("readings-not-joined", in.Readings[0].At, nil))
			out.Count = 0
			for i := range out.Taken {
				out.Taken[i].Used = false
			}
		}
	}
	return out, found, nil
}

// joining is one joining of readings and photograph under way.
type joining struct {
	*unknowns
	taken      []taken
	lengthRead bool
}

type taken struct {
	Taken
	obs observation
}

// used are the observations that count, without one of them; -1: all.
func (j *joining) used(without int) []observation {
	var out []observation
	for i, t := range j.taken {
		if t.Used && i != without {
			out = append(out, t.obs)
		}
	}
	return out
}

// apply is the trace as photograph and readings have it together; false where its
// segments don't join.
func (j *joining) apply(p posterior) (model.Trace, bool) {
	out := j.trace
	start := out.Outline.Start()
	length := dot(j.length, p.x)
	grow := 1 + length/(out.Outline.End()-start)
	shift := p.x[j.near] * j.faces[0].u
	move := func(station float64) float64 {
		if station <= start {
			return station
		}
		return start + grow*(station-start) + shift
	}
	out.Profile = nil
	for k, q := range j.trace.Profile {
		radius := j.value(q.Radius.X+dot(j.radius[k], p.x), j.own[k], p.shrunk(j.radius[k]))
		radius.X = max(0, radius.X)
		out.Profile = append(out.Profile, model.TracePoint{Station: move(q.Station), Radius: radius})
	}
	far := j.faces[len(j.faces)-1]
	whole := j.stationOf(far)
	out.Length = j.value(j.trace.Length.X+dot(whole, p.x), 0, p.shrunk(whole))
	var ok bool
	if out.Outline, ok = j.redraw(p, move); !ok {
		return out, false
	}
	for i := range out.Typed {
		if i == 0 {
			out.Typed = append([]model.Hidden(nil), out.Typed...)
		}
		out.Typed[i].From, out.Typed[i].To = move(out.Typed[i].From), move(out.Typed[i].To)
	}
	return out, true
}

// A contribution less than this, mm, is not worth its name: a thousandth of what a
// caliper shows.
const leastCause = 1e-5

// value is an estimate with its causes by name.
func (j *joining) value(x, own float64, causes []float64) unit.Value {
	var sources []unit.Source
	for i, c := range causes {
		if math.Abs(c) >= leastCause {
			sources = append(sources, unit.Source{Name: j.names[i], U: c})
		}
	}
	return unit.Estimate(x, own, sources...)
}
