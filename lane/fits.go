package lane

import (
	"fmt"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/stage/fit"
	"scalewright/unit"
)

const (
	fitWide   = 13.0 // mm between the outsides of a joint's two posts, with its margins
	fitHigh   = 9.0
	fitRow    = 17.0
	fitTop    = 2.0
	fitPosts  = 8.0 // mm between the posts
	fitSpread = 3.0 // doubts drawn to either side
)

// jointFits are the fits of one joint or seat: the one that most likely binds
// speaks for it.
type jointFits struct {
	id    string
	name  string
	at    unit.Length
	fits  []model.Fit
	worst model.Fit
	loose float64 // mm; past this it no longer centres itself
	times int     // copies of the same that are drawn as one
	seam  bool    // of two pieces of the body, else of a ring or what has its own line
}

// joints are the fits by joint, in the order of the result.
func (p *Prepared) joints() []jointFits {
	var out []jointFits
	index := map[string]int{}
	seams := map[string]bool{}
	for _, s := range p.Division.Seams {
		seams[s.ID] = true
	}
	for _, f := range p.Fits.Fits {
		if !finite(float64(f.Station), f.Clearance.X, f.Clearance.U, f.Bind) {
			continue
		}
		k, ok := index[f.Seam]
		if !ok {
			k = len(out)
			index[f.Seam] = k
			out = append(out, jointFits{id: f.Seam, name: p.jointName(f), at: f.Station, seam: seams[f.Seam], worst: f})
		}
		out[k].fits = append(out[k].fits, f)
		if f.Bind > out[k].worst.Bind {
			out[k].worst = f
		}
	}
	for k := range out {
		out[k].loose = float64(fit.MostLoose)
		if c := p.Design.Core; c != nil && out[k].worst.Male == "core" {
			out[k].loose += float64(c.Stock.Oval)
		}
	}
	return out
}

// jointName is what meets in a joint.
func (p *Prepared) jointName(f model.Fit) string {
	name := func(id string) string {
		if i, ok := p.byID[id]; ok {
			return p.Division.Pieces[i].Name
		}
		return id
	}
	if f.Male == "core" {
		return name(f.Female) + " on the core"
	}
	for _, s := range p.Division.Seams {
		if s.ID == f.Seam {
			return name(s.Below.String()) + " and " + name(s.Above.String())
		}
	}
	return name(f.Male) + " in " + name(f.Female)
}

