package job_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// Openings at a fin's clocking: its tongues keep off them, and where the fin would
// stand in the hole that is said with what cures it.
func TestTongueGivesWayToOpening(t *testing.T) {
	t.Parallel()
	plain := mustRun(t, finned())
	for _, c := range []struct {
		name string
		turn float64 // of the opening past the fin, mm along the arc
		o    model.DeclaredOpening
	}{
		{"ledge under the fin", 62, model.DeclaredOpening{Wide: unit.Shop(96), High: unit.Shop(60), Panel: true}},
		{"round beside it", 26, model.DeclaredOpening{Across: unit.Shop(30)}},
	} {
		in := finned()
		c.o.ID, c.o.Part, c.o.Station, c.o.At = "hatch", "body", unit.Ref(46), in.Declared.Openings[0].At
		c.o.Clocking = math.Pi/4 + c.turn/126
		in.Declared.Openings[0] = c.o
		r := mustRun(t, in)
		if slices.Equal(tabSpans(plain), tabSpans(r)) {
			t.Errorf("%s: the tongues are where they were, %v", c.name, tabSpans(r))
		}
		mustAssemble(t, r)
	}
}

// tabSpans are the stretches of fin-1's tongues in the body.
func tabSpans(r job.Result) (out []model.Span) {
	for _, tab := range r.Division.Tabs {
		if tab.Guest.Part == "fin-1" && tab.Host.Part == "body" {
			out = append(out, tab.Span)
		}
	}
	return out
}

func TestOpeningUnderFinTurnedOrMovedAsTold(t *testing.T) {
	t.Parallel()
	for _, o := range []model.DeclaredOpening{
		{Across: unit.Shop(16.2), Station: unit.Ref(46), Clocking: math.Pi / 4},
		{Across: unit.Shop(30), Station: unit.Ref(50), Clocking: math.Pi/4 - 0.1},
		{Wide: unit.Shop(60), High: unit.Shop(60), Panel: true, Station: unit.Ref(55), Clocking: math.Pi / 4},
	} {
		in := finned()
		o.ID, o.Part, o.At = "hatch", "body", in.Declared.Openings[0].At
		in.Declared.Openings[0] = o
		r, err := job.Run(t.Context(), in)
		if err != nil {
			t.Fatal(err)
		}
		k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Code == "opening-under-guest" })
		if k < 0 || r.Findings[k].Severity != finding.Blocker || r.Findings[k].At.Path != "openings.hatch" {
			t.Errorf("findings %v", codes(r.Findings))
			continue
		}
		for name, cure := range map[string]func(*model.DeclaredOpening){
			"low": func(o *model.DeclaredOpening) {
				o.Clocking = float64(r.Findings[k].Args["low"].(finding.Number)) * math.Pi / 180
			},
			"high": func(o *model.DeclaredOpening) {
				o.Clocking = float64(r.Findings[k].Args["high"].(finding.Number)) * math.Pi / 180
			},
			"past": func(o *model.DeclaredOpening) {
				o.Station = unit.Shop(math.Ceil(float64(r.Findings[k].Args["past"].(finding.Long))))
			},
		} {
			in := finned()
			in.Declared.Openings[0] = o
			cure(&in.Declared.Openings[0])
			cured, err := job.Run(t.Context(), in)
			if err != nil {
				t.Fatal(err)
			}
			if cured.Blocked() {
				t.Errorf("cured by %s: findings %v", name, codes(cured.Findings))
				continue
			}
			mustAssemble(t, cured)
		}
	}
}

// An opening smaller than its panel's ledge is a blocker that says how large it
// must be, and at that size it can be made.
func TestPanelTooSmallForItsLedge(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]float64{{6, 6}, {8, 40}, {40, 17}, {0, 20}} {
		in := finned()
		o := &in.Declared.Openings[0]
		o.Wide, o.High = unit.Shop(size[0]), unit.Shop(size[1])
		r, err := job.Run(t.Context(), in)
		if err != nil {
			t.Fatalf("%v: %v", size, err)
		}
		k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Code == "panel-too-small" })
		if k < 0 {
			t.Errorf("%v: findings %v", size, codes(r.Findings))
			continue
		}
		least := float64(r.Findings[k].Args["least"].(finding.Size))
		o.Wide, o.High = unit.Shop(max(least, size[0])), unit.Shop(max(least, size[1]))
		mustAssemble(t, mustRun(t, in))
	}
}

// A collar's socket that cuts into the wall is said, with both figures and the
// joint.
func TestThinnerThanDeclaredIsSaid(t *testing.T) {
	t.Parallel()
	in := demo(t)
	for i := range in.Declared.Shop.Printers {
		in.Declared.Shop.Printers[i].Layer = 3
	}
	for i, j := range in.Declared.Joints {
		if j.ID == "tail-body" {
			in.Declared.Joints[i].Kind = model.Collar
		}
	}
	r := mustRun(t, in)
	k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Code == "wall-under-declared" })
	if k < 0 {
		t.Fatalf("findings %v", codes(r.Findings))
	}
	f := r.Findings[k]
	wall, declared := float64(f.Args["wall"].(finding.Fine)), float64(f.Args["declared"].(finding.Fine))
	t.Log(f.Part, f.Station, f.Args)
	if declared != 2.4 || wall > 2.35 || wall < 2.2 || f.Args["where"] != finding.Name("the joint tail-body") {
		t.Errorf("%s at %v: %v", f.Part, f.Station, f.Args)
	}
}

// Guests that run into each other, and guests that run into a part they are not
// joined to, are blockers that name both and what they share; the volume is that of
// the two solids.
func TestGuestsInEachOtherAreSaid(t *testing.T) {
	t.Parallel()
	thick := finned()
	for i := range thick.Declared.Parts {
		if thick.Declared.Parts[i].ID == "fin" {
			thick.Declared.Parts[i].Thick = unit.Ref(30)
		}
	}
	loose := finned()
	loose.Declared.Joints = slices.DeleteFunc(loose.Declared.Joints, func(j model.DeclaredJoint) bool { return j.ID == "fins-tail" })
	for _, c := range []struct {
		in  job.Input
		one string
		two string
	}{{thick, "fin-1", "fin-2"}, {loose, "fin-1", "tail"}} {
		r, err := job.Run(t.Context(), c.in)
		if err != nil {
			t.Fatal(err)
		}
		k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool {
			return f.Code == "parts-share-room" && f.Part == c.one && f.Args["other"] == finding.Name(c.two)
		})
		if k < 0 {
			t.Errorf("%s and %s: findings %v", c.one, c.two, codes(r.Findings))
			continue
		}
		want := 0.0
		for _, a := range r.Carved {
			for _, b := range r.Carved {
				if a.Piece.Part == c.one && b.Piece.Part == c.two {
					want += shared(t, a.Solid, b.Solid)
				}
			}
		}
		if got := float64(r.Findings[k].Args["much"].(finding.Number)); math.Abs(got-want) > 1 {
			t.Errorf("they share %v mm³, said %v", want, got)
		}
	}
}
