package matgrid_test

import (
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/craft/matgrid"
)

// sheet is a mat drawn for a test, on a table, with a ruler across it.
type sheet struct {
	step       float64 // mm
	longer     float64 // by how much the print is longer in X than in Y, a share
	cols, rows int
	ink, mat   float64 // of 255
	border     int     // strokes a step; 0: none
	atLine     float64 // how much longer those at lines are, mm
	atOther    float64 // and those at every second line
	second     float64 // and every second of all
	figures    float64 // from one to the next, mm; 0: none
	heavy      int     // every how many lines one is heavier; 0: none
	ruler      float64 // graduation, mm; 0: none
	along      bool    // the ruler lies along the grid, its centimetres on the lines
	noise      float64
	blots      float64 // of the mat's colour, of 255: 1 to 3 mm wide
	cam        camera.Camera
}

const width, height = 1200, 900

// above is a camera over the middle of the sheet.
func (s sheet) above(h, tilt, turn, f float64) camera.Camera {
	c := camera.Camera{F: f, Cx: 602, Cy: 448, K1: 0.03, K2: -0.01}
	c.C = r3.Vec{X: s.step*float64(s.cols)/2 + h*math.Sin(tilt), Y: s.step * float64(s.rows) / 2, Z: h}
	sin, cos := math.Sincos(turn)
	st, ct := math.Sincos(tilt)
	x, down := r3.Vec{X: cos * ct, Y: sin, Z: cos * st}, r3.Vec{X: -st, Z: -ct}
	x = r3.Unit(r3.Sub(x, r3.Scale(r3.Dot(x, down), down)))
	y := r3.Cross(down, x)
	c.R = [3][3]float64{{x.X, x.Y, x.Z}, {y.X, y.Y, y.Z}, {down.X, down.Y, down.Z}}
	return c
}

// tone is the light at a place of the sheet, mm.
func (s sheet) tone(p r2.Vec) float64 {
	p.X /= 1 + s.longer
	w, h := s.step*float64(s.cols), s.step*float64(s.rows)
	line := func(v, pitch, half float64) bool { return math.Abs(v-math.Round(v/pitch)*pitch) < half }
	if s.ruler > 0 {
		askew := 0.3
		if s.along {
			askew = 0.004
		}
		t, o := p.X*math.Cos(askew)+p.Y*math.Sin(askew), p.Y*math.Cos(askew)-p.X*math.Sin(askew)
		if t > 30 && t < 200 && o > 20 && o < 48 {
			long := 3.0
			switch n := int(math.Round(t / s.ruler)); {
			case s.ruler == 1 && n%10 == 0, s.ruler != 1 && n%16 == 0:
				long = 6
			case s.ruler == 1 && n%5 == 0, s.ruler != 1 && n%2 == 0:
				long = 4.5
			}
			if min(o-20, 48-o) < long && line(t, s.ruler, 0.13*s.ruler) {
				return 60
			}
			return 190
		}
	}
	if p.X < -12 || p.Y < -12 || p.X > w+12 || p.Y > h+12 { // a table with grain
		return 120 + 40*math.Sin(p.Y*1.3)*math.Sin(p.Y*0.31+0.02*p.X)
	}
	if p.X > -0.2 && p.Y > -0.2 && p.X < w+0.2 && p.Y < h+0.2 {
		if line(p.X, s.step, 0.2) || line(p.Y, s.step, 0.2) {
			return s.ink
		}
		if every := s.step * float64(s.heavy); s.heavy > 0 && (line(p.X, every, 0.35) || line(p.Y, every, 0.35)) {
			return s.ink
		}
	} else if s.border > 0 && p.X > -0.5 && p.X < w+0.5 && p.Y > -8 && p.Y < 0 {
		if p.Y > -s.stroke(p.X) && line(p.X, s.step/float64(s.border), 0.12) {
			return s.ink
		}
		if s.figures > 0 && p.Y < -4.5 && p.Y > -7 && line(p.X, s.figures, 1) && math.Sin(5*p.X)*math.Sin(4*p.Y) > 0 {
			return s.ink
		}
	}
	if math.Abs(p.X-p.Y) < 0.15 || math.Abs(p.X+1.7*p.Y-160) < 0.1 { // a diagonal and a scratch
		return (s.ink + s.mat) / 2
	}
	if s.blots == 0 {
		return s.mat
	}
	return s.mat + s.blots*(math.Sin(3.1*p.X+1.7*p.Y)+math.Sin(1.3*p.X-2.9*p.Y+1)*math.Sin(4.7*p.Y+0.3*p.X)+math.Sin(5.3*p.X-0.7*p.Y))
}

