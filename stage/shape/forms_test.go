package shape_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/formats"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/shape"
	"scalewright/unit"
)

func run(t *testing.T, in shape.Input) (model.Raw, finding.List) {
	t.Helper()
	raw, found, err := shape.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	return raw, found
}

func mustFind(t *testing.T, found finding.List, codes ...finding.Code) {
	t.Helper()
	if len(found) != len(codes) {
		t.Fatalf("found %v, want %v", found, codes)
	}
	for i, f := range found {
		if f.Code != codes[i] || f.Part != "a" {
			t.Errorf("found %v, want %v about a", f, codes[i])
		}
	}
}

func TestOwnTurned(t *testing.T) {
	p := part(model.Lines(0, 10, 60, 10), 0)
	p.Own, p.Axis = true, model.Axis{Direction: [3]float64{0, 1, 0}}
	raw, found := run(t, shape.Input{Part: p})
	mustFind(t, found)
	if len(raw.Outer) != 2 || raw.FootDown != nil {
		t.Errorf("without a wall: %+v", raw)
	}
	p.Wall = 2
	raw, _ = run(t, shape.Input{Part: p})
	if r := model.LowestBetween(raw.FootDown, 20, 20); math.Abs(r-8) > 0.03 {
		t.Errorf("its cavity is %v in radius, want 8", r)
	}
	p.Outline = model.Lines(0, 10, 60, 10, 50, 20)
	_, found = run(t, shape.Input{Part: p})
	mustFind(t, found, "own-outline")
}

// plate is a closed outline through points.
func plate(xy ...float64) model.Outline {
	return model.Lines(append(xy, xy[0], xy[1])...)
}

func flatPart(outer model.Outline, holes ...model.Outline) model.Part {
	return model.Part{ID: "a", Own: true, Form: model.Flat, Plate: model.Plate{Lie: model.Along, Outer: outer, Holes: holes, Thick: 5}}
}

func TestFlat(t *testing.T) {
	hole := plate(20, 20, 40, 20, 40, 30, 20, 30)
	for name, outer := range map[string]model.Outline{
		"anticlockwise": plate(0, 0, 100, 0, 100, 50, 0, 50),
		"clockwise":     plate(0, 0, 0, 50, 100, 50, 100, 0),
	} {
		raw, found := run(t, shape.Input{Part: flatPart(outer, hole)})
		mustFind(t, found)
		if v := raw.Solid.Volume(); math.Abs(v-5*(100*50-20*10)) > 1e-6 || !raw.Solid.Closed() {
			t.Errorf("%s: volume %v", name, v)
		}
		if long := float64(raw.Line.Span.Length()); math.Abs(long-100) > 1e-9 || raw.Line.Direction != (solid.Vec{1, 0, 0}) {
			t.Errorf("%s: %v long along %v, want its long side", name, long, raw.Line.Direction)
		}
	}
	// Half a disc: its area is πr²/2 less what the chords of 0.01 mm leave.
	half := model.Outline{
		{Kind: model.Line, From: model.Point{Station: -30}, To: model.Point{Station: 30}},
		{Kind: model.Arc, From: model.Point{Station: 30}, To: model.Point{Radius: 30}, R: 30},
		{Kind: model.Arc, From: model.Point{Radius: 30}, To: model.Point{Station: -30}, R: 30},
	}
	raw, _ := run(t, shape.Input{Part: flatPart(half)})
	if v, want := raw.Solid.Volume(), 5*math.Pi*900/2; v > want || v < want-5*math.Pi*30*0.01 {
		t.Errorf("half a disc holds %v, its circle %v", v, want)
	}
}

func TestFlatThatCannotBe(t *testing.T) {
	square := plate(0, 0, 100, 0, 100, 50, 0, 50)
	for name, p := range map[string]model.Part{
		"a bow":               flatPart(plate(0, 0, 40, 20, 40, 0, 0, 20)),
		"nothing":             flatPart(nil),
		"a line":              flatPart(plate(0, 0, 40, 20, 20, 10)),
		"a hole outside":      flatPart(square, plate(200, 0, 210, 0, 210, 10)),
		"a hole over an edge": flatPart(square, plate(-5, 10, 20, 10, 20, 20)),
	} {
		_, found := run(t, shape.Input{Part: p})
		if len(found) != 1 || found[0].Code != "own-outline" {
			t.Errorf("%s: found %v", name, found)
		}
	}
}

