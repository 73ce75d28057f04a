package place_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/place"
	"scalewright/stock"
	"scalewright/unit"
)

// drum is one hollow piece from 0 to 300, 100 inside, with a core of 50 and a core
// ring at 100 to 106.
func drum() place.Input {
	wall := []model.Point{{Station: 0, Radius: 100}, {Station: 300, Radius: 100}}
	id := model.PieceID{Kind: model.Shell, Part: "drum", From: model.Foot, To: model.Nose}
	pipe, _ := stock.FindPipe("pressure-50")
	return place.Input{
		Design: model.Design{
			Outline: model.Lines(0, 103, 300, 103), Core: &model.Core{Stock: pipe, Span: model.Span{To: 300}, Hold: model.Spaced},
			Parts: []model.Part{{ID: "drum", Span: model.Span{To: 300}, Wall: 3}},
		},
		Raw: []model.Raw{{Part: "drum", FootDown: wall, NoseDown: wall}},
		Division: model.Division{
			Pieces: []model.Piece{{ID: id, Span: model.Span{To: 300}}},
			Seats:  []model.Seat{{Ring: model.PieceID{Kind: model.CoreRing, Part: "drum", From: model.Foot}, Host: id, Span: model.Span{From: 100, To: 106}}},
		},
	}
}

func component(id, kind string) model.Component {
	k, ok := stock.FindComponent(kind)
	if !ok {
		panic(kind)
	}
	return model.Component{ID: id, Kind: k, Part: "drum", Service: model.Serviced}
}

func run(t testing.TB, in place.Input) (model.Places, finding.List) {
	t.Helper()
	p, found, err := place.Run(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return p, found
}

func ExampleRun() {
	in := drum()
	in.Design.Components = []model.Component{component("brain", "controller-328"), component("go", "sound-player")}
	p, _ := run(&testing.B{}, in)
	for _, b := range p.Bays {
		fmt.Printf("%s at %v\n", b.Component, b.Centre[2])
	}
	for _, w := range p.Ways {
		fmt.Println(w.Wire, w.Length)
	}
	// Output:
	// brain at 45.5
	// go at 43
	// brain-go 190
}

// Whatever is asked for, each bay lies inside the wall, off the core and off the
// ring, and no two bays hold the same place of a fine lattice.
func TestBaysKeepOff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drum()
		kinds := []string{"controller-328", "sound-player", "amplifier-mono", "bank-5000", "bank-10000"}
		for i := range rapid.IntRange(1, 6).Draw(t, "components") {
			in.Design.Components = append(in.Design.Components, component(fmt.Sprint("c", i), rapid.SampledFrom(kinds).Draw(t, "kind")))
		}
		p, _, err := place.Run(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		taken := map[[3]int]string{}
		for _, b := range p.Bays {
			const steps = 12
			for i := range steps + 1 {
				for k := range steps + 1 {
					for l := range steps + 1 {
						var at [3]float64
						for n := range at {
							at[n] = float64(b.Centre[n])
							for m, share := range [3]int{i, k, l} {
								at[n] += b.Axes[m][n] * float64(b.Size[m]) * (float64(share)/steps - 0.5)
							}
						}
						r := math.Hypot(at[0], at[1])
						if r > 100 || r < 25 || at[2] < 0 || at[2] > 300 || at[2] > 100 && at[2] < 106 {
							t.Fatalf("%s reaches %v", b.Component, at)
						}
						if 0 < i && i < steps && 0 < k && k < steps && 0 < l && l < steps {
							cell := [3]int{int(math.Floor(at[0])), int(math.Floor(at[1])), int(math.Floor(at[2]))}
							if other, ok := taken[cell]; ok && other != b.Component && inside(p, other, at) {
								t.Fatalf("%s and %s hold %v", b.Component, other, at)
							}
							taken[cell] = b.Component
						}
					}
				}
			}
		}
	})
}

// inside reports whether a place lies in a component's bay.
func inside(p model.Places, component string, at [3]float64) bool {
	b, _ := p.Bay(component)
	for m := range 3 {
		d := 0.0
		for n := range 3 {
			d += b.Axes[m][n] * (at[n] - float64(b.Centre[n]))
		}
		if math.Abs(d) > float64(b.Size[m])/2 {
			return false
		}
	}
	return true
}

// A strip is wound in as many turns as its length needs: 2πr each.
func TestStripIsWound(t *testing.T) {
	for pixels, turns := range map[int]float64{20: 1, 40: 2, 100: 3} {
		in := drum()
		strip := component("glow", "strip-60")
		strip.Pixels, strip.Length = pixels, unit.Length(float64(pixels)*16.667)
		in.Design.Components = []model.Component{strip}
		p, found := run(t, in)
		if len(found) > 0 {
			t.Fatal(found)
		}
		if got := math.Ceil(float64(strip.Length) / (2 * math.Pi * float64(p.Bays[0].Wound))); float64(p.Bays[0].Size[2]) != turns*14 || got != turns {
			t.Errorf("%d pixels: %v high, %v turns, want %v", pixels, p.Bays[0].Size[2], got, turns)
		}
	}
}
