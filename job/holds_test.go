package job_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/craft/fastening"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stock"
	"scalewright/unit"
)

// ringed is the coarse rocket with a ring on the body's side, held so.
func ringed(kind model.JointKind) job.Input {
	in := coarse()
	in.Declared.Parts = append(in.Declared.Parts, model.DeclaredPart{
		ID: "porthole", Form: model.Turned, Outline: "porthole", Bore: unit.Ref(8), At: finding.Place{File: "build.yaml", Path: "parts.porthole"},
		Axis: &model.DeclaredAxis{Position: [3]unit.Dim{unit.Ref(19), unit.Ref(0), unit.Ref(95)}, Direction: [3]float64{1, 0, 0}},
	})
	in.Outlines["porthole"] = model.DeclaredOutline{Owner: unit.OfReference, Path: model.Lines(0, 7, 3.4, 7, 4.4, 6.4)}
	in.Declared.Joints = append(in.Declared.Joints, model.DeclaredJoint{
		ID: "rim", Between: [2]string{"porthole", "body"}, Kind: kind, At: finding.Place{File: "build.yaml", Path: "joints.rim"},
	})
	return in
}

// pinned is the finned rocket with its fins held so on the body.
func pinned(kind model.JointKind) job.Input {
	in := finned()
	for i, j := range in.Declared.Joints {
		if j.ID == "fins-body" {
			in.Declared.Joints[i].Kind, in.Declared.Joints[i].At = kind, finding.Place{File: "build.yaml", Path: "joints.fins-body"}
		}
	}
	return in
}

// body is a fastening as bought, in its place: of a screw the shank by its core.
func bought(t *testing.T, h model.Fastening) (all []solid.Mesh) {
	t.Helper()
	at, out := solid.Vec(h.At), solid.Vec(h.Out)
	rod := func(d, from, to float64) {
		m, err := solid.Tube(solid.TubeSize{Outer: d / 2, Low: from, High: to, Segments: 90})
		if err != nil {
			t.Fatal(err)
		}
		x := out.Cross(solid.Vec{0.3, 0.5, 0.8}).Unit()
		y := out.Cross(x)
		place := solid.Transform{T: at}
		for i := range 3 {
			place.M[i] = [3]float64{x[i], y[i], out[i]}
		}
		all = append(all, m.Transform(place))
	}
	switch h.Kind {
	case model.Dowelled:
		rod(float64(h.Stock.Most), -float64(h.Long)/2, float64(h.Long)/2)
	case model.Magnet:
		high := float64(h.Stock.High)
		rod(float64(h.Stock.Most), -float64(h.InHost), -float64(h.InHost)+high)
		rod(float64(h.Stock.Most), float64(h.InGuest)-high, float64(h.InGuest))
	case model.Screwed:
		face := float64(h.InGuest)
		rod(float64(h.Stock.Thread), face-float64(h.Long), face)
		rod(float64(h.Stock.Across), 0, face) // in the guest the whole thread passes
		// The head in steps, each as wide as the cone at its lower end.
		for k := range 8 {
			deep := float64(h.Stock.HeadHigh) * float64(k+1) / 8
			rod(float64(h.Stock.Head())-2*deep, face-deep, face-deep+float64(h.Stock.HeadHigh)/8)
		}
	}
	return all
}

// What is bought lies in the holes that are cut for it, on both sides, and nowhere
// stands out of the pieces that it holds.
func TestBoughtFastenersGoIn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		in   job.Input
		use  stock.FastenerUse
		n    int
	}{
		{"ring, dowelled", ringed(model.Dowelled), stock.Pin, 3},
		{"ring, screwed", ringed(model.Screwed), stock.Screw, 3},
		{"ring, magnets", ringed(model.Magnet), stock.Magnet, 2},
		{"fins, dowelled", pinned(model.Dowelled), stock.Pin, 4},
		{"fins, magnets", pinned(model.Magnet), stock.Magnet, 4},
	} {
		r := mustRun(t, c.in)
		mustAssemble(t, r)
		mustBeApart(t, r)
		if len(r.Division.Holds) < c.n {
			t.Errorf("%s: %d fastenings; findings %v", c.name, len(r.Division.Holds), codes(r.Findings))
		}
		for _, h := range r.Division.Holds {
			t.Logf("%s: %s long %v in host %v in guest %v pad %v", h.ID, h.Stock.Name, h.Long, h.InHost, h.InGuest, h.Pad)
			if h.Stock.Use != c.use {
				t.Errorf("%s: %s is a %s", c.name, h.ID, h.Stock.Use)
			}
			for _, m := range bought(t, h) {
				for i, piece := range r.Division.Pieces {
					v := shared(t, m, r.Carved[i].Solid)
					if v > touching && !(h.Kind == model.Screwed && piece.ID == h.Host) {
						t.Errorf("%s: %s takes %v mm³ of %s", c.name, h.ID, v, piece.ID)
					}
				}
			}
			mustBeCovered(t, r, h)
		}
	}
}

