package drawing_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/drawing"
)

// The laws of Seat, held against a slow look at what was laid down: boxes overlap
// nothing and stay in the area, leaders run through no words and across no bar but
// the one they begin on.
func TestSeatLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := drawing.Rect{W: 200, H: 110}
		room := drawing.NewRoom(area)
		bar := drawing.Rect{X: rapid.Float64Range(20, 120).Draw(t, "bar"), Y: 62, W: 50, H: 18}
		room.Bar(drawing.Box(bar))
		var words []drawing.Rect
		for range rapid.IntRange(0, 6).Draw(t, "figures") {
			b := drawing.Rect{X: rapid.Float64Range(0, 180).Draw(t, "x"), Y: rapid.Float64Range(0, 100).Draw(t, "y"), W: 12, H: 4}
			words = append(words, b)
			room.Words(b)
		}
		var lines []drawing.Segment
		for range rapid.IntRange(0, 4).Draw(t, "lines") {
			x := rapid.Float64Range(0, 200).Draw(t, "at")
			l := drawing.Segment{A: drawing.Pt(x, 0), B: drawing.Pt(x, 110)}
			lines = append(lines, l)
			room.Line(l.A, l.B)
		}
		rows := []float64{86, 92, 98, 104}
		for range rapid.IntRange(1, 14).Draw(t, "labels") {
			s := drawing.Seat{
				Tip: drawing.Pt(rapid.Float64Range(2, 198).Draw(t, "tip x"), rapid.Float64Range(30, 82).Draw(t, "tip y")),
				W:   rapid.Float64Range(5, 45).Draw(t, "w"), H: 3.6, Rows: rows, Ball: rapid.Bool().Draw(t, "ball"),
			}
			if s.Ball {
				s.W, s.H = 6.4, 6.4
			}
			got, ok := room.Seat(s)
			if !ok {
				continue
			}
			if !area.Contains(got.Box) || got.Leader[0] != s.Tip {
				t.Fatalf("%+v in %v", got, area)
			}
			onBar := within(bar.Inset(0.5), s.Tip)
			for i := 1; i < len(got.Leader); i++ {
				way := [2]drawing.Point{got.Leader[i-1], got.Leader[i]}
				for _, b := range words {
					if through(way, b) {
						t.Fatalf("leader %v runs through %v", got.Leader, b)
					}
				}
				if !onBar && !within(bar.Inset(-0.8), s.Tip) && through(way, bar.Inset(0.8)) {
					t.Fatalf("leader %v crosses the bar %v", got.Leader, bar)
				}
				if through(way, got.Box.Inset(0.2)) {
					t.Fatalf("leader %v runs through its own words %v", got.Leader, got.Box)
				}
			}
			for _, b := range words {
				if overlap(b, got.Box) {
					t.Fatalf("%v lies over %v", got.Box, b)
				}
			}
			for _, l := range lines {
				if through([2]drawing.Point{l.A, l.B}, got.Box) {
					t.Fatalf("%v lies on %v", got.Box, l)
				}
			}
			words = append(words, got.Box)
			for i := 1; i < len(got.Leader); i++ {
				lines = append(lines, drawing.Segment{A: got.Leader[i-1], B: got.Leader[i]})
			}
		}
	})
}

func within(r drawing.Rect, p drawing.Point) bool {
	return p.X > r.X && p.X < r.X+r.W && p.Y > r.Y && p.Y < r.Y+r.H
}

// A leader goes round a bar that lies between its tip and every row.
func TestSeatGoesRound(t *testing.T) {
	room := drawing.NewRoom(drawing.Rect{W: 200, H: 100})
	room.Bar(drawing.Box(drawing.Rect{X: 70, Y: 60, W: 60, H: 10}))
	got, ok := room.Seat(drawing.Seat{Tip: drawing.Pt(100, 50), W: 20, H: 4, Rows: []float64{80}, Reach: 10})
	if !ok || len(got.Leader) != 3 {
		t.Errorf("found %v, by %v; want a knee", ok, got.Leader)
	}
	if got, ok := room.Seat(drawing.Seat{Tip: drawing.Pt(10, 50), W: 20, H: 4, Rows: []float64{80}}); !ok || len(got.Leader) != 2 || got.Leader[1].X != 10 {
		t.Errorf("found %v, by %v; want straight down", ok, got.Leader)
	}
}

