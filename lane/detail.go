package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

const (
	detailRow    = 9.0         // mm of paper over a detail, for its dimension
	detailMargin = 10.0        // mm of the body to either side of what a joint takes
	detailTurn   = math.Pi / 8 // the clocking of the cut: fins and openings lie at rounder ones
)

// DetailReach is how far a joint's detail reaches along the line to either side of its
// seam, mm.
func DetailReach(s model.Seam) float64 { return float64(s.Engage) + detailMargin }

// Detail is a joint close to: the finished pieces, core and post cut along the axis,
// the outside up, the far end to the right, with how deep the joint is. The scale is
// 1:n. Nil where the joint is of nothing that lies round an axis.
func Detail(r job.Result, s model.Seam, width, height, n float64, u unit.System) *drawing.Scene {
	d := detail{r: r, low: float64(s.Station) - width*n/2, n: n, scene: drawing.New(width, height)}
	d.high = float64(s.Station) + width*n/2
	d.scene.Title = s.ID + ", close to"
	cuts := d.cuts(s)
	if d.top == 0 {
		return nil
	}
	d.window = drawing.Rect{Y: detailRow, W: width, H: height - detailRow}
	// A joint far inside the outside, as of a collar in a wide end, is what to see.
	if fits := r.Fits.Of(s.ID); len(fits) > 0 {
		d.top = min(d.top, float64(fits[0].Bore.Nominal)/2+d.window.H*n/2)
	}
	d.tubes()
	for _, c := range cuts {
		d.face(c)
	}
	d.scene.Rect(d.window, drawing.Lined(drawing.Fine.In(drawing.Rule)))
	if s.Engage > 0 {
		from, to := s.Station, s.Station+s.Engage
		d.scene.Dimension(drawing.Dimension{
			ID: "engage", At: detailRow - 4, Text: u.Figure(s.Engage),
			From: d.at(float64(from), d.top), To: d.at(float64(to), d.top),
		})
	}
	return d.scene
}

type detail struct {
	r         job.Result
	low, high float64 // stations
	top       float64 // radius at the upper rim
	n         float64
	window    drawing.Rect
	scene     *drawing.Scene
}

// cutPiece is a piece as the plane of a detail cuts it.
type cutPiece struct {
	index int
	loops [][]model.Point
}

// at is a place on paper; the outside stands a little under the window's rim.
func (d *detail) at(station, radius float64) drawing.Point {
	const under = 3.0
	return drawing.Pt((station-d.low)/d.n, detailRow+under+(d.top-radius)/d.n)
}

// cuts are the pieces that a detail's plane meets, in the frame of the joint's part,
// and the radius of their outside.
func (d *detail) cuts(s model.Seam) []cutPiece {
	sin, cos := math.Sincos(detailTurn)
	plane := solid.Plane{Normal: solid.Vec{-sin, cos, 0}}
	below, _ := d.r.Division.Piece(s.Below)
	if below.ID.Kind == model.Slice {
		return nil
	}
	var out []cutPiece
	for i, p := range d.r.Division.Pieces {
		if p.Own != below.Own || p.Own && p.ID.Part != below.ID.Part || p.ID.Kind == model.Slice {
			continue
		}
		m := d.r.Carved[i].Solid
		if p.Own {
			m = inOwnFrame(d.r, i)
		}
		if b := m.Bounds(); b.Max[2] < d.low || b.Min[2] > d.high {
			continue
		}
		cut, err := solid.Section(m, plane)
		if err != nil {
			continue // not closed; the stages have said so
		}
		c := cutPiece{index: i}
		for _, region := range cut.Regions {
			for _, loop := range region.Loops() {
				c.loops = append(c.loops, d.points(cut.Frame, loop, cos, sin))
			}
		}
		out = append(out, c)
	}
	return out
}

// points are a loop's stations and radii; the outside within the window is kept.
func (d *detail) points(f solid.Frame, loop []solid.Point, cos, sin float64) []model.Point {
	out := make([]model.Point, len(loop))
	for k, q := range loop {
		v := f.Lift(q)
		out[k] = model.Point{Station: v[2], Radius: v[0]*cos + v[1]*sin}
	}
	for k, p := range out {
		q := out[(k+1)%len(out)]
		for _, z := range [...]float64{p.Station, d.low, d.high} {
			if z < d.low || z > d.high || z < min(p.Station, q.Station) || z > max(p.Station, q.Station) {
				continue
			}
			at := p.Radius
			if q.Station != p.Station {
				at += (z - p.Station) / (q.Station - p.Station) * (q.Radius - p.Radius)
			}
			d.top = max(d.top, at)
		}
	}
	return out
}

// tubes are the core and the stand's post.
func (d *detail) tubes() {
	c, s := d.r.Design.Core, d.r.Design.Stand
	if c == nil {
		return
	}
	d.tube(c.Span, float64(c.Stock.OD)/2, float64(c.Stock.OD)/2-float64(c.Stock.Wall), c.Stock.Rod())
	if s != nil {
		d.tube(model.Span{From: -s.Below, To: c.Span.From + s.Engage}, float64(s.Post.OD)/2, float64(s.Post.OD)/2-float64(s.Post.Wall), s.Post.Rod())
	}
}

func (d *detail) tube(span model.Span, outer, inner float64, rod bool) {
	if float64(span.From) > d.high || float64(span.To) < d.low {
		return
	}
	if rod {
		inner = -outer
	}
	path := drawing.Polygon(d.at(float64(span.From), outer), d.at(float64(span.To), outer), d.at(float64(span.To), inner), d.at(float64(span.From), inner))
	d.hatched(path, drawing.Style{Fill: drawing.Core}, drawing.Hatch{Pitch: drawing.HatchPitch * 0.6, Falling: true})
}

// face is a piece cut: pieces next to each other are hatched against each other, what
// lies inside them closer.
func (d *detail) face(c cutPiece) {
	path := &drawing.Path{}
	for _, loop := range c.loops {
		points := make([]drawing.Point, len(loop))
		for k, p := range loop {
			points[k] = d.at(p.Station, p.Radius)
		}
		path.Append(drawing.Polygon(points...))
	}
	h := drawing.Hatch{Falling: c.index%2 == 0}
	if d.r.Division.Pieces[c.index].ID.Kind != model.Shell {
		h.Pitch = drawing.HatchPitch * 0.6
	}
	d.hatched(path, drawing.Style{Fill: tintOf(d.r, c.index), EvenOdd: true}, h)
}

// hatched draws what of a cut face lies in the window.
func (d *detail) hatched(path *drawing.Path, style drawing.Style, h drawing.Hatch) {
	area := path.Clipped(d.window)
	d.scene.Path(area, style)
	d.scene.Hatch(area, h)
	d.scene.Path(path.Within(d.window), drawing.Lined(drawing.Outline))
}
