package measure_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/model"
	"scalewright/stage/measure"
)

// thing is a flat thing on the mat: a closed path of lines and arcs, mm.
type thing struct {
	path   []measure.Segment
	colour color.RGBA
	thick  float64
}

func line(x0, y0, x1, y1 float64) measure.Segment {
	return measure.Segment{Kind: "line", From: [2]float64{x0, y0}, To: [2]float64{x1, y1}}
}

func arc(x0, y0, x1, y1, cx, cy float64) measure.Segment {
	return measure.Segment{
		Kind: "arc", From: [2]float64{x0, y0}, To: [2]float64{x1, y1},
		Centre: &[2]float64{cx, cy}, Radius: math.Hypot(x0-cx, y0-cy),
	}
}

// circle is three arcs of a third each.
func circle(x, y, r float64) (path []measure.Segment) {
	at := func(i int) (float64, float64) {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 3)
		return x + r*cos, y + r*sin
	}
	for i := range 3 {
		x0, y0 := at(i)
		x1, y1 := at(i + 1)
		path = append(path, arc(x0, y0, x1, y1, x, y))
	}
	return path
}

// points are places along a path, about so far apart, mm.
func points(path []measure.Segment, apart float64) (out [][2]float64) {
	for _, s := range path {
		long := math.Hypot(s.To[0]-s.From[0], s.To[1]-s.From[1])
		from, turn := 0.0, 0.0
		if s.Centre != nil {
			from = math.Atan2(s.From[1]-s.Centre[1], s.From[0]-s.Centre[0])
			to := math.Atan2(s.To[1]-s.Centre[1], s.To[0]-s.Centre[0])
			turn = math.Remainder(to-from, 2*math.Pi)
			long = math.Abs(turn) * s.Radius
		}
		n := max(1, int(long/apart))
		for i := range n {
			t := float64(i) / float64(n)
			p := [2]float64{s.From[0] + t*(s.To[0]-s.From[0]), s.From[1] + t*(s.To[1]-s.From[1])}
			if s.Centre != nil {
				a := from + t*turn
				p = [2]float64{s.Centre[0] + s.Radius*math.Cos(a), s.Centre[1] + s.Radius*math.Sin(a)}
			}
			out = append(out, p)
		}
	}
	return out
}

// holds reports whether a place lies in a closed polygon, by crossings.
func holds(polygon [][2]float64, x, y float64) (in bool) {
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// tilted is a camera with k1 that looks at (150, 100) of the mat from 420 mm.
func tilted() camera.Camera {
	cam := camera.Camera{
		F: camera.FocalPixels(26, 1600, 1200), Cx: 799.5, Cy: 599.5,
		R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
	}
	var d [camera.Params]float64
	d[3], d[5], d[6], d[7] = -0.025, 0.05, -0.03, 0.1
	cam = cam.Nudge(d)
	z := r3.Vec{X: cam.R[2][0], Y: cam.R[2][1], Z: cam.R[2][2]}
	cam.C = r3.Sub(r3.Vec{X: 150, Y: 100}, r3.Scale(-420/z.Z, z))
	return cam
}

// heights are the heights at which a plate is asked for.
func heights(thick float64) []float64 {
	if thick == 0 {
		return []float64{0}
	}
	return []float64{0, thick / 2, thick}
}

// photograph draws things on a green mat with a grid of light lines, and gives the
// marks of its crossings. Four samples a pixel are averaged in linear light.
func photograph(t testing.TB, cam camera.Camera, things []thing) ([]byte, model.Marks) {
	t.Helper()
	const w, h = 1600, 1200
	polygons := make([][][2]float64, len(things))
	boxes := make([][4]float64, len(things))
	for k, th := range things {
		polygons[k] = points(th.path, 0.5)
		boxes[k] = [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range polygons[k] {
			boxes[k] = [4]float64{min(boxes[k][0], p[0]), min(boxes[k][1], p[1]), max(boxes[k][2], p[0]), max(boxes[k][3], p[1])}
		}
	}
	seen := func(px, py float64) color.RGBA {
		m, _ := cam.OnPlane(r2.Vec{X: px, Y: py}, 0)
		for k, b := range boxes {
			// A ray meets a plate where it lies inside its outline at some height.
			for _, z := range heights(things[k].thick) {
				q, _ := cam.OnPlane(r2.Vec{X: px, Y: py}, z)
				if q.X >= b[0] && q.X <= b[2] && q.Y >= b[1] && q.Y <= b[3] && holds(polygons[k], q.X, q.Y) {
					return things[k].colour
				}
			}
		}
		if math.Abs(m.X-10*math.Round(m.X/10)) < 0.15 || math.Abs(m.Y-10*math.Round(m.Y/10)) < 0.15 {
			return color.RGBA{190, 205, 150, 255}
		}
		return color.RGBA{38, 96, 70, 255}
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	lin := func(v uint8) float64 { return math.Pow(float64(v)/255, 2.2) }
	for y := range h {
		for x := range w {
			var sum [3]float64
			for _, s := range [4][2]float64{{-.25, -.25}, {.25, -.25}, {-.25, .25}, {.25, .25}} {
				c := seen(float64(x)+s[0], float64(y)+s[1])
				sum[0], sum[1], sum[2] = sum[0]+lin(c.R)/4, sum[1]+lin(c.G)/4, sum[2]+lin(c.B)/4
			}
			to := func(v float64) uint8 { return uint8(math.Round(255 * math.Pow(v, 1/2.2))) }
			img.SetRGBA(x, y, color.RGBA{to(sum[0]), to(sum[1]), to(sum[2]), 255})
		}
	}
	marks := model.Marks{PitchMM: 10}
	for i := range 5 {
		for j := range 4 {
			mm := [2]float64{10 + 70*float64(i), 10 + 60*float64(j)}
			px, ok := cam.Project(r3.Vec{X: mm[0], Y: mm[1]})
			if ok {
				marks.Marks = append(marks.Marks, model.Mark{Pixel: [2]float64{px.X, px.Y}, Mat: mm})
			}
		}
	}
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		t.Fatal(err)
	}
	return file.Bytes(), marks
}

// apart is how far the farthest place of one path lies from another.
func apart(a, b []measure.Segment) (worst float64) {
	pa, pb := points(a, 0.1), points(b, 0.1)
	for _, p := range pa {
		near := math.Inf(1)
		for _, q := range pb {
			near = min(near, math.Hypot(p[0]-q[0], p[1]-q[1]))
		}
		worst = max(worst, near)
	}
	return worst
}

var (
	white = color.RGBA{225, 222, 215, 255}
	red   = color.RGBA{170, 45, 35, 255}
	black = color.RGBA{12, 12, 14, 255}
)

// Flat things drawn through a known camera come back within 0.3 mm, each segment
// of its kind.
func TestFlatThingsFromAPhotograph(t *testing.T) {
	t.Parallel()
	things := []thing{
		{[]measure.Segment{line(30, 30, 130, 42), line(130, 42, 100, 95), line(100, 95, 22, 88), line(22, 88, 30, 30)}, white, 0},
		{[]measure.Segment{
			line(170, 30, 250, 30), arc(250, 30, 270, 50, 250, 50), line(270, 50, 270, 80), arc(270, 80, 170, 80, 220, 40), line(170, 80, 170, 30),
		}, red, 0},
		{circle(60, 145, 32), black, 0},
	}
	cam := tilted()
	photo, marks := photograph(t, cam, things)
	r, found, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: marks, Flat: true})
	if err != nil || found.Blocked() {
		t.Fatal(err, found)
	}
	if len(r.Outlines) != len(things) {
		t.Fatalf("%d outlines, want %d; %v", len(r.Outlines), len(things), found)
	}
	for k, th := range things {
		best, at := math.Inf(1), 0
		for i, o := range r.Outlines {
			if d := max(apart(o.Segments, th.path), apart(th.path, o.Segments)); d < best {
				best, at = d, i
			}
		}
		o := r.Outlines[at]
		t.Logf("thing %d: worst %.3f mm, %d segments", k, best, len(o.Segments))
		if best > 0.3 {
			t.Errorf("thing %d is %v mm off, want 0.3", k, best)
		}
		if !o.Closed || o.Segments[len(o.Segments)-1].To != o.Segments[0].From {
			t.Errorf("thing %d does not close", k)
		}
		if len(o.Segments) != len(th.path) {
			t.Errorf("thing %d has %d segments, want %d: %v", k, len(o.Segments), len(th.path), o.Segments)
		}
	}
}

