package finishing_test

import (
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/finishing"
	"scalewright/stock"
	"scalewright/unit"
)

// pair is two cups on one another with a seam between them.
func pair(t testing.TB, removable bool, step unit.Value) finishing.Input {
	t.Helper()
	in := cup(t)
	upper := in.Division.Pieces[0]
	upper.ID = model.PieceID{Kind: model.Shell, Part: "lid", From: model.Foot, To: model.Nose}
	upper.Name = "lid"
	in.Parts = append(in.Parts, model.Part{ID: "lid", Finished: true})
	in.Division.Seams = []model.Seam{{ID: "cup-lid", Station: 200, Below: in.Division.Pieces[0].ID, Above: upper.ID, Removable: removable}}
	in.Division.Pieces = append(in.Division.Pieces, upper)
	in.Carved = append(in.Carved, model.Carved{Piece: upper.ID, Solid: in.Carved[0].Solid.Translate(solid.Vec{0, 0, 200}), Diameter: 100})
	in.Prints = append(in.Prints, model.Print{Piece: upper.ID, Placement: solid.Identity()})
	in.Fits = model.Fits{Fits: []model.Fit{{Seam: "cup-lid", Station: 200, Clearance: unit.Exact(0.3), Step: step}}}
	return in
}

// A fin on a wall hides what it stands on and no more: here a collar of 50 mm round
// a cylinder, 2πr·50 by the closed form.
func TestPartOfAWallIsHidden(t *testing.T) {
	in := cup(t)
	collar, err := solid.Tube(solid.TubeSize{Outer: 60, Bore: 50, Low: 75, High: 125, Segments: flats})
	if err != nil {
		t.Fatal(err)
	}
	in.Division.Pieces = append(in.Division.Pieces, model.Piece{ID: model.PieceID{Kind: model.Shell, Part: "other"}})
	in.Carved, in.Prints = append(in.Carved, model.Carved{Solid: collar}), append(in.Prints, model.Print{})
	want := 2*math.Pi*50*(200-50) + 2*math.Pi*50*50
	if got := run(t, in).Surfaces[0].Area; math.Abs(got-want) > 0.05*want {
		t.Errorf("%v mm² are seen, want %v", got, want)
	}
}

// Classes add up to the area; so do operations to their route, routes to the bench,
// tasks to operations and needs to the money.
func TestTotalsAreSums(t *testing.T) {
	f := run(t, pair(t, false, unit.Value{}))
	for _, s := range f.Surfaces {
		sum := 0.0
		for _, a := range s.ByDepth {
			sum += a
		}
		if math.Abs(sum-s.Area) > 1e-6*s.Area || len(s.ByDepth) != len(model.RoughLimits)+1 {
			t.Errorf("classes %v of %v mm²", s.ByDepth, s.Area)
		}
	}
	bench, tasks, money := unit.Minutes(0), 0, 0.0
	for _, r := range f.Routes {
		sum := unit.Minutes(0)
		for _, o := range r.Operations {
			sum += o.Bench
			tasks += o.Tasks
		}
		if sum != r.Bench {
			t.Errorf("route %s takes %v, its operations %v", r.Group, r.Bench, sum)
		}
		bench += r.Bench
	}
	for _, n := range f.Needs {
		money += float64(n.Units) * stock.MustCoating(n.Coating).Price
	}
	if bench != f.Bench || tasks != len(f.Tasks) || money != f.Money || money == 0 {
		t.Errorf("bench %v of %v, tasks %d of %d, money %v of %v", bench, f.Bench, tasks, len(f.Tasks), money, f.Money)
	}
}

// The lip at a seam takes a wedge of 20 lips: 10·s² across, round a circle of 100 mm.
func TestLipsTakeFiller(t *testing.T) {
	flush, lip := run(t, pair(t, false, unit.Value{})), run(t, pair(t, false, unit.Estimate(0.4, 0.3)))
	if got, want := lip.Routes[0].Filler-flush.Routes[0].Filler, 10*(0.4*0.4+0.3*0.3)*math.Pi*0.1; math.Abs(got-want) > 1e-9 {
		t.Errorf("the lip takes %v ml, want %v", got, want)
	}
}

// Only as many cycles as each group needs: a cone beside a cup.
func TestCyclesByGroup(t *testing.T) {
	in := pair(t, true, unit.Value{})
	cone, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 300}, {R: 100, Z: 300}, {R: 0, Z: 400}}, flats)
	if err != nil {
		t.Fatal(err)
	}
	in.Carved[1].Solid, in.Fits = cone, model.Fits{}
	f := run(t, in)
	if len(f.Routes) != 2 || f.Routes[0].Cycles != 1 || f.Routes[1].Cycles != 3 || f.Cycles != 3 {
		t.Errorf("routes %+v, at most %d cycles", f.Routes, f.Cycles)
	}
}

