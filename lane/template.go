package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// Template is a drawing at full size, to be laid on the work or wrapped round it.
type Template struct {
	Name  string // of its file, without an end
	Title string
	Scene *drawing.Scene
}

// Room round a template's drawing, mm.
const (
	templateRim  = 10.0
	templateFoot = 22.0 // title and check bar
	stripHigh    = 30.0
)

// Templates are all templates of a build: the core's strip, a strip a seam, a
// wrap an opening, an outline a flat piece.
func Templates(r job.Result, u unit.System) []Template {
	var out []Template
	if c := r.Design.Core; c != nil {
		out = append(out, coreStrip(r, *c, u))
	}
	for _, s := range r.Division.Seams {
		if t, ok := seamStrip(r, s, u); ok {
			out = append(out, t)
		}
	}
	for _, o := range r.Design.Openings {
		if t, ok := openingWrap(r, o, u); ok {
			out = append(out, t)
		}
	}
	for i, p := range r.Division.Pieces {
		if p.ID.Kind == model.Slice && p.Direction == model.Lying {
			out = append(out, flatTemplate(r, i, u))
		}
	}
	return out
}

// paper is a sheet just large enough, its title and check bar at the foot, and
// where the drawing begins.
func paper(title, note string, width, height float64) (*drawing.Scene, drawing.Point) {
	width = max(width, drawing.Measure(title, drawing.Bold, drawing.SizeBody)+120)
	s := drawing.New(width+2*templateRim, height+2*templateRim+templateFoot)
	s.Title = title
	foot := height + 1.5*templateRim
	s.CheckBar(drawing.Pt(templateRim, foot+2), "")
	s.Text(drawing.Text{At: drawing.Pt(templateRim+112, foot+6), String: title, Face: drawing.Bold, Size: drawing.SizeBody})
	s.Text(drawing.Text{At: drawing.Pt(templateRim+112, foot+12), String: note, Size: drawing.SizeSmall})
	return s, drawing.Pt(templateRim, templateRim)
}

// flatTemplate is a flat piece's outline.
func flatTemplate(r job.Result, i int, u unit.System) Template {
	piece := r.Division.Pieces[i]
	m := inOwnFrame(r, i)
	box := drawn(m, fromAbove)
	thick := unit.Length(m.Bounds().Size()[2])
	s, at := paper(piece.Name+", full size", u.Fine(thick)+" thick", box.W, box.H)
	s.Path(contour(m, onPaper(fromAbove, box, 1, at)), drawing.Lined(drawing.Thin))
	return Template{"flat-" + piece.ID.String(), piece.Name, s}
}

// coreStrip is laid along the core from its lower end: where it is sawn and where
// rings sit.
func coreStrip(r job.Result, core model.Core, u unit.System) Template {
	long := float64(core.Span.Length())
	title := fmt.Sprintf("core, %s, sawn to %s", core.Stock.Name, u.Whole(core.Span.Length()))
	s, at := paper(title, "lay it along the pipe, its left end on the end nearer station 0", long, stripHigh)
	s.Rect(drawing.Rect{X: at.X, Y: at.Y, W: long, H: stripHigh}, drawing.Lined(drawing.Thin))
	for _, seat := range r.Division.Seats {
		piece, _ := r.Division.Piece(seat.Ring)
		from, to := float64(seat.Span.From-core.Span.From), float64(seat.Span.To-core.Span.From)
		s.Rect(drawing.Rect{X: at.X + from, Y: at.Y, W: to - from, H: stripHigh}, drawing.Lined(drawing.Thin))
		words := fmt.Sprintf("%s, %s", piece.Name, u.Whole(unit.Length(from)))
		x := at.X + to + 1.5
		if wide := drawing.Measure(words, drawing.Regular, drawing.SizeSmall); x+wide > at.X+long {
			x = at.X + from - 1.5 - wide
		}
		s.Text(drawing.Text{At: drawing.Pt(x, at.Y+stripHigh/2), V: drawing.Centre, String: words, Size: drawing.SizeSmall})
	}
	return Template{"core", "core", s}
}