// Clipping keeps what lies in the box and nothing else: by area, against the same
// polygon laid out in small squares.
func TestClippedAndWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		box := drawing.Rect{X: 10, Y: 10, W: 20, H: 15}
		var ps []drawing.Point
		c := drawing.Pt(rapid.Float64Range(5, 35).Draw(t, "x"), rapid.Float64Range(5, 30).Draw(t, "y"))
		n := rapid.IntRange(3, 8).Draw(t, "n")
		for i := range n {
			r := rapid.Float64Range(2, 18).Draw(t, "r")
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			ps = append(ps, drawing.Pt(c.X+r*cos, c.Y+r*sin))
		}
		whole := drawing.Polygon(ps...)
		clipped := whole.Clipped(box)
		if !clipped.Empty() && !box.Inset(-1e-9).Contains(clipped.Bounds()) {
			t.Fatalf("clipped to %v, want within %v", clipped.Bounds(), box)
		}
		ink := func(p *drawing.Path) (in float64) {
			s := drawing.New(40, 40)
			s.Path(p, drawing.Filled("#000000"))
			img, err := drawing.Raster(s, drawing.PNGOptions{PerMM: 5})
			if err != nil {
				t.Fatal(err)
			}
			for y := 50; y < 125; y++ {
				for x := 50; x < 150; x++ {
					in += float64(255-img.RGBAAt(x, y).R) / 255 / 25
				}
			}
			return in
		}
		if a, b := ink(whole), ink(clipped); math.Abs(a-b) > 0.2 {
			t.Fatalf("in the box lie %v mm², clipped %v", a, b)
		}
		long := func(p *drawing.Path) (in float64) {
			for _, l := range p.Segments() {
				const steps = 400
				for k := range steps {
					q := l.A.Add(l.B.Sub(l.A).Mul((float64(k) + 0.5) / steps))
					if within(box, q) {
						in += l.A.Dist(l.B) / steps
					}
				}
			}
			return in
		}
		if a, b := long(whole), long(whole.Within(box)); math.Abs(a-b) > 0.01*a+0.3 {
			t.Fatalf("in the box run %v mm of line, kept %v", a, b)
		}
	})
}

func TestTextBounds(t *testing.T) {
	for _, c := range []struct {
		text drawing.Text
		want drawing.Point // within
		not  drawing.Point
	}{
		{drawing.Text{At: drawing.Pt(10, 10), String: "HIH", Size: 4}, drawing.Pt(12, 8.5), drawing.Pt(12, 12)},
		{drawing.Text{At: drawing.Pt(10, 10), String: "HIH", Size: 4, H: drawing.End}, drawing.Pt(8, 8.5), drawing.Pt(12, 8.5)},
		{drawing.Text{At: drawing.Pt(10, 10), String: "HIH", Size: 4, Rotate: -90}, drawing.Pt(8.5, 8), drawing.Pt(8.5, 12)},
		{drawing.Text{At: drawing.Pt(10, 10), String: "HIH", Size: 4, V: drawing.Top}, drawing.Pt(12, 11.5), drawing.Pt(12, 8.5)},
	} {
		if b := c.text.Bounds(); !within(b, c.want) || within(b, c.not) {
			t.Errorf("%+v takes %v", c.text, b)
		}
	}
	if b := (drawing.Text{At: drawing.Pt(1, 1), Size: 3}).Bounds(); b != (drawing.Rect{}) {
		t.Errorf("no letters take %v", b)
	}
}
