package lane_test

import (
	"fmt"
	"strings"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// Boxes of letters are measured from the top of capitals to the foot of g; so much
// of them may touch before ink does, mm.
const slack = 0.12

// meets is the law of lettering: no two lines of letters overlap, and none lies on
// a leader, a dimension line or a flag's pole. It shares nothing with the solver
// but the measured boxes.
func meets(s *drawing.Scene) string {
	type line struct {
		text string
		box  drawing.Rect
	}
	var texts []line
	var strokes []drawing.Segment
	var class []string
	for _, it := range s.Items {
		switch v := it.(type) {
		case drawing.Group:
			class = append(class, v.Class)
		case drawing.GroupEnd:
			class = class[:len(class)-1]
		case drawing.Text:
			var text strings.Builder
			text.WriteString(v.String)
			for _, sp := range v.Spans {
				text.WriteString(sp.Text)
			}
			texts = append(texts, line{text.String(), v.Bounds().Inset(slack)})
		case drawing.Drawn:
			switch {
			case v.Style.Stroke.Width == 0 || len(class) == 0:
			case class[len(class)-1] == "dimension", class[len(class)-1] == "chain", class[len(class)-1] == "flag",
				class[len(class)-1] == "leader", class[len(class)-1] == "label":
				b := v.Path.Bounds()
				if v.Style.Fill == drawing.Sheet && b.W == b.H {
					continue // an item's ball is round its number
				}
				strokes = append(strokes, v.Path.Segments()...)
			}
		}
	}
	for i, a := range texts {
		if a.box.W <= 0 {
			continue
		}
		if a.box.X < -slack || a.box.X+a.box.W > s.Width+slack || a.box.Y < -slack || a.box.Y+a.box.H > s.Height+slack {
			return fmt.Sprintf("%q leaves the lane: %v of %v by %v", a.text, a.box, s.Width, s.Height)
		}
		for _, b := range texts[i+1:] {
			if b.box.W > 0 && overlap(a.box, b.box) {
				return fmt.Sprintf("%q lies over %q: %v, %v", a.text, b.text, a.box, b.box)
			}
		}
		for _, l := range strokes {
			if runsThrough(l, a.box) {
				return fmt.Sprintf("%q at %v lies on the line %v", a.text, a.box, l)
			}
		}
	}
	return ""
}

func overlap(a, b drawing.Rect) bool {
	return min(a.X+a.W, b.X+b.W)-max(a.X, b.X) > 0 && min(a.Y+a.H, b.Y+b.H)-max(a.Y, b.Y) > 0
}

// runsThrough samples a line every tenth of a millimetre.
func runsThrough(l drawing.Segment, r drawing.Rect) bool {
	if max(l.A.X, l.B.X) < r.X || min(l.A.X, l.B.X) > r.X+r.W || max(l.A.Y, l.B.Y) < r.Y || min(l.A.Y, l.B.Y) > r.Y+r.H {
		return false
	}
	n := int(l.A.Dist(l.B)*10) + 1
	for i := range n + 1 {
		p := l.A.Add(l.B.Sub(l.A).Mul(float64(i) / float64(n)))
		if p.X > r.X && p.X < r.X+r.W && p.Y > r.Y && p.Y < r.Y+r.H {
			return true
		}
	}
	return false
}

// views sweeps spans of 100 to 1400 mm over the build, lanes as wide as a page of
// 900 to 1600 px leaves them, both systems of units.
func views(p *lane.Prepared, widths []float64, step float64, yield func(lane.View)) {
	for _, long := range []float64{100, 170, 260, 400, 650, 1000, 1400} {
		for at := -50.0; at <= float64(p.Span.To); at += max(long/2, step) {
			for _, px := range widths {
				for _, u := range []unit.System{unit.Metric, unit.FeetInches} {
					yield(lane.View{
						Span:  model.Span{From: unit.Length(at), To: unit.Length(at + long)},
						Width: px * drawing.Pixel, System: u, HasPlumb: true, Plumb: unit.Length(at + 0.4*long),
					})
				}
			}
		}
	}
}

func TestNoTwoLabelsMeet(t *testing.T) {
	for name := range examples {
		p := prepared(t, name)
		n := 0
		widths, step := []float64{900}, 260.0
		if name == "foyer-rocket" {
			widths, step = []float64{650, 900, 1250}, 130
		}
		views(p, widths, step, func(v lane.View) {
			for _, l := range lane.All() {
				for _, v.Folded = range []bool{false, true} {
					n++
					if bad := meets(l.Draw(p, v)); bad != "" {
						t.Errorf("%s, %s, %v to %v on %.0f mm, folded %v, units %v: %s", name, l.ID, v.Span.From, v.Span.To, v.Width, v.Folded, v.System, bad)
					}
				}
			}
			if bad := meets(lane.Arrangement(p, v)); bad != "" {
				t.Errorf("%s, arrangement, %v to %v on %.0f mm: %s", name, v.Span.From, v.Span.To, v.Width, bad)
			}
			if bad := meets(lane.Axis(p, v)); bad != "" {
				t.Errorf("%s, axis, %v to %v on %.0f mm: %s", name, v.Span.From, v.Span.To, v.Width, bad)
			}
		})
		if n < 300 {
			t.Errorf("%s: only %d drawings looked at", name, n)
		}
	}
}

// The same for what is selected, piece by piece.
func TestNoTwoLabelsMeetWhereSelected(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	for i, piece := range p.Division.Pieces {
		v := lane.View{Span: p.Span, Width: 1100 * drawing.Pixel, Selected: piece.ID.String()}
		for _, l := range lane.All() {
			s := l.Draw(p, v)
			if bad := meets(s); bad != "" {
				t.Errorf("%s with %s selected: %s", l.ID, piece.Name, bad)
			}
		}
		if i == 0 {
			dimensioned := false
			for _, it := range lane.Elevation(p, v).Items {
				if line, ok := it.(drawing.Text); ok && line.String == unit.Metric.Figure(piece.Span.Length()) {
					dimensioned = true
				}
			}
			if !dimensioned {
				t.Errorf("%s is selected and its length is not dimensioned", piece.Name)
			}
		}
	}
}
