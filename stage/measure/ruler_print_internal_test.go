package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// Where the drawn ruler lies on its mat, mm.
const (
	ruledFrom, ruledTo = -75.0, 75.0
	ruledLow, ruledTop = -20.0, 8.0
)

// ruledMat is a mat with a white ruler on it, a stroke each millimetre along both its
// edges, each fifth longer, and a thing as white, darker at its rim, that lies over both.
func ruledMat(t *testing.T, thing func(mm r2.Vec) bool) ground {
	t.Helper()
	const w, h, rim = 1200, 750, 0.5
	cam := &camera.Camera{F: 2400, Cx: (w - 1) / 2.0, Cy: (h - 1) / 2.0, C: r3.Vec{Z: 400}, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}}
	rng := rand.New(rand.NewPCG(31, 32))
	p := &picture{w: w, h: h, rgb: make([]uint8, 3*w*h)}
	off := func(x float64) float64 { return math.Abs(x - math.Round(x)) }
	for i := range w * h {
		at, _ := cam.OnPlane(r2.Vec{X: float64(i % w), Y: float64(i / w)}, 0)
		q := r2.Vec{X: at.X, Y: at.Y}
		c := [3]float64{50, 95, 60}
		inside := min(q.Y-ruledLow, ruledTop-q.Y)
		switch {
		case thing(q):
			c = [3]float64{205, 205, 205}
			for _, d := range [4]r2.Vec{{X: rim}, {X: -rim}, {Y: rim}, {Y: -rim}} {
				if !thing(r2.Add(q, d)) {
					c = [3]float64{170, 170, 170}
				}
			}
		case inside > 0 && q.X > ruledFrom && q.X < ruledTo:
			c = [3]float64{205, 205, 205}
			long := 3.0
			if int(math.Round(q.X))%5 == 0 {
				long = 4.5
			}
			if inside < long && off(q.X) < 0.12 && math.Abs(q.X) < ruledTo-4 {
				c = [3]float64{60, 60, 60}
			}
		case 10*min(off(q.X/10), off(q.Y/10)) < 0.25:
			c = [3]float64{150, 180, 150}
		}
		for k, v := range c {
			p.rgb[3*i+k] = uint8(min(255, max(0, v*(1+0.04*rng.NormFloat64()))))
		}
	}
	region := []r2.Vec{{X: 20, Y: 20}, {X: w - 20, Y: 20}, {X: w - 20, Y: h - 20}, {X: 20, Y: h - 20}}
	m, err := findGround(t.Context(), p, cam, region, [2]float64{10, 10})
	if err != nil {
		t.Fatal(err)
	}
	for edge, y := range [2]float64{ruledLow + 1.5, ruledTop - 1.5} {
		for x := -70.0; x <= 70; x += 10 {
			px, _ := cam.Project(r3.Vec{X: x, Y: y})
			m.ticks = append(m.ticks, camera.Tick{Px: px, At: x + 200, Edge: edge})
		}
	}
	return m
}

// A ruler's print is taken out of what is seen, its edges too; strokes that show say that
// nothing lies there, strokes that do not that something does, and between two stretches of
// those it lies across.
func TestRulerSpeaks(t *testing.T) {
	across := func(q r2.Vec) bool { return math.Abs(q.X+20) < 8 && q.Y > -40 && q.Y < 30 }
	beside := func(q r2.Vec) bool { return math.Abs(q.X-40) < 8 && q.Y > 0 && q.Y < 30 }
	m := ruledMat(t, func(q r2.Vec) bool { return across(q) || beside(q) })
	m.findRuler()
	at := func(x, y float64) int {
		px, _ := m.cam.Project(r3.Vec{X: x, Y: y})
		i, j := m.reduced.from(px)
		return j*m.reduced.w + i
	}
	for _, tt := range []struct {
		name string
		x, y float64
		want says
	}{
		{"strokes that show", -50, ruledTop - 2, saysMat},
		{"strokes that show, at the other edge", 60, ruledLow + 2, saysMat},
		{"under a thing that lies across", -20, ruledTop - 2, saysHidden},
		{"and at the other edge", -20, ruledLow + 2, saysHidden},
		{"and between", -20, -6, saysHidden},
		{"beside it, between", -35, -6, 0},
		{"under a thing at one edge", 40, ruledTop - 2, saysHidden},
		{"past it", 40, -6, 0},
		{"and at the other edge from it", 40, ruledLow + 2, saysMat},
	} {
		if got := m.looks.says[at(tt.x, tt.y)]; got != tt.want {
			t.Errorf("%s: says %b, want %b", tt.name, got, tt.want)
		}
	}
	var bare []float64
	for x := -70.0; x < 70; x += 0.3 {
		for y := ruledLow - 1.4; y < ruledTop+1.4; y += 0.3 {
			if q := (r2.Vec{X: x, Y: y}); math.Abs(x+20) > 10 && math.Abs(x-40) > 10 {
				bare = append(bare, math.Abs(lightOf(m.looks.calm[at(q.X, q.Y)])))
			}
		}
	}
	seen := 0
	for _, v := range bare {
		if v > 0.25 {
			seen++
		}
	}
	if float64(seen) > 0.1*float64(len(bare)) {
		t.Errorf("%d of %d places of a bare ruler still show it", seen, len(bare))
	}
}

// A thing that ends on a ruler of its own colour is followed over it to its end.
func TestOverRulerOfItsColour(t *testing.T) {
	thing := func(q r2.Vec) bool {
		return math.Abs(q.X+5) < 12 && q.Y > ruledTop-2 && q.Y < 55 || math.Abs(q.X+5) < 6 && q.Y > -23 && q.Y < 20
	}
	m := ruledMat(t, thing)
	all := m.objects()
	if len(all) == 0 {
		t.Fatal("nothing found")
	}
	cut, ok, err := m.cut(t.Context(), all[0])
	if !ok || err != nil {
		t.Fatalf("nothing cut, error %v", err)
	}
	if got := m.overlap(cut.mask, thing); got < 0.93 {
		t.Errorf("what is cut out shares %.2f with the thing", got)
	}
}

// A face is held to the two rows of its ticks: past one of them its colour may run on.
func TestEdgesBeside(t *testing.T) {
	s := strip{lo: r2.Vec{Y: -20}, hi: r2.Vec{Y: 5}}
	for _, tt := range []struct {
		name           string
		lo, hi         float64
		wantLo, wantHi float64
	}{
		{"as it is seen", -21.5, 7, -21.5, 7},
		{"running on past the lower row", -38, 7, -22, 7},
		{"past the upper", -21.5, 30, -21.5, 6.5},
		{"past both", -40, 30, -25, 10},
	} {
		if lo, hi := edgesBeside(s, tt.lo, tt.hi); lo != tt.wantLo || hi != tt.wantHi {
			t.Errorf("%s: %g to %g, want %g to %g", tt.name, lo, hi, tt.wantLo, tt.wantHi)
		}
	}
}
