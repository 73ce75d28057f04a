package truing

import (
	"context"
	"slices"

	"scalewright/craft/redraw"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Run trues what is declared and says what the measurements would bear.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	out := Result{Trace: in.Trace, Measured: in.Trace.Outline}
	var found finding.List
	old := in.Trace.Outline
	if trouble, _ := old.Trouble(); trouble != "" {
		return out, nil, nil
	}
	t := trued{in: in, out: &out, found: &found}
	t.begin(old)
	out.Holds, out.Rounds = t.undeclared(t.holds(), t.rounds())
	if in.True.Nothing() {
		return out, nil, nil
	}
	sharp, corners := t.sharpen(old)
	if len(corners) > 0 {
		t.begin(sharp)
	}
	t.apply()
	joined := sharp
	if len(out.Moved) > 0 {
		var ok bool
		if joined, ok = redraw.Join(sharp, t.moved, mostMoved); !ok {
			found.Add(finding.New("trued-not-joined", in.True.At, nil))
			out.Moved = nil
			joined = sharp
		}
	}
	for i := range out.Moved {
		m := &out.Moved[i]
		m.By = unit.Length(carried(sharp[m.Segment], t.moved[m.Segment]) * in.Ratio)
	}
	out.Trace.Outline = t.crisp(joined, corners)
	most, at := redraw.Apart(old, out.Trace.Outline)
	out.Most, out.At = unit.Length(most*in.Ratio), unit.Length(at.Station*in.Ratio)
	if len(out.Moved)+len(out.Edges) > 0 {
		found.Add(finding.New("trued", in.True.At, finding.Args{
			"segments": finding.Count(len(out.Moved)), "edges": finding.Count(len(out.Edges)),
			"most": finding.Fine(out.Most), "at": finding.Long(out.At),
		}).AtStation(out.At))
	}
	return out, found, nil
}

// begin takes an outline to be trued.
func (t *trued) begin(o model.Outline) {
	t.old, t.moved, t.kept, t.est = o, redraw.All(o), map[int]bool{}, nil
	for _, s := range o {
		e := estimate{}
		if !step(s) {
			e = estimateOf(t.in.Trace, s)
		}
		t.est = append(t.est, e)
	}
}

// undeclared leaves out what is declared already.
func (t *trued) undeclared(holds []Hold, rounds []Round) ([]Hold, []Round) {
	level, sized := map[int]bool{}, map[int]bool{}
	said := map[model.Truth]map[int]bool{}
	for _, d := range t.in.True.Segments {
		i := t.segment(d)
		if said[d.Is] == nil {
			said[d.Is] = map[int]bool{}
		}
		said[d.Is][i] = true
		if d.Is == model.Equal {
			other := t.at(d.To.MM, d.Is)
			said[d.Is][other], level[other] = true, true
		}
		if d.Is == model.Parallel || d.Is == model.NoDraft || d.Is == model.Equal {
			level[i] = true
		}
		if d.Across.Written() {
			sized[i] = true
		}
	}
	holds = slices.DeleteFunc(holds, func(h Hold) bool {
		i := t.at(h.Station, h.Truth)
		switch h.Truth {
		case model.Parallel, model.NoDraft:
			return level[i]
		case model.Symmetric:
			return t.in.True.Symmetric
		case model.Equal:
			return said[h.Truth][i] && said[h.Truth][t.at(h.Other, h.Truth)] || sized[i] && sized[t.at(h.Other, h.Truth)]
		case model.SquareTo, model.Tangent, model.AsIs:
		}
		return said[h.Truth][i]
	})
	rounds = slices.DeleteFunc(rounds, func(q Round) bool { return q.What == "diameter" && sized[t.at(q.Station, model.Parallel)] })
	return holds, rounds
}

// carried is how far the ends and the middle of a segment lie from what carries it
// now, mm.
func carried(s model.Segment, c redraw.Carrier) float64 {
	most := 0.0
	for _, p := range [3]model.Point{s.From, s.To, middleOf(s)} {
		most = max(most, c.Off(p))
	}
	return most
}

func middleOf(s model.Segment) model.Point {
	line := model.Outline{s}.Polyline(0.01)
	if s.Kind == model.Arc {
		return line[len(line)/2]
	}
	return model.Point{Station: (s.From.Station + s.To.Station) / 2, Radius: (s.From.Radius + s.To.Radius) / 2}
}

func unique(all []int) []int {
	out := slices.Clone(all)
	slices.Sort(out)
	return slices.Compact(out)
}
