package measure_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// lay is how the object of a truth file really lay, by the file's own definitions.
type lay struct {
	cam     camera.Camera
	p, u    r3.Vec
	horizon r3.Vec // square to the axis, level
}

func loadLay(t *testing.T, name string) lay {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "..", "shared", "data", "photos", name+".json"))
	if err != nil {
		t.Skipf("truth file not on this machine: %v", err)
	}
	var in struct {
		Camera struct {
			F      float64       `json:"f_px"`
			Cx     float64       `json:"cx"`
			Cy     float64       `json:"cy"`
			K1     float64       `json:"k1"`
			K2     float64       `json:"k2"`
			R      [3][3]float64 `json:"R_world_to_cam"`
			Centre [3]float64    `json:"centre_mm"`
		} `json:"camera"`
		Object struct {
			P [3]float64 `json:"axis_P0_mm"`
			U [3]float64 `json:"axis_dir"`
		} `json:"object"`
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		t.Fatal(err)
	}
	v := func(x [3]float64) r3.Vec { return r3.Vec{X: x[0], Y: x[1], Z: x[2]} }
	out := lay{p: v(in.Object.P), u: v(in.Object.U)}
	out.cam = camera.Camera{F: in.Camera.F, Cx: in.Camera.Cx, Cy: in.Camera.Cy, K1: in.Camera.K1, K2: in.Camera.K2, R: in.Camera.R, C: v(in.Camera.Centre)}
	out.horizon = r3.Unit(r3.Vec{X: -out.u.Y, Y: out.u.X})
	return out
}

// pixel is where a place of the surface is seen, by the truth alone. The clock counts
// from straight up, right-handed about the axis.
func (l lay) pixel(station, radius, clock float64) r2.Vec {
	up := r3.Cross(l.u, l.horizon)
	e := r3.Add(r3.Scale(math.Cos(clock), up), r3.Scale(math.Sin(clock), r3.Cross(l.u, up)))
	px, _ := l.cam.Project(r3.Add(l.p, r3.Add(r3.Scale(station, l.u), r3.Scale(radius, e))))
	return px
}

// What is marked where the truth shows it comes back within its doubt: four places on
// the rocket's cylinder and cone, one of them where two fins meet the body.
func TestFeaturesComeBack(t *testing.T) {
	photo, tr := load(t, "ex1_rocket")
	l := loadLay(t, "ex1_rocket")
	const deg = math.Pi / 180
	in := measure.Input{
		Photo: photo, Marks: tr.loupe(), Length: unit.Estimate(218.5, 0.2),
		Hidden: []measure.Hidden{{From: 5, To: 65, Because: "fins", Typed: outlineOf([][2]float64{{5, 8.107}, {14, 6.5}, {14, 16}, {30, 21}, {65, 21}}), DoubtMM: 0.1}},
	}
	first, _, err := measure.Run(t.Context(), in)
	if err != nil || first.Lost {
		t.Fatal(err)
	}
	type place struct{ s, r, clock float64 }
	var cases []struct {
		id   string
		kind model.FeatureKind
		a, b place
	}
	add := func(id string, kind model.FeatureKind, a, b place) {
		cases = append(cases, struct {
			id   string
			kind model.FeatureKind
			a, b place
		}{id, kind, a, b})
	}
	add("porthole", model.FeatureCircle, place{85, 21, 12 * deg}, place{95, 21, 12 * deg})
	add("hatch", model.FeatureRectangle, place{70, 21, -30 * deg}, place{100, 21, 25 * deg})
	add("groove", model.FeatureLine, place{125, 21, -20 * deg}, place{125, 21, 40 * deg})
	// The fins' upper edge runs from (62, 18) to (40, 40): it meets the body at 59 mm.
	add("fins", model.FeatureLine, place{59, 21, -45 * deg}, place{59, 21, 45 * deg})
	for _, c := range cases {
		f := measure.Feature{ID: c.id, Kind: c.kind}
		// A pixel is handed on as the place of the mat that the fitted camera sees there.
		for k, p := range []place{c.a, c.b} {
			m, ok := first.Lies.OnMat(l.pixel(p.s, p.r, p.clock))
			if !ok {
				t.Fatal("no mat there")
			}
			*[]*[2]float64{&f.From, &f.To}[k] = [2]float64{m.X, m.Y}
		}
		in.Features = append(in.Features, f)
	}
	in.Features = append(in.Features, measure.Feature{ID: "beside", Kind: model.FeatureLine, From: [2]float64{10, 10}, To: [2]float64{20, 10}, At: finding.Place{File: "build.yaml", Path: "reference.features.beside"}})
	r, list, err := measure.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Features) != len(cases)+1 || !r.Features[len(cases)].Lost {
		t.Fatalf("%d features: %+v", len(r.Features), r.Features)
	}
	if n := list.Count(finding.Caution); n != 1 {
		t.Errorf("%d cautions: %v, want that one feature lies beside the body", n, list)
	}
	for k, c := range cases {
		got := r.Features[k]
		turn := c.b.clock - c.a.clock
		for _, v := range []struct {
			name string
			got  unit.Value
			want float64
		}{
			{"middle", got.Middle, (c.a.s + c.b.s) / 2},
			{"clock", got.Clock, (c.a.clock + turn/2) / deg},
			{"along", got.Along, math.Abs(c.b.s - c.a.s)},
			{"round", got.Round, 21 * math.Abs(turn)},
			{"across", got.Across, math.Hypot(c.b.s-c.a.s, 2*21*math.Sin(turn/2))},
		} {
			t.Logf("%s %s: %.3f, u %.3f, is %.3f", c.id, v.name, v.got.X, v.got.U, v.want)
			if math.Abs(v.got.X-v.want) > 2*v.got.U+0.01 {
				t.Errorf("%s: %s %.3f ± %.3f, is %.3f", c.id, v.name, v.got.X, 2*v.got.U, v.want)
			}
		}
		if got.Middle.U > 0.5 || got.Across.U > 0.6 || got.Clock.U > 2 {
			t.Errorf("%s: doubts of %.2f mm, %.2f mm and %.2f° are more than a loupe leaves", c.id, got.Middle.U, got.Across.U, got.Clock.U)
		}
	}
}

