package lane

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// wrapRoom is what a wrap shows round what it is for, mm.
const wrapRoom = 15.0

// openings are wrapped on the body where an opening is cut, and panels laid on what
// closes it.
func (t *templates) openings() {
	for _, o := range t.r.Design.Openings {
		radius := t.r.Design.Outline.RadiusAt(float64(o.Station))
		panel := model.PieceID{}
		for _, v := range t.r.Division.Windows {
			if v.Opening.ID == o.ID {
				radius, panel = float64(v.Radius), v.Panel
			}
		}
		if radius <= 0 {
			continue
		}
		t.opening(o, radius)
		if panel != (model.PieceID{}) {
			t.panel(o, radius)
		}
	}
}

// patch is a wrap about an opening, so much wider and higher.
func (t *templates) patch(o model.Opening, radius, room float64) (*wrap, float64, bool) {
	wide, high := float64(o.Wide)/2/radius, float64(o.High)/2
	if o.Across <= 0 && (o.Wide <= 0 || o.High <= 0) {
		return nil, 0, false
	}
	if o.Across > 0 {
		wide, high = math.Asin(min(1, float64(o.Across)/2/radius)), float64(o.Across)/2
	}
	skin, off, ok := skinAbout(t.outerOf(o.Part), float64(o.Station)-high, float64(o.Station)+high, room)
	if !ok {
		return nil, 0, false
	}
	skin.Paper = t.paper
	side := wide + room/radius
	return newWrap(skin, o.Clocking-side, o.Clocking+side, skin.From.Station, skin.To.Station, 0), off, true
}

func (t *templates) opening(o model.Opening, radius float64) {
	w, off, ok := t.patch(o, radius, wrapRoom)
	if !ok {
		return
	}
	z := float64(o.Station)
	w.border()
	w.s.Path(drawing.Polygon(w.rim(o, radius, 0)...), drawing.Lined(drawing.Outline))
	w.cross(o.Clocking, z)
	w.name(o.ID)
	size := fmt.Sprintf("⌀ %s", t.u.Tenth(o.Across))
	if o.Across == 0 {
		size = fmt.Sprintf("%s round the body, %s high", t.u.Whole(o.Wide), t.u.Whole(o.High))
	}
	where := fmt.Sprintf("station %s, clocking %s", t.u.Whole(o.Station), degrees(o.Clocking))
	words := fmt.Sprintf("Its cross on %s of %s, the arrow towards the far end; what is cut out of it masks the hole", where, o.Part)
	if o.Panel {
		for _, at := range screws(o, radius) {
			w.hole(at.turn, at.station, t.screwOf(o).Thread)
		}
		words += "; small holes are the panel's screws, in the ledge"
	}
	t.add(Template{
		Name: "opening-" + o.ID, Title: fmt.Sprintf("opening %s in %s, %s", o.ID, o.Part, size),
		Use: "cut, check or mask the hole", Where: "on " + o.Part + ", " + where, Lay: words + offWords(off), Figure: w.s,
	})
}

// cross is an opening's middle with its chain lines and the arrow to the far end.
func (w *wrap) cross(turn, station float64) {
	w.along(turn, w.low, w.high, drawing.CentreLine)
	w.round(station, drawing.CentreLine)
	p := w.pt(turn, station)
	w.s.Line(p.Add(drawing.Pt(-2, 0)), p.Add(drawing.Pt(2, 0)), drawing.Thin)
	w.s.Line(p.Add(drawing.Pt(0, -2)), p.Add(drawing.Pt(0, 2)), drawing.Thin)
	side := 7 / w.skin.Radius(station)
	w.farEnd(w.left+side, w.low+2, math.Min(16, w.high-w.low-4))
}

// name says at the paper's upper edge what it is: it loses its sheet.
func (w *wrap) name(words string) {
	if wide := drawing.Measure(words, drawing.Regular, drawing.SizeSmall); wide < (w.right-w.left)*w.skin.Radius(w.high)-2 {
		w.beside(w.left, w.high-4, words, drawing.SizeSmall)
	}
}

