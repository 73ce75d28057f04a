package measure

import (
	"fmt"
	"math"

	"scalewright/craft/limb"
	"scalewright/finding"
)

// What is turned shows it by one of three: its sides agree station by station, or the
// outline of a turned body lies within alikePx of most of the edge that was found, and
// both sides have enough of it, or some and stations that agree; or one side is borne out
// well, and the other poorly: in a dark body's shadow, over a ruler of its own colour.
const (
	alikePx     = 3.0
	alikeShare  = 0.85
	alikeSide   = 0.52
	alikePoor   = 0.4
	alikeUneven = 0.7 // of each side, of what was cut out uneven
	alikeGood   = 0.78
	alikeSome   = 0.8
	alikeLeast  = 10 // stations that agree
	alikeMany   = 50
	alikeClear  = 3 // times as many of one kind as of the other
)

// turned reports whether what was found is a turned body: an axis can be laid through
// anything. One that was cut out uneven is asked more.
func (v view) turned(o *solution, even bool) bool {
	agree, differ := 0, 0
	for _, st := range o.prof {
		switch {
		case st.seen == bothSides:
			agree++
		case st.seen == oneSide || st.most > 0:
			differ++
		}
	}
	return v.bears(o).turned(agree, differ, even)
}

// turned weighs how much of the edge is borne out, and at how many stations the sides agree
// and differ.
func (a borne) turned(agree, differ int, even bool) bool {
	less, more := min(a.side[0], a.side[1]), max(a.side[0], a.side[1])
	switch {
	case !even:
		return agree >= alikeLeast && agree > alikeClear*differ && less >= alikeUneven
	case agree >= alikeLeast && agree > differ:
		return true
	case less >= alikePoor && more >= alikeGood && agree >= alikeMany && a.all >= alikeSome:
		return true
	case less >= alikeSide:
		return a.all >= alikeShare
	}
	return a.all >= alikeShare && less >= alikePoor && agree >= alikeLeast && alikeClear*agree > differ
}

// borne is how much of the edge the outline runs along: a share of what was found, and
// of each side's whole edge, found or not.
type borne struct {
	all  float64
	side [2]float64
}

func (v view) bears(o *solution) (out borne) {
	parts, most := o.form.parts(), o.form.most()
	var n, near [2]float64
	found := 0.0
	for i, e := range v.edge {
		p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, v.sight[i].d)
		side := 0
		if p.Side == limb.Right {
			side = 1
		}
		if o.skip[i] { // a fin
			continue
		}
		n[side]++
		if !e.good {
			continue
		}
		found++
		if m := touches(parts, &p, most); m.ok && math.Abs(m.gap)*v.cam.F < alikePx*p.Depth {
			near[side]++
		}
	}
	for k := range near {
		out.side[k] = near[k] / max(n[k], 1)
	}
	out.all = (near[0] + near[1]) / max(found, 1)
	return out
}

// edgeClear is the share of each side's edge that must be found where the outline runs for
// it to pass without a word, and halfShare of the edge read as the half-way light alone
// or beside a printed line, past which all of it is in doubt.
const (
	edgeClear = 0.6
	halfShare = 0.4
)

// checkEdge says where the object hardly stands out from what lies round it, or is wider
// on one side than on the other.
func (v view) checkEdge(o *solution, set settings, in Input, list *finding.List) {
	a := v.bears(o)
	half := 0.0
	for _, e := range v.edge {
		if e.good && e.sigma >= halfSigma {
			half++
		}
	}
	half /= float64(max(len(v.edge), 1))
	if seen := min(a.side[0], a.side[1]); seen < edgeClear || half > halfShare {
		list.Add(finding.New("edge-unsure", in.PhotoAt, finding.Args{
			"seen": finding.Number(math.Round(100 * min(seen, 1-half))),
		}))
	}
	var spans []string
	most := 0.0
	for _, c := range joined(o.contests) {
		if !c.wide || c.hi-c.lo < contestSaid {
			continue
		}
		from, to := o.datum(c.lo, set.flip), o.datum(c.hi, set.flip)
		spans = append(spans, fmt.Sprintf("%.0f to %.0f", math.Floor(min(from, to)), math.Ceil(max(from, to))))
		most = max(most, c.by)
	}
	if len(spans) > 0 {
		list.Add(finding.New("sides-differ", in.PhotoAt, finding.Args{
			"spans": finding.Names(spans...), "most": finding.Size(most),
		}))
	}
}