// seamStrip is wrapped round the body at a seam, its lower edge on the seam: it
// shows which way round the pieces go. Clocking grows to the right with the far
// end up.
func seamStrip(r job.Result, seam model.Seam, u unit.System) (Template, bool) {
	radius := seamRadius(r, seam)
	if radius <= 0 {
		return Template{}, false
	}
	below, _ := r.Division.Piece(seam.Below)
	above, _ := r.Division.Piece(seam.Above)
	girth := 2 * math.Pi * radius
	title := fmt.Sprintf("seam %s, %s round", seam.ID, u.Whole(unit.Length(girth)))
	note := fmt.Sprintf("wrap it with its lower edge on the seam of %s and %s, the arrow towards the far end", below.Name, above.Name)
	s, at := paper(title, note, girth, stripHigh)
	s.Rect(drawing.Rect{X: at.X, Y: at.Y, W: girth, H: stripHigh}, drawing.Lined(drawing.Thin))
	for q := range 9 {
		x := at.X + girth*float64(q)/8
		s.Line(drawing.Pt(x, at.Y+stripHigh), drawing.Pt(x, at.Y+stripHigh*(0.2+0.4*float64(q%2))), drawing.Thin)
		if q < 8 {
			s.Text(drawing.Text{At: drawing.Pt(x+1.5, at.Y+stripHigh-3), String: fmt.Sprintf("%d°", 45*q), Size: drawing.SizeSmall})
		}
	}
	for i, m := range clocked(r, seam.Station) {
		x := at.X + girth*turnShare(m.angle)
		y := at.Y + 4 + 4*float64(i%3)
		s.Line(drawing.Pt(x, at.Y), drawing.Pt(x, at.Y+stripHigh), drawing.CentreLine)
		s.Text(drawing.Text{At: drawing.Pt(x+1.5, y+1), String: m.name, Size: drawing.SizeSmall})
	}
	tip := drawing.Pt(at.X+girth/16, at.Y+4)
	s.Path(drawing.Polyline(drawing.Pt(tip.X-2, tip.Y+4), tip, drawing.Pt(tip.X+2, tip.Y+4)), drawing.Lined(drawing.Outline))
	s.Line(tip, drawing.Pt(tip.X, tip.Y+14), drawing.Outline)
	return Template{"seam-" + seam.ID, "seam " + seam.ID, s}, true
}

// seamRadius is the outer radius just below a seam; 0 where nothing round is.
func seamRadius(r job.Result, seam model.Seam) float64 {
	for i, p := range r.Design.Parts {
		if p.ID == seam.Below.Part && p.OnBody() && i < len(r.Raw) {
			return model.LowestBetween(r.Raw[i].Outer, float64(seam.Station), float64(seam.Station))
		}
	}
	return 0
}

// mark is something with a clocking of its own.
type mark struct {
	name  string
	angle float64
}

// clocked are the parts and openings near a seam that say which way round its
// pieces go.
func clocked(r job.Result, station unit.Length) []mark {
	var out []mark
	for _, p := range r.Design.Parts {
		if p.Form == model.Flat && p.Plate.Lie == model.Along && p.Span.Holds(station) {
			out = append(out, mark{p.ID, p.Axis.Clocking})
		}
	}
	for _, o := range r.Design.Openings {
		if math.Abs(float64(o.Station-station)) < nearSeam {
			out = append(out, mark{o.ID, o.Clocking})
		}
	}
	return out
}

// nearSeam is how near an opening's middle lies to a seam that its strip names
// it, mm.
const nearSeam = 200.0

// turnShare is an angle as a share of a turn, from 0 to less than 1.
func turnShare(angle float64) float64 {
	share := math.Mod(angle/(2*math.Pi), 1)
	if share < 0 {
		share++
	}
	return share
}

// openingWrap is wrapped round the body where an opening is cut: its rim rolled
// out flat.
func openingWrap(r job.Result, o model.Opening, u unit.System) (Template, bool) {
	radius := r.Design.Outline.RadiusAt(float64(o.Station))
	if radius <= 0 {
		return Template{}, false
	}
	rim, wide, high := rolledOut(o, radius)
	const room = 15.0
	title := fmt.Sprintf("opening %s in %s", o.ID, o.Part)
	note := fmt.Sprintf("its middle at station %s, clocking %.0f°; the arrow towards the far end", u.Whole(o.Station), 360*turnShare(o.Clocking))
	s, at := paper(title, note, wide+2*room, high+2*room)
	middle := drawing.Pt(at.X+room+wide/2, at.Y+room+high/2)
	s.Path(drawing.Polygon(rim...).Moved(middle), drawing.Lined(drawing.Outline))
	s.Line(drawing.Pt(middle.X, at.Y), drawing.Pt(middle.X, at.Y+high+2*room), drawing.CentreLine)
	s.Line(drawing.Pt(at.X, middle.Y), drawing.Pt(at.X+wide+2*room, middle.Y), drawing.CentreLine)
	s.Path(drawing.Polyline(drawing.Pt(middle.X-2, at.Y+4), drawing.Pt(middle.X, at.Y), drawing.Pt(middle.X+2, at.Y+4)), drawing.Lined(drawing.Outline))
	return Template{"opening-" + o.ID, "opening " + o.ID, s}, true
}

// rolledOut is an opening's rim on the rolled out surface of a cylinder, about
// its middle, and its extent. A hole of radius ρ through the axis leaves the rim
// x = R·asin(ρ·sin t / R), y = ρ·cos t.
func rolledOut(o model.Opening, radius float64) (rim []drawing.Point, wide, high float64) {
	if o.Across == 0 {
		w, h := float64(o.Wide), float64(o.High)
		return []drawing.Point{{X: -w / 2, Y: -h / 2}, {X: w / 2, Y: -h / 2}, {X: w / 2, Y: h / 2}, {X: -w / 2, Y: h / 2}}, w, h
	}
	hole := min(float64(o.Across)/2, radius)
	const corners = 180
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		x := radius * math.Asin(hole*sin/radius)
		rim = append(rim, drawing.Pt(x, hole*cos))
		wide = max(wide, 2*x)
	}
	return rim, wide, 2 * hole
}