// rim is an opening's edge, smaller all round by a gap. A round one is drilled along
// the radius: at the angle t round the drill a place lies ρ·sin t to the side and
// ρ·cos t up, where the body has the radius r: at the turn asin(ρ·sin t/r).
func (w *wrap) rim(o model.Opening, radius, gap float64) []drawing.Point {
	z := float64(o.Station)
	var out []drawing.Point
	if o.Across == 0 {
		wide, high := (float64(o.Wide)/2-gap)/radius, float64(o.High)/2-gap
		out = w.edge(o.Clocking-wide, o.Clocking+wide, z-high)
		top := w.edge(o.Clocking-wide, o.Clocking+wide, z+high)
		slices.Reverse(top)
		return append(out, top...)
	}
	hole := min(float64(o.Across)/2-gap, radius)
	const corners = 360
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		station := max(w.low, min(w.high, z+hole*cos))
		turn := math.Asin(max(-1, min(1, hole*sin/w.skin.Radius(station))))
		out = append(out, w.pt(o.Clocking+turn, station))
	}
	return out
}

// hole is a small hole to drill.
func (w *wrap) hole(turn, station float64, across unit.Length) {
	p, r := w.pt(turn, station), float64(across)/2
	w.s.Path(drawing.Circle(p, r), drawing.Lined(drawing.Object))
	w.s.Line(p.Add(drawing.Pt(-r-2, 0)), p.Add(drawing.Pt(r+2, 0)), drawing.CentreLine)
	w.s.Line(p.Add(drawing.Pt(0, -r-2)), p.Add(drawing.Pt(0, r+2)), drawing.CentreLine)
}

// spot is a place on a body.
type spot struct{ turn, station float64 }

// screws are the holes of a panel's four screws, in the middle of its ledge's
// corners.
func screws(o model.Opening, radius float64) []spot {
	inset := float64(model.LedgeWide) / 2
	turn, rise := (float64(o.Wide)/2-inset)/radius, float64(o.High)/2-inset
	var out []spot
	for _, s := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
		out = append(out, spot{o.Clocking + s[0]*turn, float64(o.Station) + s[1]*rise})
	}
	return out
}

// screwOf is the screw of an opening's panel.
func (t *templates) screwOf(o model.Opening) stock.Fastener {
	for _, w := range t.r.Division.Windows {
		if w.Opening.ID == o.ID {
			return w.Screw
		}
	}
	return stock.Fastener{}
}

func (t *templates) panel(o model.Opening, radius float64) {
	gap := 0.0
	if fits := t.r.Fits.Of(o.ID); len(fits) > 0 {
		gap = float64(fits[0].Bore.Nominal-fits[0].MaleSize.Nominal) / 2
	}
	w, off, ok := t.patch(o, radius, wrapRim)
	if !ok {
		return
	}
	w.s.Path(drawing.Polygon(w.rim(o, radius, gap)...), drawing.Lined(drawing.Outline))
	w.along(o.Clocking, w.low, w.high, drawing.CentreLine)
	w.round(float64(o.Station), drawing.CentreLine)
	for _, at := range screws(o, radius) {
		w.hole(at.turn, at.station, t.screwOf(o).Passes)
	}
	w.letter(o.Clocking+float64(o.Wide)/4/radius, float64(o.Station)+float64(o.High)/4, o.ID, 0) // beside the chain line
	w.farEnd(o.Clocking-float64(o.Wide)/4/radius, float64(o.Station)+4, math.Min(16, float64(o.High)/2-8))
	t.add(Template{
		Name: "panel-" + o.ID, Title: fmt.Sprintf("panel of %s, %s smaller all round than its opening", o.ID, t.u.Fine(unit.Length(gap))),
		Use: "check it, drill its screws", Where: "on the panel's outside",
		Lay:    fmt.Sprintf("Lay it on the panel's outside, the arrow towards the far end; drill ⌀ %s", t.u.Fine(t.screwOf(o).Passes)) + offWords(off),
		Figure: w.s,
	})
}