// Fits is a small spread for every joint between two posts: at the left one it
// binds, past the right one it no longer centres itself.
func Fits(p *Prepared, v View) *drawing.Scene {
	const title = "Fits"
	joints := p.joints()
	switch {
	case len(joints) == 0:
		return empty(v, title, "No fits yet: no two pieces are to go together.")
	case v.Folded:
		return folded(v, title, saysFits(p, v.System), readFits(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	var rows [2][]jointFits
	for _, j := range joints {
		if j.at >= v.Span.From && j.at <= v.Span.To {
			k := 1
			if j.seam {
				k = 0
			}
			rows[k] = gather(rows[k], j)
		}
	}
	n := 0.0
	for _, r := range rows {
		if len(r) > 0 {
			n++
		}
	}
	s := v.paper(fitTop + fitRow*max(1, n))
	s.Title, s.Desc = title, saysFits(p, v.System).Says
	p.underlay(s, v)
	y := fitTop
	for _, r := range rows {
		if len(r) > 0 {
			fitsRow(s, v, r, y)
			y += fitRow
		}
	}
	hang(s, v)
	return s
}

// gather adds a joint to a row, to one like it at the same station where there is
// one: the joints of copies.
func gather(row []jointFits, j jointFits) []jointFits {
	const same = 0.005 // mm of clearance, half of what is lettered
	for k, o := range row {
		if math.Abs(float64(o.at-j.at)) < 0.5 && math.Abs(o.worst.Clearance.X-j.worst.Clearance.X) < same {
			row[k].times++
			return row
		}
	}
	j.times = 1
	return append(row, j)
}

// fitsRow draws a row of joints, as many as have room, the likeliest to bind first.
func fitsRow(s *drawing.Scene, v View, joints []jointFits, y float64) {
	most := int((s.Width - 2*edge) / fitWide)
	if len(joints) > most {
		slices.SortStableFunc(joints, func(a, b jointFits) int {
			switch {
			case a.worst.Bind > b.worst.Bind:
				return -1
			case a.worst.Bind < b.worst.Bind:
				return 1
			}
			return 0
		})
		joints = joints[:most]
	}
	slices.SortStableFunc(joints, func(a, b jointFits) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	xs := make([]float64, len(joints))
	for k, j := range joints {
		xs[k] = v.X(j.at) - fitWide/2
	}
	spread(xs, fitWide, edge, s.Width-edge-fitWide)
	for k, j := range joints {
		j.draw(s, v, xs[k], y)
	}
}

// draw is a spread between its posts, on a leader from the joint's station.
func (j jointFits) draw(s *drawing.Scene, v View, x, y float64) {
	begin(s, "fit-"+j.id, "fit", j.says(), float64(j.at), float64(j.at))
	defer s.End()
	left := x + (fitWide-fitPosts)/2
	floor := y + fitHigh
	at := func(clearance float64) float64 {
		return min(max(left+clearance/j.loose*fitPosts, x+0.3), x+fitWide-0.3)
	}
	f := j.worst
	u := max(f.Clearance.U, 1e-3*j.loose) // an exact clearance is still a mark
	var ps []drawing.Point
	for k := -fitSpread * 6; k <= fitSpread*6; k++ {
		t := k / 6
		ps = append(ps, drawing.Pt(at(f.Clearance.X+t*u), floor-(fitHigh-2.6)*math.Exp(-t*t/2)))
	}
	area := drawing.Polyline(ps...).Line(drawing.Pt(ps[len(ps)-1].X, floor)).Line(drawing.Pt(ps[0].X, floor)).Close()
	fill := drawing.Core
	if f.Bind > bindSeen {
		fill = drawing.Signal
	}
	s.Path(area, drawing.Filled(fill))
	s.Path(drawing.Polyline(ps...), drawing.Lined(drawing.Thin))
	for _, post := range [...]float64{left, left + fitPosts} {
		s.Line(drawing.Pt(post, y+1.6), drawing.Pt(post, floor+0.8), drawing.Object)
	}
	s.Line(drawing.Pt(x+0.3, floor), drawing.Pt(x+fitWide-0.3, floor), drawing.Thin)
	s.Line(drawing.Pt(v.X(j.at), y-fitTop), drawing.Pt(left+fitPosts/2, y+1), drawing.Fine)
	text := drawing.Text{At: drawing.Pt(x+fitWide/2, floor+3.6), H: drawing.Middle, String: fmt.Sprintf("%.2f", f.Clearance.X), Size: drawing.SizeSmall}
	if j.times > 1 {
		text.String += fmt.Sprintf(" × %d", j.times)
	}
	if f.Bind > bindSeen {
		text.String, text.Colour, text.Face = "binds "+fmt.Sprintf("%.0f", f.Bind*100), drawing.Signal, drawing.Bold
	}
	s.Text(text)
}

// bindSeen is the chance to bind from which a joint is coloured as a limit broken:
// one in twenty, as in a test of significance; common practice.
const bindSeen = 0.05

func (j jointFits) says() string {
	f := j.worst
	return fmt.Sprintf("%s: clearance %s ± %s, binds %s", j.name, hundredths(f.Clearance.X), hundredths(f.Clearance.U), chance(f.Bind))
}

func saysFits(p *Prepared, _ unit.System) Summary {
	joints := p.joints()
	if len(joints) == 0 {
		return Summary{Says: "no fits yet"}
	}
	out := Summary{Says: fmt.Sprintf("%d joints and seats; all go together %s", len(joints), chance(p.Fits.Together))}
	if p.Slice != nil {
		out.Remark = "try one joint first"
	}
	return out
}

// readFits is the joint nearest to the plumb line.
func readFits(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok {
		return Reading{}
	}
	best := math.Inf(1)
	var near jointFits
	for _, j := range p.joints() {
		if d := math.Abs(float64(j.at) - at); d < best {
			best, near = d, j
		}
	}
	if math.IsInf(best, 1) {
		return Reading{}
	}
	out := Reading{Here: fmt.Sprintf("nearest: %s, %s", near.name, hundredths(near.worst.Clearance.X))}
	if near.worst.Bind >= 0.01 {
		out.Here += ", binds " + chance(near.worst.Bind)
	}
	return out
}

// FitsTable lists every fit.
func FitsTable(p *Prepared, u unit.System) Table {
	t := table("Fits: "+saysFits(p, u).Says, "joint", "#at", "#clearance", "#doubt", "#binds", "#loose")
	for _, j := range p.joints() {
		for _, f := range j.fits {
			t.row(p.jointName(f), u.Whole(f.Station), hundredths(f.Clearance.X), hundredths(f.Clearance.U), chance(f.Bind), chance(f.Loose))
		}
	}
	return t
}
