package main

import (
	"image"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/internal/photograph"
	"scalewright/stage/measure"
)

// drawn is a small drawn photograph as a sample.
func drawn(t *testing.T, seed uint64) *sample {
	t.Helper()
	scene := photograph.Seeded(seed).Sized(1200)
	photo, truth, err := scene.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return &sample{name: scene.Name, photo: photo, truth: truth, mask: truth.Coverage, traps: scene.Traps}
}

// told is the result that knows the truth.
func told(s *sample) measure.Result {
	o := &s.truth.Object
	r := measure.Result{Length: measure.Length{Value: o.Length, U: 0.1}, Axis: measure.Axis{StartMM: o.Start, EndMM: o.End}}
	r.Grid = measure.Grid{Found: true, PitchMM: s.truth.Mat.Pitch}
	for k := 0.0; k <= o.Length; k += 0.5 {
		r.Profile = append(r.Profile, measure.Point{Station: k, Radius: s.at(k), U: 0.1})
	}
	for _, g := range o.Segments {
		seg := measure.Segment{Kind: g.Kind, From: [2]float64{g.S0, g.R0}, To: [2]float64{g.S1, g.R1}}
		if g.Kind == "arc" {
			seg.Centre, seg.Radius = &[2]float64{*g.CS, *g.CR}, *g.R
		}
		r.Segments = append(r.Segments, seg)
	}
	return r
}

func TestTruthScoresFull(t *testing.T) {
	for _, seed := range []uint64{3, 8, 14, 16} {
		s := drawn(t, seed)
		got := scoreOf(s, s.input(false), told(s), nil)
		for _, c := range []struct {
			name string
			v    float64
			want float64
		}{
			{"pitch", got.Pitch, 1},
			{"radius rms", got.RMS, 0},
			{"radius worst", got.Worst, 0},
			{"length", got.Length, 0},
			{"corner station", got.CornerS, 0},
			{"corner radius", got.CornerR, 0},
			{"kinds", got.Kinds, 100},
			{"spurious", got.Spurious, 0},
			{"inside", got.Inside, 100},
			{"silent", got.Silent, 0},
		} {
			if math.Abs(c.v-c.want) > 1e-9 {
				t.Errorf("seed %d: %s of the truth itself is %v, want %v", seed, c.name, c.v, c.want)
			}
		}
		if len(s.truth.Object.Fins) == 0 && (got.Height > 1e-9 || got.Slope > 1e-9) {
			t.Errorf("seed %d: axis of the truth itself is off by %v mm, %v°", seed, got.Height, got.Slope)
		}
	}
}

// What is wrong and not said is a silent fault; said, it is none.
func TestSilentFault(t *testing.T) {
	s := drawn(t, 8)
	r := told(s)
	r.Length.Value *= 1.02
	if got := scoreOf(s, s.input(false), r, nil); got.Silent != 1 {
		t.Error("a length 2 % too long was not called a silent fault")
	}
	r = told(s)
	r.Grid.PitchMM *= 1.27
	if got := scoreOf(s, s.input(false), r, nil); got.Silent != 1 || got.Pitch != 0 {
		t.Error("a wrong pitch was not called a silent fault")
	}
}

// A result counted from the other end is the same result.
func TestTurnedRound(t *testing.T) {
	s := drawn(t, 14)
	r := told(s)
	for i := range r.Profile {
		r.Profile[i].Station = s.truth.Object.Length - r.Profile[i].Station
	}
	if got := scoreOf(s, s.input(false), r, nil); got.RMS > 1e-9 {
		t.Errorf("turned round, the truth is off by %v mm rms", got.RMS)
	}
}

func TestRigid(t *testing.T) {
	sin, cos := math.Sincos(2)
	var a, b []r2.Vec
	for k := range 10 {
		p := r2.Vec{X: float64(k * k % 7), Y: float64(k)}
		a, b = append(a, p), append(b, r2.Vec{X: cos*p.X - sin*p.Y + 5, Y: sin*p.X + cos*p.Y - 3})
	}
	if got := rigid(a, b); got > 1e-12 {
		t.Errorf("moved points are %v apart", got)
	}
	for i := range b {
		b[i] = r2.Scale(1.01, b[i])
	}
	if got := rigid(a, b); got < 0.01 {
		t.Errorf("points 1 %% larger are %v apart", got)
	}
}

// A disc against its own outline: shared area whole, edges together.
func TestFillAndEdge(t *testing.T) {
	mask := image.NewGray(image.Rect(0, 0, 120, 100))
	var line [][2]float64
	for k := range 720 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 360)
		line = append(line, [2]float64{60.3 + 30*cos, 48.7 + 30*sin})
	}
	area := 0.0
	row := make([]float64, 120)
	for y := range 100 {
		fillRow(line, float64(y), row)
		for x, v := range row {
			area += v
			mask.Pix[y*mask.Stride+x] = uint8(math.Round(255 * v))
		}
	}
	if want := math.Pi * 900; math.Abs(area/want-1) > 1e-3 {
		t.Errorf("area %.2f, want %.2f", area, want)
	}
	for _, p := range edgeOf(mask) {
		if off := math.Abs(math.Hypot(p[0]-60.3, p[1]-48.7) - 30); off > 0.16 {
			t.Fatalf("an edge point %.3f px off the circle", off)
		}
	}
}

// What a misprinted mat alone cannot tell is no fault.
func TestMisprintedMatAlone(t *testing.T) {
	s := drawn(t, 18) // its twenty seeds' misprinted mat without a ruler
	if s.guessable() {
		t.Fatal("seed 18 has a ruler, or a true mat")
	}
	r := told(s)
	r.Length.Value *= 1.02
	if got := scoreOf(s, s.input(false), r, nil); got.Silent != 0 || !math.IsNaN(got.Length) || !math.IsNaN(got.RMS) {
		t.Errorf("silent %v, length %v, radius %v, want 0 and no figures", got.Silent, got.Length, got.RMS)
	}
}

// A ruler beside the picture tells no scale.
func TestRulerOutOfPicture(t *testing.T) {
	s := &sample{}
	s.truth.Size = [2]int{3000, 2250}
	s.truth.Camera = photograph.TruthCamera{
		F: 2000, Cx: 1500, Cy: 1125, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, Centre: [3]float64{0, 0, 500},
	}
	s.truth.Mat.Scale = [2]float64{1.01, 1.01}
	s.truth.Ruler.Present = true
	for y, want := range map[float64]bool{0: true, 400: false} {
		s.truth.Ruler.Pose = &photograph.RulerPose{P: [2]float64{-150, y}}
		if got := s.guessable(); got != want {
			t.Errorf("a ruler %g mm from the middle: scale told %v, want %v", y, got, want)
		}
	}
}
