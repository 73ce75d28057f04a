package lane

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// around is a diameter to be dimensioned at one end of a piece.
type around struct {
	station, radius float64
	text            string
	owner           drawing.Owner
}

// Room round a half-section for its dimensions, mm of paper.
const (
	sectionLeft  = 20.0
	sectionRight = 33.0
	dimensionRow = 7.0
	sectionRim   = 4.0
)

// HalfSection is a piece as it stands on its platform, to the largest usual
// scale that fits the box: left half outside, right half in section. The scale
// comes back as the n of 1:n.
func HalfSection(r job.Result, i int, width, height float64, u unit.System) (*drawing.Scene, float64) {
	piece, c := r.Division.Pieces[i], r.Carved[i]
	noseDown := piece.Direction == model.NoseDown
	foot, nose := ends(r, i, u)
	up, down := nose, foot
	if noseDown {
		up, down = foot, nose
	}
	above := sectionRim + dimensionRow*float64(len(up))
	below := sectionRim + 2 + dimensionRow*float64(len(down))
	room := drawing.Rect{X: sectionLeft, Y: above, W: width - sectionLeft - sectionRight, H: height - above - below}
	n := Reduction(max(float64(c.Diameter)/room.W, float64(c.Reach.Length())/room.H))
	k := 1 / n
	tall := float64(c.Reach.Length()) * k
	s := drawing.New(width, above+tall+below)
	s.Title = piece.Name + ", half in section"
	floor := above + tall
	low := float64(c.Reach.From)
	if noseDown {
		low = -float64(c.Reach.To)
	}
	axis := room.X + room.W/2
	p := upright(k, drawing.Pt(axis, floor+low*k), noseDown)
	half(s, p, r, i)
	platform(s, axis, float64(c.Diameter)/2*k, floor)
	s.Line(drawing.Pt(axis, above-3), drawing.Pt(axis, floor+4), drawing.CentreLine)
	for row, a := range up {
		a.draw(s, p, above-sectionRim+1-dimensionRow*float64(row), numbered("above", row))
	}
	for row, a := range down {
		a.draw(s, p, floor+sectionRim+2+dimensionRow*float64(row), numbered("below", row))
	}
	heights(s, p, r, i, u, axis)
	walls(s, p, r, i, u, axis)
	return s, n
}

// half draws the piece: silhouette on the outside half, its cut on the other.
func half(s *drawing.Scene, p plot, r job.Result, i int) {
	c := r.Carved[i]
	seen := silhouetteOf(c)
	s.Path(p.polygon(seen, 1), drawing.Style{Fill: tint(i), Stroke: drawing.Outline})
	ring := func(q model.Point) { s.Line(p.at(q.Station, 0), p.at(q.Station, q.Radius), drawing.Fine) }
	if piece := r.Division.Pieces[i]; piece.ID.Kind == model.Shell {
		// Of the design and not of the loops, whose arcs are chords by now.
		edges(s, p, profileOf(r, piece), 1)
		if standsOut(c, piece) {
			ring(model.Point{Station: float64(piece.Span.To), Radius: outerAt(c, float64(piece.Span.To))})
		}
	} else {
		for k, q := range seen {
			if sharp(seen, k) {
				ring(q)
			}
		}
	}
	path := &drawing.Path{}
	for _, loop := range c.Loops {
		path.Append(p.polygon(loop, -1))
	}
	s.Hatch(path, drawing.Hatch{})
	s.Path(path, drawing.Style{Stroke: drawing.Outline, EvenOdd: true})
}

// silhouetteOf is the area between the axis and the outermost material.
func silhouetteOf(c model.Carved) []model.Point {
	outer := c.Loops[0]
	lowest := slices.MinFunc(outer, func(a, b model.Point) int {
		return cmp.Or(cmp.Compare(a.Station, b.Station), cmp.Compare(b.Radius, a.Radius))
	})
	start := slices.Index(outer, lowest)
	loop := []model.Point{{Station: lowest.Station}}
	// The outer loop runs anticlockwise with radius to the right: from the
	// foot's outer corner up the outside to the far end.
	for n := range outer {
		q := outer[(start+n)%len(outer)]
		loop = append(loop, q)
		if q.Station == float64(c.Reach.To) {
			break
		}
	}
	return append(loop, model.Point{Station: float64(c.Reach.To)})
}