// Nothing is painted before its seams and its pieces are done, and no wait stands
// twice, mounts included.
func TestGroupWaitsForItsJoints(t *testing.T) {
	in := pair(t, false, unit.Value{})
	in.Division.Seams, in.Fits = nil, model.Fits{}
	in.Mounts = []model.Mount{{ID: "m", Host: "cup", Guest: "lid"}}
	f := run(t, in)
	at := slices.IndexFunc(f.Tasks, func(task model.Task) bool { return task.ID == "scuff.cup" })
	if at < 0 {
		t.Fatalf("no scuff.cup in %+v", f.Tasks)
	}
	want := []string{model.JoinTask("m"), model.PrepTask(in.Division.Pieces[0].ID), model.PrepTask(in.Division.Pieces[1].ID)}
	if !slices.Equal(f.Tasks[at].After, want) {
		t.Errorf("it waits for %v, want %v", f.Tasks[at].After, want)
	}
}

func TestFindings(t *testing.T) {
	closing := pair(t, true, unit.Value{})
	wide := pair(t, true, unit.Value{})
	wide.Fits.Fits[0].Clearance = unit.Exact(0.35)
	bare := cup(t)
	bare.Finish.Colour, bare.Finish.Clear = 0, 0
	raw := cup(t)
	raw.Finish.Grade = model.Unfinished
	panel := cup(t)
	// The panel itself stays bare: coats on one side only, 0.162 mm.
	panel.Division.Windows = []model.Window{{Opening: model.Opening{ID: "hatch", Panel: true}, Piece: panel.Division.Pieces[0].ID}}
	panel.Fits = model.Fits{Fits: []model.Fit{{Seam: "hatch", Clearance: unit.Exact(0.3)}, {Seam: "hatch", Clearance: unit.Exact(0.15)}}}
	for _, c := range []struct {
		name string
		in   finishing.Input
		want finding.Code
	}{
		// One cycle: 45 µm of primer, 24 of colour, 12 of clear, on four faces: 0.324 mm.
		{"0.30 mm of clearance", closing, "coats-close"},
		{"0.35 mm of clearance", wide, ""},
		{"glued", pair(t, false, unit.Value{}), ""},
		{"a panel", panel, "coats-close"},
		{"no colour", bare, "primer-bare"},
		{"coats on what stays as printed", raw, "coats-unplanned"},
	} {
		_, found, err := finish(c.in)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case c.want == "" && len(found) == 0:
		case len(found) != 1 || found[0].Code != c.want:
			t.Errorf("%s: found %v, want %q", c.name, found, c.want)
		}
	}
}

// A finer grade never takes fewer cycles, hours or cans, nothing comes out that is
// no number, and cores change nothing.
func TestFinerTakesMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := solid.Turn([]solid.PointRZ{
			{R: 0, Z: 0},
			{R: rapid.Float64Range(1e-3, 500).Draw(t, "foot"), Z: 0},
			{R: rapid.Float64Range(1e-3, 500).Draw(t, "top"), Z: 100},
			{R: 0, Z: 100},
		}, 24)
		if err != nil {
			t.Fatal(err)
		}
		in := build(m)
		in.Printers[0].Layer = unit.Length(rapid.Float64Range(0, 1).Draw(t, "layer"))
		var before model.Finishing
		for _, grade := range []model.Grade{model.StageGrade, model.ArmGrade, model.CloseGrade} {
			in.Finish.Grade = grade
			f, _, err := finish(in)
			if err != nil {
				t.Fatal(err)
			}
			if f.Cycles < before.Cycles || f.Bench < before.Bench || f.Money < before.Money {
				t.Errorf("%s: %+v after %+v", grade, f, before)
			}
			if math.IsNaN(f.Money) || math.IsInf(f.Money, 0) || math.IsNaN(float64(f.Film)) || f.Bench < 0 {
				t.Errorf("%s: %+v", grade, f)
			}
			before = f
		}
	})
}

func TestSameAtAnyNumberOfCores(t *testing.T) {
	in := pair(t, false, unit.Estimate(0.1, 0.1))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := run(t, in)
	runtime.GOMAXPROCS(8)
	if eight := run(t, in); !reflect.DeepEqual(one, eight) {
		t.Errorf("%+v on one core, %+v on eight", one, eight)
	}
}