// stroke is how long the border's stroke at a place is.
func (s sheet) stroke(x float64) float64 {
	switch n := int(math.Round(x / s.step * float64(s.border))); {
	case n%(2*s.border) == 0:
		return 2 + s.atOther
	case n%s.border == 0:
		return 2 + s.atLine
	case n%2 == 0:
		return 2 + s.second
	}
	return 2
}

// photo draws the sheet as its camera sees it, with 2 × 2 looks a pixel. What lies
// where is taken from places eight pixels apart: the lens bends nothing over so few.
func (s sheet) photo() matgrid.Picture {
	const apart = 8
	across := width/apart + 2
	places := make([]r3.Vec, across*(height/apart+2))
	for k := range places {
		places[k], _ = s.cam.OnPlane(r2.Vec{X: float64(k%across)*apart - 1, Y: float64(k/across)*apart - 1}, 0)
	}
	at := func(x, y float64) r2.Vec {
		x, y = (x+1)/apart, (y+1)/apart
		k := int(y)*across + int(x)
		fx, fy := x-math.Floor(x), y-math.Floor(y)
		p := r3.Add(r3.Scale(1-fy, r3.Add(r3.Scale(1-fx, places[k]), r3.Scale(fx, places[k+1]))),
			r3.Scale(fy, r3.Add(r3.Scale(1-fx, places[k+across]), r3.Scale(fx, places[k+across+1]))))
		return r2.Vec{X: p.X, Y: p.Y}
	}
	p := matgrid.Picture{W: width, H: height, RGB: make([]uint8, 3*width*height)}
	var wg sync.WaitGroup
	for band := range 4 {
		wg.Go(func() { s.draw(p, at, band*height/4, (band+1)*height/4) })
	}
	wg.Wait()
	return p
}

// draw draws the rows from one to before another.
func (s sheet) draw(p matgrid.Picture, at func(x, y float64) r2.Vec, from, to int) {
	rng := rand.New(rand.NewPCG(1, uint64(from)))
	for y := from; y < to; y++ {
		for x := range width {
			sum := 0.0
			for k := range 4 {
				sum += s.tone(at(float64(x)+float64(k%2)/2-0.25, float64(y)+float64(k/2)/2-0.25)) / 4
			}
			v := uint8(min(255, max(0, sum+s.noise*rng.NormFloat64())))
			i := 3 * (y*width + x)
			p.RGB[i], p.RGB[i+1], p.RGB[i+2] = v, v, v
		}
	}
}

func metric() sheet {
	return sheet{step: 10, cols: 30, rows: 22, ink: 200, mat: 70, border: 10, ruler: 1, noise: 4}
}

// inches makes it an inch's mat, or half an inch's.
func (s *sheet) inches(step float64, border int, figures float64) {
	s.step, s.border, s.figures = step, border, figures
	s.cols, s.rows = int(300/step), int(225/step)
}

