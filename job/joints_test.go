package job_test

import (
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// finned is the rocket with a fin over the tail's seam and a hatch in the body.
func finned() job.Input {
	in := coarse()
	in.Declared.Parts = append(in.Declared.Parts, model.DeclaredPart{
		ID: "fin", Form: model.Flat, Lie: model.Along, Outline: "fin", Thick: unit.Ref(2.4), Clockings: []float64{math.Pi / 4, 3 * math.Pi / 4},
		At: finding.Place{File: "build.yaml", Path: "parts.fin"},
	})
	in.Outlines["fin"] = model.DeclaredOutline{Owner: unit.OfReference, Closed: true, Path: model.Lines(18, 12, 62, 18, 40, 40, 8, 40, 18, 12)}
	in.Declared.Joints = append(in.Declared.Joints,
		model.DeclaredJoint{ID: "fins-tail", Between: [2]string{"fin", "tail"}},
		model.DeclaredJoint{ID: "fins-body", Between: [2]string{"fin", "body"}},
	)
	in.Declared.Openings = []model.DeclaredOpening{hatch(80)}
	return in
}

func hatch(at float64) model.DeclaredOpening {
	return model.DeclaredOpening{
		ID: "hatch", Part: "body", Station: unit.Ref(at), Clocking: math.Pi, Wide: unit.Shop(96), High: unit.Shop(160), Panel: true,
		At: finding.Place{File: "build.yaml", Path: "openings.hatch"},
	}
}

func TestFinnedRocketAssembles(t *testing.T) {
	t.Parallel()
	r := mustRun(t, finned())
	mustAssemble(t, r)
	hosts := map[string]bool{}
	for _, c := range r.Division.Tabs {
		hosts[c.Guest.Part+" in "+c.Host.Part] = true
	}
	for _, want := range []string{"fin-1 in tail", "fin-1 in body", "fin-2 in tail", "fin-2 in body"} {
		if !hosts[want] {
			t.Errorf("no tongue of %s; there are %v", want, hosts)
		}
	}
}

// What fit says of a panel is what the meshes have: the panel is as wide along
// the arc as it was sized, and the wall begins where the opening ends.
func TestPanelIsAsWideAsFitSays(t *testing.T) {
	t.Parallel()
	r := mustRun(t, finned())
	fit := r.Fits.Of("hatch")[0]
	window := r.Division.Windows[0]
	radius := float64(window.Radius)
	var panel, host solid.Mesh
	for i, p := range r.Division.Pieces {
		switch p.ID {
		case window.Panel:
			panel = r.Carved[i].Solid
		case window.Piece:
			host = r.Carved[i].Solid
		}
	}
	half := 0.0
	for _, v := range panel.Vertices {
		half = max(half, math.Abs(math.Remainder(math.Atan2(v[1], v[0])-math.Pi, 2*math.Pi)))
	}
	if got := 2 * half * radius; math.Abs(got-float64(fit.MaleSize.Nominal)) > 1e-3 {
		t.Errorf("the panel is %v wide, fit says %v", got, fit.MaleSize.Nominal)
	}
	tree, err := solid.NewTree(host)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		arc    float64
		inside bool
	}{{48 - 0.2, false}, {48 + 0.2, true}, {-48 + 0.2, false}, {-48 - 0.2, true}} {
		sin, cos := math.Sincos(math.Pi + c.arc/radius)
		at := solid.Vec{(radius - 1.2) * cos, (radius - 1.2) * sin, 480}
		place, err := tree.Locate(at)
		if err != nil || (place == solid.Inside) != c.inside {
			t.Errorf("%v mm along the arc from the middle is %v of the wall, want inside %v; %v", c.arc, place, c.inside, err)
		}
	}
}

// Each opening or fin that cannot be has its own finding; moved as the finding
// says, an opening can be.
func TestJointsThatCannotBe(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code   finding.Code
		change func(*job.Input)
	}{
		{"opening-on-joint", func(in *job.Input) { in.Declared.Openings[0].Station = unit.Ref(32) }},
		{"opening-too-wide", func(in *job.Input) { in.Declared.Openings[0].Wide = unit.Shop(400) }},
		{"opening-off-part", func(in *job.Input) { in.Declared.Openings[0].Station = unit.Ref(150) }},
		{"opening-off-body", func(in *job.Input) { in.Declared.Openings[0].Part = "fin-1" }},
		{"openings-overlap", func(in *job.Input) {
			other := hatch(82)
			other.ID = "other"
			in.Declared.Openings = append(in.Declared.Openings, other)
		}},
		{"mount-apart", func(in *job.Input) {
			o := in.Outlines["fin"]
			o.Path = model.Lines(30, 25, 62, 25, 40, 40, 30, 25)
			in.Outlines["fin"] = o
		}},
		{"no-tongue", func(in *job.Input) {
			o := in.Outlines["fin"]
			o.Path = model.Lines(28, 12, 32, 12, 32, 40, 28, 40, 28, 12) // all over the seam
			in.Outlines["fin"] = o
		}},
	} {
		in := finned()
		c.change(&in)
		r, err := job.Run(t.Context(), in)
		if err != nil {
			t.Fatalf("%s: %v", c.code, err)
		}
		found := false
		for _, f := range r.Findings {
			found = found || f.Code == c.code
		}
		if !found {
			t.Errorf("%s is not said; findings %v", c.code, codes(r.Findings))
		}
	}
}

func TestOpeningMovedAsTold(t *testing.T) {
	t.Parallel()
	in := finned()
	in.Declared.Openings[0].Station = unit.Shop(215)
	r, err := job.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Findings {
		if f.Code == "opening-on-joint" {
			in.Declared.Openings[0].Station = unit.Shop(float64(f.Args["low"].(finding.Long)))
			mustAssemble(t, mustRun(t, in))
			return
		}
	}
	t.Errorf("findings %v", codes(r.Findings))
}

// A neighbour that is still open is sized to the piece that is made, whichever
// side that is.
func TestOpenSideFollowsTheMadeOne(t *testing.T) {
	t.Parallel()
	first := mustRun(t, coarse())
	for i, f := range first.Fits.Fits {
		if f.Male == "core" || i%4 != 0 { // a run each: every kind of fit is among them
			continue
		}
		for _, made := range []string{f.Male, f.Female} {
			in := coarse()
			k := model.Kept{Label: "A1", Piece: made, Inside: map[string]unit.Length{}, Outside: map[string]unit.Length{}}
			if made == f.Male {
				k.Inside[f.Seam] = f.MaleSize.Nominal - 1
			} else {
				k.Outside[f.Seam] = f.Bore.Nominal + 1
			}
			in.Kept = []model.Kept{k}
			r, err := job.Run(t.Context(), in)
			if err != nil {
				t.Fatal(err)
			}
			for _, g := range r.Fits.Fits {
				if g.Seam != f.Seam || g.Male != f.Male || g.Female != f.Female {
					continue
				}
				given, other := g.MaleSize.Nominal, g.Bore.Nominal
				if made == f.Female {
					given, other = other, given
				}
				want := f.MaleSize.Nominal - 1
				if made == f.Female {
					want = f.Bore.Nominal + 1
				}
				if given != want || g.Bind > 0.03 || g.Clearance.X > f.Clearance.X+0.15 {
					t.Errorf("%s in %s with %s made at %v: sizes %v and %v, clearance %v, bind %v", g.Male, g.Female, made, want, given, other, g.Clearance, g.Bind)
				}
			}
		}
	}
}
