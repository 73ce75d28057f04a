package lane

import (
	"math"
	"slices"
	"strings"

	"scalewright/drawing"
	"scalewright/model"
)

// names letters the pieces that have room for their name in the upper half.
func (g *figure) names() {
	for _, i := range g.p.shells {
		piece := g.p.Division.Pieces[i]
		if !g.v.touches(float64(piece.Span.From), float64(piece.Span.To)) {
			continue
		}
		from := max(g.v.X(piece.Span.From), edge+1)
		to := min(g.v.X(piece.Span.To), g.s.Width-edge-1)
		g.name(piece.Name, from, to, func(x float64) (top, bottom float64) {
			station := float64(g.v.Station(x))
			q := g.up.at(station, g.p.radiusAt(station))
			return max(q.Y, g.up.clip.Y), g.axis
		})
	}
	if len(g.p.profile) == 0 {
		g.ownNames()
	}
}

// ownNames letters the pieces of a build without a body, each where it is seen.
func (g *figure) ownNames() {
	area := drawing.Rect{X: edge, Y: g.top, W: g.s.Width - 2*edge, H: g.foot - g.top}
	paths := make([]*drawing.Path, len(g.p.own))
	for n, o := range g.p.own {
		paths[n] = g.up.picture(o.fill)
	}
	for n, o := range g.p.own {
		b := paths[n].Bounds()
		if !b.Overlaps(area) {
			continue
		}
		ground := drawing.NewGround(area)
		ground.Fill(paths[n], true)
		for _, nearer := range paths[n+1:] {
			ground.Fill(nearer, false)
		}
		g.nameOn(g.p.Division.Pieces[o.piece].Name, b, ground)
	}
}

// So many places across and up a piece are tried for its name.
const nameGrid = 15

// nameOn letters a name on the ground where a piece is seen, as near to its middle
// as may be.
func (g *figure) nameOn(text string, b drawing.Rect, ground *drawing.Ground) {
	t := drawing.Text{String: text, Face: drawing.Bold, Size: drawing.SizeBody, H: drawing.Middle, V: drawing.Centre, Halo: 0.7}
	middle := b.Centre()
	best, found := math.Inf(1), drawing.Point{}
	for i := range nameGrid {
		for k := range nameGrid {
			t.At = drawing.Pt(b.X+b.W*(float64(i)+0.5)/nameGrid, b.Y+b.H*(float64(k)+0.5)/nameGrid)
			d := t.At.Dist(middle)
			if box := t.Bounds(); d < best && ground.Holds(box.Inset(-1.2)) && g.room.Free(box, 0.8) {
				best, found = d, t.At
			}
		}
	}
	if t.At = found; !math.IsInf(best, 1) {
		g.room.Write(g.s, t, 0.8)
	}
}

// nameShares are the places across a piece tried for its name, the middle first,
// and riseShares those between the axis and the outline.
var (
	nameShares = [...]float64{0.5, 0.35, 0.65, 0.2, 0.8, 0, 1}
	riseShares = [...]float64{0.5, 0.3, 0.7}
)

const nameLeading = 4.4

// name letters a name between two places across, within the heights there.
func (g *figure) name(text string, from, to float64, heights func(x float64) (top, bottom float64)) {
	room := to - from - 2
	text = strings.ReplaceAll(text, " of ", "\u00a0of\u00a0") // "ball, 1 of 2", never "ball 1 of, 2"
	lines := drawing.Wrap(text, drawing.Bold, drawing.SizeBody, max(room, 1))
	wide := 0.0
	for _, l := range lines {
		wide = max(wide, drawing.Measure(l, drawing.Bold, drawing.SizeBody))
	}
	high := float64(len(lines)) * nameLeading
	if wide > room || broken(text, lines) {
		return
	}
	// First where no edge of the profile runs through the name, then anywhere.
	for _, clear := range [...]bool{true, false} {
		if g.letterName(lines, from, room, wide, high, heights, clear) {
			return
		}
	}
}

