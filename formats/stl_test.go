package formats_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"scalewright/formats"
	"scalewright/solid"
)

func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}

func cube() solid.Mesh {
	return must(solid.Box(solid.Vec{0, 0, 0}, solid.Vec{1, 1, 1}))
}

func cylinder(r, h float64, n int) solid.Mesh {
	return must(solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: r, Z: 0}, {R: r, Z: h}, {R: 0, Z: h}}, n))
}

func stlBytes(t testing.TB, m solid.Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := formats.WriteSTL(&b, m, "test"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func ExampleWriteSTL() {
	box, err := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 20, 30})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	done, err := formats.WriteSTL(&file, box, "gauge block")
	fmt.Println(done, err)
	back, err := formats.ReadSTL(&file, formats.Limits{})
	fmt.Println(back.Closed(), back.Volume(), err)
	// Output:
	// rounded to single precision, at most 0 mm <nil>
	// true 6000 <nil>
}

func TestSTLRoundTrip(t *testing.T) {
	m := cylinder(126.03, 77.7, 100)
	data := stlBytes(t, m)
	if len(data) != 84+50*len(m.Triangles) {
		t.Errorf("%d bytes for %d triangles", len(data), len(m.Triangles))
	}
	if bytes.HasPrefix(bytes.ToLower(data), []byte("solid")) {
		t.Error(`the header begins with "solid"`)
	}
	back, err := formats.ReadSTL(bytes.NewReader(data), formats.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if err := back.Solid(); err != nil {
		t.Fatal(err)
	}
	if got, want := back.Volume(), m.Volume(); math.Abs(got-want) > 1e-6*want {
		t.Errorf("volume %v, want %v", got, want)
	}
	if again := stlBytes(t, back); !bytes.Equal(again, data) {
		t.Error("what was read is not written as it was")
	}
}

const asciiCorner = `solid corner
  facet normal 0 0 0
    outer loop
      vertex 0 0 0
      vertex 0 1 0
      vertex 1e0 0 0
    endloop
  endfacet
endsolid corner
`

func TestSTLRead(t *testing.T) {
	binaryCube := stlBytes(t, cube())
	named := bytes.Clone(binaryCube)
	copy(named, "solid but binary\x00")
	for _, c := range []struct {
		name      string
		data      string
		triangles int
	}{
		{"binary", string(binaryCube), 12},
		{"binary that begins with solid", string(named), 12},
		{"binary without triangles", string(make([]byte, 84)), 0},
		{"ASCII", asciiCorner, 1},
		{"ASCII in capitals, without indentation", strings.ToUpper(strings.ReplaceAll(asciiCorner, "  ", "")), 1},
		{"ASCII with CR LF", strings.ReplaceAll(asciiCorner, "\n", "\r\n"), 1},
		{"two solids", asciiCorner + asciiCorner, 2},
		{"ASCII without facets", "solid\nendsolid\n", 0},
	} {
		m, err := formats.ReadSTL(strings.NewReader(c.data), formats.Limits{})
		if err != nil || len(m.Triangles) != c.triangles {
			t.Errorf("%s: %d triangles, %v, want %d", c.name, len(m.Triangles), err, c.triangles)
		}
	}
}

func TestSTLRefuses(t *testing.T) {
	good := stlBytes(t, cube())
	forged := bytes.Clone(good)
	binary.LittleEndian.PutUint32(forged[80:], 9_000_000)
	huge := bytes.Clone(good)
	binary.LittleEndian.PutUint32(huge[80:], math.MaxUint32)
	notNumber := bytes.Clone(good)
	binary.LittleEndian.PutUint32(notNumber[84+12:], math.Float32bits(float32(math.NaN())))
	line := func(from, to string) string { return strings.Replace(asciiCorner, from, to, 1) }
	for _, c := range []struct{ name, data, want string }{
		{"empty", "", "STL: file is empty"},
		{"short header", "abc", "STL: ends after 3 bytes, within the header"},
		{"truncated", string(good[:200]), "STL at byte 184: ends in triangle 3 of 12"},
		{"forged count", string(forged), "STL at byte 684: ends in triangle 13 of 9000000"},
		{"huge count", string(huge), "STL: more than 10000000 triangles"},
		{"goes on", string(good) + "x", "STL at byte 684: goes on after the 12 triangles its header counts"},
		{"NaN", string(notNumber), "STL at byte 84: triangle 1 has a coordinate that is not finite"},
		{"no endsolid", line("endsolid corner\n", ""), "STL line 8: file ends without endsolid"},
		{"no endloop", line("    endloop\n", ""), `STL line 7: found "endfacet", want endloop`},
		{"two numbers", line("vertex 0 1 0", "vertex 0 1"), "STL line 5: want vertex and three numbers"},
		{"NaN in text", line("vertex 0 1 0", "vertex 0 nan 0"), `STL line 5: "nan" is not a finite number`},
		{"overflow in text", line("vertex 0 1 0", "vertex 0 1e999 0"), `STL line 5: "1e999" is not a finite number`},
		{"other text", line("facet normal", "facette normal"), `STL line 2: found "facette", want facet or endsolid`},
		{"text after the end", asciiCorner + "more\n", `STL line 10: found "more", want solid`},
		{"long line", asciiCorner + strings.Repeat("x", 1<<17), "STL line 10: line longer than 65536 bytes"},
		{"cut off in a facet", "solid a\nfacet normal 0 0 0\n", "STL line 2: file ends, want outer loop"},
	} {
		_, err := formats.ReadSTL(strings.NewReader(c.data), formats.Limits{})
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	var limit *formats.LimitError
	if _, err := formats.ReadSTL(bytes.NewReader(good), formats.Limits{Triangles: 11}); !errors.As(err, &limit) {
		t.Errorf("12 triangles of 11: %v", err)
	}
	if _, err := formats.ReadSTL(strings.NewReader(asciiCorner+asciiCorner), formats.Limits{Triangles: 1}); !errors.As(err, &limit) {
		t.Errorf("2 triangles of 1: %v", err)
	}
	if _, err := formats.ReadSTL(strings.NewReader(asciiCorner), formats.Limits{Bytes: 50}); !errors.As(err, &limit) {
		t.Errorf("long text: %v", err)
	}
}

// failing is a disk that breaks, or is full.
type failing struct{}

var errDisk = errors.New("disk on fire")

func (failing) Read([]byte) (int, error)  { return 0, errDisk }
func (failing) Write([]byte) (int, error) { return 0, errDisk }

func TestSTLDisk(t *testing.T) {
	if _, err := formats.ReadSTL(failing{}, formats.Limits{}); !errors.Is(err, errDisk) {
		t.Errorf("ReadSTL: %v", err)
	}
	if _, err := formats.WriteSTL(failing{}, cube(), ""); !errors.Is(err, errDisk) {
		t.Errorf("WriteSTL: %v", err)
	}
	var none bytes.Buffer
	open := cube()
	open.Triangles = open.Triangles[1:]
	var fault *solid.NotSolidError
	if _, err := formats.WriteSTL(&none, open, ""); !errors.As(err, &fault) || none.Len() != 0 {
		t.Errorf("WriteSTL(open) = %v with %d bytes written", err, none.Len())
	}
}

// What the ground rule of the project asks: any piece, cut anywhere, written,
// read and welded by exact coordinates is closed, oriented and 2-manifold.
func TestSTLOfCutsIsClosed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-1, 1)
		scale := rapid.SampledFrom([]float64{1, 100, 1e5}).Draw(t, "scale")
		m := must(solid.Turn([]solid.PointRZ{
			{R: 55.5, Z: 0}, {R: 126, Z: 0}, {R: 120 + coord.Draw(t, "dr"), Z: 80}, {R: 70, Z: 80.001}, {R: 55.5, Z: 100},
		}, rapid.IntRange(3, 90).Draw(t, "segments")))
		m = m.Transform(solid.Rotation(solid.Vec{1, 2, 3}, coord.Draw(t, "angle"))).Translate(solid.Vec{scale, 0, scale})
		n := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}
		if n.Length() < 1e-3 {
			n = solid.Vec{0, 0, 1}
		}
		at := m.Vertices[rapid.IntRange(0, len(m.Vertices)-1).Draw(t, "v")]
		above, below, err := solid.Cut(m, solid.Plane{Normal: n, Offset: n.Dot(at)})
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []solid.Mesh{above, below} {
			var b bytes.Buffer
			done, err := formats.WriteSTL(&b, part, "")
			if err != nil {
				t.Fatalf("%v (%v)", err, done)
			}
			back, err := formats.ReadSTL(&b, formats.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			if err := back.Solid(); err != nil {
				t.Fatalf("read back: %v", err)
			}
			if d := math.Abs(back.Volume() - part.Volume()); d > part.Area()*2*done.Moved+1e-9 {
				t.Fatalf("volume off by %g, vertices moved %g", d, done.Moved)
			}
		}
	})
}
