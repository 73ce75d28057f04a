package lane_test

import (
	"bytes"
	"cmp"
	"context"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"scalewright/craft/development"
	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// boxes are the extents of the paths of a scene, largest first.
func boxes(s *drawing.Scene) (out []drawing.Rect) {
	for _, item := range s.Items {
		if d, ok := item.(drawing.Drawn); ok {
			out = append(out, d.Path.Bounds())
		}
	}
	return out
}

func template(t *testing.T, r job.Result, name string) lane.Template {
	t.Helper()
	for _, c := range lane.Templates(r, unit.Metric) {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("no template %s", name)
	return lane.Template{}
}

// longest is the largest width of a path of a drawing.
func longest(s *drawing.Scene) float64 {
	most := 0.0
	for _, b := range boxes(s) {
		most = max(most, b.W)
	}
	return most
}

// Paper round a cylinder is π(D + t) long, t its thickness; the core's strip is as
// long as the core.
func TestStripsAreFullSize(t *testing.T) {
	r := result(t)
	r.Finishing.Surfaces = []model.Surface{{}}
	const flap, thick = 12.0, 0.1
	// The neck is a cylinder of radius 36 below its tip, whose seam is a step.
	if got, want := longest(template(t, r, "seam-neck-tip").Figure), math.Pi*(72+thick); math.Abs(got-want) > 0.01 {
		t.Errorf("strip round the neck is %v long, want %v", got, want)
	}
	// Pressure pipe 20: mean diameter 20.0 to 20.2 by DIN 8062.
	if got, want := longest(template(t, r, "core-cut").Figure), math.Pi*(20.1+thick); math.Abs(got-want) > 0.01 {
		t.Errorf("wrap round the core is %v long, want %v", got, want)
	}
	r.Facts.CoreMean = &unit.Value{X: 20.34}
	r.Design.Shop.Paper.Thick = 0.25
	if got, want := longest(template(t, r, "core-cut").Figure), math.Pi*(20.34+0.25); math.Abs(got-want) > 0.01 {
		t.Errorf("wrap round the core as read is %v long, want %v", got, want)
	}
	if got, want := longest(template(t, r, "core").Figure), float64(r.Design.Core.Span.Length()); got != want {
		t.Errorf("core strip is %v long, want %v", got, want)
	}
}

// The check bar is on every template, each can be written, nothing runs off its
// paper.
func TestTemplatesCanBeWritten(t *testing.T) {
	r := result(t)
	r.Design.Openings = []model.Opening{{ID: "hole", Part: "vase", Station: 120, Across: 20}, {ID: "hatch", Part: "vase", Station: 120, Wide: 30, High: 40}}
	all := lane.Templates(r, unit.Metric)
	if len(all) != 2+len(r.Division.Seams)+2 {
		t.Errorf("%d templates", len(all))
	}
	for _, c := range all {
		var svg bytes.Buffer
		if err := drawing.SVG(&svg, c.Scene, drawing.SVGOptions{}); err != nil || !strings.Contains(svg.String(), "check-bar") {
			t.Errorf("%s: %v", c.Name, err)
		}
		for _, s := range []*drawing.Scene{c.Scene, c.Figure} {
			for _, b := range boxes(s) {
				if b.X < 0 || b.Y < 0 || b.X+b.W > s.Width || b.Y+b.H > s.Height {
					t.Errorf("%s: %v runs off its paper of %v by %v", c.Name, b, s.Width, s.Height)
				}
			}
		}
		if c.Use == "" || c.Lay == "" || c.Title == "" || c.Where == "" {
			t.Errorf("%s does not say what it is for: %+v", c.Name, c)
		}
	}
}

// The rim of a hole, rolled out on a cylinder, has the width of the arc that the
// hole spans, at the paper's middle.
func TestRolledOutHole(t *testing.T) {
	r := result(t)
	const station, radius, paper = 280, 36.0, 0.1 // on the neck's cylinder
	for _, across := range []float64{2 * radius, radius} {
		r.Design.Openings = []model.Opening{{ID: "hole", Part: "neck", Station: station, Across: unit.Length(across)}}
		want := 2 * math.Asin(across/2/radius) * (radius + paper/2)
		found := false
		for _, b := range boxes(template(t, r, "opening-hole").Figure) {
			found = found || math.Abs(b.W-want) < 0.01 && b.H > across/2
		}
		if !found {
			t.Errorf("a hole of %v in a body of radius %v: no rim %v wide", across, radius, want)
		}
	}
}

// An empty result has no templates.
func TestNoTemplates(t *testing.T) {
	if all := lane.Templates(job.Result{}, unit.Metric); len(all) > 0 {
		t.Errorf("%d templates of nothing", len(all))
	}
}

// A fin's outline has its size, and seams that it crosses name it.
func TestFinTemplate(t *testing.T) {
	in := job.Input{
		Declared: model.Declared{
			Name: "Dart", Reference: model.DeclaredReference{Outline: "o"}, Enlarge: model.DeclaredEnlarge{Ratio: 2},
			Parts: []model.DeclaredPart{
				{ID: "low", From: unit.Ref(0), To: unit.Ref(40), Wall: unit.Shop(3)},
				{ID: "high", From: unit.Ref(40), To: unit.Ref(80), Wall: unit.Shop(3)},
				{ID: "fin", Form: model.Flat, Lie: model.Along, Outline: "f", Thick: unit.Shop(4), Clockings: []float64{math.Pi / 2}},
			},
			Joints:   []model.DeclaredJoint{{ID: "fin-low", Between: [2]string{"fin", "low"}}, {ID: "fin-high", Between: [2]string{"fin", "high"}}},
			Calendar: model.DeclaredCalendar{Start: "2026-11-30"}, Shop: result(t).Design.Shop,
		},
		Outlines: map[string]model.DeclaredOutline{
			"o": {Path: model.Lines(0, 20, 80, 20)},
			"f": {Owner: unit.OfReference, Closed: true, Path: model.Lines(20, 15, 60, 15, 60, 45, 20, 15)},
		},
	}
	r, err := job.Run(context.Background(), in)
	if err != nil || r.Blocked() {
		t.Fatal(err, r.Findings)
	}
	named := false
	for _, item := range template(t, r, "seam-low-high").Scene.Items {
		if w, ok := item.(drawing.Text); ok && w.String == "fin" {
			named = true
		}
	}
	if !named {
		t.Error("the seam's strip does not name the fin that crosses it")
	}
	found := false
	for _, c := range lane.Templates(r, unit.Metric) {
		if strings.HasPrefix(c.Name, "flat-fin") {
			for _, b := range boxes(c.Scene) {
				// Over the body, 20 ref, it runs from 20 + 40·5/30 to 60 ref.
				found = found || math.Abs(b.W-2*(60-20-40.0*5/30)) < 0.1 && b.H > 30
			}
		}
	}
	if !found {
		t.Error("no outline of the fin at full size")
	}
}

// A pipe that nobody knows the width of, one wider than any paper, a core of 5 m and
// odd paper make templates that can be written, or none; nothing is NaN.
func TestTemplatesOfOddBuilds(t *testing.T) {
	for name, change := range map[string]func(*job.Result){
		"no width": func(r *job.Result) { r.Design.Core.Stock.OD, r.Design.Core.Stock.ODMost = 0, 0 },
		"wide":     func(r *job.Result) { r.Design.Core.Stock.OD, r.Design.Core.Stock.ODMost = 630, 632 },
		"long":     func(r *job.Result) { r.Design.Core.Span.To = r.Design.Core.Span.From + 5000 },
		"no core":  func(r *job.Result) { r.Design.Core.Span.To = r.Design.Core.Span.From },
		"letter": func(r *job.Result) {
			r.Design.Shop.Paper = model.Paper{Size: model.PaperLetter, Short: 90, Long: 110, Thick: 2}
		},
		"no profile": func(r *job.Result) { r.Raw = nil },
		"no outline": func(r *job.Result) { r.Design.Outline = nil },
		"openings": func(r *job.Result) {
			r.Design.Openings = []model.Opening{
				{ID: "a", Part: "vase", Station: 120},
				{ID: "b", Part: "none", Station: 1e6, Across: 5},
				{ID: "c", Part: "vase", Station: 41, Across: 500},
				{ID: "d", Part: "tip", Station: 360, Wide: 900, High: 900},
			}
		},
		"stand": func(r *job.Result) {
			r.Design.Stand = &model.Stand{Across: 4000, Square: true, Post: r.Design.Core.Stock}
		},
	} {
		r := result(t)
		core := *r.Design.Core
		r.Design.Core = &core
		change(&r)
		for _, u := range []unit.System{unit.Metric, unit.FeetInches} {
			for _, c := range lane.Templates(r, u) {
				var pages []drawing.Page
				for _, s := range c.Pages(r, u) {
					pages = append(pages, drawing.Page{Scene: s})
				}
				var out, svg bytes.Buffer
				if err := drawing.PDF(&out, pages, drawing.Meta{Uncompressed: true}); err != nil {
					t.Errorf("%s, %s: %v", name, c.Name, err)
				}
				if err := drawing.SVG(&svg, c.Scene, drawing.SVGOptions{}); err != nil || strings.Contains(svg.String(), "NaN") {
					t.Errorf("%s, %s: %v", name, c.Name, err)
				}
				sheet, _ := lane.PaperOf(r, u)
				for _, p := range pages {
					short, long := min(p.Scene.Width, p.Scene.Height), max(p.Scene.Width, p.Scene.Height)
					if short != sheet.Width || long != sheet.Height {
						t.Errorf("%s, %s: a page of %v by %v", name, c.Name, p.Scene.Width, p.Scene.Height)
					}
				}
			}
		}
	}
}

// A handle that leans from the flat end of what it stands on is cut by a plane: a
// cosine r·tan(lean)·cos φ on the paper, by the closed form of another package, and
// an ellipse of half axes r and r/cos(lean) on the end.
func TestMitreOnAFlatEnd(t *testing.T) {
	const guest, paper, lean = 12.0, 0.1, 0.4
	r := leaning(t, [3]float64{5, 0, 180}, lean)
	points := outlineOf(t, template(t, r, "mitre-grip").Figure)
	top, bottom, left := math.Inf(1), math.Inf(-1), math.Inf(1)
	for _, p := range points {
		top, bottom, left = min(top, p[1]), max(bottom, p[1]), min(left, p[0])
	}
	middle := bottom - guest*math.Tan(lean) // where the plane cuts the axis
	n := 0
	for _, p := range points {
		if p[1] < top+0.01 {
			continue
		}
		n++
		turn := (p[0] - left) / (guest + paper/2)
		// Turn 0 is the handle's upper side, which reaches furthest down; so does y.
		if want := middle + development.Mitre(guest, lean, turn); math.Abs(p[1]-want) > 0.05 {
			t.Fatalf("at %v the cut lies at %v, want %v", turn, p[1], want)
		}
	}
	if n < 300 {
		t.Errorf("only %d places of the cut", n)
	}
	foot := outlineOf(t, template(t, r, "foot-grip").Figure)
	lo, hi := foot[0], foot[0]
	for _, p := range foot {
		lo, hi = [2]float64{min(lo[0], p[0]), min(lo[1], p[1])}, [2]float64{max(hi[0], p[0]), max(hi[1], p[1])}
	}
	if w, h := (hi[0]-lo[0])/2, (hi[1]-lo[1])/2; math.Abs(w-guest/math.Cos(lean)) > 0.05 || math.Abs(h-guest) > 0.05 {
		t.Errorf("the foot's half axes are %v and %v, want %v and %v", w, h, guest/math.Cos(lean), guest)
	}
}

// buoy is a cylinder with a handle, a cylinder too, that leans from its side.
func buoy(t *testing.T, lean, offset float64) job.Result {
	t.Helper()
	return leaning(t, [3]float64{20, offset, 60}, lean)
}

// leaning is a cylinder with a handle from a place within it.
func leaning(t *testing.T, at [3]float64, lean float64) job.Result {
	t.Helper()
	sin, cos := math.Sincos(lean)
	in := job.Input{
		Declared: model.Declared{
			Name: "Buoy", Reference: model.DeclaredReference{Outline: "o"}, Enlarge: model.DeclaredEnlarge{Ratio: 1},
			Parts: []model.DeclaredPart{
				{ID: "hull", From: unit.Ref(0), To: unit.Ref(200), Wall: unit.Shop(3)},
				{ID: "handle", Form: model.Turned, Outline: "h", Axis: &model.DeclaredAxis{
					Position: [3]unit.Dim{unit.Ref(at[0]), unit.Ref(at[1]), unit.Ref(at[2])}, Direction: [3]float64{sin, 0, cos},
				}},
			},
			Joints:   []model.DeclaredJoint{{ID: "grip", Between: [2]string{"hull", "handle"}, Glue: "epoxy"}},
			Calendar: model.DeclaredCalendar{Start: "2026-11-30"}, Shop: result(t).Design.Shop,
		},
		Outlines: map[string]model.DeclaredOutline{"o": {Path: model.Lines(0, 50, 200, 50)}, "h": {Path: model.Lines(0, 12, 150, 12)}},
	}
	r, err := job.Run(context.Background(), in)
	if err != nil || r.Blocked() {
		t.Fatal(err, r.Findings)
	}
	return r
}

// closedPaths are the places of a drawing's closed paths, read from its SVG.
func closedPaths(t *testing.T, s *drawing.Scene) [][][2]float64 {
	t.Helper()
	var svg bytes.Buffer
	if err := drawing.SVG(&svg, s, drawing.SVGOptions{}); err != nil {
		t.Fatal(err)
	}
	var out [][][2]float64
	for _, m := range regexp.MustCompile(` d="(M[^"]*Z)"`).FindAllStringSubmatch(svg.String(), -1) {
		var points [][2]float64
		for _, p := range regexp.MustCompile(`[ML]([-\d.]+),([-\d.]+)`).FindAllStringSubmatch(m[1], -1) {
			x, errX := strconv.ParseFloat(p[1], 64)
			y, errY := strconv.ParseFloat(p[2], 64)
			if errX != nil || errY != nil {
				t.Fatal(p)
			}
			points = append(points, [2]float64{x, y})
		}
		out = append(out, points)
	}
	return out
}

// outlineOf is the closed path of a drawing that has the most places.
func outlineOf(t *testing.T, s *drawing.Scene) [][2]float64 {
	t.Helper()
	return slices.MaxFunc(closedPaths(t, s), func(a, b [][2]float64) int { return cmp.Compare(len(a), len(b)) })
}

// The saddle that a build writes, rolled back round the handle, lies on the handle
// and on the hull within 0.05 mm; the foot, rolled back on the hull, on both too.
func TestSaddleRollsBack(t *testing.T) {
	const guest, host, paper = 12.0, 50.0, 0.1
	for _, c := range []struct{ lean, offset float64 }{{0.61, 0}, {math.Pi / 2, 0}, {1.2, 9}} {
		r := buoy(t, c.lean, c.offset)
		sin, cos := math.Sincos(c.lean)
		// The handle's own frame: its axis, +Z made square to it, and what is square to both.
		axis := [3]float64{sin, 0, cos}
		up := [3]float64{-cos, 0, sin}
		side := [3]float64{0, 0, 0} // axis × up
		for k := range 3 {
			side[k] = axis[(k+1)%3]*up[(k+2)%3] - axis[(k+2)%3]*up[(k+1)%3]
		}
		saddle := outlineOf(t, template(t, r, "saddle-grip").Figure)
		top := math.Inf(1)
		for _, p := range saddle {
			top = min(top, p[1])
		}
		// What is straight is the upper edge; where it lies on the handle the sheet says.
		edge := regexp.MustCompile(`its upper edge (\d+) mm`).FindStringSubmatch(template(t, r, "saddle-grip").Lay)
		at, err := strconv.ParseFloat(edge[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		left := math.Inf(1)
		for _, p := range saddle {
			left = min(left, p[0])
		}
		n, most := 0, 0.0
		for _, p := range saddle {
			if p[1] < top+0.01 {
				continue
			}
			turn, along := (p[0]-left)/(guest+paper/2), at-(p[1]-top)
			var v [3]float64
			for k := range 3 {
				v[k] = [3]float64{20, c.offset, 60}[k] + along*axis[k] + guest*(math.Cos(turn)*up[k]+math.Sin(turn)*side[k])
			}
			most = math.Max(most, math.Abs(math.Hypot(v[0], v[1])-host))
			n++
		}
		// The sheet says the edge to the millimetre: what all places are off by alike is
		// the rounding, along a line that leans.
		if n < 300 || most > 0.5/math.Sin(c.lean)+0.05 {
			t.Errorf("lean %v: %d places, up to %v off the hull", c.lean, n, most)
		}
		if worst := spread(saddle, top, left, guest, paper, func(turn, along float64) float64 {
			var v [3]float64
			for k := range 3 {
				v[k] = [3]float64{20, c.offset, 60}[k] + along*axis[k] + guest*(math.Cos(turn)*up[k]+math.Sin(turn)*side[k])
			}
			return math.Hypot(v[0], v[1]) - host
		}, at); worst > 0.05 {
			t.Errorf("lean %v: the saddle lies up to %v off the hull", c.lean, worst)
		}

		foot := outlineOf(t, template(t, r, "foot-grip").Figure)
		cross := regexp.MustCompile(`station ([\d.]+) mm, clocking ([\d.]+)°`).FindStringSubmatch(template(t, r, "foot-grip").Lay)
		z0, _ := strconv.ParseFloat(cross[1], 64)
		turn0, _ := strconv.ParseFloat(cross[2], 64)
		lo, hi := foot[0], foot[0]
		for _, p := range foot {
			lo = [2]float64{min(lo[0], p[0]), min(lo[1], p[1])}
			hi = [2]float64{max(hi[0], p[0]), max(hi[1], p[1])}
		}
		for _, p := range foot {
			turn := turn0*math.Pi/180 + (p[0]-(lo[0]+hi[0])/2)/(host+paper/2)
			z := z0 - (p[1] - (lo[1]+hi[1])/2)
			w := [3]float64{host*math.Cos(turn) - 20, host*math.Sin(turn) - c.offset, z - 60}
			x := [3]float64{w[1]*axis[2] - w[2]*axis[1], w[2]*axis[0] - w[0]*axis[2], w[0]*axis[1] - w[1]*axis[0]}
			// Its middle is said to a tenth of a millimetre and a hundredth of a degree.
			if d := math.Sqrt(x[0]*x[0]+x[1]*x[1]+x[2]*x[2]) - guest; math.Abs(d) > 0.05+0.05+0.02 {
				t.Errorf("lean %v: the foot at %v lies %v off the handle", c.lean, p, d)
				break
			}
		}
	}
}

// spread is how far the places of a saddle lie off a surface, the paper pushed along
// the handle to where that is least: the sheet's own figure is rounded.
func spread(saddle [][2]float64, top, left, guest, paper float64, off func(turn, along float64) float64, at float64) float64 {
	best := math.Inf(1)
	for push := -0.6; push <= 0.6; push += 0.002 {
		most := 0.0
		for _, p := range saddle {
			if p[1] > top+0.01 {
				most = math.Max(most, math.Abs(off((p[0]-left)/(guest+paper/2), at+push-(p[1]-top))))
			}
		}
		best = math.Min(best, most)
	}
	return best
}

// A part that stays as printed has a cover that goes once round it: the frustum's
// sector for the tip, gores whose widths make π(D + t) for what is curved.
func TestCoversOfWhatStaysBare(t *testing.T) {
	r := result(t)
	r.Finishing.Surfaces = []model.Surface{{}}
	r.Design.Parts = slices.Clone(r.Design.Parts)
	for i := range r.Design.Parts {
		p := &r.Design.Parts[i]
		p.Finished = p.ID != "tip" && p.ID != "vase"
	}
	// The tip is a frustum of radii 32 and 16, 40 mm high: its skin is π(R + r)·s; the
	// paper's middle lies half its thickness outside.
	slant := math.Hypot(40, 16)
	skin := math.Pi * (32 + 16 + 0.1*40/slant) * slant
	covers := 0
	for _, c := range lane.Templates(r, unit.Metric) {
		switch c.Name {
		case "cover-tip":
			covers++
			if strings.Contains(c.Title, "quarter") {
				t.Error("the tip is not so steep that its cover needs quarters")
			}
			area := 0.0
			for _, loop := range closedPaths(t, c.Figure) {
				if len(loop) > 100 {
					for i, p := range loop {
						q := loop[(i+1)%len(loop)]
						area += (p[0]*q[1] - q[0]*p[1]) / 2
					}
				}
			}
			if math.Abs(math.Abs(area)-skin) > 1e-3*skin {
				t.Errorf("the tip's cover is %v mm², want %v", area, skin)
			}
		case "cover-vase": // from radius 24 to 44 and back to 24
			covers++
			if got, want := c.Figure.Width-2, math.Pi*(88+0.1); math.Abs(got-want) > 0.01 {
				t.Errorf("gores of the vase are %v wide side by side, want %v", got, want)
			}
			if got, want := c.Figure.Height-2, math.Hypot(80, 20)+math.Hypot(60, 20); math.Abs(got-want) > 0.01 {
				t.Errorf("gores of the vase are %v long, want its profile's %v", got, want)
			}
		case "cover-foot", "cover-neck":
			t.Errorf("%s covers what is finished", c.Name)
		}
	}
	if covers != 2 {
		t.Errorf("%d covers, want 2", covers)
	}
}
