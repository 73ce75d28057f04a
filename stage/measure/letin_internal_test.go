package measure

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// seenFrom is the outline of a body, walked with the inside on the known hand.
func seenFrom(b body, a axis, cam *camera.Camera) []r2.Vec {
	outline := resample(outlineSeen(b, a, cam), 1)
	if area(outline) < 0 {
		slices.Reverse(outline)
	}
	return outline
}

// viewOf is a view whose edge is an outline.
func viewOf(outline []r2.Vec, cam *camera.Camera) view {
	v := view{cam, make([]edgePoint, len(outline)), nil}
	for i, at := range outline {
		_, dir := tangent(outline, i, 5)
		v.edge[i] = edgePoint{at: at, out: outwards(dir), sigma: 0.1, good: true}
	}
	v.sight = sights(cam, v.edge)
	return v
}

// overMat is the camera of plainMat.
func overMat() *camera.Camera {
	cam := &camera.Camera{F: 1000, Cx: 499.5, Cy: 374.5, C: r3.Vec{X: 200, Y: 150, Z: 400}}
	cam.R = [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	return cam
}

// A groove of ten by six pixels that the outline runs over is found where both sides show the
// mat in it, and the edge sought again goes in.
func TestGrooveLetIn(t *testing.T) {
	cam := overMat()
	b := body{{s: 0, r: 16}, {s: 120, r: 16}}
	a := axis{r3.Vec{X: 140, Y: 150, Z: 16}, r3.Vec{X: 1}}
	outline := seenFrom(b, a, cam)
	half := 0.0
	for _, p := range outline {
		half = max(half, math.Abs(p.Y-cam.Cy))
	}
	for name, c := range map[string]struct {
		deep       float64 // pixels
		from, to   float64 // pixels along the body
		first, too bool    // the sides that have it
		want       int
	}{
		"a groove":      {6, 500, 510, true, true, 1},
		"over a line":   {6, 519, 531, true, true, 1},
		"one side":      {6, 500, 510, true, false, 0},
		"a scratch":     {1, 500, 510, true, true, 0},
		"a wide trough": {6, 500, 540, true, true, 0},
		"a deep cut":    {12, 500, 507, true, true, 0},
	} {
		m := plainMat(func(mm r2.Vec) (float64, bool) {
			px, _ := cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
			side := c.first && px.Y < cam.Cy || c.too && px.Y > cam.Cy
			cut := side && px.X > c.from && px.X < c.to && math.Abs(px.Y-cam.Cy) > half-c.deep
			return 30, within(outline, px) && !cut
		})
		o := solution{axis: a, form: form{[]joint{{0, 16}, {120, 16}}, make([]span, 1)}, skip: make([]bool, len(outline))}
		v := viewOf(outline, cam)
		found := m.missed(v, &o, outline)
		if len(found) != c.want {
			t.Errorf("%s: %d grooves, want %d", name, len(found), c.want)
			continue
		}
		edge, err := m.alongside(t.Context(), v, &o)
		if err != nil {
			t.Fatal(err)
		}
		in := 0
		for _, e := range edge {
			if e.at.X > c.from && e.at.X < c.to && math.Abs(math.Abs(e.at.Y-cam.Cy)-(half-c.deep)) < 1 {
				in++
			}
		}
		if c.want > 0 {
			mm := mmPerPixel(v, a)
			if g := found[0]; math.Abs(g.deep/mm-c.deep) > 1 || math.Abs((g.to-g.from)/mm-(c.to-c.from)) > 3 {
				t.Errorf("%s: %.1f px deep and %.1f wide, want %.0f and %.0f", name, g.deep/mm, (g.to-g.from)/mm, c.deep, c.to-c.from)
			}
			if in < 8 {
				t.Errorf("%s: %d points of the edge lie at its floor", name, in)
			}
		}
	}
}

// A needle ends where what lies between its sides is the mat, wherever its end was found: short
// of there, or farther out.
func TestNeedleEnd(t *testing.T) {
	cam := overMat()
	b := body{{s: 0, r: 1}, {s: 60, r: 16}, {s: 120, r: 16}}
	a := axis{r3.Vec{X: 140, Y: 155, Z: 16}, r3.Vec{X: 1}}
	outline := seenFrom(b, a, cam)
	m := plainMat(func(mm r2.Vec) (float64, bool) {
		px, _ := cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
		return 60, within(outline, px)
	})
	v := viewOf(outline, cam)
	for _, end := range []float64{-3, 0, 5} {
		o := solution{axis: a, form: form{[]joint{{end, 1 + end/4}, {60, 16}, {120, 16}}, make([]span, 2)}}
		n, ok := o.form.needleOf(false)
		if !ok {
			t.Fatalf("%v: no needle", end)
		}
		s, elsewhere := m.needleEnd(v, &o, &n)
		if math.Abs(s) > 0.6 || elsewhere != (end != 0) {
			t.Errorf("found at %v it ends at %.2f, elsewhere %v", end, s, elsewhere)
		}
		pts := m.needled(v, &o, outline)
		if j := o.form.joints[0]; math.Abs(j.s) > 0.6 || math.Abs(j.r-1) > 0.2 || len(o.form.joints) != 3 {
			t.Errorf("found at %v its outline becomes %v", end, o.form.joints)
		}
		tip, _ := cam.Project(r3.Add(a.p, r3.Vec{X: o.form.joints[0].s}))
		near := math.Inf(1)
		for _, p := range pts {
			near = min(near, r2.Norm(r2.Sub(p, tip)))
		}
		if near > 3 {
			t.Errorf("found at %v the line drawn passes its end by %.1f px", end, near)
		}
	}
	short := form{[]joint{{5, 2.25}, {16, 5}, {60, 16}, {120, 16}}, make([]span, 3)}
	n, ok := short.needleOf(false)
	if _, elsewhere := m.needleEnd(v, &solution{axis: a, form: short}, &n); !ok || elsewhere {
		t.Errorf("a side of 11 mm tells of 5 mm beyond its end: needle %v", ok)
	}
	if _, ok := (&form{[]joint{{0, 12}, {120, 16}}, make([]span, 1)}).needleOf(false); ok {
		t.Error("a cone with a broad end is none")
	}
}

// At an end no face is left but its own.
func TestFlush(t *testing.T) {
	face := span{kind: faceSpan}
	for name, c := range map[string]struct {
		joints []joint
		spans  []span
		want   []joint
	}{
		"a disc of no thickness at an end": {[]joint{{0, 124}, {0, 18}, {50, 18}}, []span{face, {}}, []joint{{0, 18}, {50, 18}}},
		"at the other":                     {[]joint{{0, 18}, {50, 18}, {50, 20}}, []span{{}, face}, []joint{{0, 18}, {50, 18}}},
		"two":                              {[]joint{{0, 9}, {0, 30}, {0, 18}, {50, 18}}, []span{face, face, {}}, []joint{{0, 18}, {50, 18}}},
		"a step":                           {[]joint{{0, 18}, {50, 18}, {50, 12}, {80, 12}}, []span{{}, face, {}}, []joint{{0, 18}, {50, 18}, {50, 12}, {80, 12}}},
	} {
		f := form{c.joints, c.spans}
		n := len(c.joints)
		if f.flush() != (len(c.want) < n) || len(f.joints) != len(c.want) || len(f.spans) != len(c.want)-1 {
			t.Errorf("%s: %v %v", name, f.joints, f.spans)
			continue
		}
		for i, j := range c.want {
			if f.joints[i] != j {
				t.Errorf("%s: %v, want %v", name, f.joints, c.want)
				break
			}
		}
	}
}
