package book

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/unit"
)

const pageStanding = "standing"

// standing says what the build weighs, how it is carried and how it stands.
func (b *sheets) standing() {
	s := b.r.Structure
	if s.Total.X == 0 {
		return
	}
	p := b.add(pageStanding, "Standing and carrying", false)
	u := b.o.System
	x, y, w := p.body.X, p.body.Y, p.body.W
	y = p.text(x, y, w, drawing.SizeHead, bold("Standing and carrying")) + 2
	y = p.text(x, y, w, drawing.SizeText, plain(b.carryingWords())) + 1.5
	if b.r.Design.Stand != nil {
		y = p.text(x, y, w, drawing.SizeText, plain(b.standingWords())) + 1.5
	}
	y = p.text(x, y, w, drawing.SizeSmall, bold("Take care. "), plain("Lift with two people and clear the way first. Fix the base before the build goes on. A floor, a wall fixing and what the public may lean on are for whoever looks after the building, and local rules.")) + 3
	const share = 0.62
	t := b.massTable(w*(1-share) - 6)
	p.scene.Table(drawing.Pt(x+w*share+6, y), t)
	if b.r.Design.Stand != nil {
		figure, n := lane.OnStand(b.r, w*share, p.body.Y+p.body.H-y, u)
		if n > 0 {
			p.scale = lane.ScaleText(n)
			p.scene.Place(figure, drawing.Pt(x, y), "stand-")
		}
	}
}

func (b *sheets) carryingWords() string {
	s, u := b.r.Structure, b.o.System
	words := fmt.Sprintf("The build weighs %.1f ± %.1f kg.", s.Total.X/1000, 2*s.Total.U/1000)
	if c := b.r.Design.Core; c != nil && s.Carried.Allows > 0 {
		words += fmt.Sprintf(" Carry it lying by the body over the core with hands at stations %s and %s: there the core droops %s and bears %.1f MPa of the %.0f allowed, handling counted three times. Raise it with a hand under its upper half; by its lower end alone the core droops %s.",
			u.Whole(s.Hands[0]), u.Whole(s.Hands[1]), u.Fine(s.Carried.Droop), s.Carried.Stress, s.Carried.Allows, u.Fine(s.Raised.Droop))
	}
	return words
}

func (b *sheets) standingWords() string {
	s, u := b.r.Structure.Stand, b.o.System
	return fmt.Sprintf("On its stand of %s it is %s high and tips at %.0f°, where %.0f° are asked for; %.0f N at %s push it over, where %.0f N are asked for. Under those the top sways %s and the post, %s, bears %.0f MPa of the %.0f allowed. It presses %.0f kg/m² on the floor.",
		mass(s.Base), u.Whole(s.Height), s.Tips*180/math.Pi, s.Needs*180/math.Pi, s.PushTips, u.Whole(s.PushAt), s.Push,
		u.Fine(s.Sway), b.r.Design.Stand.Post.Name, s.Stress, s.Allows, s.Floor)
}

// massTable lists the groups of pieces and what else is heavy.
func (b *sheets) massTable(width float64) drawing.Table {
	t := drawing.Table{ID: "masses", Columns: []drawing.Column{{Head: "what weighs", Width: width - 22}, {Head: "", Width: 22, Align: drawing.End}}}
	prints, rest := 0.0, []drawing.Row{}
	for i, weight := range b.r.Structure.Weights {
		if i < len(b.r.Prints) {
			prints += weight.Mass.X
			continue
		}
		rest = append(rest, drawing.Row{Cells: []string{weight.Name, mass(unit.Mass(weight.Mass.X))}})
	}
	t.Rows = append(t.Rows, drawing.Row{Cells: []string{fmt.Sprintf("%d prints", len(b.r.Prints)), mass(unit.Mass(prints))}})
	t.Rows = append(t.Rows, rest...)
	t.Rows = append(t.Rows, drawing.Row{Face: drawing.Bold, Cells: []string{"build", mass(unit.Mass(b.r.Structure.Total.X))}})
	if base := b.r.Structure.Stand.Base; base > 0 {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{"stand", mass(base)}})
	}
	return t
}
