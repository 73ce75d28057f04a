package lane

import (
	"fmt"
	"math"

	"scalewright/craft/development"
	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

// goreOff is how far a gore's edges may stand off before they are pressed down, mm:
// common practice.
const goreOff = 1.0

// covers keep paint off parts of the body that stay as printed while the rest is
// finished: from border to border, in one where the part unrolls, else in gores.
func (t *templates) covers() {
	if len(t.r.Finishing.Surfaces) == 0 {
		return
	}
	for i, p := range t.r.Design.Parts {
		if p.Finished || !p.OnBody() || p.Form == model.Flat || i >= len(t.r.Raw) {
			continue
		}
		outer := t.r.Raw[i].Outer
		if len(outer) < 2 {
			continue
		}
		skin, off, ok := skinOn(outer, float64(p.Span.From), float64(p.Span.To))
		one := Template{
			Name: "cover-" + p.ID, Title: "cover of " + p.ID, Use: "keep paint off what stays bare", Where: "round " + p.ID,
		}
		if ok && off <= leastOff {
			w, quarter := t.coverWrap(skin, p)
			one.Figure = w.s
			one.Lay = fmt.Sprintf("Wrap it round %s, from border to border, and tape its edges", p.ID)
			if quarter {
				one.Title, one.Lay = "cover of "+p.ID+", a quarter", fmt.Sprintf("Print it four times, wrap the quarters round %s from border to border, and tape the edges", p.ID)
			}
		} else {
			g := development.CutGores(places(outer), t.paper, goreOff)
			one.Figure = goresOf(g, p.ID)
			one.Lay = fmt.Sprintf("Cut out the %d strips, lay them side by side round %s, the arrow towards the far end, and tape the joins; an edge stands off up to %s before it is pressed down", g.Number, p.ID, t.u.Fine(unit.Length(g.Off)))
		}
		t.add(one)
	}
}

// coverWrap is a cover that unrolls; of a steep cone a quarter, since all are alike.
func (t *templates) coverWrap(skin development.Skin, p model.Part) (w *wrap, quarter bool) {
	skin.Paper = t.paper
	rows := wrapped(skin, skin.From.Station, skin.To.Station)
	w = rows[0]
	w.border()
	high := w.high - w.low
	w.farEnd(w.left+(w.right-w.left)/8, w.low+high*0.2, math.Min(20, high*0.6))
	w.beside(w.left, w.high-min(4, high/2), p.ID, drawing.SizeSmall)
	return w, len(rows) > 1
}

// goresOf are gores side by side, touching where they are widest.
func goresOf(g development.Gores, name string) *drawing.Scene {
	half, long := 0.0, 0.0
	for _, p := range g.Middle {
		half, long = max(half, p.Radius), max(long, p.Station)
	}
	s := drawing.New(2*half*float64(g.Number)+2*wrapRim, long+2*wrapRim)
	for i := range g.Number {
		x := wrapRim + half*float64(2*i+1)
		var right, loop []drawing.Point
		for _, p := range g.Middle {
			y := wrapRim + long - p.Station
			right = append(right, drawing.Pt(x+p.Radius, y))
			loop = append(loop, drawing.Pt(x-p.Radius, y))
		}
		for k := len(right) - 1; k >= 0; k-- {
			loop = append(loop, right[k])
		}
		s.Path(drawing.Polygon(loop...), drawing.Lined(drawing.Outline))
		s.Line(drawing.Pt(x, wrapRim), drawing.Pt(x, wrapRim+long), drawing.CentreLine)
		words := fmt.Sprintf("%s, %d of %d", name, i+1, g.Number)
		if drawing.Measure(words, drawing.Regular, drawing.SizeSmall) < long*0.8 && half > 4 {
			s.Text(drawing.Text{
				At: drawing.Pt(x-2.4, wrapRim+long*0.72), H: drawing.Middle, V: drawing.Centre, String: words, Size: drawing.SizeSmall, Rotate: -90, Halo: 0.6,
			})
		}
		if i == 0 {
			arrow(s, drawing.Pt(x+min(3, half/2), wrapRim+long*0.6), drawing.Pt(x+min(3, half/2), wrapRim+long*0.6-min(15, long*0.3)))
		}
	}
	return s
}
