package drawing_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"golang.org/x/image/vector"
	"pgregory.net/rapid"

	"scalewright/drawing"
)

// Coverage of filled polygons agrees with golang.org/x/image/vector, which
// accumulates signed areas, wherever no two edges of a pixel cross: there both are
// the pixel's covered share.
func TestRasterAgainstVector(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 40
		// A convex polygon: corners on a circle, by angle.
		c := drawing.Pt(rapid.Float64Range(12, 28).Draw(t, "x"), rapid.Float64Range(12, 28).Draw(t, "y"))
		r := rapid.Float64Range(2, 11).Draw(t, "r")
		corners := rapid.IntRange(3, 9).Draw(t, "corners")
		turn := rapid.Float64Range(0, 6.28).Draw(t, "turn")
		var ps []drawing.Point
		v := vector.NewRasterizer(n, n)
		for i := range corners {
			sin, cos := math.Sincos(turn + 2*math.Pi*float64(i)/float64(corners))
			p := drawing.Pt(c.X+r*cos, c.Y+r*sin)
			ps = append(ps, p)
			if i == 0 {
				v.MoveTo(float32(p.X), float32(p.Y))
			} else {
				v.LineTo(float32(p.X), float32(p.Y))
			}
		}
		v.ClosePath()
		want := image.NewAlpha(image.Rect(0, 0, n, n))
		v.Draw(want, want.Bounds(), image.Opaque, image.Point{})
		s := drawing.New(n, n)
		s.Path(drawing.Polygon(ps...), drawing.Filled("#000000"))
		got, err := drawing.Raster(s, drawing.PNGOptions{PerMM: 1})
		if err != nil {
			t.Fatal(err)
		}
		for y := range n {
			for x := range n {
				a, b := 255-int(got.RGBAAt(x, y).R), int(want.AlphaAt(x, y).A)
				if d := a - b; d > 16 || d < -16 { // a sixteenth, see subRows
					t.Fatalf("pixel %d, %d: covered %d, by x/image/vector %d", x, y, a, b)
				}
			}
		}
	})
}

// The two rules of filling differ where two loops of one turn lie over one another.
func TestRasterRules(t *testing.T) {
	for evenOdd, want := range map[bool]uint8{false: 0, true: 255} {
		s := drawing.New(20, 20)
		p := drawing.Box(drawing.Rect{X: 2, Y: 2, W: 16, H: 16})
		p.Append(drawing.Box(drawing.Rect{X: 6, Y: 6, W: 8, H: 8}))
		s.Path(p, drawing.Style{Fill: "#000000", EvenOdd: evenOdd})
		img, err := drawing.Raster(s, drawing.PNGOptions{PerMM: 1})
		if err != nil || img.RGBAAt(10, 10).R != want || img.RGBAAt(3, 3).R != 0 || img.RGBAAt(0, 0).R != 255 {
			t.Errorf("even-odd %v: %v in the middle, %v", evenOdd, img.RGBAAt(10, 10), err)
		}
	}
}

// A line covers its length times its width, dashes only their share, and letters
// stand inside the box that Bounds tells.
func TestRasterInk(t *testing.T) {
	ink := func(s *drawing.Scene, in drawing.Rect, per float64) (all, outside float64) {
		img, err := drawing.Raster(s, drawing.PNGOptions{PerMM: per})
		if err != nil {
			t.Fatal(err)
		}
		b := img.Bounds()
		for y := range b.Dy() {
			for x := range b.Dx() {
				dark := float64(255-img.RGBAAt(x, y).R) / 255 / per / per
				all += dark
				if mx, my := float64(x)/per, float64(y)/per; mx < in.X-1/per || mx > in.X+in.W || my < in.Y-1/per || my > in.Y+in.H {
					outside += dark
				}
			}
		}
		return all, outside
	}
	for _, c := range []struct {
		name string
		dash []float64
		want float64
	}{{"line", nil, 40}, {"dashes", []float64{3, 1}, 30}} {
		s := drawing.New(60, 60)
		s.Line(drawing.Pt(10, 10), drawing.Pt(34, 42), drawing.Stroke{Colour: "#000000", Width: 1, Dash: c.dash})
		if got, _ := ink(s, drawing.Rect{}, 10); math.Abs(got-c.want) > 0.4 {
			t.Errorf("%s: %v mm² of ink, want %v", c.name, got, c.want)
		}
	}
	for _, turn := range []float64{0, -90, 30} {
		for _, h := range []drawing.HAlign{drawing.Start, drawing.Middle, drawing.End} {
			s := drawing.New(60, 60)
			line := drawing.Text{At: drawing.Pt(30, 30), String: "Quilted 1311", Size: 4, H: h, V: drawing.Centre, Rotate: turn, Colour: "#000000"}
			s.Text(line)
			all, outside := ink(s, line.Bounds(), 8)
			if all < 5 || outside > 0.002*all {
				t.Errorf("turned %v, anchor %v: %v mm² of ink, %v of it outside its bounds", turn, h, all, outside)
			}
		}
	}
}

func TestPNG(t *testing.T) {
	s := drawing.New(30, 20)
	s.Rect(drawing.Rect{X: 5, Y: 5, W: 10, H: 10}, drawing.Filled(drawing.Signal))
	s.Text(drawing.Text{At: drawing.Pt(2, 18), String: "Größe", Size: 4, Halo: 0.6})
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := drawing.PNG(w, s, drawing.PNGOptions{Palette: drawing.Night, PerMM: 4}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same scene gives other bytes")
	}
	img, err := png.Decode(&a)
	if err != nil || img.Bounds() != image.Rect(0, 0, 120, 80) {
		t.Fatalf("picture of %v, %v", img.Bounds(), err)
	}
	for at, want := range map[image.Point]color.RGBA{{X: 40, Y: 40}: {0xff, 0x8d, 0x63, 255}, {X: 100, Y: 10}: {0x1a, 0x1f, 0x27, 255}} {
		if got := color.RGBAModel.Convert(img.At(at.X, at.Y)); got != want {
			t.Errorf("at %v is %v, want %v", at, got, want)
		}
	}
	for name, o := range map[string]drawing.PNGOptions{"huge": {PerMM: 1e6}, "negative": {PerMM: -1}, "not a number": {PerMM: math.NaN()}} {
		if err := drawing.PNG(&bytes.Buffer{}, s, o); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A group shows inside its clip alone, and what follows it everywhere again.
func TestRasterClip(t *testing.T) {
	s := drawing.New(20, 20)
	all := drawing.Rect{W: 20, H: 20}
	s.Begin(drawing.Group{Clip: &drawing.Rect{X: 5, Y: 5, W: 5, H: 5}})
	s.Begin(drawing.Group{Clip: &drawing.Rect{X: 8, Y: 0, W: 12, H: 20}})
	s.Rect(all, drawing.Filled("#000000"))
	s.End()
	s.End()
	s.Rect(drawing.Rect{X: 15, Y: 15, W: 1, H: 1}, drawing.Filled("#000000"))
	img, err := drawing.Raster(s, drawing.PNGOptions{PerMM: 1})
	if err != nil {
		t.Fatal(err)
	}
	for y := range 20 {
		for x := range 20 {
			dark := x >= 8 && x < 10 && y >= 5 && y < 10 || x == 15 && y == 15
			if (img.RGBAAt(x, y).R == 0) != dark {
				t.Fatalf("pixel %d, %d is %v", x, y, img.RGBAAt(x, y))
			}
		}
	}
}
