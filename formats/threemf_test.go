package formats_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"scalewright/formats"
	"scalewright/solid"
)

func demoModel() formats.Model {
	half := solid.QuarterTurns(0, 2).Then(solid.Translation(solid.Vec{0, 40, 1.5}))
	return formats.Model{
		Metadata: []formats.Metadata{{Name: "Title", Value: "tail <ring> & \"nose\""}, {Name: "Application", Value: "test"}},
		Objects: []formats.Object{
			{Name: "ring", PartNumber: "A1", Mesh: cylinder(12.1, 3, 24)},
			{Name: "cube", Mesh: cube()},
			{Name: "both", Components: []formats.Component{
				{Object: 0, Transform: solid.Identity()},
				{Object: 1, Transform: solid.Rotation(solid.Vec{1, 2, 3}, 0.7).Then(solid.Translation(solid.Vec{50, 0, 0}))},
			}},
		},
		Items: []formats.Item{{Object: 2, Transform: half}, {Object: 1, PartNumber: "A2", Transform: solid.Identity()}},
	}
}

func threeMF(t testing.TB, m formats.Model) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := formats.Write3MF(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func read3MF(data []byte, limits formats.Limits) (formats.Model, error) {
	return formats.Read3MF(bytes.NewReader(data), int64(len(data)), limits)
}

func ExampleWrite3MF() {
	box, err := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 20, 30})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	err = formats.Write3MF(&file, formats.Model{
		Objects: []formats.Object{{Name: "gauge block", Mesh: box}},
		Items:   []formats.Item{{Object: 0, Transform: solid.Identity()}},
	})
	fmt.Println(err)
	back, err := formats.Read3MF(bytes.NewReader(file.Bytes()), int64(file.Len()), formats.Limits{})
	fmt.Println(back.Objects[0].Name, back.Objects[0].Mesh.Volume(), err)
	// Output:
	// <nil>
	// gauge block 6000 <nil>
}

func Test3MFRoundTrip(t *testing.T) {
	m := demoModel()
	data := threeMF(t, m)
	back, err := read3MF(data, formats.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(m, back); diff != "" {
		t.Errorf("write then read (-want +got):\n%s", diff)
	}
	if !bytes.Equal(threeMF(t, back), data) {
		t.Error("the same model gives other bytes")
	}
	all, err := back.Mesh(formats.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if want := m.Objects[0].Mesh.Volume() + 2; math.Abs(all.Volume()-want) > 1e-9 {
		t.Errorf("items hold %v, want %v", all.Volume(), want)
	}
	// The ring was turned over and lies between 1.5 − 3 and 1.5.
	if b := all.Bounds(); math.Abs(b.Min[2]+1.5) > 1e-9 {
		t.Errorf("bounds %v", b)
	}
}

// Supports and what else is no solid stay in the model but not in its mesh; the
// type of an assembly counts for nothing (3MF core 1.3, chapter 4).
func Test3MFTypes(t *testing.T) {
	open := cube()
	open.Triangles = open.Triangles[1:]
	place := solid.Identity()
	m := formats.Model{
		Objects: []formats.Object{
			{Name: "body", Mesh: cube()},
			{Name: "foot", Type: formats.SolidSupport, Mesh: cube()},
			{Name: "skirt", Type: formats.Support, Mesh: open},
			{Name: "label", Type: formats.Surface, Mesh: open},
			{Name: "range", Type: formats.OtherObject, Mesh: open},
			{Name: "all", Type: formats.Support, Components: []formats.Component{{0, place}, {1, place}, {2, place}, {3, place}}},
		},
		Items: []formats.Item{{Object: 5, Transform: solid.Reflection(solid.Plane{Normal: solid.Vec{1, 0, 0}})}},
	}
	back, err := read3MF(threeMF(t, m), formats.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(m, back); diff != "" {
		t.Errorf("write then read (-want +got):\n%s", diff)
	}
	all, err := back.Mesh(formats.Limits{})
	if err != nil || len(all.Triangles) != 12 || all.Volume() != 1 || !all.Closed() {
		t.Errorf("%d triangles, volume %v, %v", len(all.Triangles), all.Volume(), err)
	}
	if want := (solid.Bounds{Min: solid.Vec{-1, 0, 0}, Max: solid.Vec{0, 1, 1}}); all.Bounds() != want {
		t.Errorf("mirrored to %v, want %v", all.Bounds(), want)
	}
}

// The parts a package must have, by ECMA-376 part 2 and the 3MF core.
func Test3MFPackage(t *testing.T) {
	data := threeMF(t, demoModel())
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		if want := time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC); !f.Modified.Equal(want) {
			t.Errorf("%s has the time %v", f.Name, f.Modified)
		}
	}
	if diff := cmp.Diff([]string{"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}, names); diff != "" {
		t.Errorf("parts (-want +got):\n%s", diff)
	}
	r, err := z.File[2].Open()
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">`,
		`<metadata name="Title">tail &lt;ring&gt; &amp; &#34;nose&#34;</metadata>`,
		`<object id="1" type="model" name="ring" partnumber="A1">`,
		`<item objectid="3" transform="1 0 0 0 -1 0 0 0 -1 0 40 1.5"/>`,
		`<item objectid="2" partnumber="A2"/>`,
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the model lacks %s", want)
		}
	}
}

