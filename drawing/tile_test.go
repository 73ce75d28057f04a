package drawing_test

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/drawing"
)

// A rule of a metre, 30 mm wide, lies on one sheet of A4 in four lengths.
func ExampleTiling_Plan() {
	rule := drawing.New(1000, 28)
	rule.Rect(drawing.Rect{W: 1000, H: 28}, drawing.Lined(drawing.Outline))
	p := drawing.Tiling{Sheet: drawing.A4Portrait}.Plan(rule)
	fmt.Println(p.Pages, p.Columns, p.Rows, p.Landscape)
	// Output: 1 4 1 true
}

func genTiling(t *rapid.T) (drawing.Tiling, *drawing.Scene) {
	tiling := drawing.Tiling{Sheet: rapid.SampledFrom([]drawing.Format{drawing.A4Portrait, drawing.Letter}).Draw(t, "sheet"), Title: "a drawing"}
	if rapid.Bool().Draw(t, "scales") {
		tiling.Short = rapid.Float64Range(90, 110).Draw(t, "short")
		tiling.Long = rapid.Float64Range(90, 110).Draw(t, "long")
	}
	size := rapid.Custom(func(t *rapid.T) float64 {
		return math.Pow(10, rapid.Float64Range(0, 3.7).Draw(t, "log"))
	})
	return tiling, drawing.New(size.Draw(t, "wide"), size.Draw(t, "high"))
}

// stretches are what a mm is drawn as on a plan's paper.
func stretches(tiling drawing.Tiling, p drawing.Plan) (kx, ky float64) {
	of := func(bar float64) float64 {
		if bar == 0 {
			return 1
		}
		return 100 / bar
	}
	kx, ky = of(tiling.Short), of(tiling.Long)
	if p.Landscape {
		kx, ky = ky, kx
	}
	return kx, ky
}

// Tiles cover the drawing from edge to edge, neighbours lap by 10 mm of paper and no
// tile reaches past its neighbour, none leaves its sheet, none lies on another.
func TestTilesCoverTheDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tiling, figure := genTiling(t)
		figure.Rect(drawing.Rect{W: figure.Width, H: figure.Height}, drawing.Style{Fill: drawing.Shade}) // ink everywhere
		p := tiling.Plan(figure)
		kx, ky := stretches(tiling, p)
		sheet := drawing.Rect{W: tiling.Sheet.Width, H: tiling.Sheet.Height}
		if p.Landscape {
			sheet.W, sheet.H = sheet.H, sheet.W
		}
		if len(p.Tiles) != p.Rows*p.Columns || p.Shown != len(p.Tiles) {
			t.Fatalf("%d tiles in %d rows and %d columns, %d shown", len(p.Tiles), p.Rows, p.Columns, p.Shown)
		}
		const tiny = 1e-6
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > tiny {
				t.Fatalf("%s: %v, want %v", what, got, want)
			}
		}
		for i, a := range p.Tiles {
			on := drawing.Rect{X: a.At.X, Y: a.At.Y, W: a.Area.W * kx, H: a.Area.H * ky}
			if !sheet.Inset(10 - tiny).Contains(on) {
				t.Fatalf("tile %d lies at %v on a sheet of %v", i, on, sheet)
			}
			if a.Page < 0 || a.Page >= p.Pages || a.Number != i+1 {
				t.Fatalf("tile %d of page %d of %d is number %d", i, a.Page, p.Pages, a.Number)
			}
			if a.Column == 0 {
				near("left edge", a.Area.X, 0)
			}
			if a.Row == 0 {
				near("upper edge", a.Area.Y, 0)
			}
			if a.Column == p.Columns-1 {
				near("right edge", a.Area.X+a.Area.W, figure.Width)
			} else {
				near("lap", (a.Area.X+a.Area.W-p.Tiles[i+1].Area.X)*kx, drawing.Overlap)
			}
			if a.Row == p.Rows-1 {
				near("lower edge", a.Area.Y+a.Area.H, figure.Height)
			} else {
				near("lap", (a.Area.Y+a.Area.H-p.Tiles[i+p.Columns].Area.Y)*ky, drawing.Overlap)
			}
			if p.Columns > 2 && a.Area.W*kx < 2*drawing.Overlap {
				t.Fatalf("a sliver of %v", a.Area.W)
			}
			for _, b := range p.Tiles[:i] {
				other := drawing.Rect{X: b.At.X, Y: b.At.Y, W: b.Area.W * kx, H: b.Area.H * ky}
				if a.Page == b.Page && on.Overlaps(other) {
					t.Fatalf("tiles %d and %d overlap on page %d", a.Number, b.Number, a.Page)
				}
			}
		}
	})
}

