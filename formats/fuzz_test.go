package formats_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/formats"
	"scalewright/solid"
)

// fuzzLimits keeps a fuzzed file small enough to try many.
var fuzzLimits = formats.Limits{Triangles: 1000, Bytes: 1 << 20}

// checkRead holds for every mesh that a reader lets through.
func checkRead(t *testing.T, m solid.Mesh) {
	if len(m.Triangles) > fuzzLimits.Triangles {
		t.Fatalf("%d triangles of %d", len(m.Triangles), fuzzLimits.Triangles)
	}
	for _, f := range m.Check() {
		if f.Kind == solid.IndexOutOfRange || f.Kind == solid.NotFinite {
			t.Fatalf("the reader let through: %v", f)
		}
	}
	// Writing either works and gives a sound solid, or says why not.
	var b bytes.Buffer
	if _, err := formats.WriteSTL(&b, m, "fuzz"); err != nil {
		return
	}
	back, err := formats.ReadSTL(&b, formats.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if err := back.Solid(); err != nil {
		t.Fatalf("written and read: %v", err)
	}
}

func FuzzReadSTL(f *testing.F) {
	f.Add(stlBytes(f, cube()))
	f.Add([]byte(asciiCorner))
	f.Add(stlBytes(f, cube())[:300])
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := formats.ReadSTL(bytes.NewReader(data), fuzzLimits)
		if err == nil {
			checkRead(t, m)
		}
	})
}

// FuzzReadASCIISTL starts from text, which the fuzzer seldom finds its way into
// from bytes.
func FuzzReadASCIISTL(f *testing.F) {
	f.Add(strings.TrimPrefix(asciiCorner, "solid corner\n"))
	f.Add("endsolid a\nsolid b\nendsolid\n")
	f.Fuzz(func(t *testing.T, text string) {
		m, err := formats.ReadSTL(strings.NewReader("solid facet\n"+text), fuzzLimits)
		if err == nil {
			checkRead(t, m)
		}
	})
}

func FuzzReadOBJ(f *testing.F) {
	f.Add(cubeOBJ)
	f.Add(prismOBJ([]solid.Point{{0, 0}, {7, 0}, {7, 5}, {6, 5}, {6, 1}, {5, 1}, {5, 5}, {0, 5}}, 5, solid.Identity()))
	f.Add("v 0 0 0\nv 1 1 0\nv 1 0 0\nv 0 1 0\nf 1 2 3 4\nf 4 3 \\\n-3/1 1//2\n")
	f.Fuzz(func(t *testing.T, text string) {
		m, err := formats.ReadOBJ(strings.NewReader(text), fuzzLimits)
		if err != nil {
			return
		}
		checkRead(t, m)
		// What can be written comes back as it was.
		var b bytes.Buffer
		if formats.WriteOBJ(&b, m, "fuzz") != nil {
			return
		}
		back, err := formats.ReadOBJ(&b, formats.Limits{})
		if diff := cmp.Diff(m, back); err != nil || diff != "" {
			t.Fatalf("write then read: %v (-want +got):\n%s", err, diff)
		}
	})
}

func FuzzRead3MF(f *testing.F) {
	f.Add(threeMF(f, demoModel()))
	f.Add(pack(f, wrap(`unit="inch"`, tetrahedron, `<item objectid="1"/>`)))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := read3MF(data, fuzzLimits)
		if err != nil {
			return
		}
		if all, err := m.Mesh(fuzzLimits); err == nil {
			checkRead(t, all)
		}
	})
}

// FuzzRead3MFText fuzzes the model inside a sound package, which the fuzzer would
// not find its way into through compression.
func FuzzRead3MFText(f *testing.F) {
	f.Add(wrap("", tetrahedron, `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 2 0 0"/>`))
	f.Add(wrap(`unit="micron"`, tetrahedron+`<object id="2"><components><component objectid="1"/></components></object>`, `<item objectid="2"/>`))
	f.Fuzz(func(t *testing.T, text string) {
		m, err := read3MF(pack(t, text), fuzzLimits)
		if err != nil {
			return
		}
		if all, err := m.Mesh(fuzzLimits); err == nil {
			checkRead(t, all)
		}
	})
}