// tongues are wrapped on a host where the tongues of flat guests go through it:
// those of copies once.
func (t *templates) tongues() {
	for _, m := range t.r.Design.Mounts {
		guest := t.part(m.Guest)
		mine := t.tabs(m.ID)
		if len(mine) == 0 {
			continue
		}
		first, clockings := m.ID, []string{}
		for _, other := range t.r.Design.Mounts {
			if other.Host == m.Host && t.part(other.Guest).Declared == guest.Declared && len(t.tabs(other.ID)) == len(mine) {
				if len(clockings) == 0 {
					first = other.ID
				}
				clockings = append(clockings, degrees(t.tabs(other.ID)[0].Clocking))
			}
		}
		if first != m.ID {
			continue
		}
		t.tongue(m, guest, mine, clockings)
	}
}

func (t *templates) part(id string) model.Part {
	for _, p := range t.r.Design.Parts {
		if p.ID == id {
			return p
		}
	}
	return model.Part{}
}

func (t *templates) tabs(mount string) []model.Tab {
	var out []model.Tab
	for _, tab := range t.r.Division.Tabs {
		if tab.Mount == mount {
			out = append(out, tab)
		}
	}
	return out
}

func (t *templates) tongue(m model.Mount, guest model.Part, tabs []model.Tab, clockings []string) {
	const room = 10.0
	low, high := math.Inf(1), math.Inf(-1)
	for _, tab := range tabs {
		low, high = min(low, float64(tab.Span.From)), max(high, float64(tab.Span.To))
	}
	skin, off, ok := skinAbout(t.outerOf(m.Host), low, high, room)
	if !ok {
		return
	}
	low, high, skin.Paper = skin.From.Station, skin.To.Station, t.paper
	least := min(skin.From.Radius, skin.To.Radius)
	turn := tabs[0].Clocking
	side := (float64(tabs[0].Thick)/2 + wrapRoom) / least
	w := newWrap(skin, turn-side, turn+side, low, high, 0)
	w.border()
	w.along(turn, low, high, drawing.CentreLine)
	for _, tab := range tabs {
		wide := float64(tab.Thick)
		if fits := t.r.Fits.Of(tab.ID); len(fits) > 0 {
			wide = float64(fits[0].Bore.Nominal)
		}
		from, to := float64(tab.Span.From), float64(tab.Span.To)
		a, b := wide/2/skin.Radius(from), wide/2/skin.Radius(to)
		w.s.Path(drawing.Polygon(w.pt(turn-a, from), w.pt(turn+a, from), w.pt(turn+b, to), w.pt(turn-b, to)), drawing.Lined(drawing.Outline))
		w.round(from, drawing.Fine)
		w.letter(turn+side/2+a/2, from+3, t.u.Figure(tab.Span.From), 0)
		w.round(to, drawing.Fine)
		w.letter(turn+side/2+b/2, to-3, t.u.Figure(tab.Span.To), 0)
	}
	w.name(guest.Declared)
	first := float64(tabs[0].Span.From) // the arrow lies between the lines of the first slot's ends
	w.farEnd(turn-side+7/least, first+3, math.Min(16, float64(tabs[0].Span.Length())-6))
	t.add(Template{
		Name: "tongues-" + m.ID, Title: fmt.Sprintf("slots for %s in %s, %d of them", guest.Declared, m.Host, len(tabs)*len(clockings)),
		Use: "check or cut the slots", Where: fmt.Sprintf("on %s from station %s, at %s", m.Host, t.u.Whole(unit.Length(low)), strings.Join(clockings, ", ")),
		Lay:    fmt.Sprintf("Its chain line at %s; its lower edge on station %s, the arrow towards the far end; figures are stations", strings.Join(clockings, ", "), t.u.Whole(unit.Length(low))) + offWords(off),
		Figure: w.s,
	})
}
