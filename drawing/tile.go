package drawing

import "math"

// Tiling says how a drawing at full size is put on sheets of paper: whole where it
// fits, else in tiles that overlap. Tiles lower than a sheet stand above one another
// on it.
//
// A printer that shrinks is made up for: a bar of 100 mm that came out as Short along
// the sheet's short side and as Long along its long one makes the drawing so much
// larger; margins and words stay as they are.
type Tiling struct {
	Sheet Format  // standing: its width is its short side
	Short float64 // mm; 0 is 100
	Long  float64 // mm; 0 is 100
	Title string
	Note  string // where the drawing goes
	Key   string // what its lines mean, where there is room to say it
}

// Overlap of neighbouring tiles on the paper, mm.
const Overlap = 10.0

// Room on a sheet, mm. Printers keep a margin free, most of them less than this
// (common practice).
const (
	sheetMargin = 10.0
	sideBand    = 12.0 // the upright check bar
	footBand    = 35.0 // the lying one, title and words
	tileHead    = 4.5  // a tile's name above it
	tileGap     = 4.0
)

// Tile is a piece of a drawing on a sheet.
type Tile struct {
	Row, Column int
	Area        Rect // of the drawing, mm of its own
	Blank       bool // nothing is drawn there, so it is left out
	Number      int  // from 1, of those not left out
	Page        int  // from 0
	At          Point
}

// Plan is how a drawing is tiled: its tiles by row and column.
type Plan struct {
	Landscape     bool
	Rows, Columns int
	Tiles         []Tile
	Shown         int // tiles not left out
	Pages         int
	kx, ky        float64 // mm on paper a mm drawn
	sheet         Format
}

// Plan tiles a drawing on the fewest pages, standing where it makes no difference.
// A drawing without size has no pages.
func (t Tiling) Plan(figure *Scene) Plan {
	if !(figure.Width > 0 && figure.Height > 0) {
		return Plan{}
	}
	best := t.plan(figure, false)
	if lying := t.plan(figure, true); lying.Pages < best.Pages || lying.Pages == best.Pages && lying.Shown < best.Shown {
		best = lying
	}
	return best
}

// window is the room for tiles on a sheet.
func window(sheet Format) Rect {
	return Rect{
		X: sheetMargin + sideBand, Y: sheetMargin,
		W: sheet.Width - 2*sheetMargin - sideBand, H: sheet.Height - 2*sheetMargin - footBand,
	}
}

// stretch is what a mm is drawn as, for a bar of 100 mm that came out as measured.
func stretch(measured float64) float64 {
	if measured == 0 {
		return 1
	}
	return 100 / measured
}

func (t Tiling) plan(figure *Scene, landscape bool) Plan {
	p := Plan{Landscape: landscape, sheet: t.Sheet, kx: stretch(t.Short), ky: stretch(t.Long)}
	if landscape {
		p.sheet.Width, p.sheet.Height = t.Sheet.Height, t.Sheet.Width
		p.kx, p.ky = p.ky, p.kx
	}
	room := window(p.sheet)
	wide, high := figure.Width*p.kx, figure.Height*p.ky
	p.Columns, p.Rows = tiles(wide, room.W), tiles(high, room.H-tileHead)
	// All alike, so that none is a sliver.
	w := (wide + float64(p.Columns-1)*Overlap) / float64(p.Columns)
	h := (high + float64(p.Rows-1)*Overlap) / float64(p.Rows)
	across := max(1, int((room.W+tileGap)/(w+tileGap)))
	down := max(1, int((room.H+tileGap)/(h+tileHead+tileGap)))
	for row := range p.Rows {
		for column := range p.Columns {
			x, y := float64(column)*(w-Overlap), float64(row)*(h-Overlap)
			tile := Tile{Row: row, Column: column, Area: Rect{x / p.kx, y / p.ky, w / p.kx, h / p.ky}}
			if tile.Blank = figure.blankIn(tile.Area); !tile.Blank {
				place := p.Shown % (across * down)
				tile.Page = p.Shown / (across * down)
				tile.At = Pt(room.X+float64(place%across)*(w+tileGap), room.Y+tileHead+float64(place/across)*(h+tileHead+tileGap))
				p.Shown++
				tile.Number = p.Shown
				p.Pages = tile.Page + 1
			}
			p.Tiles = append(p.Tiles, tile)
		}
	}
	return p
}

// tiles is how many of a size with their overlaps reach so far. What sums of
// roundings add is no reason for one more.
func tiles(length, size float64) int {
	const rounding = 1e-9
	if length <= size+rounding {
		return 1
	}
	return int(math.Ceil((length-Overlap)/(size-Overlap) - rounding))
}

// blankIn reports whether nothing of a Scene is drawn in a box.
func (s *Scene) blankIn(r Rect) bool {
	for _, it := range s.Items {
		if inkIn(it, r) {
			return false
		}
	}
	return true
}