// stl is a mesh as a file of ours.
func stl(t *testing.T, m solid.Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := formats.WriteSTL(&b, m, "test"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// obj is one that need not be closed, which the writers refuse.
func obj(m solid.Mesh) []byte {
	var b bytes.Buffer
	for _, v := range m.Vertices {
		fmt.Fprintln(&b, "v", v[0], v[1], v[2])
	}
	for _, t := range m.Triangles {
		fmt.Fprintln(&b, "f", t[0]+1, t[1]+1, t[2]+1)
	}
	return b.Bytes()
}

func importedPart(scale, wall float64) model.Part {
	return model.Part{
		ID: "a", Own: true, Form: model.Imported, Wall: unit.Length(wall),
		Import: model.Import{File: "models/a.stl", Scale: scale, Hollow: wall > 0},
	}
}

func TestImported(t *testing.T) {
	ball, err := solid.Sphere(solid.Vec{0, 0, 10}, 10, 12)
	if err != nil {
		t.Fatal(err)
	}
	file := stl(t, ball)
	raw, found := run(t, shape.Input{Part: importedPart(3, 0), Model: file})
	mustFind(t, found)
	if v, want := raw.Solid.Volume(), 27*ball.Volume(); math.Abs(v-want) > 1e-5*want {
		t.Errorf("holds %v, want 27 times %v", v, ball.Volume())
	}
	if s := raw.Line.Span; math.Abs(float64(s.From)) > 1e-4 || math.Abs(float64(s.To)-60) > 1e-4 {
		t.Errorf("lies from %v to %v along its axis, want 0 to 60", s.From, s.To)
	}
	raw, found = run(t, shape.Input{Part: importedPart(3, 3), Model: file})
	mustFind(t, found)
	if raw.Least.Thickness < 3 || raw.Filled.Empty() || raw.Solid.Volume() > raw.Filled.Volume()/2 {
		t.Errorf("hollowed: least %v, %v of %v mm³", raw.Least, raw.Solid.Volume(), raw.Filled.Volume())
	}
	_, found = run(t, shape.Input{Part: importedPart(1, 9.9), Model: file})
	mustFind(t, found, "too-thin-to-hollow")
}

func TestImportedThatIsNotSound(t *testing.T) {
	box, err := solid.Box(solid.Vec{}, solid.Vec{10, 10, 10})
	if err != nil {
		t.Fatal(err)
	}
	holed := solid.Mesh{Vertices: box.Vertices, Triangles: box.Triangles[1:]}
	open := importedPart(1, 0)
	open.Import.File = "models/a.obj"
	raw, found := run(t, shape.Input{Part: open, Model: obj(holed)})
	mustFind(t, found, "model-mended")
	if !raw.Solid.Closed() || math.Abs(raw.Solid.Volume()-1000) > 1e-3 {
		t.Errorf("mended: %v mm³", raw.Solid.Volume())
	}
	sheet := solid.Mesh{Vertices: box.Vertices, Triangles: box.Triangles[:1]}
	_, found = run(t, shape.Input{Part: open, Model: obj(sheet)})
	mustFind(t, found, "model-open")
	for name, data := range map[string][]byte{"empty": nil, "text": []byte("not a mesh"), "cut off": stl(t, box)[:200]} {
		if _, found := run(t, shape.Input{Part: importedPart(1, 0), Model: data}); len(found) != 1 || found[0].Code != "model-unread" {
			t.Errorf("%s: found %v", name, found)
		}
	}
	p := importedPart(1, 0)
	p.Import.File = "models/a.step"
	_, found = run(t, shape.Input{Part: p, Model: []byte("ISO-10303-21;")})
	mustFind(t, found, "model-unread")
}

// A hollow ball holds 4/3·π(R³ - (R - w)³), near enough for the flats of a sphere and
// a cavity shaped on a lattice of half the wall.
func TestHollowBall(t *testing.T) {
	ball, err := solid.Sphere(solid.Vec{}, 20, 24)
	if err != nil {
		t.Fatal(err)
	}
	const wall = 4.0
	raw, found := run(t, shape.Input{Part: importedPart(3, wall), Model: stl(t, ball)})
	mustFind(t, found)
	want := 4.0 / 3 * math.Pi * (60*60*60 - (60-wall)*(60-wall)*(60-wall))
	if got := raw.Solid.Volume(); got < want*0.995 || got > want*1.06 {
		t.Errorf("a hollow ball holds %v, want %v to 6 %% more", got, want)
	}
	// Filled is the same outside without the cavity.
	if got, want := raw.Filled.Volume(), 4.0/3*math.Pi*60*60*60; math.Abs(got-want) > 0.01*want {
		t.Errorf("filled it holds %v, want %v", got, want)
	}
	if n := len(raw.Filled.Components()); n != 1 || !raw.Filled.Closed() {
		t.Errorf("filled it has %d shells", n)
	}
}
