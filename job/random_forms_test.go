package job_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/formats"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Parts of every form that are no stretch of a body, far from one another: the job
// says what stands in the way, or makes pieces that are closed, of one body, inside
// their printers and clear of the core.
func TestRandomFormsAreMade(t *testing.T) {
	t.Parallel()
	made := map[model.Form]int{}
	makes := func(t *rapid.T) {
		r, err := job.Run(t.Context(), randomForms(t))
		if err != nil {
			t.Fatalf("Run: %v", err)
		}
		if r.Blocked() {
			return
		}
		mustAssemble(t, r)
		for _, p := range r.Design.Parts {
			made[p.Form]++
		}
	}
	const rounds = 10 // blocked builds make nothing, and there are many
	for n := 0; n < rounds && len(made) < 3; n++ {
		rapid.Check(t, makes)
	}
	for _, form := range []model.Form{model.Turned, model.Flat, model.Imported} {
		if made[form] == 0 {
			t.Errorf("no part was made that is %s", form)
		}
	}
}

func randomForms(t *rapid.T) job.Input {
	in := randomBuild(t)
	d := &in.Declared
	d.Reference.Outline, d.Core, d.Joints, d.Cuts, d.Parts = "", nil, nil, nil, nil
	turned := in.Outlines["o"]
	in.Outlines, in.Models = map[string]model.DeclaredOutline{"o": turned}, map[string][]byte{}
	number := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
	for i := range rapid.IntRange(1, 3).Draw(t, "parts") {
		id := fmt.Sprintf("p%d", i)
		p := model.DeclaredPart{ID: id, At: finding.Place{File: "build.yaml", Path: "parts." + id}, Lie: model.Along}
		lean := solid.Vec{number("lean x", -1, 1), number("lean y", -1, 1), number("lean z", 0.1, 1)}.Unit()
		p.Axis = &model.DeclaredAxis{
			Position:  [3]unit.Dim{unit.Shop(5000 * float64(i+1)), unit.Shop(number("y", -100, 100)), unit.Shop(number("z", -100, 100))},
			Direction: [3]float64(lean), Clocking: number("clocking", -3, 3),
		}
		p.Form = rapid.SampledFrom([]model.Form{model.Turned, model.Flat, model.Imported}).Draw(t, "form")
		if rapid.Bool().Draw(t, "walled") && p.Form != model.Flat {
			p.Wall = unit.Shop(rapid.SampledFrom([]float64{1.2, 3, 6}).Draw(t, "wall"))
		}
		switch p.Form {
		case model.Turned:
			p.Outline = "o"
			if rapid.Bool().Draw(t, "bored") {
				p.Bore = unit.Ref(number("bore", 1, 20))
			}
		case model.Flat:
			p.Outline, p.Thick = id, unit.Ref(number("thick", 0.5, 5))
			if rapid.Bool().Draw(t, "across") {
				p.Lie, p.From = model.Across, unit.Ref(number("from", -10, 10))
			}
			in.Outlines[id] = star(t)
		case model.Imported:
			p.Model, in.Models[id+".stl"] = id+".stl", blob(t)
			if i == 0 && rapid.Bool().Draw(t, "on the core") {
				p.Axis = nil
				d.Core = &model.DeclaredCore{
					Stock: rapid.SampledFrom([]string{"dowel-12", "pressure-20"}).Draw(t, "stock"),
					From:  unit.Ref(number("core from", -30, 5)), To: unit.Ref(number("core to", 6, 40)), Hold: model.Bored,
				}
				if p.Wall.Written() {
					p.Wall = unit.Shop(6) // a coarse cavity: what is tried here is the sleeve
				}
			} else {
				p.Wall = unit.Dim{}
			}
		}
		if rapid.IntRange(0, 2).Draw(t, "copied") == 0 && p.Axis != nil {
			p.Clockings = []float64{0, number("copy", 1, 2)}
		}
		d.Parts = append(d.Parts, p)
	}
	return in
}

// star is a closed outline seen whole from its middle, sometimes with a hole there.
func star(t *rapid.T) model.DeclaredOutline {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	least := math.Inf(1)
	round := func(radius func(k int) float64, n int) (o model.Outline) {
		var zr []float64
		for k := range n + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k%n) / float64(n))
			r := radius(k % n)
			zr = append(zr, 40+r*cos, 60+r*sin)
		}
		return model.Lines(zr...)
	}
	radii := make([]float64, n)
	for k := range radii {
		radii[k] = float64(rapid.IntRange(5, 60).Draw(t, "radius"))
		least = min(least, radii[k])
	}
	out := model.DeclaredOutline{Closed: true, DoubtMM: 0.05, Path: round(func(k int) float64 { return radii[k] }, n)}
	if rapid.Bool().Draw(t, "holed") {
		out.Holes = []model.Outline{round(func(int) float64 { return least / 4 }, 5)}
	}
	return out
}

// blob is a mesh file: a ball pressed out of round, from a little below station 0
// up.
func blob(t *rapid.T) []byte {
	m, err := solid.Sphere(solid.Vec{0, 0, 0}, 10, 3)
	if err != nil {
		t.Fatal(err)
	}
	stretch := func(name string) float64 { return rapid.Float64Range(0.6, 3).Draw(t, name) }
	m = m.Transform(solid.Transform{M: [3][3]float64{{stretch("a"), 0, 0}, {0.2, stretch("b"), 0}, {0, 0, stretch("c")}}, T: solid.Vec{0, 0, 8}})
	var file bytes.Buffer
	if _, err := formats.WriteSTL(&file, m, "blob"); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}