func TestFind(t *testing.T) {
	tests := []struct {
		name   string
		change func(*sheet)
		step   float64
	}{
		{"border and ruler", func(*sheet) {}, 10},
		{"border alone", func(s *sheet) { s.ruler = 0 }, 10},
		{"ruler alone", func(s *sheet) { s.border = 0 }, 10},
		{"neither", func(s *sheet) { s.border, s.ruler = 0, 0 }, 0},
		{"dark lines", func(s *sheet) { s.ink, s.mat = 60, 180 }, 10},
		{"half an inch, a ruler in mm", func(s *sheet) { s.inches(12.7, 8, 0) }, 12.7},
		{"half an inch, its own eighths", func(s *sheet) { s.inches(12.7, 4, 25.4); s.ruler = 0 }, 12.7},
		{"half an inch, its own sixteenths, all alike", func(s *sheet) { s.inches(12.7, 8, 25.4); s.ruler = 0 }, 0},
		{"half an inch, its own sixteenths, inches longer", func(s *sheet) { s.inches(12.7, 8, 25.4); s.ruler, s.atOther = 0, 1.2 }, 12.7},
		{"an inch, a ruler in mm", func(s *sheet) { s.inches(25.4, 16, 0) }, 25.4},
		{"an inch, its own eighths, numbered", func(s *sheet) { s.inches(25.4, 8, 25.4); s.ruler, s.atLine, s.atOther = 0, 1, 1 }, 25.4},
		{"an inch, its own eighths, no figures", func(s *sheet) { s.inches(25.4, 8, 0); s.ruler, s.atLine, s.atOther = 0, 1, 1 }, 0},
		{"an inch, its own eighths, quarters longer, no figures", func(s *sheet) { s.inches(25.4, 8, 0); s.ruler, s.atLine, s.atOther, s.second = 0, 1.5, 1.5, 0.8 }, 0},
		{"an inch, a ruler in sixteenths", func(s *sheet) { s.inches(25.4, 8, 25.4); s.ruler, s.atLine, s.atOther = 25.4/16, 1, 1 }, 25.4},
		{"a ruler along the grid, nothing else", func(s *sheet) { s.border, s.along = 0, true }, 10},
		{"printed two hundredths too large", func(s *sheet) { s.step, s.cols, s.rows = 10.2, 29, 21 }, 10},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := metric()
			tt.change(&s)
			s.cam = s.above(430, 0.06, 0.2, 1320)
			found, ok, err := matgrid.Find(t.Context(), s.photo())
			if err != nil || !ok {
				t.Fatalf("found %v, error %v", ok, err)
			}
			if found.StepMM != tt.step {
				t.Errorf("step %g, want %g (border %d, %d rulers)", found.StepMM, tt.step, found.Border, len(found.Rulers))
			}
			s.check(t, found, s.cols*s.rows/2)
		})
	}
}

// Where nothing says the step for sure, the lines that are heavier say what is likely;
// half inches and half centimetres both have every second so, both kinds of inches every fourth.
func TestHeavy(t *testing.T) {
	tests := []struct {
		name   string
		step   float64
		every  int
		likely float64
	}{
		{"none", 10, 0, 0},
		{"every fifth", 10, 5, 10},
		{"every tenth", 10, 10, 10},
		{"every second", 12.7, 2, 0},
		{"every third", 25.4, 3, 25.4},
		{"every fourth", 12.7, 4, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := metric()
			s.step, s.heavy, s.border, s.ruler = tt.step, tt.every, 0, 0
			s.cols, s.rows = int(300/s.step), int(225/s.step)
			s.cam = s.above(430, 0.06, 0.2, 1320)
			found, ok, err := matgrid.Find(t.Context(), s.photo())
			if err != nil || !ok || found.StepMM != 0 {
				t.Fatalf("found %v, step %g, error %v", ok, found.StepMM, err)
			}
			if found.Heavy != tt.every || found.LikelyMM != tt.likely {
				t.Errorf("one line in %d is heavier, likely %g mm; want %d, %g", found.Heavy, found.LikelyMM, tt.every, tt.likely)
			}
		})
	}
}

// check compares every crossing with where the camera put it: they may all be
// counted from another line, but from one.
func (s sheet) check(t *testing.T, found matgrid.Found, least int) {
	t.Helper()
	if len(found.Crossings) < least {
		t.Errorf("%d crossings, want %d", len(found.Crossings), least)
	}
	var di, dj, n int
	ss := 0.0
	for k, c := range found.Crossings {
		m, _ := s.cam.OnPlane(c.Px, 0)
		i, j := int(math.Round(m.X/s.step/(1+s.longer))), int(math.Round(m.Y/s.step))
		if k == 0 {
			di, dj = i-c.I, j-c.J
		}
		if i-c.I != di || j-c.J != dj {
			t.Fatalf("crossing (%d, %d) lies on (%d, %d), others %d, %d off", c.I, c.J, i, j, di, dj)
		}
		px, _ := s.cam.Project(r3.Vec{X: (1 + s.longer) * s.step * float64(i), Y: s.step * float64(j)})
		ss += r2.Norm2(r2.Sub(px, c.Px))
		n++
	}
	// The goal for photographs is 0.10 px.
	if rms := math.Sqrt(ss / float64(n)); rms > 0.10 {
		t.Errorf("crossings off by %.3f px rms", rms)
	}
}

