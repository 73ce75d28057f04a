package drawing

import (
	"fmt"
	"slices"
)

// Pages draws the tiles on their sheets: each with a check bar along either side,
// the title, and where tiles meet the line to cut them along and crosses to lay on
// one another; the first with a map of all. Groups and links of the drawing are left
// out.
func (t Tiling) Pages(figure *Scene) []*Scene {
	plan := t.Plan(figure)
	pages := make([]*Scene, plan.Pages)
	for i := range pages {
		pages[i] = New(plan.sheet.Width, plan.sheet.Height)
		pages[i].Title = t.Title
		t.furniture(pages[i], plan, i)
	}
	for _, tile := range plan.Tiles {
		if !tile.Blank {
			pages[tile.Page].tile(figure, plan, tile)
		}
	}
	if len(pages) > 0 && len(plan.Tiles) > 1 {
		pages[0].tileMap(figure, plan)
	}
	return pages
}

// Size of the map of tiles, mm.
const (
	mapWide = 62.0
	mapHigh = 26.0
)

// furniture is what every sheet bears besides its tiles.
func (t Tiling) furniture(s *Scene, p Plan, page int) {
	short, long := "100 mm, short side", "100 mm, long side"
	across, up := short, long
	if p.Landscape {
		across, up = long, short
	}
	room := window(p.sheet)
	foot := room.Y + room.H
	s.checkBar(Pt(room.X, foot+5.5), 100*p.kx, false, across)
	s.checkBar(Pt(sheetMargin+2, foot-2), 100*p.ky, true, up)
	width := room.W
	if page == 0 && len(p.Tiles) > 1 {
		width -= mapWide + 4
	}
	count := ""
	if p.Pages > 1 {
		count = fmt.Sprintf(", page %d of %d", page+1, p.Pages)
	}
	title := Shorten(t.Title, Bold, SizeBody, width-Measure(count, Bold, SizeBody)) + count
	y := foot + 16
	s.Text(Text{At: Pt(room.X, y), String: title, Face: Bold, Size: SizeBody})
	// Words that find no room are left out from the end, those first that say least.
	var spans []Span
	for _, words := range t.words(p) {
		try := append(spans[:len(spans):len(spans)], Span{Text: words})
		if high := (Paragraph{Width: width, Size: SizeSmall, Spans: try}).Height(); y+1+high > p.sheet.Height-sheetMargin+1 {
			break
		}
		spans = try
	}
	s.Paragraph(Paragraph{At: Pt(room.X, y+1), Width: width, Size: SizeSmall, Spans: spans})
}

// words are what a sheet says, the most needed first.
func (t Tiling) words(p Plan) []string {
	var out []string
	if t.Note != "" {
		out = append(out, t.Note+". ")
	}
	if len(p.Tiles) > 1 {
		out = append(out, "Cut along the dashed lines; lay one on the next, cross on cross. ")
	}
	if p.kx == 1 && p.ky == 1 {
		out = append(out, "Where a bar is not 100 mm, write what it measures in shop.yaml, under paper. ")
	} else {
		out = append(out, "Made up for your printer; both bars must now be 100 mm. ")
	}
	return append(out, t.Key)
}

// tile draws what lies in a tile's area, and its marks.
func (s *Scene) tile(figure *Scene, p Plan, t Tile) {
	w, h := t.Area.W*p.kx, t.Area.H*p.ky
	clip := Rect{t.At.X, t.At.Y, w, h}
	// What is drawn just on the drawing's rim keeps its width.
	if t.Row == 0 {
		clip.Y, clip.H = clip.Y-OutlineWidth, clip.H+OutlineWidth
	}
	if t.Row == p.Rows-1 {
		clip.H += OutlineWidth
	}
	if t.Column == 0 {
		clip.X, clip.W = clip.X-OutlineWidth, clip.W+OutlineWidth
	}
	if t.Column == p.Columns-1 {
		clip.W += OutlineWidth
	}
	if len(p.Tiles) > 1 {
		s.tileMarks(figure, p, t, w, h)
	}
	s.Begin(Group{ID: fmt.Sprintf("tile-%d", t.Number), Class: "tile", Clip: &clip})
	by := t.At.Sub(Pt(t.Area.X*p.kx, t.Area.Y*p.ky))
	for _, it := range figure.Items {
		if inkIn(it, t.Area.Inset(-OutlineWidth)) && p.letters(it, t) {
			s.Add(stretched(it, p.kx, p.ky).moved(by, ""))
		}
	}
	s.End()
}

