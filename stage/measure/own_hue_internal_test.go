package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// A part of the mat's own hue is told by the lines that it hides: in full light it joins
// what it runs on from, with what it leads to. A shadow hides them too, and another object
// close by is none of it.
func TestWithOwnHue(t *testing.T) {
	const w, h = 300, 200
	rect := func(x0, x1 int) grid {
		g := grid{w, h, make([]bool, w*h)}
		for y := 90; y < 110; y++ {
			for x := x0; x < x1; x++ {
				g.on[y*w+x] = true
			}
		}
		return g
	}
	everywhere := make([]bool, w*h)
	for i := range everywhere {
		everywhere[i] = true
	}
	for _, tt := range []struct {
		name   string
		light  float32 // logarithm, over the mat's, between the two
		from   int     // where the other object begins
		lines  says    // what the lines between say
		joined bool
	}{
		{"own hue in full light", 0, 180, saysHidden, true},
		{"a shadow", -1, 180, saysHidden, false},
		{"another object close by", 0, 134, saysHidden, false},
		{"a gap that shows the lines", 0, 180, saysMat, false},
	} {
		looks := &look{ratio: make([][3]float32, w*h), says: make([]says, w*h)}
		for i := range looks.ratio {
			looks.ratio[i] = [3]float32{tt.light, tt.light, tt.light}
			if i%w%10 == 0 {
				looks.says[i] = tt.lines
			}
		}
		m := ground{reduced: &reduced{w: w, h: h, n: 1}, region: everywhere, looks: looks, scale: 2, thin: 1}
		g, other := rect(20, 128), rect(tt.from, 280)
		rest := m.withOwnHue(g, rect(20, 280), []grid{other})
		if joined := g.on[100*w+150] && g.on[100*w+270] && len(rest) == 0; joined != tt.joined {
			t.Errorf("%s: joined %v", tt.name, joined)
		}
		if !tt.joined && (len(rest) != 1 || g.count() != rect(20, 128).count()) {
			t.Errorf("%s: %d others, %d pixels", tt.name, len(rest), g.count())
		}
	}
}

// A body that looks as the mat's margin does, and ends short of it, is not led on to it: the
// margin has no lines to tell it by.
func TestMarginIsNoPart(t *testing.T) {
	const tone = 88 // of both, without grain
	rod := func(mm r2.Vec) bool { return math.Abs(mm.X-200) < 9 && mm.Y > 80 && mm.Y < 200 }
	margin := func(mm r2.Vec) bool { return mm.Y < 70 || mm.Y > 250 || mm.X < 60 || mm.X > 340 }
	m := matWithin([]r2.Vec{{X: 150, Y: 125}, {X: 849, Y: 125}, {X: 849, Y: 574}, {X: 150, Y: 574}}, func(mm r2.Vec) (float64, bool) {
		return tone, rod(mm) || margin(mm)
	})
	all := m.objects()
	if len(all) == 0 {
		t.Fatal("nothing hides the grid")
	}
	cut, ok, err := m.cut(t.Context(), all[0])
	if err != nil || !ok {
		t.Fatalf("cut out %v, error %v", ok, err)
	}
	if got := m.overlap(cut.mask, rod); got < 0.8 {
		t.Errorf("what is cut out shares %.2f with the body", got)
	}
}