// sharp reports whether the line turns by more than a visible edge at a corner.
func sharp(line []model.Point, k int) bool {
	if k == 0 || k+1 >= len(line) {
		return false
	}
	a, b, c := line[k-1], line[k], line[k+1]
	turn := math.Atan2(c.Radius-b.Radius, c.Station-b.Station) - math.Atan2(b.Radius-a.Radius, b.Station-a.Station)
	return math.Abs(turn) > visibleEdge
}

// platform is what the piece stands on.
func platform(s *drawing.Scene, axis, radius, y float64) {
	from, to := axis-radius-5, axis+radius+5
	s.Hatch(drawing.Box(drawing.Rect{X: from, Y: y, W: to - from, H: 1.2}), drawing.Hatch{Stroke: drawing.Fine.In(drawing.Rule), Pitch: 0.8})
	s.Line(drawing.Pt(from, y), drawing.Pt(to, y), drawing.Object)
}

func (a around) draw(s *drawing.Scene, p plot, y float64, id string) {
	s.Dimension(drawing.Dimension{
		ID: id, At: y, From: p.at(a.station, a.radius), To: p.at(a.station, -a.radius),
		Text: a.text, Owner: a.owner, Title: a.text,
	})
}

// ends are the diameters at the foot and at the nose, the smallest first, so
// that no extension line crosses a dimension line.
func ends(r job.Result, i int, u unit.System) (foot, nose []around) {
	piece, c := r.Division.Pieces[i], r.Carved[i]
	id := piece.ID.String()
	first, last := float64(c.Reach.From), float64(c.Reach.To)
	shop := func(station float64, d unit.Length) around {
		return around{station, float64(d) / 2, "⌀ " + exact(u, d), drawing.Shop}
	}
	for _, f := range r.Fits.Fits {
		switch {
		case f.Male == "core" && f.Female == id:
			foot = append(foot, shop(max(first, float64(f.Station)), f.Bore.Nominal))
		case f.Female == id && f.Station <= piece.Span.From:
			foot = append(foot, shop(first, f.Bore.Nominal))
		case f.Female == id && f.Station >= piece.Span.To:
			nose = append(nose, shop(float64(piece.Span.To), f.Bore.Nominal))
		case f.Male == id:
			nose = append(nose, shop(last, f.MaleSize.Nominal))
		}
	}
	switch piece.ID.Kind {
	case model.Shell:
		clip := profileOf(r, piece)
		whole := func(station, radius float64) around {
			return around{station, radius, "⌀ " + u.Figure(unit.Length(2*radius)), drawing.Reference}
		}
		a, b := clip.RadiusAt(clip.Start()), clip.RadiusAt(clip.End())
		foot = append(foot, whole(clip.Start(), a))
		if b*2 > 1 {
			nose = append(nose, whole(clip.End(), b))
		}
		if w := widest(clip); w.radius > max(a, b)+0.5 {
			nose = append(nose, whole(w.from, w.radius))
		}
	case model.CollarRing:
		in, _ := wallAt(c, (first+last)/2)
		foot = append(foot, shop(first, unit.Length(2*in)))
	case model.CoreRing:
	}
	return tidy(foot), tidy(nose)
}

// exact is a diameter of a joint, to a hundredth of a millimetre in every
// system; the unit is written where the drawing's own is another.
func exact(u unit.System, d unit.Length) string {
	text := u.Fine(d)
	if u == unit.Metric {
		return strings.TrimSuffix(text, " mm")
	}
	return text
}

// tidy sorts diameters by size and leaves out repetitions.
func tidy(list []around) []around {
	slices.SortStableFunc(list, func(a, b around) int { return cmp.Compare(a.radius, b.radius) })
	return slices.CompactFunc(list, func(a, b around) bool { return a.text == b.text })
}

