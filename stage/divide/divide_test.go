package divide_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/divide"
	"scalewright/stock"
	"scalewright/unit"
)

// column is one part through points of station and radius, with a wall of 3 mm.
func column(zr ...float64) divide.Input {
	part := model.Part{ID: "body", Wall: 3, Filament: "white"}
	raw := model.Raw{Part: "body"}
	for i := 0; i < len(zr); i += 2 {
		p := model.Point{Station: zr[i], Radius: zr[i+1]}
		raw.Outer = append(raw.Outer, p)
		inner := model.Point{Station: p.Station, Radius: max(0, p.Radius-3)}
		raw.FootDown, raw.NoseDown = append(raw.FootDown, inner), append(raw.NoseDown, inner)
		if i > 0 {
			part.Outline = append(part.Outline, model.Segment{Kind: model.Line, From: raw.Outer[i/2-1], To: p})
		}
	}
	part.Span = model.Span{From: unit.Length(zr[0]), To: unit.Length(zr[len(zr)-2])}
	return divide.Input{Parts: []model.Part{part}, Raw: []model.Raw{raw}, Printers: []model.Printer{machine("heron", 300, 400)}}
}

func machine(id string, across, high unit.Length) model.Printer {
	return model.Printer{ID: id, Name: id, Build: [3]unit.Length{across, across, high}, Margin: 5, Line: 0.6, Layer: 0.3, Speed: 80, Flow: 15}
}

func cut(id string, at unit.Length, kind model.JointKind) model.Cut {
	return model.Cut{ID: id, Part: "body", Station: at, Kind: kind}
}

func mustDivide(t interface {
	Helper()
	Fatalf(string, ...any)
}, in divide.Input,
) model.Division {
	t.Helper()
	d, found, err := divide.Run(context.Background(), in)
	if err != nil || found.Blocked() {
		t.Fatalf("Run: %v, %v", found, err)
	}
	return d
}

func ids(d model.Division) (all []string) {
	for _, p := range d.Pieces {
		all = append(all, p.ID.String())
	}
	return all
}

func ExampleRun() {
	d, found, err := divide.Run(context.Background(), column(0, 100, 900, 100))
	for _, p := range d.Pieces {
		fmt.Printf("%s on %s, %.0f to %.0f mm, %s\n", p.ID, p.Printer, p.Span.From, p.Span.To, p.Direction)
	}
	fmt.Println(len(d.Seams), d.Seams[0].Kind, found, err)
	// Output:
	// body.foot.+1 on heron, 0 to 300 mm, foot down
	// body.+1.+2 on heron, 300 to 600 mm, foot down
	// body.+2.nose on heron, 600 to 900 mm, foot down
	// 2 spigot and socket [] <nil>
}

// Inserting an accepted cut renames no piece that is bounded by others.
func TestInsertingACutRenamesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stations := rapid.SliceOfNDistinct(rapid.IntRange(1, 14), 2, 8, rapid.ID[int]).Draw(t, "stations")
		in := column(0, 100, 900, 100)
		for _, z := range stations[1:] {
			in.Cuts = append(in.Cuts, cut(fmt.Sprint("c", z), unit.Length(60*z), ""))
		}
		slices.SortFunc(in.Cuts, func(a, b model.Cut) int { return int(a.Station - b.Station) })
		before := mustDivide(t, in)
		in.Cuts = append(slices.Clone(in.Cuts), cut("new", unit.Length(60*stations[0]), ""))
		slices.SortFunc(in.Cuts, func(a, b model.Cut) int { return int(a.Station - b.Station) })
		after := mustDivide(t, in)
		for _, p := range before.Pieces {
			touched := p.Span.From < unit.Length(60*stations[0]) && unit.Length(60*stations[0]) < p.Span.To
			provisional := p.ID.From[0] == '+' || p.ID.To != "" && p.ID.To[0] == '+'
			if _, still := after.Piece(p.ID); !still && !touched && !provisional && p.ID.Kind == model.Shell {
				t.Errorf("%s is gone: %v", p.ID, ids(after))
			}
		}
		for _, c := range in.Cuts {
			if !slices.ContainsFunc(after.Cuts, func(d model.Cut) bool { return d.ID == c.ID && d.Station == c.Station && !d.Provisional }) {
				t.Errorf("accepted cut %v is not kept: %v", c, after.Cuts)
			}
		}
		for _, c := range after.Cuts {
			if c.Provisional == (c.ID[0] >= 'a' && c.ID[0] <= 'z') {
				t.Errorf("cut %+v: a provisional id may not look like a maker's", c)
			}
		}
	})
}

