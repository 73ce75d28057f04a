package place

import (
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// ways runs each wire from bay to bay, in the duct where the two lie in different
// rooms, and says where one does not get along.
func (w *work) ways(p model.Places) ([]model.Way, finding.List) {
	if len(p.Bays) == 0 {
		return nil, nil
	}
	d := w.ductFor(p)
	var out []model.Way
	var found finding.List
	leads := false
	low, high := math.Inf(1), math.Inf(-1)
	for _, wire := range w.wires {
		from, inside := p.Bay(wire.From)
		to, also := p.Bay(wire.To)
		if !inside && !also {
			continue
		}
		a, b := w.spot(from, d), w.spot(to, d)
		switch {
		case !inside:
			a, leads = w.exit(d), true
		case !also:
			b, leads = w.exit(d), true
		}
		if !w.together(a, b) {
			low, high = math.Min(low, math.Min(a.station, b.station)), math.Max(high, math.Max(a.station, b.station))
		}
		out = append(out, w.way(wire, a, b, d))
	}
	if low < high {
		found.Add(w.shut(d, low, high)...)
	}
	if leads && !w.opens() && w.exit(d).room < 0 {
		foot := w.footPart()
		found.Add(finding.New("no-way-out", foot.At, finding.Args{"across": finding.Size(passWide)}).About(foot.ID).AtStation(foot.Span.From))
	}
	if found.Blocked() {
		return nil, found
	}
	found.Add(w.narrow(out)...)
	return out, found
}

// way lays a wire: of what can be laid the one that runs through the fewest things,
// and of those the shortest.
func (w *work) way(wire model.Wire, a, b spot, d duct) model.Way {
	lay := func(path run, passes []model.Pass) model.Way {
		return model.Way{
			Wire: wire.ID, From: wire.From, To: wire.To, Path: path.path,
			Length: unit.Length(math.Ceil((path.long*(1+slackShare)+slackLoop)/10) * 10), Passes: passes,
		}
	}
	best := func(all []run) (found run, through int) {
		through = math.MaxInt
		for _, r := range all {
			n := w.crossing(r.path, wire.From, wire.To, through)
			if n < through || n == through && r.long < found.long {
				found, through = r, n
			}
		}
		return found, through
	}
	if w.together(a, b) {
		// Round to the other's clocking, and along to it.
		var direct []run
		for _, leg := range w.legs(a, b.clocking) {
			leg.along(w, b.station, b.clocking)
			leg.to(b.station, b.clocking, b.radius)
			direct = append(direct, leg)
		}
		for _, leg := range w.legs(b, a.clocking) {
			leg.along(w, a.station, a.clocking)
			leg.to(a.station, a.clocking, a.radius)
			slices.Reverse(leg.path)
			direct = append(direct, leg)
		}
		if r, through := best(direct); through == 0 {
			return lay(r, nil)
		}
	}
	r, _ := best(w.legs(a, d.clocking))
	last, _ := best(w.legs(b, d.clocking))
	from, to := r.station(), last.station()
	passes := w.passes(from, to, d)
	if d.through(math.Min(from, to), math.Max(from, to)) {
		in, out := d.inCore[0], d.inCore[1]
		if from > to {
			in, out = out, in
		}
		r.along(w, in, d.clocking)
		r.within(w, out, d.clocking)
		r.to(out, d.clocking, w.ductRadius(out))
		passes = append(append(w.passes(from, in, d), w.passes(out, to, d)...), w.inside(in, out, d)...)
	}
	r.along(w, to, d.clocking)
	slices.Reverse(last.path)
	for _, p := range last.path {
		r.add(p)
	}
	return lay(r, passes)
}