// mustBeCovered looks that a hole has a floor in the host, and that what lies in the
// guest lies under its face: a line from there outwards leaves the guest only past
// it, or not at all through a blind hole's floor.
func mustBeCovered(t *testing.T, r job.Result, h model.Fastening) {
	t.Helper()
	at, out := solid.Vec(h.At), solid.Vec(h.Out)
	for i, piece := range r.Division.Pieces {
		if piece.ID != h.Host && piece.ID != h.Guest {
			continue
		}
		tree, err := solid.NewTree(r.Carved[i].Solid)
		if err != nil {
			t.Fatal(err)
		}
		inside := func(s, beside float64) bool {
			p := at.Add(out.Scale(s)).Add(out.Cross(solid.Vec{0.3, 0.5, 0.8}).Unit().Scale(beside))
			place, err := tree.Locate(p)
			if err != nil {
				t.Fatal(err)
			}
			return place == solid.Inside
		}
		switch {
		case piece.ID == h.Host:
			if !inside(-float64(h.InHost)-0.4, 0) {
				t.Errorf("%s: the hole of %s in %s has no floor", h.Kind, h.ID, piece.ID)
			}
		case h.Kind == model.Screwed:
			// Just under the head's rim and just over it beside the countersink: the guest.
			if r := float64(h.Stock.Head())/2 + 0.4; !inside(float64(h.InGuest)-0.05, r) || inside(float64(h.InGuest)-0.3, 0) {
				t.Errorf("the head of %s does not lie in %s", h.ID, piece.ID)
			}
		default:
			if !inside(float64(h.InGuest)+0.4, 0) {
				t.Errorf("%s: the hole of %s in %s has no floor", h.Kind, h.ID, piece.ID)
			}
		}
	}
}

// What pins, screws and magnets cannot hold is said at the joint, with a cure.
func TestFastenersThatCannotBe(t *testing.T) {
	t.Parallel()
	fin := func(path model.Outline, thick unit.Dim, kind model.JointKind) job.Input {
		in := pinned(kind)
		o := in.Outlines["fin"]
		if path != nil {
			o.Path = path
		}
		in.Outlines["fin"] = o
		for i := range in.Declared.Parts {
			if in.Declared.Parts[i].ID == "fin" {
				in.Declared.Parts[i].Thick = thick
			}
		}
		return in
	}
	ring := func(change func(*model.DeclaredPart)) job.Input {
		in := ringed(model.Dowelled)
		change(&in.Declared.Parts[len(in.Declared.Parts)-1])
		return in
	}
	panel := finned()
	for i := range panel.Declared.Parts {
		panel.Declared.Parts[i].Wall = unit.Shop(1.2)
	}
	for _, c := range []struct {
		code finding.Code
		in   job.Input
	}{
		{"panel-too-thin", panel},
		{"fastener-no-foot", ring(func(p *model.DeclaredPart) { p.Axis.Position[0] = unit.Ref(30) })},
		{"fastener-in-the-way", fin(model.Lines(28, 12, 34, 12, 34, 40, 28, 40, 28, 12), unit.Ref(2.4), model.Dowelled)},
		{"fastener-too-large", fin(nil, unit.Shop(3), model.Magnet)},
		{"fastener-too-large", ring(func(p *model.DeclaredPart) { p.Bore = unit.Ref(13) })},
		{"screw-too-short", fin(nil, unit.Ref(2.4), model.Screwed)},
	} {
		r, err := job.Run(t.Context(), c.in)
		if err != nil {
			t.Fatalf("%s: %v", c.code, err)
		}
		found := false
		for _, f := range r.Findings {
			found = found || f.Code == c.code && f.Severity == finding.Blocker
		}
		if !found {
			t.Errorf("%s is not said; findings %v", c.code, codes(r.Findings))
		}
	}
}