// Pieces follow one another without a gap, lie on permitted printers that take
// them with their spigot, and leave their neighbours room.
func TestDivisionLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zr := []float64{0, 60}
		for range rapid.IntRange(1, 5).Draw(t, "corners") {
			zr = append(zr, zr[len(zr)-2]+float64(rapid.SampledFrom([]int{0, 20, 90, 200, 400}).Draw(t, "run")), float64(rapid.IntRange(20, 140).Draw(t, "radius")))
		}
		if zr[len(zr)-2] == 0 {
			return
		}
		in := column(zr...)
		in.Printers = []model.Printer{machine("heron", 300, 400), machine("wren", 220, 250), machine("owl", 400, 400)}
		in.Parts[0].Printers = []string{"heron", "wren"}
		d, found, err := divide.Run(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		if found.Blocked() {
			return
		}
		at := unit.Length(0)
		for _, p := range d.Pieces {
			if p.ID.Kind != model.Shell {
				continue
			}
			if p.Span.From != at {
				t.Errorf("%s begins at %v, want %v", p.ID, p.Span.From, at)
			}
			at = p.Span.To
			if p.Printer != "heron" && p.Printer != "wren" {
				t.Errorf("%s is on %q, which is not permitted", p.ID, p.Printer)
			}
			across := unit.Length(2 * model.HighestBetween(in.Raw[0].Outer, float64(p.Span.From), float64(p.Span.To)))
			high := p.Span.Length()
			for _, s := range d.Seams {
				if s.Below == p.ID && s.Kind == model.Spigot {
					high += s.Engage
				}
			}
			for _, m := range in.Printers {
				if m.ID == p.Printer && (across > m.Build[0]-10 || high > m.Build[2]) {
					t.Errorf("%s is %v across and %v high on %s", p.ID, across, high, m.ID)
				}
			}
		}
		if at != in.Parts[0].Span.To {
			t.Errorf("pieces end at %v, the part at %v", at, in.Parts[0].Span.To)
		}
		for _, s := range d.Seams {
			below, _ := d.Piece(s.Below)
			above, _ := d.Piece(s.Above)
			if below.Direction == model.NoseDown && s.Kind == model.Spigot {
				t.Errorf("%s stands on its nose and has a spigot there", below.ID)
			}
			if s.Station+s.Engage > above.Span.To || s.Kind == model.Collar && s.Station-s.Engage < below.Span.From {
				t.Errorf("seam %s at %v engages %v past its pieces", s.ID, s.Station, s.Engage)
			}
			if (s.Kind == model.Butt) != (s.Engage == 0) || s.Engage > 20 {
				t.Errorf("seam %+v", s)
			}
		}
	})
}

// A flange in the middle, wide below and narrow above, is printed on its nose
// when that saves its overhang; what stands on it is joined by a collar.
func TestCollarOnAPieceThatStandsOnItsNose(t *testing.T) {
	in := column(0, 40, 100, 40, 100, 100, 150, 100, 150, 60, 300, 60)
	in.Cuts = []model.Cut{cut("flange", 150, "")}
	d := mustDivide(t, in)
	below, _ := d.Piece(d.Seams[len(d.Seams)-1].Below)
	if below.Direction != model.NoseDown || d.Seams[len(d.Seams)-1].Kind != model.Collar {
		t.Fatalf("pieces %+v, seams %+v", d.Pieces, d.Seams)
	}
	if !slices.Contains(ids(d), "body.flange.collar") {
		t.Errorf("no collar in %v", ids(d))
	}
	in.Cuts[0].Kind = model.Spigot // the maker wants one: then it cannot stand on it
	d = mustDivide(t, in)
	below, _ = d.Piece(d.Seams[len(d.Seams)-1].Below)
	if below.Direction != model.FootDown || d.Seams[len(d.Seams)-1].Kind != model.Spigot {
		t.Errorf("pieces %+v, seams %+v", d.Pieces, d.Seams)
	}
}

