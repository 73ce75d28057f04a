package lane

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
)

// Exploded is the build pulled apart along its line, as large as the box takes it:
// every finished piece shaded, its number in the parts list and its name on a
// leader, the core beside. It is no drawing to measure. Nil of a build in one piece.
func Exploded(r job.Result, width, height float64) *drawing.Scene {
	if len(r.Carved) < 2 {
		return nil
	}
	e := newExplosion(r)
	p, ok := newPictorial(e.solids, e.view)
	if !ok {
		return nil
	}
	s := drawing.New(width, height)
	s.Title = r.Name + ", pulled apart"
	rim := drawing.Pt(explodedRim/4, explodedRim)
	if e.upright {
		rim = drawing.Pt(explodedSide, 2)
	}
	k := min((width-2*rim.X)/p.width(), (height-2*rim.Y)/p.height())
	s.Height = p.height()*k + 2*rim.Y
	l := p.lay(k, drawing.Pt((width-p.width()*k)/2, rim.Y))
	e.lines(s, l.see)
	l.draw(s, pens{drawing.Thin, drawing.Fine.Wide(drawing.HairWidth)})
	e.labels(s, l)
	return s
}

// Stands reports whether pictures show the build standing: what is turned on the
// build's axis lies, as on every lane; of what isn't the higher stands.
func Stands(r job.Result) bool {
	box := boxOf(r, face(r))
	return len(r.Design.Outline) == 0 && box.H > box.W
}

// Room for names: over and under a build that lies, and beside one that stands, mm.
const (
	explodedRow  = 3.5 // between the rows that names may stand in
	explodedRim  = 16.0
	explodedSide = 40.0
)

// explosion is a build pulled apart, in a view.
type explosion struct {
	*apart

	upright bool
	view    solid.View
	solids  []pictured // of the pieces, then the core
	core    solid.Vec  // the move of the core
}

func newExplosion(r job.Result) explosion {
	a := axesOf(face(r))
	e := explosion{apart: pulledApart(r, aslantTurn), upright: Stands(r)}
	e.view = a.aslant(aslantTurn, aslantRaise, e.upright)
	for i, c := range r.Carved {
		e.solids = append(e.solids, pictured{
			id: r.Division.Pieces[i].ID.String(), mesh: c.Solid, at: solid.Translation(e.by[i]), fill: tintOf(r, i),
		})
	}
	e.besideCore()
	return e
}

// besideCore lays the core beside the pieces: inside them it would be seen nowhere.
func (e *explosion) besideCore() {
	c := e.r.Design.Core
	frame, err := e.view.Frame()
	if c == nil || err != nil {
		return
	}
	outer := float64(c.Stock.ODMost) / 2
	m, err := solid.Turn(pipeProfile(outer, outer-float64(c.Stock.Wall), float64(c.Span.From), float64(c.Span.To)), coreSegments)
	if err != nil {
		return // a stock that is no pipe; the stages have said so
	}
	// Aside on the paper, as far as the pieces reach there.
	aside := frame.V.Scale(-1)
	if e.upright {
		aside = frame.U
	}
	most := math.Inf(-1)
	for _, s := range e.solids {
		for _, v := range s.mesh.Vertices {
			most = max(most, s.at.Apply(v).Dot(aside))
		}
	}
	middle := solid.Vec{0, 0, float64(c.Span.From+c.Span.To) / 2}
	e.core = aside.Scale(most + e.air + outer - middle.Dot(aside))
	// And along in the middle of them.
	e.solids = append(e.solids, pictured{id: "core", mesh: m, at: solid.Translation(e.core), fill: drawing.Core})
}

// coreSegments is how many sides the core's circle has in a picture: its chords
// leave the circle by 0.03 % of the radius.
const coreSegments = 128

// pipeProfile is the half plane of a pipe, or of a rod where nothing is bored.
func pipeProfile(outer, inner, from, to float64) []solid.PointRZ {
	if inner <= 0 {
		return []solid.PointRZ{{R: 0, Z: from}, {R: outer, Z: from}, {R: outer, Z: to}, {R: 0, Z: to}}
	}
	return []solid.PointRZ{{R: inner, Z: from}, {R: outer, Z: from}, {R: outer, Z: to}, {R: inner, Z: to}}
}

// lines draws the ways back: of every line of pieces its axis, of every guest from
// where it was to its host. They lie under the pieces.
func (e explosion) lines(s *drawing.Scene, see view) {
	over := e.air
	for _, l := range e.apart.lines() {
		low, high := math.Inf(1), math.Inf(-1)
		for _, i := range l.pieces {
			from, to, _, _ := reach(e.r.Carved[i].Solid, l.along)
			move := e.by[i].Dot(l.along)
			low, high = min(low, from+move), max(high, to+move)
		}
		first := e.middle(l.pieces[0]).Add(e.by[l.pieces[0]])
		if l.along == (solid.Vec{0, 0, 1}) && len(e.r.Design.Outline) > 0 && !e.r.Division.Pieces[l.pieces[0]].Own {
			first = solid.Vec{} // the build's axis itself
		}
		at := func(t float64) drawing.Point { return see(first.Add(l.along.Scale(t - first.Dot(l.along)))) }
		s.Line(at(low-over), at(high+over), drawing.CentreLine)
	}
	for _, t := range e.traces {
		s.Line(see(t[0]), see(t[1]), drawing.CentreLine)
	}
}

