package photograph

import (
	"bytes"
	"image"
	_ "image/jpeg"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/bep/imagemeta"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// Two cameras written apart, both after OpenCV's convention, must agree.
func TestLensAgreesWithCraftCamera(t *testing.T) {
	for seed := range uint64(20) {
		s := Seeded(seed)
		l := &s.lens
		other := camera.Camera{F: l.f, Cx: l.cx, Cy: l.cy, K1: l.k1, K2: l.k2, C: l.c}
		for i, r := range l.r {
			other.R[i] = array(r)
		}
		rng := rand.New(rand.NewPCG(seed, 1))
		for range 50 {
			u, v := rng.Float64()*float64(s.w), rng.Float64()*float64(s.h)
			z := rng.Float64() * 50
			x, y := l.ground(u, v, z)
			p, ok := other.OnPlane(r2.Vec{X: u, Y: v}, z)
			if !ok || math.Hypot(p.X-x, p.Y-y) > 1e-6 {
				t.Fatalf("seed %d, pixel (%.1f, %.1f) at %.1f mm: (%.6f, %.6f), craft/camera says %v", seed, u, v, z, x, y, p)
			}
			px, ok := other.Project(p)
			u1, v1 := l.project(p)
			if !ok || math.Hypot(px.X-u1, px.Y-v1) > 1e-9 || math.Hypot(u1-u, v1-v) > 1e-6 {
				t.Fatalf("seed %d: (%.6f, %.6f) comes back as (%.6f, %.6f) and %v", seed, u, v, u1, v1, px)
			}
		}
	}
}

// A cylinder of radius r straight below a camera at height H, its axis at h, is
// seen as wide on the mat as its two tangent planes: H·r/√((H-h)²-r²).
func TestCylinderSeenFromAbove(t *testing.T) {
	for _, c := range [][3]float64{{350, 30, 30}, {500, 10, 12}, {900, 25, 40}} {
		high, r, h := c[0], c[1], c[2]
		b := newBody(shape{segs: startAt(r).lineTo(100, r).lineTo(100, 0).segs})
		b.lay(0, 0, 0)
		b.p0.Z = h
		eye := r3.Vec{Z: high}
		lo, hi := 0.0, 3*r
		for range 60 {
			y := (lo + hi) / 2
			if _, ok := b.meet(b.own(eye), b.ownDir(r3.Sub(r3.Vec{Y: y}, eye))); ok {
				lo = y
			} else {
				hi = y
			}
		}
		want := high * r / math.Sqrt((high-h)*(high-h)-r*r)
		if math.Abs(lo-want) > 1e-6 {
			t.Errorf("H %v, r %v, h %v: half width %.7f, want %.7f", high, r, h, lo, want)
		}
	}
}

// A body at rest touches the mat in two places with its weight between, and
// passes through it nowhere.
func TestRest(t *testing.T) {
	for seed := range uint64(60) {
		s := Seeded(seed)
		low, touching := math.Inf(1), []float64{}
		for _, p := range s.body.supports() {
			z := s.body.p0.Z + p.s*math.Sin(s.body.dip) - p.down*math.Cos(s.body.dip)
			low = min(low, z)
			if z < 1e-9 {
				touching = append(touching, p.s)
			}
		}
		if low < -1e-9 || len(touching) == 0 {
			t.Fatalf("seed %d: lowest point at %.2g mm, touching at %v", seed, low, touching)
		}
		if at := s.body.weight(); slices.Min(touching) > at || slices.Max(touching) < at {
			t.Errorf("seed %d: weight at %.1f, touching at %v", seed, at, touching)
		}
		for _, p := range s.body.hull() {
			if p.Z < -1e-6 {
				t.Fatalf("seed %d: a point at %.4f mm", seed, p.Z)
			}
		}
	}
}

// inside is whether a point of the body's own coordinates lies in it, straight from
// the definitions of profile, fins and plates.
func inside(b *body, p r3.Vec) bool {
	if p.X >= 0 && p.X <= b.length && math.Hypot(p.Y, p.Z) < radiusAt(b.segs, p.X) {
		return true
	}
	for _, f := range b.fins {
		sin, cos := math.Sincos(f.clock)
		out, across := p.Y*cos+p.Z*sin, p.Z*cos-p.Y*sin
		if math.Abs(across) < f.thick/2 && inPolygon(f.poly, p.X, out) {
			return true
		}
	}
	for _, q := range b.plates {
		in := p.X > q.s0 && p.X < q.s1
		for k := range q.sides {
			sin, cos := math.Sincos(q.clock + 2*math.Pi*float64(k)/float64(q.sides))
			in = in && p.Y*cos+p.Z*sin < q.apothem
		}
		if in {
			return true
		}
	}
	return false
}

// inPolygon counts crossings of a ray to the right.
func inPolygon(poly [][2]float64, x, y float64) (in bool) {
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// The mask agrees with rays walked in small steps.
func TestMaskAgreesWithMarchedRays(t *testing.T) {
	for seed := range uint64(6) {
		s := Seeded(14 + 7*seed).Sized(640)
		_, truth, err := s.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		x0, y0, x1, y1 := s.frame()
		rng := rand.New(rand.NewPCG(seed, 5))
		seen := 0
		for range 600 {
			u, v := x0+rng.IntN(x1-x0), y0+rng.IntN(y1-y0)
			covered := truth.Coverage.GrayAt(u, v).Y
			if covered > 0 && covered < 255 {
				continue // an edge: what its middle shows is not the question
			}
			d := unit(s.lens.ray(float64(u), float64(v)))
			met := false
			const step = 0.05
			for z := 80.0; z > -1 && !met; z -= step {
				p := r3.Add(s.lens.c, r3.Scale((z-s.lens.c.Z)/d.Z, d))
				met = inside(s.body, s.body.own(p))
			}
			if met {
				seen++
			}
			if met != (covered == 255) {
				t.Errorf("seed %d: pixel (%d, %d) covered %d, marched ray met %v", s.Seed, u, v, covered, met)
			}
		}
		if seen < 20 {
			t.Errorf("seed %d: only %d rays met the body", s.Seed, seen)
		}
	}
}

// What a reader of EXIF finds is what the scene says, and the picture turned by it
// is the upright one.
func TestFile(t *testing.T) {
	turned := map[int]bool{}
	for seed := range uint64(40) {
		s := Seeded(seed)
		if turned[s.orientation] {
			continue
		}
		turned[s.orientation] = true
		s = s.Sized(400)
		file, truth, err := s.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		img, _, err := image.Decode(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		w, h := img.Bounds().Dx(), img.Bounds().Dy()
		if s.orientation >= 5 {
			w, h = h, w
		}
		if [2]int{w, h} != truth.Size {
			t.Errorf("orientation %d: upright %d × %d, truth %v", s.orientation, w, h, truth.Size)
		}
		got := map[string]int{}
		_, err = imagemeta.Decode(imagemeta.Options{
			R: bytes.NewReader(file), ImageFormat: imagemeta.JPEG, Sources: imagemeta.EXIF, Warnf: t.Errorf,
			HandleTag: func(tag imagemeta.TagInfo) error {
				switch v := tag.Value.(type) {
				case uint16:
					got[tag.Tag] = int(v)
				case uint32:
					got[tag.Tag] = int(v)
				}
				return nil
			},
		})
		if err != nil {
			t.Fatal(err)
		}
		if got["Orientation"] != s.orientation || got["FocalLengthIn35mmFormat"] != s.f35 {
			t.Errorf("EXIF %v, want orientation %d and %d mm", got, s.orientation, s.f35)
		}
	}
	for _, o := range []int{1, 3, 6, 8} {
		if !turned[o] {
			t.Errorf("no seed of the first forty has orientation %d", o)
		}
	}
}

func TestStoredIsUndone(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 5, 3))
	for k := range img.Pix {
		img.Pix[k] = uint8(k)
	}
	// Exif 2.32, tag 274: in the file, row 0 and column 0 are the scene's top and left
	// for 1, bottom and right for 3, right and top for 6, left and bottom for 8.
	for o, want := range map[int][2]int{1: {0, 0}, 3: {4, 2}, 6: {4, 0}, 8: {0, 2}} {
		if got := stored(img, o).RGBAAt(0, 0); got != img.RGBAAt(want[0], want[1]) {
			t.Errorf("orientation %d: first pixel %v, want that of %v", o, got, want)
		}
	}
}

func TestEveryTrapInTwentySeeds(t *testing.T) {
	for from := uint64(1); from <= 100; from += uint64(len(forced)) {
		have := map[string]bool{}
		for k := range uint64(len(forced)) {
			for _, trap := range Seeded(from + k).Traps {
				have[trap] = true
			}
		}
		for _, trap := range forced {
			if !have[trap] {
				t.Errorf("seeds %d to %d have no %q", from, from+uint64(len(forced))-1, trap)
			}
		}
	}
}

func TestSameSeedSameBytes(t *testing.T) {
	a, _, err := Seeded(3).Sized(300).Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b, _, err := Seeded(3).Sized(300).Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a, b) {
		t.Error("the same seed gave two pictures")
	}
}

