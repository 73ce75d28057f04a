package book

import (
	"fmt"
	"math"
	"strings"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
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
	var words strings.Builder
	fmt.Fprintf(&words, "The build weighs %.1f ± %.1f kg.", s.Total.X/1000, 2*s.Total.U/1000)
	for _, l := range s.Lifted {
		if l.People == 1 {
			continue
		}
		fmt.Fprintf(&words, " %s, %s, takes %d people.", capital(l.Name), mass(l.Mass), l.People)
	}
	if c := b.r.Design.Core; c != nil && s.Carried.Allows > 0 {
		fmt.Fprintf(&words, " Carry it lying by the body over the core with hands at stations %s and %s: there the core droops %s and bears %.1f MPa of the %.0f allowed, handling counted three times. Stored lying, rest it there too: in months it droops %s. Raise it with a hand under its upper half; by its lower end alone the core droops %s and bears %.1f MPa.",
			u.Whole(s.Hands[0]), u.Whole(s.Hands[1]), u.Fine(s.Carried.Droop), s.Carried.Stress, s.Carried.Allows, u.Fine(s.Stored.Droop), u.Fine(s.Raised.Droop), s.Raised.Stress)
	}
	if site := b.r.Design.Site; site != nil && len(site.Passages) > 0 {
		words.WriteString(" Corners on the way in are not known: try them with a lath as long as the build.")
	}
	return words.String()
}

func (b *sheets) standingWords() string {
	s, u := b.r.Structure.Stand, b.o.System
	words := fmt.Sprintf("On its stand of %s it is %s high and tips at %.0f°, where %.0f° are asked for; %.0f N at %s push it over, where %.0f N are asked for. Under those the top sways %s; the post, %s, bears %.0f MPa of the %.0f allowed",
		mass(s.Base), u.Whole(s.Height), s.Tips*180/math.Pi, s.Needs*180/math.Pi, s.PushTips, u.Whole(s.PushAt), s.Push,
		u.Tenth(s.Sway), b.r.Design.Stand.Post.Name, s.Stress, s.Allows)
	if s.CoreAllows > 0 {
		words += fmt.Sprintf(", the core above it %.1f of %.0f", s.CoreStress, s.CoreAllows)
	}
	words += fmt.Sprintf(". The top may stand %s off plumb. It presses %.0f kg/m² on the floor.", u.Tenth(s.Lean), s.Floor)
	if r := s.Rings; r.Outside > 0 {
		words += fmt.Sprintf(" Two bushes hold the post in the core: %s outside with a hole of %s, at stations %s and %s, each good for %.0f N sideways; the lower one screwed to the core, the post pinned under it.",
			u.Tenth(r.Outside), u.Tenth(r.Bore), u.Whole(r.Stations[0]), u.Whole(r.Stations[1]), r.Bears)
	}
	return words
}

// massTable lists what is printed, and what else is heavy.
func (b *sheets) massTable(width float64) drawing.Table {
	t := drawing.Table{ID: "masses", Columns: []drawing.Column{{Head: "what weighs", Width: width - 22}, {Head: "", Width: 22, Align: drawing.End}}}
	printed, n, rest := 0.0, 0, []drawing.Row{}
	for _, weight := range b.r.Structure.Weights {
		if weight.Kind == model.PrintWeight {
			printed += weight.Mass.X
			n++
			continue
		}
		rest = append(rest, drawing.Row{Cells: []string{weight.Name, mass(unit.Mass(weight.Mass.X))}})
	}
	t.Rows = append(t.Rows, drawing.Row{Cells: []string{fmt.Sprintf("%d prints", n), mass(unit.Mass(printed))}})
	t.Rows = append(t.Rows, rest...)
	t.Rows = append(t.Rows, drawing.Row{Face: drawing.Bold, Cells: []string{"build", mass(unit.Mass(b.r.Structure.Total.X))}})
	if base := b.r.Structure.Stand.Base; base > 0 {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{"stand", mass(base)}})
	}
	return t
}
