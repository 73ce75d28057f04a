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