// tileMarks are a tile's name and the lines that it is cut along. They lie under the
// drawing, whose words then keep clear.
func (s *Scene) tileMarks(figure *Scene, p Plan, t Tile, w, h float64) {
	name := fmt.Sprintf("%d of %d", t.Number, p.Shown)
	if p.Rows > 1 && p.Columns > 1 {
		name += fmt.Sprintf(", row %d, column %d", t.Row+1, t.Column+1)
	}
	s.Text(Text{At: t.At.Add(Pt(0, -1.3)), String: name, Face: Bold, Size: SizeSmall})
	const half = Overlap / 2
	words := figure.wordsOn(p)
	by := t.At.Sub(Pt(t.Area.X*p.kx, t.Area.Y*p.ky))
	join := func(from, along Point) { s.join(from, along, by, words) }
	if t.Column > 0 {
		join(t.At.Add(Pt(half, 0)), Pt(0, h))
	}
	if t.Column < p.Columns-1 {
		join(t.At.Add(Pt(w-half, 0)), Pt(0, h))
	}
	if t.Row > 0 {
		join(t.At.Add(Pt(0, half)), Pt(w, 0))
	}
	if t.Row < p.Rows-1 {
		join(t.At.Add(Pt(0, h-half)), Pt(w, 0))
	}
}

// letters reports whether an item goes on a tile: words only where they stand whole,
// unless no tile holds them whole.
func (p Plan) letters(it Item, t Tile) bool {
	words, ok := it.(Text)
	if !ok || t.Area.Contains(words.box()) {
		return true
	}
	for _, other := range p.Tiles {
		if !other.Blank && other.Area.Contains(words.box()) {
			return false
		}
	}
	return true
}

// wordsOn are the boxes of a drawing's words, mm of a plan's paper.
func (s *Scene) wordsOn(p Plan) []Rect {
	var out []Rect
	for _, it := range s.Items {
		if words, ok := it.(Text); ok && !words.blank() {
			words.At = Pt(words.At.X*p.kx, words.At.Y*p.ky)
			out = append(out, words.box())
		}
	}
	return out
}

// crossShares are the places of a join's two crosses, those liked best first.
var crossShares = [2][]float64{{0.25, 0.3, 0.2, 0.35, 0.15, 0.4, 0.1}, {0.75, 0.7, 0.8, 0.65, 0.85, 0.6, 0.9}}

// join is the line down the middle of an overlap, with its crosses where no words
// stand, the same on both tiles: by takes the drawing's paper to the sheet.
func (s *Scene) join(from, along, by Point, words []Rect) {
	s.Line(from, from.Add(along), Hidden.Wide(FineWidth))
	const arm = 2.5
	for _, shares := range crossShares {
		at := from.Add(along.Mul(shares[0]))
		for _, share := range shares {
			c := from.Add(along.Mul(share))
			box := Rect{c.X - by.X - arm, c.Y - by.Y - arm, 2 * arm, 2 * arm}
			if !slices.ContainsFunc(words, box.Overlaps) {
				at = c
				break
			}
		}
		s.Path(Circle(at, arm*0.6), Lined(Fine))
		s.Line(at.Add(Pt(-arm, 0)), at.Add(Pt(arm, 0)), Fine)
		s.Line(at.Add(Pt(0, -arm)), at.Add(Pt(0, arm)), Fine)
	}
}

// tileMap shows all tiles and what is drawn on them.
func (s *Scene) tileMap(figure *Scene, p Plan) {
	room := window(p.sheet)
	k := min(mapWide/figure.Width, mapHigh/figure.Height)
	at := Pt(room.X+room.W-figure.Width*k, room.Y+room.H+4)
	s.Begin(Group{ID: "map", Class: "map", Title: "all sheets"})
	defer s.End()
	for _, it := range figure.Items {
		if d, ok := it.(Drawn); ok && d.Style.Stroke.Width >= OutlineWidth {
			d.Style = Lined(Fine)
			s.Add(stretched(d, k, k).moved(at, ""))
		}
	}
	for _, t := range p.Tiles {
		box := Rect{at.X + t.Area.X*k, at.Y + t.Area.Y*k, t.Area.W * k, t.Area.H * k}
		s.Rect(box, Lined(Hidden.Wide(HairWidth)))
		if t.Blank {
			continue
		}
		s.Text(Text{
			At: box.Centre(), H: Middle, V: Centre, String: fmt.Sprint(t.Number), Face: Bold,
			Size: max(1.2, min(SizeSmall, box.H, box.W)), Halo: 0.4,
		})
	}
}