// A mat of many blots, whose lines stand out little more: a line's middle is taken
// over pieces of it, not cut by cut.
func TestFindBlotted(t *testing.T) {
	s := metric()
	s.ink, s.mat, s.blots, s.ruler = 205, 160, 4, 0
	s.cam = s.above(430, 0.06, 0.2, 1320)
	found, ok, err := matgrid.Find(t.Context(), s.photo())
	if err != nil || !ok {
		t.Fatalf("found %v, error %v", ok, err)
	}
	s.check(t, found, s.cols*s.rows*3/4)
}

// A print longer one way than the other is all found: what foretells crossings
// knows it.
func TestFindUneven(t *testing.T) {
	s := metric()
	s.longer, s.ruler = 0.006, 0
	s.cam = s.above(430, 0.06, 0.2, 1320)
	found, ok, err := matgrid.Find(t.Context(), s.photo())
	if err != nil || !ok {
		t.Fatalf("found %v, error %v", ok, err)
	}
	if found.StepMM != 10 {
		t.Errorf("step %g", found.StepMM)
	}
	s.check(t, found, s.cols*s.rows*9/10)
}

// An inch's grid seen near has few crossings.
func TestFindFew(t *testing.T) {
	s := metric()
	s.step, s.cols, s.rows, s.border = 25.4, 8, 7, 0
	s.cam = s.above(230, 0.06, 0.2, 1320)
	found, ok, err := matgrid.Find(t.Context(), s.photo())
	if err != nil || !ok {
		t.Fatalf("found %v, error %v", ok, err)
	}
	if found.StepMM != 25.4 || len(found.Crossings) > 34 {
		t.Errorf("%d crossings, step %g by %d rows of strokes", len(found.Crossings), found.StepMM, len(found.Rulers))
	}
	s.check(t, found, 25)
}

// What is not a mat must not be taken for one.
func TestFindNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	pictures := map[string]func(x, y int) float64{
		"noise":  func(int, int) float64 { return 128 + 30*rng.NormFloat64() },
		"grain":  func(x, y int) float64 { return 120 + 60*math.Sin(float64(y)*0.4+0.01*float64(x)) },
		"black":  func(int, int) float64 { return 0 },
		"planks": func(x, y int) float64 { return float64(80 + 60*(y/60%2) + 10*(x/700%2)) },
	}
	for name, tone := range pictures {
		p := matgrid.Picture{W: 1000, H: 700, RGB: make([]uint8, 3*1000*700)}
		for i := range 1000 * 700 {
			v := uint8(min(255, max(0, tone(i%1000, i/1000))))
			p.RGB[3*i], p.RGB[3*i+1], p.RGB[3*i+2] = v, v, v
		}
		if found, ok, err := matgrid.Find(t.Context(), p); ok || err != nil {
			t.Errorf("%s: %d crossings found, error %v", name, len(found.Crossings), err)
		}
	}
}

// A ruler's strokes are numbered along it without a slip.
func TestRuler(t *testing.T) {
	s := metric()
	s.cam = s.above(430, 0.1, -0.4, 1320)
	found, ok, err := matgrid.Find(t.Context(), s.photo())
	if !ok || err != nil || len(found.Rulers) == 0 {
		t.Fatalf("found %v, %d rulers, error %v", ok, len(found.Rulers), err)
	}
	for _, row := range found.Rulers {
		first := row.Kept[0]
		a, _ := s.cam.OnPlane(first.Px, 0)
		for _, k := range row.Kept[1:] {
			b, _ := s.cam.OnPlane(k.Px, 0)
			if d := r3.Norm(r3.Sub(a, b)); math.Abs(d-math.Abs(float64(k.Number-first.Number))) > 0.03 {
				t.Errorf("strokes %d and %d lie %.3f mm apart", first.Number, k.Number, d)
			}
		}
	}
}

func TestFindAnyCores(t *testing.T) {
	s := metric()
	s.cam = s.above(430, 0.06, 0.2, 1320)
	photo := s.photo()
	var got [2]matgrid.Found
	for k, n := range []int{1, 5} {
		old := runtime.GOMAXPROCS(n)
		got[k], _, _ = matgrid.Find(t.Context(), photo)
		runtime.GOMAXPROCS(old)
	}
	if diff := cmp.Diff(got[0], got[1]); diff != "" {
		t.Error(diff)
	}
}