// explodedItem is a solid with its label.
type explodedItem struct {
	id     string
	number string // empty: of the core
	tip    drawing.Point
	name   string
	to     string
}

// labels number and name every piece, in rows where there is room.
func (e explosion) labels(s *drawing.Scene, l laid) {
	area := drawing.Rect{W: s.Width, H: s.Height}
	room, crossing := drawing.NewRoom(area), drawing.NewRoom(area)
	for _, fill := range l.fills {
		room.Cover(fill)
		room.Bar(fill)
		crossing.Cover(fill)
	}
	var rows []float64
	for y := s.Height - ballRadius; y >= ballRadius; y -= explodedRow {
		rows = append(rows, y)
	}
	for _, it := range e.items(l) {
		wide := drawing.Measure(it.name, drawing.Regular, drawing.SizeBody)
		if it.number != "" {
			wide += 2*ballRadius + 1
		}
		wanted := drawing.Seat{Tip: it.tip, W: wide, H: 2 * ballRadius, Rows: rows, Reach: explodedReach}
		seat, ok := room.Seat(wanted)
		if ok {
			crossing.Words(seat.Box)
			crossing.Leader(seat.Leader...)
		} else if seat, ok = crossing.Seat(wanted); ok { // across other pieces rather than unnamed
			room.Words(seat.Box)
			room.Leader(seat.Leader...)
		}
		if ok {
			e.label(s, it, seat)
		}
	}
}

// explodedReach is how far aside of its tip a label may stand, mm.
const explodedReach = 50.0

func (e explosion) label(s *drawing.Scene, it explodedItem, seat drawing.Seated) {
	s.Begin(drawing.Group{ID: "apart-" + it.id, Class: "leader", Title: it.name})
	defer s.End()
	// The ball stands at the leader's end.
	ball := drawing.Pt(seat.Box.X+ballRadius, seat.Box.Y+ballRadius)
	words := drawing.Text{
		At: drawing.Pt(ball.X+ballRadius+1, ball.Y), String: it.name, Size: drawing.SizeBody, V: drawing.Centre, Halo: 0.6,
	}
	if !seat.Left {
		ball.X = seat.Box.X + seat.Box.W - ballRadius
		words.At.X, words.H = ball.X-ballRadius-1, drawing.End
	}
	way := slices.Clone(seat.Leader)
	if it.number == "" {
		words.At.X = seat.Box.X
		if !seat.Left {
			words.At.X += seat.Box.W
		}
	} else {
		last := way[len(way)-2]
		way[len(way)-1] = ball.Add(last.Sub(ball).Mul(ballRadius / last.Dist(ball)))
		s.Path(drawing.Circle(ball, ballRadius), drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Thin})
		s.Text(drawing.Text{At: ball, String: it.number, Face: drawing.Bold, Size: drawing.SizeBody, H: drawing.Middle, V: drawing.Centre})
	}
	s.Path(drawing.Polyline(way...), drawing.Lined(drawing.Fine))
	s.Path(drawing.Circle(it.tip, 0.5), drawing.Filled(drawing.Ink))
	s.Text(words)
	if it.to != "" {
		s.Link(seat.Box, it.to)
	}
}

// items are the pieces from left to right, each with a place of it that is seen:
// of shells and what moved up the upper half, of what goes into them and what moved
// down the lower.
func (e explosion) items(l laid) []explodedItem {
	var out []explodedItem
	for n := range l.solids {
		if n >= len(e.r.Carved) {
			out = append(out, explodedItem{id: "core", tip: l.tip(n, 0.5, 0.8), name: "core, " + e.r.Design.Core.Stock.Name})
			continue
		}
		piece := e.r.Division.Pieces[n]
		down := 0.2
		switch up := e.by[n].Dot(l.seen.Frame.V); {
		case up < -e.air, math.Abs(up) < e.air && (piece.ID.Kind == model.CoreRing || piece.ID.Kind == model.CollarRing):
			down = 0.8
		}
		out = append(out, explodedItem{piece.ID.String(), strconv.Itoa(n + 1), l.tip(n, 0.5, down), piece.Name, PageOf(piece)})
	}
	slices.SortStableFunc(out, func(a, b explodedItem) int { return cmp.Compare(a.tip.X, b.tip.X) })
	return out
}