// A corner that is moved by hand takes the outline and the profile with it, with its
// own doubt, and leaves all else as it was measured.
func TestCornerMovedByHand(t *testing.T) {
	photo, tr := load(t, "ex1_rocket")
	in := measure.Input{Photo: photo, Marks: tr.loupe()}
	was, _, err := measure.Run(t.Context(), in)
	if err != nil || was.Lost {
		t.Fatal(err)
	}
	// The corner at the shoulder's upper end, (150, 17).
	from := model.Point{Station: 150, Radius: 17}
	k := was.Trace.Outline.Find(model.Correction{From: from})
	if k < 1 || k >= len(was.Trace.Outline) {
		t.Fatalf("no corner near %v in %v", from, was.Trace.Outline)
	}
	corner := was.Trace.Outline[k].From
	to := model.Point{Station: corner.Station + 1.5, Radius: corner.Radius + 0.4}
	place := func(k string) finding.Place {
		return finding.Place{File: "build.yaml", Path: "reference.corrections." + k}
	}
	in.Corrections = []measure.Correction{
		{Correction: model.Correction{From: from, To: to, DoubtMM: 0.3}, At: place("0")},
		// What cannot be is said, and what was measured stays.
		{Correction: model.Correction{From: model.Point{Station: 100, Radius: 40}, To: to, DoubtMM: 0.3}, At: place("1")},
		{Correction: model.Correction{From: from, To: model.Point{Station: 60, Radius: 21}, DoubtMM: 0.3}, At: place("2")},
	}
	is, list, err := measure.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	if is.Trace.Outline[k].From != to || is.Trace.Outline[k-1].To != to {
		t.Errorf("the corner lies at %v, want %v", is.Trace.Outline[k].From, to)
	}
	lo, hi := was.Trace.Outline[k-1].From.Station, was.Trace.Outline[k].To.Station
	for i, p := range is.Trace.Profile {
		old := was.Trace.Profile[i]
		want := old.Radius.X + is.Trace.Outline.RadiusAt(p.Station) - was.Trace.Outline.RadiusAt(p.Station)
		if math.Abs(p.Radius.X-want) > 1e-9 {
			t.Fatalf("station %.1f: radius %.4f, want %.4f", p.Station, p.Radius.X, want)
		}
		if (p.Station < lo || p.Station > hi) && p.Radius.U != old.Radius.U {
			t.Fatalf("station %.1f: the doubt became %v", p.Station, p.Radius.U)
		}
		if math.Abs(p.Station-to.Station) < 0.26 && (p.Radius.U < 0.25 || p.Radius.U > 0.45) {
			t.Errorf("at the moved corner the doubt is %.3f, want the hand's", p.Radius.U)
		}
	}
	if n := len(is.Trace.Typed); n == 0 || is.Trace.Typed[n-1].Because != "a corner moved by hand" {
		t.Errorf("nobody says that it was moved: %v", is.Trace.Typed)
	}
	refused := 0
	for _, f := range list {
		if f.Code == "correction-astray" || f.Code == "correction-crosses" {
			refused++
		}
	}
	if refused != 2 || !has(list, "correction-astray", place("1")) || !has(list, "correction-crosses", place("2")) {
		t.Errorf("the second and the third should be refused: %v", list)
	}
}

func has(list finding.List, code finding.Code, at finding.Place) bool {
	for _, f := range list {
		if f.Code == code && f.At == at {
			return true
		}
	}
	return false
}
