package job_test

import (
	"flag"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// A build takes much longer than what rapid counts on, so 40 are drawn unless
// -rapid.checks says more.
func TestMain(m *testing.M) {
	flag.Parse()
	said := false
	flag.Visit(func(f *flag.Flag) { said = said || f.Name == "rapid.checks" })
	if !said {
		if err := flag.Set("rapid.checks", "40"); err != nil {
			panic(err)
		}
	}
	m.Run()
}

// Whatever is declared, the job says what stands in the way or makes pieces
// that go together.
func TestRandomBuildsAssemble(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := randomBuild(t)
		r, err := job.Run(t.Context(), in)
		if err != nil {
			t.Fatalf("Run: %v", err)
		}
		if !r.Blocked() {
			mustAssemble(t, r)
		}
	})
}

// randomBuild draws outlines with steps and cones, walls from two lines up,
// cores that may not fit, printers that may be too small, cuts that may be too
// near.
func randomBuild(t *rapid.T) job.Input {
	whole := func(name string, from, to int) float64 { return float64(rapid.IntRange(from, to).Draw(t, name)) }
	var outline model.Outline
	most := 0.0
	radius := func() float64 {
		r := rapid.SampledFrom([]float64{10, 12, 15, 20, 25, 30, 5}).Draw(t, "radius")
		if rapid.IntRange(0, 9).Draw(t, "pointed") == 0 {
			r = 0
		}
		most = max(most, r)
		return r
	}
	at := model.Point{Radius: radius()}
	corners := []float64{0}
	for i := range rapid.IntRange(1, 6).Draw(t, "segments") {
		to := model.Point{Station: at.Station + rapid.SampledFrom([]float64{0, 5, 17, 40, 60}).Draw(t, "run"), Radius: radius()}
		if i == 0 {
			to.Station++
		}
		outline = append(outline, model.Segment{Kind: model.Line, From: at, To: to})
		at = to
		corners = append(corners, at.Station)
	}
	length := at.Station
	bounds := []float64{0, length}
	for range rapid.IntRange(0, 3).Draw(t, "bounds") {
		z := whole("bound", 0, int(length))
		if rapid.IntRange(0, 3).Draw(t, "at a corner") > 0 {
			z = rapid.SampledFrom(corners).Draw(t, "corner")
		}
		bounds = append(bounds, z)
	}
	slices.Sort(bounds)
	bounds = slices.Compact(bounds)
	ratio := whole("ratio", 4, 12) / 2
	d := model.Declared{
		Name: "random", Reference: model.DeclaredReference{Outline: "o"},
		Enlarge:  model.DeclaredEnlarge{Ratio: ratio},
		Calendar: model.DeclaredCalendar{Start: "2026-11-30"},
	}
	wall := rapid.SampledFrom([]float64{1.2, 2.4, 3.6, 0.9, 6}).Draw(t, "wall")
	kinds := []model.JointKind{"", "", model.Butt, model.Spigot, model.Collar}
	for i := 1; i < len(bounds); i++ {
		p := model.DeclaredPart{
			ID: fmt.Sprintf("p%d", i), At: finding.Place{File: "build.yaml", Path: fmt.Sprintf("parts.p%d", i)},
			From: unit.Ref(bounds[i-1]), To: unit.Ref(bounds[i]), Wall: unit.Shop(wall),
		}
		if rapid.IntRange(0, 3).Draw(t, "own wall") == 0 {
			p.Wall = unit.Shop(rapid.SampledFrom([]float64{2, 5, 1}).Draw(t, "wall"))
		}
		for _, end := range []string{model.Foot, model.Nose} {
			if rapid.Bool().Draw(t, "open "+end) {
				p.Open = append(p.Open, end)
			}
		}
		d.Parts = append(d.Parts, p)
		if i > 1 && rapid.Bool().Draw(t, "joint") {
			d.Joints = append(d.Joints, model.DeclaredJoint{
				Between: [2]string{fmt.Sprintf("p%d", i-1), p.ID}, Kind: rapid.SampledFrom(kinds).Draw(t, "kind"),
				Removable: rapid.Bool().Draw(t, "removable"),
			})
		}
		for k := range max(0, rapid.IntRange(-2, 1).Draw(t, "cuts")) {
			d.Cuts = append(d.Cuts, model.DeclaredCut{
				ID: fmt.Sprintf("c%d", k), Part: p.ID, Kind: rapid.SampledFrom(kinds).Draw(t, "kind"),
				Station: unit.Ref(whole("cut", int(bounds[i-1])+1, int(bounds[i]))),
			})
		}
	}
	if rapid.Bool().Draw(t, "core") {
		from := whole("core from", 0, int(length)-1)
		d.Core = &model.DeclaredCore{
			Stock: rapid.SampledFrom(stock.Pipes()[3:12]).Draw(t, "pipe").ID,
			From:  unit.Ref(from), To: unit.Ref(from + rapid.SampledFrom([]float64{20, 60, 120, 5}).Draw(t, "core length")),
			Hold: rapid.SampledFrom([]model.CoreHold{model.Spaced, model.Bored}).Draw(t, "hold"),
		}
	}
	room := func(name string) unit.Length {
		return unit.Length(2*most*ratio + rapid.SampledFrom([]float64{12, 40, 25, 14, 60, -5}).Draw(t, name))
	}
	for i := range rapid.IntRange(1, 2).Draw(t, "printers") {
		d.Shop.Printers = append(d.Shop.Printers, model.Printer{
			ID: fmt.Sprint("m", i), Name: fmt.Sprint("m", i),
			Build:  [3]unit.Length{room("x"), room("y"), unit.Length(rapid.SampledFrom([]float64{260, 150, 90, 60}).Draw(t, "z"))},
			Margin: 5, Nozzle: 0.4, Layer: 1, Line: 0.44, Speed: 80, Accel: 1500, Flow: 12,
			Calibrated: model.Calibration{
				Outer: unit.Value{X: whole("outer", -20, 20) / 100, U: 0.05}, Bore: unit.Value{X: whole("bore", -40, 10) / 100, U: 0.06}, Measured: true,
			},
		})
	}
	d.Shop.Filaments = []model.Filament{{ID: "white", Name: "white", Material: "PLA", Spool: 1000, Price: 22}}
	return job.Input{Declared: d, Outlines: map[string]model.DeclaredOutline{"o": {Path: outline, DoubtMM: 0.05}}, Seed: 1}
}
