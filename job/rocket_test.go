package job_test

import (
	"context"
	"math"
	"sync"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/unit"
)

// rocket is the outline of the Foyer rocket as drawn, mm of the reference, so
// that tests of the job need no photograph.
func rocket() model.Outline {
	var o model.Outline
	at := model.Point{Station: 0, Radius: 9}
	line := func(station, radius float64) {
		to := model.Point{Station: station, Radius: radius}
		o = append(o, model.Segment{Kind: model.Line, From: at, To: to})
		at = to
	}
	arc := func(station, radius, r float64) {
		to := model.Point{Station: station, Radius: radius}
		dz, dr := to.Station-at.Station, to.Radius-at.Radius
		half := math.Hypot(dz, dr) / 2
		away := math.Sqrt(r*r - half*half)
		centre := model.Point{
			Station: (at.Station+to.Station)/2 + away*dr/(2*half),
			Radius:  (at.Radius+to.Radius)/2 - away*dz/(2*half),
		}
		o = append(o, model.Segment{Kind: model.Arc, From: at, To: to, Centre: centre, R: r})
		at = to
	}
	line(14, 6.5)
	line(14, 16)
	line(30, 21)
	line(112, 21)
	line(112, 19.5)
	line(114, 19.5)
	line(114, 21)
	line(138, 21)
	line(150, 17)
	line(168, 17)
	arc(216, 3, 90)
	arc(218.6, 0, 3.2)
	return o
}

// runRocket derives the demo, which no blocker stops.
func runRocket(t *testing.T) job.Result {
	t.Helper()
	return mustRun(t, foyer())
}

func mustRun(t *testing.T, in job.Input) job.Result {
	t.Helper()
	r, err := job.Run(t.Context(), in)
	if err != nil || r.Blocked() {
		t.Fatalf("Run: %v, %v", err, r.Findings)
	}
	return r
}

// theRocket is runRocket once for all tests that only look.
func theRocket(t *testing.T) job.Result {
	t.Helper()
	r := once()
	if r.Blocked() || r.Carved == nil {
		t.Fatalf("findings %v", r.Findings)
	}
	return r
}

var once = sync.OnceValue(func() job.Result {
	r, err := job.Run(context.Background(), foyer())
	if err != nil {
		panic(err)
	}
	return r
})

// coarse is the demo printed in layers of 3 mm, for tests that look at other
// things: most of a job's time is sectioning layers.
func coarse() job.Input {
	in := foyer()
	for i := range in.Declared.Shop.Printers {
		in.Declared.Shop.Printers[i].Layer = 3
	}
	return in
}

// foyer is the demo's declaration with a typed outline.
func foyer() job.Input {
	part := func(id string, from, to float64) model.DeclaredPart {
		return model.DeclaredPart{
			ID: id, At: finding.Place{File: "build.yaml", Path: "parts." + id},
			From: unit.Ref(from), To: unit.Ref(to), Wall: unit.Shop(2.4),
		}
	}
	bell := part("bell", 0, 14)
	bell.Open = []string{model.Foot}
	printer := func(id string, x, y, z, nozzle, layer, line, flow float64) model.Printer {
		return model.Printer{
			ID: id, Name: id, At: finding.Place{File: "shop.yaml", Path: "printers." + id},
			Build: [3]unit.Length{unit.Length(x), unit.Length(y), unit.Length(z)}, Margin: 5,
			Nozzle: unit.Length(nozzle), Layer: unit.Length(layer), Line: unit.Length(line),
			Speed: 80, Accel: 1500, Flow: flow, WarmUp: 8,
			Calibrated: model.Calibration{
				Outer: unit.Value{X: 0.05, U: 0.05}, Bore: unit.Value{X: -0.25, U: 0.06}, Measured: true,
			},
		}
	}
	evening := func(day int) model.OpenTime {
		return model.OpenTime{From: unit.Minutes(day*1440 + 1110), To: unit.Minutes(day*1440 + 1290)}
	}
	return job.Input{
		Declared: model.Declared{
			Name:      "Foyer rocket",
			Reference: model.DeclaredReference{Outline: "outlines/rocket.yaml"},
			Enlarge:   model.DeclaredEnlarge{Ratio: 6},
			Core: &model.DeclaredCore{
				Stock: "drain-110", From: unit.Ref(15), To: unit.Ref(181), Hold: model.Spaced,
			},
			Parts: []model.DeclaredPart{
				bell, part("tail", 14, 30), part("body", 30, 138), part("shoulder", 138, 168), part("nose", 168, 218.6),
			},
			Joints: []model.DeclaredJoint{
				{ID: "bell-tail", Between: [2]string{"bell", "tail"}, Kind: model.Collar, Removable: true},
			},
			Calendar: model.DeclaredCalendar{Start: "2026-11-30"},
			Shop: model.Shop{
				Currency:  "EUR",
				Printers:  []model.Printer{printer("heron", 300, 300, 400, 0.6, 0.3, 0.6, 15), printer("wren", 220, 220, 250, 0.4, 0.2, 0.44, 11)},
				Filaments: []model.Filament{{ID: "white", Name: "white", Material: "PLA", Spool: 1000, Price: 22}},
				People:    []model.Person{{ID: "maker", Name: "the maker", Hours: []model.OpenTime{evening(0), evening(1), evening(2), evening(3), evening(4)}}},
			},
		},
		Outlines: map[string]model.DeclaredOutline{"outlines/rocket.yaml": {Path: rocket(), DoubtMM: 0.05}},
		Memo:     recipe.NewMemo(recipe.Options{}),
		Seed:     1,
	}
}
