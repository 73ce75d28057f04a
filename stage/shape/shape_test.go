package shape_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/stage/shape"
	"scalewright/unit"
)

func part(body model.Outline, wall float64) model.Part {
	return model.Part{ID: "a", Span: model.Span{From: unit.Length(body.Start()), To: unit.Length(body.End())}, Outline: body, Wall: unit.Length(wall)}
}

func ExampleRun() {
	body := model.Lines(0, 50, 100, 50)
	p := part(body, 3)
	p.OpenFoot = true
	raw, found, err := shape.Run(context.Background(), shape.Input{Part: p, Body: body})
	fmt.Printf("at the foot %.1f, half way %.1f, under the nose %.1f, %v %v\n",
		model.LowestBetween(raw.FootDown, 0, 0), model.LowestBetween(raw.FootDown, 40, 40), model.LowestBetween(raw.FootDown, 98, 98), found, err)
	// Output: at the foot 47.0, half way 47.0, under the nose 0.0, [] <nil>
}

func TestOffTheBody(t *testing.T) {
	p := model.Part{ID: "a", Span: model.Span{From: 200, To: 300}, Wall: 3}
	_, found, err := shape.Run(context.Background(), shape.Input{Part: p, Body: model.Lines(0, 50, 100, 50)})
	if err != nil || len(found) != 1 || found[0].Code != "part-off-body" || found[0].Part != "a" {
		t.Errorf("found %v, %v", found, err)
	}
}

// distance is how far a point lies from an outline, slow and obvious.
func distance(p model.Point, line []model.Point) float64 {
	nearest := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		dz, dr := b.Station-a.Station, b.Radius-a.Radius
		t := 0.0
		if n := dz*dz + dr*dr; n > 0 {
			t = min(1, max(0, ((p.Station-a.Station)*dz+(p.Radius-a.Radius)*dr)/n))
		}
		nearest = min(nearest, math.Hypot(p.Station-a.Station-t*dz, p.Radius-a.Radius-t*dr))
	}
	return nearest
}

// No point of a cavity lies nearer to the outline than the wall, ends that are
// closed included; and printed either way, no ceiling falls faster than 45°.
func TestCavityKeepsTheWallAndPrints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zr := []float64{0, float64(rapid.IntRange(0, 60).Draw(t, "radius"))}
		for range rapid.IntRange(1, 6).Draw(t, "corners") {
			zr = append(zr, zr[len(zr)-2]+float64(rapid.SampledFrom([]int{0, 3, 20, 70}).Draw(t, "run")), float64(rapid.IntRange(0, 60).Draw(t, "radius")))
		}
		body := model.Lines(zr...)
		if body.End() == 0 {
			return
		}
		wall := rapid.Float64Range(0.8, 8).Draw(t, "wall")
		p := part(body, wall)
		p.OpenFoot, p.OpenNose = rapid.Bool().Draw(t, "open foot"), rapid.Bool().Draw(t, "open nose")
		raw, found, err := shape.Run(context.Background(), shape.Input{Part: p, Body: body})
		if err != nil || len(found) != 0 {
			t.Fatalf("%v, %v", found, err)
		}
		outline := raw.Outer
		if !p.OpenFoot {
			outline = append([]model.Point{{Station: 0}}, outline...)
		}
		if !p.OpenNose {
			outline = append(outline, model.Point{Station: body.End()})
		}
		for name, cavity := range map[string][]model.Point{"foot down": raw.FootDown, "nose down": raw.NoseDown} {
			for i, q := range cavity {
				if q.Radius > 0 && distance(q, outline) < wall-0.01 {
					t.Errorf("%s: the cavity at %v lies %v from the outline, wall %v", name, q, distance(q, outline), wall)
				}
				if i == 0 {
					continue
				}
				rise, fall := q.Station-cavity[i-1].Station, cavity[i-1].Radius-q.Radius
				if name == "nose down" {
					fall = -fall
				}
				// Straightening may tilt a ceiling by its sag, 0.005 mm at both ends.
				if rise < 0 || fall > rise+0.011 {
					t.Errorf("%s: a ceiling falls %v over %v at %v", name, fall, rise, q.Station)
				}
			}
		}
	})
}
