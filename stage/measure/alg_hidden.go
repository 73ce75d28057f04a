package measure

import (
	"fmt"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// typedDoubt is the standard uncertainty of a typed radius that gives none: a
// caliper read by hand on a toy, mm.
const typedDoubt = 0.1

// hide puts the typed outline where the maker says that something is hidden, and
// says where the view shows nothing and nothing was typed. There the profile runs
// on as what is seen beside it does, with a doubt that says so.
func (out *Result) hide(rows []row, in Input, list *finding.List) {
	for _, h := range in.Hidden {
		if len(h.Typed) == 0 {
			for k := range rows {
				if h.From <= rows[k].s && rows[k].s <= h.To {
					rows[k].seen, rows[k].outlined = notSeen, false
				}
			}
			continue
		}
		u := h.DoubtMM
		if u <= 0 {
			u = typedDoubt
		}
		took := 0
		for k := range rows {
			if s := rows[k].s; h.From <= s && s <= h.To && s >= h.Typed.Start() && s <= h.Typed.End() {
				rows[k].r, rows[k].u, rows[k].seen, rows[k].known = h.Typed.RadiusAt(s), u, bothSides, true
				took++
			}
		}
		out.Trace.Typed = append(out.Trace.Typed, model.Hidden{From: h.From, To: h.To, Because: h.Because})
		if took > 0 {
			list.Add(finding.New("outline-hidden", h.At, finding.Args{
				"from": finding.Size(h.From), "to": finding.Size(h.To), "because": finding.Name(h.Because),
			}))
		}
	}
	out.Unseen = bridgeUnseen(rows)
	var names []string
	var longest float64
	for _, h := range out.Unseen {
		names = append(names, fmt.Sprintf("%.0f to %.0f", math.Floor(h.From), math.Ceil(h.To)))
		longest = max(longest, h.To-h.From)
	}
	if longest > unseenLeast {
		list.Add(finding.New("outline-not-seen", in.PhotoAt, finding.Args{
			"spans": finding.Names(names...), "longest": finding.Size(unit.Length(longest)),
		}))
	}
}

// unseenLeast is the longest stretch, mm, that may be bridged without a word: the
// foot of a step or of a narrow groove.
const unseenLeast = 3.0

// unseenRuns are the stretches of rows that no edge tells, each from its first row to past
// its last.
func unseenRuns(rows []row) (out [][2]int) {
	for i := range rows {
		switch {
		case rows[i].seen != notSeen:
		case i > 0 && rows[i-1].seen == notSeen:
			out[len(out)-1][1] = i + 1
		default:
			out = append(out, [2]int{i, i + 1})
		}
	}
	return out
}

// bridgeUnseen draws the profile where no edge tells it, between what is seen on either side:
// as the lines and arcs that are seen run on, or straight where nothing is known of them.
func bridgeUnseen(rows []row) (out []model.Hidden) {
	for _, run := range unseenRuns(rows) {
		i, j := run[0], run[1]
		a, b := rows[max(i-1, 0)], rows[min(j, len(rows)-1)]
		if i == 0 {
			a = b
		}
		if j == len(rows) {
			b = a
		}
		gap := rows[j-1].s - rows[i].s
		for k := i; k < j; k++ {
			t := 0.5
			if b.s > a.s {
				t = (rows[k].s - a.s) / (b.s - a.s)
			}
			d := &rows[k]
			if d.outlined {
				d.r = min(max(d.r, min(a.r, b.r)), max(a.r, b.r))
			} else {
				d.r = a.r + t*(b.r-a.r)
			}
			d.slope = 0
			// Nothing is known but the two ends: a step may lie anywhere between them
			// (uniform, |Δr|/√12 about the middle) and the body may swell or narrow by a
			// tenth of the gap.
			step := math.Hypot((b.r-a.r)/math.Sqrt(12), d.r-(a.r+b.r)/2)
			d.u = math.Hypot(step, 0.1*gap) + math.Hypot(a.u, b.u)
		}
		out = append(out, model.Hidden{From: rows[i].s, To: rows[j-1].s, Because: "not observable from this view"})
	}
	return out
}