// A plate's upper edge is seen on its far side and its lower edge on its near
// side; told how thick it is, the outline comes back.
func TestThickThing(t *testing.T) {
	t.Parallel()
	path := []measure.Segment{line(30, 40, 120, 30), line(120, 30, 110, 120), line(110, 120, 40, 110), line(40, 110, 30, 40)}
	photo, marks := photograph(t, tilted(), []thing{{path, white, 6}})
	off := map[float64]float64{}
	for _, thick := range []float64{0, 6} {
		if testing.Short() && thick == 0 {
			off[0] = math.Inf(1) // by bench/run
			continue
		}
		r, _, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: marks, Flat: true, Thick: thick})
		if err != nil || len(r.Outlines) != 1 {
			t.Fatal(err, r.Outlines)
		}
		off[thick] = max(apart(r.Outlines[0].Segments, path), apart(path, r.Outlines[0].Segments))
	}
	t.Logf("off by %.3f mm, and by %.3f without its thickness", off[6], off[0])
	if off[6] > 0.3 || off[0] < 0.6 {
		t.Errorf("off by %v mm with the thickness told and by %v without, want 0.3 and more than 0.6", off[6], off[0])
	}
}

// What is not a flat thing says so, and a build's reference is still refused.
func TestFlatThingIsNoReference(t *testing.T) {
	t.Parallel()
	path := []measure.Segment{
		line(30, 30, 130, 30), line(130, 30, 130, 60), line(130, 60, 60, 60), line(60, 60, 60, 130), line(60, 130, 30, 130), line(30, 130, 30, 30),
	}
	photo, marks := photograph(t, tilted(), []thing{{path, white, 0}})
	for flat, want := range map[bool]string{false: "silhouette-not-turned", true: "only-flat"} {
		if testing.Short() && !flat {
			continue // by bench/run
		}
		r, found, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: marks, Flat: flat})
		if err != nil || !r.Lost || string(found[len(found)-1].Code) != want || (len(r.Outlines) > 0) != flat {
			t.Errorf("flat %v: %v, %d outlines, want %s", flat, found, len(r.Outlines), want)
		}
	}
	bare, marks := photograph(t, tilted(), nil)
	r, found, err := measure.Run(t.Context(), measure.Input{Photo: bare, Marks: marks, Flat: true})
	if err != nil || !found.Blocked() || len(r.Outlines) > 0 {
		t.Errorf("a bare mat gives %d outlines, %v", len(r.Outlines), found)
	}
}