// Put together again from the pages, cross on cross, a drawing is whole: each dot of
// it is on the pages where the plan says, at its place, and nowhere else.
func TestTilesPutTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tiling, figure := genTiling(t)
		figure.Width, figure.Height = min(figure.Width, 900), min(figure.Height, 900)
		type dot struct{ x, y float64 }
		var dots []dot
		for range 60 {
			d := dot{rapid.Float64Range(0, 1).Draw(t, "x") * figure.Width, rapid.Float64Range(0, 1).Draw(t, "y") * figure.Height}
			figure.Path(drawing.Polyline(drawing.Pt(d.x, d.y), drawing.Pt(d.x, d.y)), drawing.Lined(drawing.Proposed.Wide(0.013)))
			dots = append(dots, d)
		}
		figure.Rect(drawing.Rect{W: figure.Width, H: figure.Height}, drawing.Style{Fill: drawing.Shade})
		p, pages := tiling.Plan(figure), tiling.Pages(figure)
		kx, ky := stretches(tiling, p)
		seen := make([]int, len(dots))
		for n, page := range pages {
			var clip *drawing.Rect
			var tile drawing.Tile
			for _, it := range page.Items {
				switch v := it.(type) {
				case drawing.Group:
					if clip = v.Clip; clip != nil {
						number, _ := strconv.Atoi(strings.TrimPrefix(v.ID, "tile-"))
						for _, one := range p.Tiles {
							if one.Number == number && !one.Blank {
								tile = one
							}
						}
					}
				case drawing.Drawn:
					if v.Style.Stroke.Width != 0.013 || clip == nil {
						continue
					}
					b := v.Path.Bounds()
					inside := tile.Page == n && b.X >= clip.X && b.X <= clip.X+clip.W && b.Y >= clip.Y && b.Y <= clip.Y+clip.H
					x, y := tile.Area.X+(b.X-tile.At.X)/kx, tile.Area.Y+(b.Y-tile.At.Y)/ky
					for i, d := range dots {
						if inside && math.Abs(d.x-x) < 1e-6 && math.Abs(d.y-y) < 1e-6 {
							seen[i]++
						}
					}
				}
			}
		}
		const rim = 0.51 // beside a tile's edge what is drawn on the rim may show
		for i, d := range dots {
			want, near := 0, false
			for _, one := range p.Tiles {
				a := one.Area
				if d.x >= a.X && d.x <= a.X+a.W && d.y >= a.Y && d.y <= a.Y+a.H {
					want++
				}
				near = near || math.Abs(d.x-a.X) < rim || math.Abs(d.x-a.X-a.W) < rim || math.Abs(d.y-a.Y) < rim || math.Abs(d.y-a.Y-a.H) < rim
			}
			if seen[i] < 1 || !near && seen[i] != want {
				t.Fatalf("dot %v is on %d tiles, want %d", d, seen[i], want)
			}
		}
	})
}

