package lane

import (
	"cmp"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Prepared is a result made ready for its lanes: what takes long to find out
// (silhouettes, walls, where mass lies) is found once, and a lane redraws from it
// at once. It holds the result; keep it as long as that. It is never changed, so
// that several lanes may draw from it at a time.
type Prepared struct {
	job.Result

	Span model.Span // of the whole build

	profile []model.Point // of the body, with its flat ends
	shells  []int         // pieces that show outside, by station
	bodies  []int         // pieces on the body's axis
	others  []int         // prints that are no shells, by station
	stretch []model.Span  // of every piece, in the build's stations
	byID    map[string]int
	tints   []drawing.Colour // of shells and own pieces
	own     []ownPicture
	walls   []wallPlace
	limit   float64 // mm, the wall that the printers need
	thin    []thinPlace
	loads   []load
	boxes   []bayBox
	ways    []wayLine
	flags   []flagged
	doubts  []doubtPlace
}

// ownPicture is a piece with a line of its own as it is seen from the side, at
// full size, stations to the right and heights upwards made negative.
type ownPicture struct {
	piece    int
	span     model.Span
	up, down float64 // heights above the axis, most and least
	fill     *drawing.Path
	lines    *drawing.Path
	front    bool // before the body
}

// Prepare makes a result ready for its lanes.
func Prepare(r job.Result) *Prepared {
	p := &Prepared{Result: r, Span: Whole(r), byID: map[string]int{}}
	if len(r.Design.Outline) > 0 {
		p.profile = closed(r.Design.Outline)
	}
	p.shells = shells(r)
	if len(r.Carved) == len(r.Division.Pieces) {
		p.bodies = bodies(r)
	}
	for i, piece := range r.Division.Pieces {
		p.byID[piece.ID.String()] = i
		p.stretch = append(p.stretch, stretchOf(r, i))
		p.tints = append(p.tints, drawing.Field)
		if piece.ID.Kind != model.Shell || piece.Own {
			p.others = append(p.others, i)
		}
	}
	for k, i := range p.shells {
		p.tints[i] = tint(k)
	}
	slices.SortStableFunc(p.others, func(a, b int) int { return cmp.Compare(p.stretch[a].From, p.stretch[b].From) })
	p.pictures()
	p.findWalls()
	p.findLoads()
	p.findPlaces()
	p.findFlags()
	p.findDoubts()
	return p
}

// pictures are the silhouettes of all own pieces, the farthest first, and the edges
// that nothing hides: of a build without a body, nothing of any other piece either.
func (p *Prepared) pictures() {
	if len(p.Carved) != len(p.Division.Pieces) {
		return
	}
	see := view(plot{scale: pictureScale, along: drawing.Pt(1, 0), out: drawing.Pt(0, -1)}.side)
	back := func(q drawing.Point) drawing.Point { return q.Mul(1 / pictureScale) }
	var solids []solid.Mesh
	var depths []float64
	for _, i := range owns(p.Result) {
		m := p.Carved[i].Solid
		if m.Empty() {
			continue
		}
		p.tints[i] = tintOf(p.Result, i)
		b := m.Bounds()
		solids, depths = append(solids, m), append(depths, b.Min[1]+b.Max[1])
		p.own = append(p.own, ownPicture{
			piece: i, span: p.stretch[i], up: b.Max[0], down: b.Min[0],
			fill:  contour(m, see).Mapped(back),
			front: len(p.profile) == 0 || before(m, false),
		})
	}
	if len(p.profile) == 0 {
		for n, lines := range visible(see, solids...) {
			p.own[n].lines = lines.Mapped(back)
		}
	} else {
		for n, m := range solids {
			p.own[n].lines = visible(see, m)[0].Mapped(back)
		}
	}
	unsorted := slices.Clone(p.own)
	for n, k := range order(depths, func(k int) float64 { return depths[k] }) {
		p.own[n] = unsorted[k]
	}
}

// pictureScale is the scale that silhouettes are taken at: as fine as any sheet is
// drawn.
const pictureScale = 1.0

// wallPlace is the thinnest material on a radius at a station, +Inf where there is
// none.
type wallPlace struct{ station, wall float64 }

// thinPlace is the thinnest place of a piece, square to its surface.
type thinPlace struct {
	piece         int
	station, wall float64
}

// wallGrid is how far apart the wall is looked at between the corners of a
// section, mm at full size; wallBeside is how near on both sides of a corner.
const (
	wallGrid   = 2.0
	wallBeside = 0.01
)

// findWalls samples the wall along the build where it can change: on both sides
// of every corner of the sections, and on a grid between.
func (p *Prepared) findWalls() {
	p.limit = needed(p.Result)
	for i, c := range p.Carved {
		if i < len(p.stretch) && c.Wall > 0 {
			at := c.WallAt.Station
			if p.Division.Pieces[i].Own {
				at = float64(p.stretch[i].From)
			}
			p.thin = append(p.thin, thinPlace{i, at, float64(c.Wall)})
		}
	}
	if len(p.profile) == 0 {
		return
	}
	var at []float64
	carved := make([]model.Carved, 0, len(p.bodies))
	for _, i := range p.bodies {
		carved = append(carved, p.Carved[i])
		at = append(at, wallStations(p.Carved[i])...)
	}
	slices.Sort(at)
	for _, x := range slices.Compact(at) {
		if w := thinnest(carved, x); !math.IsInf(w, 1) {
			p.walls = append(p.walls, wallPlace{x, w})
		}
	}
}

// wallStations are the places where a piece's wall is looked at.
func wallStations(c model.Carved) []float64 {
	from, to := float64(c.Reach.From), float64(c.Reach.To)
	if !(to > from) || math.IsInf(to-from, 0) {
		return nil
	}
	var at []float64
	for _, loop := range c.Loops {
		for _, q := range loop {
			at = append(at, q.Station-wallBeside, q.Station+wallBeside)
		}
	}
	for x := math.Ceil(from/wallGrid) * wallGrid; x < to; x += wallGrid {
		at = append(at, x)
	}
	return slices.DeleteFunc(at, func(x float64) bool { return !(x > from && x < to) })
}

// radiusAt is the body's radius; 0 where there is no body.
func (p *Prepared) radiusAt(station float64) float64 {
	if len(p.profile) == 0 {
		return 0
	}
	return p.Design.Outline.RadiusAt(station)
}

// ref is a length of the reference's.
func (p *Prepared) ref(u unit.System, l float64) string {
	if p.Enlarge.Ratio == 0 {
		return ""
	}
	return u.Tenth(unit.Length(l / p.Enlarge.Ratio))
}