func (g *figure) letterName(lines []string, from, room, wide, high float64, heights func(x float64) (top, bottom float64), clear bool) bool {
	for _, rise := range riseShares {
		for _, share := range nameShares {
			x := from + 1 + wide/2 + share*(room-wide)
			top, bottom := heights(x)
			t1, _ := heights(x - wide/2)
			t2, _ := heights(x + wide/2)
			top = max(top, t1, t2)
			if bottom-top < high+1.6 {
				continue
			}
			y := bottom - rise*(bottom-top) // the middle of the lines
			y = min(max(y, top+high/2+0.8), bottom-high/2-0.8)
			if box := (drawing.Rect{X: x - wide/2, Y: y - high/2 + 0.4, W: wide, H: high - 0.8}); !g.room.Free(box, 0.8) || clear && g.onEdge(box) {
				continue
			}
			for k, l := range lines {
				t := drawing.Text{
					At:     drawing.Pt(x, y-high/2+nameLeading*(float64(k)+0.5)),
					String: strings.ReplaceAll(l, "\u00a0", " "), Face: drawing.Bold, Size: drawing.SizeBody, H: drawing.Middle, V: drawing.Centre, Halo: 0.7,
				}
				g.s.Text(t)
				g.room.Words(t.Bounds())
			}
			return true
		}
	}
	return false
}

// onEdge reports whether an edge of the profile runs through a box, or so near
// beside it that it spoils the letters.
func (g *figure) onEdge(box drawing.Rect) bool {
	const gap = 0.7 // mm
	for _, x := range g.edges {
		if x > box.X-gap && x < box.X+box.W+gap {
			return true
		}
	}
	return false
}

// broken reports whether wrapping broke a word.
func broken(text string, lines []string) bool {
	n := len(lines) - 1 // the spaces that became line ends
	for _, l := range lines {
		n += len(l)
	}
	return n != len(text)
}

// leadered are words on a leader.
type leadered struct {
	id      string
	words   string
	face    drawing.Face
	station float64
	height  float64
	above   bool
	others  []model.Point // where else it may be pointed at: station, and height above the axis
}

type labelSet []leadered

// labels are what the elevation names by leaders: core, components, and of the
// selected piece its wall and its joints.
func (g *figure) labels() labelSet {
	var out labelSet
	add := func(l leadered) {
		if g.v.touches(l.station, l.station) && finite(l.station, l.height) && (l.height >= g.e.skip || -l.height >= g.e.skip) {
			out = append(out, l)
		}
	}
	if i, ok := g.p.pieceOf(g.v.Selected); ok && i < len(g.p.Carved) && !g.p.Division.Pieces[i].Own {
		c, piece := g.p.Carved[i], g.p.Division.Pieces[i]
		at := inMaterial(c, piece)
		if c.Wall > 0 {
			add(leadered{id: "label-wall", words: "wall " + wallWords(c, g.v.System), face: drawing.Bold, station: at.Station, height: -at.Radius})
		}
		for _, seam := range g.p.Division.Seams {
			if seam.Below != piece.ID && seam.Above != piece.ID {
				continue
			}
			words := string(seam.Kind)
			if seam.Engage > 0 {
				words += " " + g.v.System.Figure(seam.Engage)
			}
			if fits := g.p.Fits.Of(seam.ID); len(fits) > 0 {
				words += ", clearance " + hundredths(fits[0].Clearance.X)
			}
			add(leadered{id: "label-" + seam.ID, words: words, face: drawing.Bold, station: float64(seam.Station), height: -g.p.radiusAt(float64(seam.Station))})
		}
	}
	for n, b := range g.p.boxes {
		l := leadered{id: "label-" + b.component.ID, words: b.says(), station: (b.from + b.to) / 2}
		if b.wound > 0 {
			l.height = -b.wound
			add(l)
			continue
		}
		// What lies on both sides is pointed at below the axis, where it is cut free.
		l.above = b.low >= 0
		tips := g.p.tipsOf(n, float64(g.v.Span.From), float64(g.v.Span.To))
		if len(tips) == 0 {
			continue
		}
		l.station, l.height, l.others = tips[0].Station, tips[0].Radius, tips[1:]
		add(l)
	}
	if from, to, ok := g.p.postSpan(); ok {
		from, to = max(from, float64(g.v.Span.From)), min(to, float64(g.v.Span.To))
		if post := g.p.Design.Stand.Post; from < to {
			add(leadered{id: "label-post", words: post.Name, station: from + 0.85*(to-from), height: -float64(post.OD) / 2})
		}
	}
	if c := g.p.Design.Core; c != nil {
		from, to := max(c.Span.From, g.v.Span.From), min(c.Span.To, g.v.Span.To)
		l := leadered{id: "label-core", words: c.Stock.Name, station: float64(from) + 0.85*float64(to-from), height: -float64(c.Stock.OD) / 2}
		if from < to {
			add(l)
		}
	}
	return out
}