// A word stands whole on one tile where one holds it; tiles without ink are left
// out; a drawing without size has no pages.
func TestTilesOfWordsAndNothing(t *testing.T) {
	s := drawing.New(600, 20)
	s.Line(drawing.Pt(0, 1), drawing.Pt(600, 1), drawing.Outline)
	for i := range 40 {
		s.Text(drawing.Text{At: drawing.Pt(float64(i)*14.8, 10), String: "word", Size: 3})
	}
	n := 0
	for _, page := range (drawing.Tiling{Sheet: drawing.Letter, Title: "words"}).Pages(s) {
		for _, it := range page.Items {
			if w, ok := it.(drawing.Text); ok && w.String == "word" {
				n++
			}
		}
	}
	if n < 40 || n > 46 { // a word of 7 mm in a lap of 10 may stand whole on two
		t.Errorf("%d words of 40", n)
	}
	corner := drawing.New(500, 500)
	corner.Line(drawing.Pt(0, 0), drawing.Pt(500, 0), drawing.Outline)
	corner.Line(drawing.Pt(0, 0), drawing.Pt(0, 500), drawing.Outline)
	p := (drawing.Tiling{Sheet: drawing.A4Portrait}).Plan(corner)
	if want := p.Rows + p.Columns - 1; p.Shown != want || p.Rows < 2 {
		t.Errorf("a corner is on %d tiles of %d by %d, want %d", p.Shown, p.Rows, p.Columns, want)
	}
	for _, empty := range []*drawing.Scene{drawing.New(0, 10), drawing.New(10, 10), drawing.New(math.NaN(), 1)} {
		if pages := (drawing.Tiling{Sheet: drawing.A4Portrait}).Pages(empty); len(pages) != 0 {
			t.Errorf("%v by %v has %d pages", empty.Width, empty.Height, len(pages))
		}
	}
}

// bars are the two check bars of each page of a PDF, mm on the paper, read from its
// own commands: along and upright.
func bars(t *testing.T, tiling drawing.Tiling, figure *drawing.Scene) (along, upright []float64) {
	t.Helper()
	for _, page := range tiling.Pages(figure) {
		var out bytes.Buffer
		if err := drawing.PDF(&out, []drawing.Page{{Scene: page}}, drawing.Meta{Uncompressed: true}); err != nil {
			t.Fatal(err)
		}
		// Fields of a bar: closed boxes 3 mm across, drawn in mm by one change of scale
		// to points (ISO 32000-1, 8.3).
		scale := 0.0
		lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		var box [][2]float64
		for line := range strings.SplitSeq(out.String(), "\n") {
			f := strings.Fields(line)
			switch {
			case len(f) >= 8 && f[0] == "q" && f[7] == "cm" && scale == 0:
				scale, _ = strconv.ParseFloat(f[1], 64)
			case len(f) >= 3 && (f[len(f)-1] == "m" || f[len(f)-1] == "l"):
				x, errX := strconv.ParseFloat(f[len(f)-3], 64)
				y, errY := strconv.ParseFloat(f[len(f)-2], 64)
				if errX != nil || errY != nil {
					continue
				}
				if f[len(f)-1] == "m" {
					box = nil
				}
				box = append(box, [2]float64{x, y})
			case len(f) > 0 && f[0] == "h" && len(box) == 4:
				w := math.Max(math.Abs(box[2][0]-box[0][0]), math.Abs(box[1][0]-box[0][0]))
				h := math.Max(math.Abs(box[2][1]-box[0][1]), math.Abs(box[1][1]-box[0][1]))
				switch {
				case math.Abs(h-3) < 1e-6 && w > 8 && w < 12: // of the lying bar
					lo[0], hi[0] = min(lo[0], box[0][0]), max(hi[0], box[1][0])
				case math.Abs(w-3) < 1e-6 && h > 8 && h < 12:
					lo[1], hi[1] = min(lo[1], box[1][1]), max(hi[1], box[0][1])
				}
			}
		}
		const mmPerPoint = 25.4 / 72
		along = append(along, (hi[0]-lo[0])*scale*mmPerPoint)
		upright = append(upright, (hi[1]-lo[1])*scale*mmPerPoint)
	}
	return along, upright
}