// What is drawn lies where the truth says: the ink's middle across a line, beside a
// crossing, is the line through that crossing and the next.
func TestLinesLieWhereTruthSays(t *testing.T) {
	s := Seeded(1) // a grey mat, its print bright
	s.film.shot, s.film.read = 0, 0
	s.mat.prints, s.mat.words, s.mat.texture, s.mat.blots = nil, nil, 0, 0
	s.quality = 100
	file, truth, err := s.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	img, _, err := image.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	stored := img.(*image.YCbCr)
	grey := func(x, y int) float64 {
		w, h := truth.Size[0], truth.Size[1]
		switch s.orientation { // Exif 2.32, tag 274, from upright to the file
		case 3:
			x, y = w-1-x, h-1-y
		case 6:
			x, y = y, w-1-x
		case 8:
			x, y = h-1-y, x
		}
		return float64(stored.Y[stored.YOffset(x, y)])
	}
	at := map[[2]int][2]float64{}
	for _, c := range truth.Mat.Crossings {
		if c.Visible {
			at[[2]int{c.I, c.J}] = c.Px
		}
	}
	n, ss, sum := 0, 0.0, 0.0
	for _, from := range truth.Mat.Crossings {
		a, ok1 := at[[2]int{from.I, from.J}]
		b, ok2 := at[[2]int{from.I + 1, from.J}]
		if !ok1 || !ok2 {
			continue
		}
		// Half way between two crossings of one line, straight down or across the picture.
		mx, my := (a[0]+b[0])/2, (a[1]+b[1])/2
		down := math.Abs(b[0]-a[0]) > math.Abs(b[1]-a[1])
		slope := (b[1] - a[1]) / (b[0] - a[0])
		main, cross := int(math.Round(mx)), my
		if down {
			cross += slope * (float64(main) - mx)
		} else {
			main = int(math.Round(my))
			cross = mx + (float64(main)-my)/slope
		}
		const reach = 9
		lo := int(math.Round(cross)) - reach
		if lo < 0 || main < 0 || lo+2*reach >= min(truth.Size[0], truth.Size[1]) {
			continue
		}
		var v [2*reach + 1]float64
		for k := range v {
			if down {
				v[k] = grey(main, lo+k)
			} else {
				v[k] = grey(lo+k, main)
			}
		}
		base := (v[0] + v[1] + v[2*reach-1] + v[2*reach]) / 4
		var m, mx1 float64
		for k, x := range v {
			m += x - base
			mx1 += (x - base) * float64(lo+k)
		}
		if m < 60 || math.Abs(v[0]-v[2*reach]) > 6 { // a shadow or the body's edge beside it
			continue
		}
		off := mx1/m - cross
		n, ss, sum = n+1, ss+off*off, sum+off
	}
	t.Logf("%d lines, rms %.4f px, mean %+.4f px", n, math.Sqrt(ss/float64(n)), sum/float64(n))
	if n < 50 || math.Sqrt(ss/float64(n)) > 0.05 || math.Abs(sum/float64(n)) > 0.02 {
		t.Errorf("%d lines, rms %.4f px, mean %+.4f px", n, math.Sqrt(ss/float64(n)), sum/float64(n))
	}
}