func (l labelSet) rowsAbove() int {
	n := 0
	for _, x := range l {
		if x.above {
			n++
		}
	}
	return min(n, 2)
}

// draw seats the labels by leaders and returns how low they reach. The first to come
// takes the best place, so that several orders are tried, and the one whose leaders
// are shortest and straightest in all is kept.
func (l labelSet) draw(g *figure, over float64) float64 {
	var under, above []float64
	for k := range mostLabels {
		under = append(under, g.foot+belowBody+labelRow*float64(k))
	}
	for k := range l.rowsAbove() {
		above = append(above, over+labelRow*(float64(l.rowsAbove()-k)-0.5))
	}
	var best []drawing.Seated
	var bestOrder []int
	least, before := math.Inf(1), g.room.Mark()
	orders := [...]func(leadered) float64{
		func(x leadered) float64 { return x.station },
		func(x leadered) float64 { return x.height },
		func(x leadered) float64 { return -x.station },
	}
	tried := len(orders)
	if len(l) > mostOrdered {
		tried = 1
		l = slices.Clone(l)
		for k := range l {
			l[k].others = nil
		}
	}
	for _, by := range orders[:tried] {
		turn := order(l, func(k int) float64 { return by(l[k]) })
		seats, cost := make([]drawing.Seated, len(l)), 0.0
		for _, k := range turn {
			if cost >= least {
				break
			}
			ask := l[k].seat(g, under, above)
			if !math.IsInf(least, 1) {
				ask.Most = least - cost // dearer, and this order is no better
			}
			seat, ok := g.room.Find(ask)
			if !ok && l[k].above {
				ask.Rows = under // a narrow sheet has no room between the chain's lines
				seat, ok = g.room.Find(ask)
			}
			if !ok {
				cost += unnamed
				continue
			}
			g.room.Sit(seat)
			seats[k] = seat
			cost += seat.Cost
		}
		g.room.Back(before)
		if cost < least {
			least, best, bestOrder = cost, seats, turn
		}
	}
	bottom := g.foot
	for _, k := range bestOrder {
		if len(best[k].Leader) == 0 {
			continue // the table names it
		}
		g.room.Sit(best[k])
		l[k].draw(g, best[k])
		bottom = max(bottom, best[k].Box.Y+best[k].Box.H)
	}
	return bottom
}

// mostOrdered labels are tried in several orders, at several places of what they
// speak of; more come by station, each at its first place.
const mostOrdered = 12

// unnamed is what a label without a place costs, mm of leader.
const unnamed = 400.0

// seat is what a label asks for.
func (x leadered) seat(g *figure, under, above []float64) drawing.Seat {
	h, rows := g.low, under
	if x.above {
		h, rows = g.up, above
	}
	s := drawing.Seat{
		Tip: h.at(x.station, x.height), W: drawing.Measure(x.words, x.face, drawing.SizeSmall), H: drawing.SizeSmall * 1.2, Rows: rows,
	}
	for _, o := range x.others {
		s.Tips = append(s.Tips, h.at(o.Station, o.Radius))
	}
	return s
}

func (x leadered) draw(g *figure, seat drawing.Seated) {
	begin(g.s, x.id, "label", x.words, x.station, x.station)
	defer g.s.End()
	g.s.Path(drawing.Polyline(seat.Leader...), drawing.Lined(drawing.Fine))
	g.s.Path(drawing.Circle(seat.Leader[0], 0.45), drawing.Filled(drawing.Ink))
	t := drawing.Text{At: drawing.Pt(seat.Box.X, seat.Box.Y+seat.Box.H/2), V: drawing.Centre, String: x.words, Face: x.face, Size: drawing.SizeSmall, Halo: 0.5}
	if !seat.Left {
		t.At.X, t.H = seat.Box.X+seat.Box.W, drawing.End
	}
	g.s.Text(t)
}