// pack makes a package around a model part.
func pack(t testing.TB, model string) []byte {
	t.Helper()
	return packParts(t, "_rels/.rels", rels, "3D/3dmodel.model", model)
}

const rels = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="a" ` +
	`Target="/3D/3dmodel.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>`

func packParts(t testing.TB, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err == nil {
			_, err = io.WriteString(w, parts[i+1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// wrap puts elements into a model; the tetrahedron is object 1.
func wrap(attr, resources, build string) string {
	return `<?xml version="1.0"?><model xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02" ` +
		`xmlns:x="http://example.com/x" ` + attr + `><metadata name="x:secret">s</metadata>` +
		`<resources><basematerials id="9"><base name="grey"/></basematerials>` + resources + `</resources>` +
		`<build>` + build + `</build></model>`
}

const tetrahedron = `<object id="1"><mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/>` +
	`<vertex x="0" y="1" z="0"/><vertex x="0" y="0" z="1" x:note="n"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/>` +
	`<triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="0" v2="3" v3="2" pid="9"/></triangles>` +
	`<x:beams><vertex x="q"/></x:beams></mesh></object>`

func Test3MFUnits(t *testing.T) {
	for unit, scale := range map[string]float64{
		`unit="inch"`: 25.4, `unit="micron"`: 0.001, `unit="foot"`: 304.8, `unit="meter"`: 1000, `unit="centimeter"`: 10, ``: 1,
	} {
		item := `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 2 0 0"/>`
		m, err := read3MF(pack(t, wrap(unit, tetrahedron, item)), formats.Limits{})
		if err != nil {
			t.Errorf("%s: %v", unit, err)
			continue
		}
		all, err := m.Mesh(formats.Limits{})
		if err != nil || len(m.Metadata) != 0 {
			t.Errorf("%s: %v, metadata %v", unit, err, m.Metadata)
		}
		want := solid.Bounds{Min: solid.Vec{2 * scale, 0, 0}, Max: solid.Vec{3 * scale, scale, scale}}
		if d := all.Bounds().Max.Sub(want.Max).Length() + all.Bounds().Min.Sub(want.Min).Length(); d > 1e-12*scale {
			t.Errorf("%s: bounds %v, want %v", unit, all.Bounds(), want)
		}
		if err := all.Solid(); err != nil {
			t.Errorf("%s: %v", unit, err)
		}
	}
}

func Test3MFRefuses(t *testing.T) {
	good := threeMF(t, demoModel())
	item := `<item objectid="1"/>`
	swap := func(from, to string) string {
		s := wrap("", tetrahedron, item)
		if !strings.Contains(s, from) {
			t.Fatalf("no %s to replace", from)
		}
		return strings.Replace(s, from, to, 1)
	}
	model := func(s string) []byte { return pack(t, s) }
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "3MF: not a complete zip file"},
		{"truncated", good[:len(good)-30], "3MF: not a complete zip file"},
		{"no relationships", packParts(t, "a", "b"), "3MF _rels/.rels: is missing from the package"},
		{"no model", packParts(t, "_rels/.rels", rels), "3MF 3D/3dmodel.model: is missing from the package"},
		{"two models", packParts(t, "_rels/.rels", rels, "3D/3dmodel.model", "a", "3d/3dModel.model", "b"), "3MF 3D/3dmodel.model: is in the package twice"},
		{"other relationships", packParts(t, "_rels/.rels", "<a/>"), "3MF _rels/.rels: names no 3D model"},
		{"no XML", model("hello"), "3MF 3D/3dmodel.model: holds no model"},
		{"other XML", model("<svg/>"), `3MF 3D/3dmodel.model line 1: begins with "svg", want model in the namespace of the 3MF core`},
		{"cut off", model(wrap("", tetrahedron, item)[:600]), "3MF 3D/3dmodel.model line 1: unexpected EOF"},
		{"document type", model(`<!DOCTYPE a [<!ENTITY b "c">]>` + wrap("", tetrahedron, item)), "3MF 3D/3dmodel.model line 1: document type declarations are not allowed"},
		{"extension", model(wrap(`requiredextensions="x"`, tetrahedron, item)), `3MF 3D/3dmodel.model line 1: needs the extension "x", which is not understood`},
		{"unit", model(wrap(`unit="league"`, tetrahedron, item)), `3MF 3D/3dmodel.model line 1: unit "league" is unknown`},
		{"NaN", model(swap(`x="1"`, `x="NaN"`)), `3MF 3D/3dmodel.model line 1: x="NaN" is not a finite number`},
		{"no y", model(swap(`y="0" `, ``)), `3MF 3D/3dmodel.model line 1: y="" is not a finite number`},
		{"overflow", model(strings.Replace(wrap(`unit="meter"`, tetrahedron, item), `x="1"`, `x="1e308"`, 1)), `3MF 3D/3dmodel.model line 1: x="1e308" is too large`},
		{"index", model(swap(`v1="1"`, `v1="4"`)), "3MF 3D/3dmodel.model line 1: triangle 2 names vertex 4 of 4"},
		{"negative index", model(swap(`v1="1"`, `v1="-1"`)), `3MF 3D/3dmodel.model line 1: v1="-1" is not an index`},
		{"unknown type", model(swap(`<object id="1"`, `<object id="1" type="ghost"`)), `3MF 3D/3dmodel.model line 1: object type "ghost" is unknown`},
		{"unknown object", model(swap(`objectid="1"`, `objectid="7"`)), `3MF 3D/3dmodel.model line 1: objectid "7" names no object before it`},
		{"twice the same id", model(wrap("", tetrahedron+tetrahedron, item)), `3MF 3D/3dmodel.model line 1: object id "1" is there twice`},
		{"contains itself", model(wrap("", `<object id="1"><components><component objectid="1"/></components></object>`, "")), `3MF 3D/3dmodel.model line 1: objectid "1" names no object before it`},
		{"no content", model(wrap("", `<object id="1"/>`, "")), "3MF 3D/3dmodel.model line 1: object 1 has neither or both of mesh and components"},
		{"short transform", model(swap(`objectid="1"`, `objectid="1" transform="1 0 0"`)), "3MF 3D/3dmodel.model line 1: transform has 3 numbers, want 12"},
		{"flat transform", model(swap(`objectid="1"`, `objectid="1" transform="1 0 0 0 1 0 0 0 0 0 0 0"`)), "3MF 3D/3dmodel.model line 1: transform flattens the object (determinant 0)"},
		{"deep", model(wrap("", strings.Repeat("<x:a>", 100)+strings.Repeat("</x:a>", 100), "")), "3MF: more than 64 elements inside each other"},
		{"long text", model(wrap("", strings.Repeat("z", 2<<20), "")), "3MF: more than 1048576 bytes in one tag or text"},
	} {
		_, err := read3MF(c.data, formats.Limits{})
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
	}
	var limit *formats.LimitError
	if _, err := read3MF(good, formats.Limits{Triangles: 20}); !errors.As(err, &limit) {
		t.Errorf("too many triangles: %v", err)
	}
	if _, err := read3MF(good, formats.Limits{Bytes: 2000}); !errors.As(err, &limit) {
		t.Errorf("too many bytes: %v", err)
	}
}

// Thirty assemblies, each twice the one before: a thousand million triangles
// from a file of three kilobytes.
func Test3MFComponentBomb(t *testing.T) {
	var text strings.Builder
	text.WriteString(tetrahedron)
	for i := 2; i < 32; i++ {
		text.WriteString(fmt.Sprintf(`<object id="%d"><components><component objectid="%d"/><component objectid="%d"/></components></object>`, i, i-1, i-1))
	}
	m, err := read3MF(pack(t, wrap("", text.String(), `<item objectid="31"/>`)), formats.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	var limit *formats.LimitError
	if _, err := m.Mesh(formats.Limits{}); !errors.As(err, &limit) {
		t.Errorf("Mesh: %v", err)
	}
}

// A part that unpacks to a gigabyte is stopped at the limit.
func Test3MFZipBomb(t *testing.T) {
	data := pack(t, wrap("", strings.Repeat("<x:a></x:a>", 1<<20), ""))
	var limit *formats.LimitError
	if _, err := read3MF(data, formats.Limits{Bytes: 1 << 20}); !errors.As(err, &limit) {
		t.Errorf("Read3MF = %v", err)
	}
}

func Test3MFWriteRefuses(t *testing.T) {
	open := cube()
	open.Triangles = open.Triangles[1:]
	item := []formats.Item{{Object: 0, Transform: solid.Identity()}}
	for _, c := range []struct {
		name string
		m    formats.Model
		want string
	}{
		{"open", formats.Model{Objects: []formats.Object{{Name: "lid", Mesh: open}}, Items: item}, "object 0 (lid): mesh is not a closed solid"},
		{"no object", formats.Model{Items: item}, "item 0: there is no object 0"},
		{"empty object", formats.Model{Objects: []formats.Object{{}}}, "object 0 () must have either a mesh or components"},
		{"itself", formats.Model{Objects: []formats.Object{{Components: []formats.Component{{Object: 0}}}}}, "component 0 must come before it"},
		{"zero transform", formats.Model{Objects: []formats.Object{{Mesh: cube()}}, Items: []formats.Item{{}}}, "item 0: transform is not invertible"},
		{"open foot", formats.Model{Objects: []formats.Object{{Name: "foot", Type: formats.SolidSupport, Mesh: open}}}, "object 0 (foot): mesh is not a closed solid"},
		{"unknown type", formats.Model{Objects: []formats.Object{{Type: "ghost", Mesh: cube()}}}, `type "ghost" is unknown`},
		{"not a number", formats.Model{Objects: []formats.Object{{Type: formats.Surface, Mesh: solid.Mesh{Vertices: []solid.Vec{{math.NaN(), 0, 0}}, Triangles: [][3]int32{{0, 0, 0}}}}}}, "coordinate not finite: 1"},
		{"metadata twice", formats.Model{Metadata: []formats.Metadata{{"Title", "a"}, {"Title", "b"}}}, `metadata "Title" is there twice`},
	} {
		var b bytes.Buffer
		err := formats.Write3MF(&b, c.m)
		if err == nil || !strings.Contains(err.Error(), c.want) || b.Len() != 0 {
			t.Errorf("%s: %v with %d bytes written, want %s", c.name, err, b.Len(), c.want)
		}
	}
	if err := formats.Write3MF(failing{}, demoModel()); !errors.Is(err, errDisk) {
		t.Errorf("Write3MF on a full disk: %v", err)
	}
}
