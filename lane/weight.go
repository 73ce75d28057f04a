package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/unit"
)

const weightHeight = 26.0

// Weight is the mass below every station, from the floor up: the weights of the
// result, each spread over the stretch it takes so that its middle lies where the
// result has it; with the centre of mass and the grips.
func Weight(p *Prepared, v View) *drawing.Scene {
	const title = "Weight"
	switch {
	case len(p.loads) == 0 || !(p.Structure.Total.X > 0):
		return empty(v, title, "No weights yet: nothing is printed or bought.")
	case v.Folded:
		return folded(v, title, saysWeight(p, v.System), readWeight(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	s := v.paper(weightHeight)
	s.Title, s.Desc = title, saysWeight(p, v.System).Says
	p.underlay(s, v)
	const floor, top = weightHeight - 5, 5.0
	total := p.massBelow(math.Inf(1))
	y := func(mass float64) float64 { return floor - mass/total*(floor-top) }
	from, to := v.seen()
	g := curve{s: s, v: v, floor: floor, y: y, most: math.Inf(1), high: true}
	for _, x := range p.weightStations(v, from, to) {
		g.point(x, p.massBelow(x))
	}
	g.draw("mass", s.Desc, math.Inf(-1))
	s.Line(drawing.Pt(edge, floor), drawing.Pt(s.Width-edge, floor), drawing.Thin)
	room := drawing.NewRoom(drawing.Rect{X: edge, W: s.Width - 2*edge, H: s.Height})
	g.block(room)
	p.middleMark(s, v, room, floor)
	p.grips(s, v, room, floor)
	if v.holds(float64(p.Span.To), float64(p.Span.To)) {
		room.Write(s, drawing.Text{
			At: drawing.Pt(v.X(p.Span.To), y(total)-1.6), H: drawing.End, String: kilograms(unit.Mass(p.Structure.Total.X)) + " in all", Size: drawing.SizeSmall, Halo: 0.5,
		}, 0.5)
	}
	hang(s, v)
	return s
}

// weightStations are the places where the curve is drawn: evenly on paper, and on
// both sides of a mass at one place.
func (p *Prepared) weightStations(v View, from, to float64) []float64 {
	var out []float64
	step := 1 / v.Scale() // a mm of paper
	for x := from; x < to+step; x += step {
		a := x
		for _, l := range p.loads {
			if l.from == l.to && l.from > a-step && l.from <= a {
				out = append(out, l.from-1e-6, l.from) // a step of the curve
			}
		}
		out = append(out, a)
	}
	return sorted(out)
}

// middleMark is the quartered disc at the centre of mass.
func (p *Prepared) middleMark(s *drawing.Scene, v View, room *drawing.Room, floor float64) {
	z := p.Structure.Centre[2]
	if !finite(z) || !v.holds(z, z) {
		return
	}
	at := drawing.Pt(v.X(unit.Length(z)), floor)
	begin(s, "centre-of-mass", "centre", "centre of mass at "+v.System.Whole(unit.Length(z)), z, z)
	massMark(s, at)
	s.End()
	room.Words(drawing.Rect{X: at.X - 2.4, Y: at.Y - 2.4, W: 4.8, H: 4.8})
	for _, side := range [...]float64{3.4, -3.4} {
		t := drawing.Text{At: drawing.Pt(at.X+side, floor+2.9), V: drawing.Centre, String: "centre of mass " + v.System.Figure(unit.Length(z)), Size: drawing.SizeSmall, Halo: 0.5}
		if side < 0 {
			t.H = drawing.End
		}
		if room.Write(s, t, 0.6) {
			return
		}
	}
}

// grips are where two hands carry the build.
func (p *Prepared) grips(s *drawing.Scene, v View, room *drawing.Room, floor float64) {
	if p.Structure.Hands[0] == p.Structure.Hands[1] {
		return
	}
	for k, z := range p.Structure.Hands {
		if !finite(float64(z)) || !v.holds(float64(z), float64(z)) {
			continue
		}
		x := v.X(z)
		begin(s, numbered("grip", k+1), "grip", "grip at "+v.System.Whole(z), float64(z), float64(z))
		s.Path(drawing.Polygon(drawing.Pt(x, floor+0.4), drawing.Pt(x-1.4, floor+2.8), drawing.Pt(x+1.4, floor+2.8)), drawing.Filled(drawing.Ink))
		s.End()
		room.Words(drawing.Rect{X: x - 1.5, Y: floor, W: 3, H: 3})
		room.Write(s, drawing.Text{At: drawing.Pt(x+2.4, floor+2.9), V: drawing.Centre, String: "grip " + v.System.Figure(z), Size: drawing.SizeSmall, Halo: 0.5}, 0.6)
	}
}

func saysWeight(p *Prepared, u unit.System) Summary {
	w := p.Structure
	if !(w.Total.X > 0) {
		return Summary{Says: "no weights yet"}
	}
	out := Summary{Says: fmt.Sprintf("%s, centre of mass at %s", kilograms(unit.Mass(w.Total.X)), u.Whole(unit.Length(w.Centre[2])))}
	switch {
	case w.Stand.Tips > 0:
		out.Remark = fmt.Sprintf("tips at %.0f°, wants %.0f°", w.Stand.Tips*180/math.Pi, w.Stand.Needs*180/math.Pi)
		out.Alarm = w.Stand.Tips < w.Stand.Needs
	case w.Lift > 0 && w.Total.X/1000 > w.Lift:
		out.Remark = "two people lift it"
	case w.Lift > 0:
		out.Remark = "one person lifts it"
	}
	return out
}

func readWeight(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok || len(p.loads) == 0 {
		return Reading{}
	}
	return Reading{Here: kilograms(unit.Mass(p.massBelow(at))) + " stands below"}
}

// WeightTable lists every weight by the station of its middle.
func WeightTable(p *Prepared, u unit.System) Table {
	t := table("Weight: "+saysWeight(p, u).Says, "what", "#grams", "#doubt, g", "#middle at")
	for _, i := range order(p.Structure.Weights, func(k int) float64 { return p.Structure.Weights[k].Centre[2] }) {
		w := p.Structure.Weights[i]
		t.row(w.Name, fmt.Sprintf("%.0f", w.Mass.X), fmt.Sprintf("%.0f", w.Mass.U), u.Whole(unit.Length(w.Centre[2])))
	}
	return t
}