// On every page of the file both bars are 100 mm, or what makes 100 of them on a
// printer that stretches: whichever way the sheet lies, along its short side by the
// one and along its long side by the other.
func TestCheckBarsInThePDF(t *testing.T) {
	wide := drawing.New(900, 30)
	wide.Rect(drawing.Rect{W: 900, H: 30}, drawing.Lined(drawing.Outline))
	block := drawing.New(170, 235)
	block.Rect(drawing.Rect{W: 170, H: 235}, drawing.Lined(drawing.Outline))
	for _, c := range []struct {
		name        string
		figure      *drawing.Scene
		short, long float64
		along, up   float64
	}{
		{"true", wide, 0, 0, 100, 100},
		{"lying", wide, 99.2, 99.6, 10000 / 99.6, 10000 / 99.2},
		{"standing", block, 99.2, 101, 10000 / 99.2, 10000.0 / 101},
	} {
		for _, sheet := range []drawing.Format{drawing.A4Portrait, drawing.Letter} {
			along, up := bars(t, drawing.Tiling{Sheet: sheet, Short: c.short, Long: c.long, Title: "bars"}, c.figure)
			if len(along) == 0 {
				t.Errorf("%s: no pages", c.name)
			}
			for i := range along {
				if math.Abs(along[i]-c.along) > 0.01 || math.Abs(up[i]-c.up) > 0.01 {
					t.Errorf("%s, page %d: bars of %.3f and %.3f, want %.3f and %.3f", c.name, i+1, along[i], up[i], c.along, c.up)
				}
			}
		}
	}
}

// What lies in a group that clips shows inside its box alone, in both files: the
// group's commands stand between its clip and what takes it off again (ISO 32000-1,
// 8.5.4; SVG 2, 14.3).
func TestGroupsClip(t *testing.T) {
	s := drawing.New(100, 50)
	s.Begin(drawing.Group{ID: "tile", Clip: &drawing.Rect{X: 10, Y: 5, W: 30, H: 20}})
	s.Begin(drawing.Group{ID: "inner"})
	s.Line(drawing.Pt(0, 11), drawing.Pt(100, 11), drawing.Outline)
	s.End()
	s.End()
	s.Line(drawing.Pt(0, 33), drawing.Pt(100, 33), drawing.Outline)
	moved := drawing.New(200, 100)
	moved.Place(s, drawing.Pt(50, 40), "m-")
	var svg, pdf bytes.Buffer
	if err := drawing.SVG(&svg, moved, drawing.SVGOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := drawing.PDF(&pdf, []drawing.Page{{Scene: moved}}, drawing.Meta{Uncompressed: true}); err != nil {
		t.Fatal(err)
	}
	if want := `<clipPath id="clip"><path d="M60,45L90,45L90,65L60,65Z"/></clipPath>`; !strings.Contains(svg.String(), want) || !strings.Contains(svg.String(), `clip-path="url(#clip)"`) {
		t.Errorf("no clip in %s", svg.String())
	}
	text := pdf.String()
	on, inside, outside := strings.Index(text, "60 45 m\n90 45 l\n90 65 l\n60 65 l\nh\nW n"), strings.Index(text, "50 51 m"), strings.Index(text, "50 73 m")
	if on < 0 || inside < on || outside < inside {
		t.Fatalf("clip at %d, inside at %d, outside at %d", on, inside, outside)
	}
	between := strings.Fields(text[on:outside])
	deep := 1
	for _, f := range between {
		switch f {
		case "q":
			deep++
		case "Q":
			deep--
		}
	}
	if deep != 1 { // the q of the line outside alone
		t.Errorf("%d states open before what lies outside", deep)
	}
	s = drawing.New(10, 10)
	s.Begin(drawing.Group{Clip: &drawing.Rect{W: math.NaN(), H: 1}})
	s.End()
	if err := drawing.SVG(&svg, s, drawing.SVGOptions{}); err == nil {
		t.Error("a clip that is no box is written")
	}
}