// Rings: one where the core begins, one on the spigot of each seam it runs
// through; where it begins inside a spigot, that spigot's ring holds it.
func TestSeats(t *testing.T) {
	pipe, _ := stock.FindPipe("drain-110")
	for _, c := range []struct {
		name     string
		from, to unit.Length
		want     []string
	}{
		{"from the first piece on", 30, 880, []string{"body.foot.ring 30", "body.low.ring 314", "body.high.ring 614"}},
		{"from inside a spigot", 305, 880, []string{"body.low.ring 314", "body.high.ring 614"}},
		{"from the very end of a spigot", 314, 880, []string{"body.low.ring 314", "body.high.ring 614"}},
		{"from close under a seam", 296, 880, []string{"body.low.ring 314", "body.high.ring 614"}},
		{"to before a ring has room", 30, 619, []string{"body.foot.ring 30", "body.low.ring 314"}},
	} {
		in := column(0, 100, 900, 100)
		in.Cuts = []model.Cut{cut("low", 300, ""), cut("high", 600, "")}
		in.Core = &model.Core{Stock: pipe, Span: model.Span{From: c.from, To: c.to}, Hold: model.Spaced}
		d := mustDivide(t, in)
		var got []string
		for _, s := range d.Seats {
			got = append(got, fmt.Sprintf("%s %.0f", s.Ring, s.Span.From))
			if s.Span.Length() != 6 {
				t.Errorf("%s is %v thick", s.Ring, s.Span.Length())
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("core %s: rings (-want +got):\n%s", c.name, diff)
		}
		in.Core.Hold = model.Bored
		if d := mustDivide(t, in); d.Seats != nil || slices.ContainsFunc(d.Seams, func(s model.Seam) bool { return s.Kind != model.Butt && in.Core.Span.Holds(s.Station) }) {
			t.Errorf("core %s, bored: seats %v, seams %v", c.name, d.Seats, d.Seams)
		}
	}
}

func TestFindings(t *testing.T) {
	pipe, _ := stock.FindPipe("drain-110")
	for _, c := range []struct {
		name string
		in   func() divide.Input
		code finding.Code
	}{
		{"wider than any platform", func() divide.Input { return column(0, 150, 100, 150) }, "piece-too-large"},
		{"a printer like a tray", func() divide.Input {
			in := column(0, 100, 200, 100)
			in.Printers[0].Build[2] = 45
			return in
		}, "no-cut-helps"},
		{"a cut off the part", func() divide.Input {
			in := column(0, 100, 200, 100)
			in.Cuts = []model.Cut{cut("c", 200, "")}
			return in
		}, "cut-off-part"},
		{"two cuts side by side", func() divide.Input {
			in := column(0, 100, 200, 100)
			in.Cuts = []model.Cut{cut("c", 100, ""), cut("d", 110, "")}
			return in
		}, "no-room-for-joint"},
		{"a gap between parts", func() divide.Input {
			in, more := column(0, 100, 200, 100), column(201, 100, 300, 100)
			more.Parts[0].ID = "nose"
			in.Parts, in.Raw = append(in.Parts, more.Parts...), append(in.Raw, more.Raw...)
			in.Interfaces = []model.Interface{{ID: "body-nose", Below: "body", Above: "nose"}}
			return in
		}, "parts-apart"},
		{"parts that overlap", func() divide.Input {
			in, more := column(0, 100, 200, 100), column(199, 100, 300, 100)
			more.Parts[0].ID = "nose"
			in.Parts, in.Raw = append(in.Parts, more.Parts...), append(in.Raw, more.Raw...)
			in.Interfaces = []model.Interface{{ID: "body-nose", Below: "body", Above: "nose"}}
			return in
		}, "parts-overlap"},
		{"a core like a stub", func() divide.Input {
			in := column(0, 100, 200, 100)
			in.Core = &model.Core{Stock: pipe, Span: model.Span{From: 50, To: 52}, Hold: model.Spaced}
			return in
		}, "core-not-held"},
	} {
		_, found, err := divide.Run(context.Background(), c.in())
		if err != nil || len(found) != 1 || found[0].Code != c.code {
			t.Errorf("%s: found %v, %v, want %s", c.name, found, err, c.code)
		}
	}
}

// What was told to count on is counted on at least.
func TestToldMinutesAreCountedOn(t *testing.T) {
	in := column(0, 100, 300, 100)
	own := mustDivide(t, in).Pieces[0].Counted
	in.Told = map[string]unit.Minutes{"body.foot.nose": own + 100}
	if got := mustDivide(t, in).Pieces[0].Counted; got != own+100 {
		t.Errorf("counted %v, want %v", got, own+100)
	}
	in.Told["body.foot.nose"] = 1
	if got := mustDivide(t, in).Pieces[0].Counted; got != own {
		t.Errorf("counted %v, want %v", got, own)
	}
}

// A seam is cheapest hidden in a step.
func TestSeamsHideInSteps(t *testing.T) {
	d := mustDivide(t, column(0, 100, 220, 100, 220, 90, 230, 90, 230, 100, 500, 100))
	if len(d.Cuts) != 1 || d.Cuts[0].Station != 220 && d.Cuts[0].Station != 230 {
		t.Errorf("cuts %v, want one at the groove", d.Cuts)
	}
	if len(d.Seams) != 1 || d.Seams[0].Station != d.Cuts[0].Station {
		t.Errorf("seams %v, want one at the cut, %v", d.Seams, d.Cuts[0].Station)
	}
}
