package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"scalewright/craft/camera"
	"scalewright/finding"
)

// The doubt by parallax is the change of the radius when what it hangs on is changed:
// r = (H - h)·q for an edge seen under q = w/H from straight above an axis at h.
func TestParallaxDoubt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(120, 1200).Draw(t, "height")
		r := rapid.Float64Range(2, 60).Draw(t, "radius")
		q := r / (h - r)
		const d = 1e-4
		axis := math.Abs((h-(r+d))*q-(h-r)*q) / d
		if got := parallaxDoubt(r, h, 1, 0); math.Abs(got/axis-1) > 1e-3 {
			t.Errorf("a millimetre of height is %g of radius, by differences %g", got, axis)
		}
		// The scale on the mat stays: the edge's ray meets it w from below the axis, and
		// at the height r of the axis it is w·(1 - r/H) from there.
		w := r * h / (h - r)
		moved := w*(1-r/(h*(1+d))) - w*(1-r/h)
		if got := parallaxDoubt(r, h, 0, d); math.Abs(got/moved-1) > 1e-3 {
			t.Errorf("a share of %g of the camera's height is %g of radius, by differences %g", d, got, moved)
		}
		u, uc := rapid.Float64Range(0.01, 0.5).Draw(t, "axis"), rapid.Float64Range(0, 0.05).Draw(t, "camera")
		enough := heightFor(r, u, uc, parallaxMost)
		if at := parallaxDoubt(r, enough, u, uc) / r; math.Abs(at/parallaxMost-1) > 1e-9 {
			t.Errorf("from %g mm the doubt is %g of the radius, want %g", enough, at, parallaxMost)
		}
	})
}

// A step blurred by a normal distribution is read to a twentieth, a line is none.
func TestRise(t *testing.T) {
	const w, h = 200, 60
	step := func(sigma float64, line bool) *picture {
		p := &picture{w: w, h: h, rgb: make([]uint8, 3*w*h)}
		for i := range w * h {
			x := float64(i%w) - 100
			v := 0.1 + 0.6*0.5*math.Erfc(-x/sigma/math.Sqrt2)
			if line {
				v = 0.1 + 0.6*math.Exp(-x*x/2/sigma/sigma)
			}
			s := 1.055*math.Pow(v, 1/2.4) - 0.055 // IEC 61966-2-1
			for c := range 3 {
				p.rgb[3*i+c] = uint8(math.Round(255 * s))
			}
		}
		return p
	}
	for _, sigma := range []float64{0.8, 1.5, 3, 4.5} {
		p := step(sigma, false)
		got, ok := p.rise(r2.Vec{X: 101, Y: 30}, r2.Vec{X: 1})
		if want := math.Hypot(sigma, 0.15); !ok || math.Abs(got/want-1) > 0.06 {
			t.Errorf("blur %g is read as %g, %v", sigma, got, ok)
		}
		if all, ok, err := p.blur(t.Context()); err != nil || ok {
			t.Errorf("blur %g from one tile, %v", all, err)
		}
		if got, ok := step(sigma, true).rise(r2.Vec{X: 101, Y: 30}, r2.Vec{X: 1}); ok {
			t.Errorf("a line of width %g is read as a step of %g", sigma, got)
		}
	}
}

// How far over the grid, and whether out of the picture, is said of an edge alone.
func TestInside(t *testing.T) {
	fit := camera.Fitted{Camera: camera.Camera{
		F: 1000, Cx: 499.5, Cy: 399.5, C: r3.Vec{X: 100, Y: 80, Z: 500},
		R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
	}, Scale: [2]float64{1, 1}}
	var marks []camera.Mark
	for _, q := range [4]r2.Vec{{}, {X: 200}, {X: 200, Y: 160}, {Y: 160}} {
		px, _ := fit.Project(r3.Vec{X: q.X, Y: q.Y})
		marks = append(marks, camera.Mark{Px: px, Mm: q})
	}
	p := &picture{w: 1000, h: 800}
	place := func(x, y float64) edgePoint {
		px, _ := fit.Project(r3.Vec{X: x, Y: y})
		return edgePoint{at: px, good: true}
	}
	for _, tt := range []struct {
		name string
		edge []edgePoint
		want finding.Code
		over float64
	}{
		{"within", []edgePoint{place(10, 80), place(190, 150)}, "", 0},
		{"a little over", []edgePoint{place(100, 80), place(209, 80)}, "", 0},
		{"over", []edgePoint{place(100, 80), place(220, 80)}, "object-over-mat", 20},
		{"over the upper right corner", []edgePoint{place(100, 80), place(213, 190)}, "object-over-mat", 30},
		{"cut off", []edgePoint{place(100, 80), {at: r2.Vec{X: 997, Y: 300}, good: true}}, "object-cut-off", 0},
	} {
		var list finding.List
		checkInside(p, &fit, marks, 0, tt.edge, Input{}, &list)
		switch {
		case tt.want == "" && len(list) == 0:
		case len(list) != 1 || list[0].Code != tt.want:
			t.Errorf("%s: findings %v, want %q", tt.name, list, tt.want)
		case tt.over > 0 && math.Abs(float64(list[0].Args["over"].(finding.Long))-tt.over) > 0.01:
			t.Errorf("%s: %v over, want %g", tt.name, list[0].Args["over"], tt.over)
		}
	}
}