// The heads of a panel's screws lie in its sheet: each a cone of 90° to the head's
// sharp diameter whose face is nowhere over the outside, as bought they share no
// volume with the panel, and what is under them is the table's least.
func TestPanelScrewsLieInIt(t *testing.T) {
	t.Parallel()
	for name, in := range map[string]job.Input{"a cylinder": finned(), "a taper": example(t, "harbour-light")} {
		r := mustRun(t, in)
		w := r.Division.Windows[0]
		var panel, host solid.Mesh
		for i, p := range r.Division.Pieces {
			switch p.ID {
			case w.Panel:
				panel = r.Carved[i].Solid
			case w.Piece:
				host = r.Carved[i].Solid
			}
		}
		part := slices.IndexFunc(r.Design.Parts, func(p model.Part) bool { return p.ID == w.Opening.Part })
		outer := r.Raw[part].Outer
		o := w.Opening
		inset := float64(model.LedgeWide) / 2
		for k, s := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
			sin, cos := math.Sincos(o.Clocking + s[0]*(float64(o.Wide)/2-inset)/float64(w.Radius))
			at := float64(o.Station) + s[1]*(float64(o.High)/2-inset)
			head := float64(w.Screw.Head()) / 2
			outside := model.LowestBetween(outer, at-head, at+head)
			under := model.HighestBetween(outer, at-head, at+head) - 2.4
			h := model.Fastening{
				Kind: model.Screwed, Stock: w.Screw, Long: w.Long, InGuest: w.Heads[k/2] - unit.Length(under),
				At: [3]float64{under * cos, under * sin, at}, Out: [3]float64{cos, sin, 0},
			}
			for _, m := range bought(t, h) {
				if v := shared(t, m, panel); v > touching {
					t.Errorf("%s: a screw takes %v mm³ of the panel", name, v)
				}
				for _, v := range m.Vertices {
					if r := math.Hypot(v[0], v[1]); r > outside {
						t.Fatalf("%s: a head reaches %v from the axis, the outside lies at %v", name, r, outside)
					}
				}
			}
			if left := float64(w.Heads[k/2]) - under - float64(w.Screw.Cone()); left < 0.8 {
				t.Errorf("%s: %v mm of sheet under the heads", name, left)
			}
		}
		// Its thread holds in the ledge: as bought, at its full diameter, it cuts there.
		if v := shared(t, panel, host); v > touching {
			t.Errorf("%s: panel and host share %v mm³", name, v)
		}
		if got := r.Division.BoughtFor(o.ID); len(got) != 1 || got[0].Count != 4 || name == "a cylinder" && got[0].String() != "countersunk screw M3 x 6" {
			t.Errorf("%s: to buy: %v", name, got)
		}
	}
}

// The disc in an open end is screwed to lugs of the wall, and what is bought for it
// stands in the order of assembly.
func TestDiscOnLugs(t *testing.T) {
	t.Parallel()
	in := demo(t)
	for i := range in.Declared.Shop.Printers {
		in.Declared.Shop.Printers[i].Layer = 3
	}
	r := mustRun(t, in)
	n := 0
	for _, h := range r.Division.Holds {
		if h.Mount != "diffuser-bell" || !h.Lug {
			continue
		}
		n++
		for _, m := range bought(t, h) {
			for i, piece := range r.Division.Pieces {
				if v := shared(t, m, r.Carved[i].Solid); v > touching && piece.ID != h.Host {
					t.Errorf("%s takes %v mm³ of %s", h.ID, v, piece.ID)
				}
			}
		}
		mustBeCovered(t, r, h)
	}
	if n != 3 {
		t.Errorf("%d screws on lugs; findings %v", n, codes(r.Findings))
	}
	for _, s := range r.Assembly.Steps {
		if s.Joint == "diffuser-bell" && s.Task.Name == "fit diffuser to bell with 3 × countersunk screw M2 x 6, heads flush" {
			return
		}
	}
	t.Error("no step screws the diffuser in")
}

// Magnets go in before their joint closes, and are told how.
func TestMagnetsGoInFirst(t *testing.T) {
	t.Parallel()
	r := mustRun(t, ringed(model.Magnet))
	set := -1
	for i, s := range r.Assembly.Steps {
		switch {
		case s.Task.ID == "magnets.rim":
			set = i
		case s.Joint == "rim":
			if set < 0 || set > i || !slices.Contains(s.Task.After, "magnets.rim") {
				t.Errorf("the ring is put on at step %d after %v, its magnets at %d", i, s.Task.After, set)
			}
			return
		}
	}
	t.Errorf("no step puts the ring on: %v", codes(r.Findings))
}

// Letters on a board are pinned, screwed and held by magnets too: both are flat, and
// neither is turned.
func TestLettersAreFastened(t *testing.T) {
	t.Parallel()
	for _, kind := range []model.JointKind{model.Dowelled, model.Screwed, model.Magnet} {
		in := example(t, "letters")
		for i := range in.Declared.Shop.Printers {
			in.Declared.Shop.Printers[i].Layer = 3
		}
		for i := range in.Declared.Joints {
			in.Declared.Joints[i].Kind = kind
		}
		r := mustRun(t, in)
		mustBeApart(t, r)
		if len(r.Division.Holds) != 6 {
			t.Errorf("%s: %d fastenings; findings %v", kind, len(r.Division.Holds), codes(r.Findings))
		}
		for _, h := range r.Division.Holds {
			for _, m := range bought(t, h) {
				for i, piece := range r.Division.Pieces {
					if v := shared(t, m, r.Carved[i].Solid); v > touching && !(kind == model.Screwed && piece.ID == h.Host) {
						t.Errorf("%s: %s takes %v mm³ of %s", kind, h.ID, v, piece.ID)
					}
				}
			}
			mustBeCovered(t, r, h)
		}
	}
}

// mustBeApart looks that what holds one guest does not crowd: heads and holes keep
// their edges off each other.
func mustBeApart(t *testing.T, r job.Result) {
	t.Helper()
	for i, h := range r.Division.Holds {
		for _, g := range r.Division.Holds[:i] {
			if d := solid.Vec(h.At).Sub(solid.Vec(g.At)).Length(); h.Guest == g.Guest && d < 2*float64(fastening.Needs(h.Stock)) {
				t.Errorf("%s and %s are %v mm apart", h.ID, g.ID, d)
			}
		}
	}
}