// heights are dimensioned to the left: the whole, and the body without its
// spigot; engagements to the right.
func heights(s *drawing.Scene, p plot, r job.Result, i int, u unit.System, axis float64) {
	piece, c := r.Division.Pieces[i], r.Carved[i]
	radius := float64(c.Diameter) / 2
	left, right := axis-radius*p.scale, axis+radius*p.scale
	vertical := func(id string, at, from, to float64, side float64) {
		s.Dimension(drawing.Dimension{
			ID: id, Axis: drawing.Vertical, At: at, Text: u.Figure(unit.Length(to - from)),
			From: p.at(from, side*outerAt(c, from)), To: p.at(to, side*outerAt(c, to)),
		})
	}
	row := 7.0
	if standsOut(c, piece) {
		vertical("body-height", left-row, float64(piece.Span.From), float64(piece.Span.To), 1)
		row += dimensionRow
	}
	vertical("height", left-row, float64(c.Reach.From), float64(c.Reach.To), 1)
	// A short depth is lettered past its ends, where diameters stand too: it goes
	// further out.
	depth := func(long float64) float64 {
		if long*p.scale < shortDepth {
			return right + 7 + dimensionRow
		}
		return right + 7
	}
	if standsOut(c, piece) {
		vertical("spigot", depth(float64(c.Reach.To-piece.Span.To)), float64(piece.Span.To), float64(c.Reach.To), -1)
	}
	if d, ok := socketDepth(r, piece); ok && float64(c.Reach.Length())*p.scale > roomForBoth {
		s.Dimension(drawing.Dimension{
			ID: "socket", Axis: drawing.Vertical, At: depth(d), Text: u.Figure(unit.Length(d)),
			From: p.at(float64(piece.Span.From), -outerAt(c, float64(piece.Span.From))),
			To:   p.at(float64(piece.Span.From)+d, -outerAt(c, float64(piece.Span.From)+d)),
		})
	}
}

// shortDepth on paper leaves no room for its figure between the ends, mm.
const shortDepth = 9.0

// standsOut reports whether a spigot stands out past the piece's span.
func standsOut(c model.Carved, piece model.Piece) bool {
	const least = 0.05 // mm; carving rounds its stations
	return c.Reach.To > piece.Span.To+least
}

// roomForBoth is the height on paper from which the depths of spigot and socket
// stand one over the other; below, the table of joints has the latter.
const roomForBoth = 36.0

// socketDepth is how deep the joint at the foot reaches into a piece.
func socketDepth(r job.Result, piece model.Piece) (float64, bool) {
	for _, f := range r.Fits.Fits {
		if f.Female == piece.ID.String() && f.Male != "core" && f.Station == piece.Span.From {
			return float64(f.Depth), true
		}
	}
	return 0, false
}

// outerAt is the outermost radius at a station, looked for just inside the
// piece at its ends.
func outerAt(c model.Carved, station float64) float64 {
	const inside = 0.01
	at := min(max(station, float64(c.Reach.From)+inside), float64(c.Reach.To)-inside)
	_, below := wallAt(c, at-inside/2)
	_, above := wallAt(c, at+inside/2)
	return max(below, above)
}

// solidWalls is so many walls as nobody would call one.
const solidWalls = 2.0

// sameWall is how near the thinnest wall may be to the declared one to go
// without saying, mm.
const sameWall = 0.05

// walls says how thick the piece is: as declared, and at its thinnest.
func walls(s *drawing.Scene, p plot, r job.Result, i int, u unit.System, axis float64) {
	piece, c := r.Division.Pieces[i], r.Carved[i]
	if piece.ID.Kind == model.CoreRing {
		return
	}
	right := axis + float64(c.Diameter)/2*p.scale
	label := func(id string, at model.Point, words string) drawing.Label {
		return drawing.Label{
			ID: id, At: p.at(at.Station, -at.Radius), Station: at.Station,
			Lines: []drawing.LabelLine{{Text: words}}, Size: drawing.SizeSmall,
		}
	}
	var list []drawing.Label
	declared := 0.0
	if piece.ID.Kind == model.Shell {
		middle := inMaterial(c, piece)
		for _, part := range r.Design.Parts {
			if part.ID == piece.ID.Part {
				declared = float64(part.Wall)
				words := fmt.Sprintf("wall %s", u.Fine(part.Wall))
				if in, out := wallAt(c, middle.Station); out-in > solidWalls*declared || declared == 0 {
					words = "solid"
				}
				list = append(list, label("wall", middle, words))
			}
		}
	}
	if part := partOf(r, piece); declared == 0 && piece.ID.Kind == model.Shell && part.Bore == 0 {
		declared = float64(c.Wall) // solid to its axis: what is thin of it is its end
	}
	if len(list) == 0 || math.Abs(float64(c.Wall)-declared) > sameWall {
		list = append(list, label("thinnest", c.WallAt, fmt.Sprintf("thinnest %s", u.Fine(c.Wall))))
	}
	area := drawing.Rect{X: right + 10, Y: 0, W: s.Width - right - 10, H: s.Height}
	s.Labels(drawing.PlaceLabels(list, drawing.PlaceOptions{Area: area}))
}
