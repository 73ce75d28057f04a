package lane

import (
	"cmp"
	"slices"
	"strconv"

	"scalewright/drawing"
	"scalewright/model"
)

// ballRadius is that of an item's ball, mm of paper.
const (
	ballRadius   = 3.2
	ballRow      = 8.0
	mostBallRows = 3
)

func numbered(id string, n int) string { return id + "-" + strconv.Itoa(n) }

// ballsAbove are the rows of balls over the body: one, where anything with a line of
// its own reaches into the upper half.
func (g *figure) ballsAbove() int {
	for _, o := range g.p.own {
		if o.up > 0 && len(g.p.profile) > 0 {
			return 1
		}
	}
	return 0
}

// item is a piece with the place that its leader points at.
type item struct {
	n     int
	tip   drawing.Point
	tips  []drawing.Point // others that do as well
	above bool
}

func (g *figure) itemList() []item {
	var list []item
	for i, c := range g.p.Carved {
		piece := g.p.Division.Pieces[i]
		if !g.v.touches(float64(g.p.stretch[i].From), float64(g.p.stretch[i].To)) {
			continue
		}
		if !piece.Own {
			tip := inMaterial(c, piece)
			list = append(list, item{n: i + 1, tip: g.low.at(tip.Station, -tip.Radius)})
			continue
		}
		at := visiblePlace(g.p.Result, i, g.low.side)
		list = append(list, item{i + 1, at, g.seenOf(i, at), at.Y < g.axis && g.ballsAbove() > 0})
	}
	slices.SortStableFunc(list, func(a, b item) int { return cmp.Compare(a.tip.X, b.tip.X) })
	return list
}

// pictureShares are the places across and up a piece's picture that are tried for
// another tip of its leader.
var pictureShares = [...]float64{0.5, 0.35, 0.65, 0.2, 0.8}

// seenOf are more places on the picture of a piece with a line of its own, on the
// side of the axis of the one that is known; below it only where the body does not
// hide them. Two such pieces may lie one behind the other: then their leaders
// point at different places.
func (g *figure) seenOf(i int, known drawing.Point) []drawing.Point {
	var out []drawing.Point
	for _, o := range g.p.own {
		if o.piece != i {
			continue
		}
		half, sign := g.up, 1.0
		if known.Y > g.axis {
			half, sign = g.low, -1
		}
		picture := half.picture(o.fill).Clipped(half.clip)
		b := picture.Bounds()
		ground := drawing.NewGround(b)
		ground.Fill(picture, true)
		if !o.front && len(g.p.profile) > 0 {
			ground.Fill(half.underPoints(g.p.profile, sign), false)
		}
		for _, across := range pictureShares {
			for _, up := range pictureShares {
				q := drawing.Pt(b.X+across*b.W, b.Y+up*b.H)
				const room = 0.8 // mm about the dot
				if ground.Holds(drawing.Rect{X: q.X - room, Y: q.Y - room, W: 2 * room, H: 2 * room}) {
					out = append(out, q)
					break
				}
			}
		}
	}
	return out
}

// balls number every piece in rows under the body, what has a line of its own in the upper half
// in a row over it (ISO 6433, part references: figures in circles of one size in
// rows, each on a leader to its part), and return how low they reach. Leaders go
// round what stands out of the body.
func (g *figure) balls(over float64) float64 {
	var under []float64
	for k := range mostBallRows {
		under = append(under, g.foot+belowBody+ballRadius+1+ballRow*float64(k))
	}
	bottom := g.foot
	g.s.Begin(drawing.Group{ID: "items", Class: "items", Title: "Items of the parts list"})
	defer g.s.End()
	for _, it := range g.itemList() {
		rows := under
		if it.above {
			rows = []float64{over + ballRow/2}
		}
		seat, ok := g.room.Seat(drawing.Seat{
			Tip: it.tip, Tips: it.tips, W: 2 * ballRadius, H: 2 * ballRadius, Rows: rows, Ball: true, Reach: ballReach, Gap: 0.8,
		})
		if !ok {
			continue // the parts list has its number
		}
		g.ball(it, seat)
		bottom = max(bottom, seat.Box.Y+seat.Box.H)
	}
	return bottom
}

func (g *figure) ball(it item, seat drawing.Seated) {
	piece, stretch := g.p.Division.Pieces[it.n-1], g.p.stretch[it.n-1]
	begin(g.s, "item-"+strconv.Itoa(it.n), "leader", piece.Name, float64(stretch.From), float64(stretch.To))
	defer g.s.End()
	g.s.Path(drawing.Polyline(seat.Leader...), drawing.Lined(drawing.Fine))
	g.s.Path(drawing.Circle(seat.Leader[0], 0.5), drawing.Filled(drawing.Ink))
	centre := seat.Box.Centre()
	g.s.Path(drawing.Circle(centre, ballRadius), drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Thin})
	g.s.Text(drawing.Text{
		At: centre, String: strconv.Itoa(it.n), Face: drawing.Bold, Size: drawing.SizeBody, H: drawing.Middle, V: drawing.Centre,
	})
	g.s.Link(seat.Box, PageOf(piece))
}

// ballReach is how far aside of its piece a ball may stand, mm.
const ballReach = 160.0

// PageOf is the id of a piece's page, to which drawings link.
func PageOf(p model.Piece) string { return "piece." + p.ID.String() }

// inMaterial is a place in the cut material of a piece that no other piece
// hides: the middle of a shell's wall, or of a ring.
func inMaterial(c model.Carved, piece model.Piece) model.Point {
	at := float64(piece.Span.From+piece.Span.To) / 2
	in, out := wallAt(c, at)
	if piece.ID.Kind == model.CollarRing {
		at = float64(c.Reach.From) + 0.3*float64(c.Reach.Length())
		in, out = wallAt(c, at)
	}
	return model.Point{Station: at, Radius: (in + out) / 2}
}

// spread moves places apart to a pitch within bounds, keeping their order and
// as near to where they were as may be, in squares: less the pitch they must
// not fall, so it is an isotonic regression, solved by pooling neighbours that
// are out of order (Ayer et al., Annals of Mathematical Statistics 26, 1955).
func spread(xs []float64, pitch, least, most float64) {
	gaps := make([]float64, max(0, len(xs)-1))
	for i := range gaps {
		gaps[i] = pitch
	}
	spreadBy(xs, gaps, least, most)
}

// spreadBy is the same with a pitch of its own from each to the next.
func spreadBy(xs, gaps []float64, least, most float64) {
	type pool struct {
		mean float64
		n    int
	}
	offset := make([]float64, len(xs))
	for i := 1; i < len(xs); i++ {
		offset[i] = offset[i-1] + gaps[i-1]
	}
	var pools []pool
	for i, x := range xs {
		pools = append(pools, pool{x - offset[i], 1})
		for k := len(pools) - 1; k > 0 && pools[k].mean < pools[k-1].mean; k-- {
			a, b := pools[k-1], pools[k]
			n := a.n + b.n
			pools = append(pools[:k-1], pool{(a.mean*float64(a.n) + b.mean*float64(b.n)) / float64(n), n})
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			xs[i] = p.mean + offset[i]
			i++
		}
	}
	for i := range xs {
		xs[i] = max(xs[i], least)
		if i > 0 {
			xs[i] = max(xs[i], xs[i-1]+gaps[i-1])
		}
	}
	for i := len(xs) - 1; i >= 0; i-- {
		xs[i] = min(xs[i], most)
		if i+1 < len(xs) {
			xs[i] = min(xs[i], xs[i+1]-gaps[i])
		}
	}
}
