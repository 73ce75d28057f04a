package formats_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/formats"
	"scalewright/solid"
)

func readOBJ(text string) (solid.Mesh, error) {
	return formats.ReadOBJ(strings.NewReader(text), formats.Limits{})
}

func ExampleReadOBJ() {
	// A pyramid on a square base.
	m, err := formats.ReadOBJ(strings.NewReader(`
v 0 0 0
v 10 0 0
v 10 10 0
v 0 10 0
v 5 5 6
f 4 3 2 1
f 1 2 5
f 2 3 5
f 3 4 5
f 4 1 5
`), formats.Limits{})
	fmt.Println(len(m.Triangles), m.Closed(), m.Volume(), err)
	// Output: 6 true 200 <nil>
}

func ExampleWriteOBJ() {
	box, err := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{0.1, 20, 30})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	err = formats.WriteOBJ(&file, box, "gauge block")
	fmt.Println(err)
	head, _, _ := strings.Cut(file.String(), "f ")
	fmt.Print(head)
	// Output:
	// <nil>
	// # millimetres
	// o gauge block
	// v 0 0 0
	// v 0.1 0 0
	// v 0.1 20 0
	// v 0 20 0
	// v 0 0 30
	// v 0.1 0 30
	// v 0.1 20 30
	// v 0 20 30
}

// Writing loses nothing: vertices that share a place stay apart, in order.
func TestOBJRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-1, 1)
		m := solid.Join(cylinder(12.1, 3, rapid.IntRange(3, 40).Draw(t, "segments")), box(12.1, 0, 0, 20, 1, 1), box(12.1, 1, 1, 20, 2, 2))
		m = m.Transform(solid.Rotation(solid.Vec{1, 2, 3}, coord.Draw(t, "angle"))).
			Translate(solid.Vec{1e3 * coord.Draw(t, "x"), 1e-7 * coord.Draw(t, "y"), 0})
		var b bytes.Buffer
		if err := formats.WriteOBJ(&b, m, ""); err != nil {
			t.Fatal(err)
		}
		back, err := formats.ReadOBJ(&b, formats.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(m, back); diff != "" {
			t.Fatalf("write then read (-want +got):\n%s", diff)
		}
	})
}

// cubeOBJ is the unit cube with a statement of every kind.
const cubeOBJ = `# a cube
mtllib cube.mtl
o cube
v 0 0 0 1.0
v 1 0 0 0.5 0.5 0.5
v 1 1 0
v 0 1 0
vt 0 0
vn 0 0 1
v 0 0 1
v 1 0 1
v 1 1 1
v 0 1 1 # the last
g bottom top
usemtl grey
s off
f 4/1/1 3/1/1 2/1/1 1/1/1
f 5//1 6//1 7//1 8//1
g sides
f 1 2 6 5
f 2/1 3/1 7/1 6/1
f -6 -5 -1 \
-2
f 4 1 5 8 # the end
l 1 2 3
p 1
`

func TestOBJRead(t *testing.T) {
	for _, c := range []struct {
		name, text string
		triangles  int
		volume     float64
	}{
		{"every kind of corner", cubeOBJ, 12, 1},
		{"CR LF", strings.ReplaceAll(cubeOBJ, "\n", "\r\n"), 12, 1},
		{"tabs", strings.ReplaceAll(cubeOBJ, " ", "\t \t"), 12, 1},
		{"byte order mark", "\ufeff" + cubeOBJ, 12, 1},
		{"no end of the last line", strings.TrimRight(cubeOBJ, "\n"), 12, 1},
		{"continued at the end of the file", cubeOBJ + "g x\\", 12, 1},
		{"continued in the middle of a number's line", strings.ReplaceAll(cubeOBJ, "v 1 1 0", "v 1 \\\n 1\\\n\t0"), 12, 1},
		{"a comment does not continue", strings.ReplaceAll(cubeOBJ, "# a cube", "# a cube \\"), 12, 1},
		{"the older name of a face", strings.ReplaceAll(cubeOBJ, "\nf ", "\nfo "), 12, 1},
		{"a corner named twice", strings.ReplaceAll(cubeOBJ, "f 1 2 6 5", "f 1 1 2 6 5 5 1"), 12, 1},
		{"a face there and back", cubeOBJ + "f 1 2 1\nf 3 3 3\n", 12, 1},
		{"a vertex for each face", apart(cubeOBJ), 12, 1},
		{"nothing", "", 0, 0},
		{"only a comment", "# nothing", 0, 0},
	} {
		m, err := readOBJ(c.text)
		if err != nil || len(m.Triangles) != c.triangles || m.Volume() != c.volume {
			t.Errorf("%s: %d triangles, volume %v, %v; want %d, %v", c.name, len(m.Triangles), m.Volume(), err, c.triangles, c.volume)
		}
		if faults := m.Check(); len(faults) > 0 {
			t.Errorf("%s: %v", c.name, faults[0])
		}
	}
}

// apart gives each face of a file vertices of its own, as files with textures do.
func apart(text string) string {
	m, err := readOBJ(text)
	if err != nil {
		panic(err)
	}
	var b strings.Builder
	for _, t := range m.Triangles {
		for _, v := range t {
			p := m.Vertices[v]
			fmt.Fprintln(&b, "v", p[0], p[1], p[2])
		}
		fmt.Fprintln(&b, "f -3 -2 -1")
	}
	return b.String()
}

// Prisms over polygons of every kind, each face one polygon of the file, in any
// position: what is read is the solid that the kernel makes of the same outline.
func TestOBJPolygons(t *testing.T) {
	for name, outline := range map[string][]solid.Point{
		"square":                {{0, 0}, {3, 0}, {3, 3}, {0, 3}},
		"arrow, four corners":   {{0, 0}, {4, 3}, {8, 0}, {4, 8}},
		"arrow from its notch":  {{4, 3}, {8, 0}, {4, 8}, {0, 0}},
		"triangle with a point": {{0, 0}, {2, 0}, {4, 0}, {0, 3}},
		"L":                     {{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 4}, {0, 4}},
		"comb":                  {{0, 0}, {7, 0}, {7, 5}, {6, 5}, {6, 1}, {5, 1}, {5, 5}, {4, 5}, {4, 1}, {3, 1}, {3, 5}, {0, 5}},
		"spiral":                {{0, 0}, {9, 0}, {9, 9}, {2, 9}, {2, 4}, {5, 4}, {5, 6}, {4, 6}, {4, 7}, {7, 7}, {7, 2}, {0, 2}},
		"points on its sides":   {{0, 0}, {1, 0}, {2, 0}, {2, 1}, {2, 2}, {1, 2}, {0, 2}, {0, 1}},
	} {
		want := must(solid.Prism(solid.Region{Outer: outline}, 0, 5)).Volume()
		for _, turn := range []solid.Transform{
			solid.Identity(), solid.QuarterTurns(0, 1), solid.QuarterTurns(1, 3), solid.Rotation(solid.Vec{1, 2, 3}, 1.1),
		} {
			m, err := readOBJ(prismOBJ(outline, 5, turn))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			// Turned through an angle, points on a line are so no longer to the
			// last bit; the surface is closed all the same.
			if !m.Closed() && turn != solid.Rotation(solid.Vec{1, 2, 3}, 1.1) {
				t.Errorf("%s: %v", name, m.Check()[0])
			}
			if _, err := m.Opposites(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if math.Abs(m.Volume()-want) > 1e-12*want || len(m.Triangles) != 4*len(outline)-4 {
				t.Errorf("%s: volume %v in %d triangles, want %v", name, m.Volume(), len(m.Triangles), want)
			}
		}
	}
}

// prismOBJ writes a prism with polygons for faces.
func prismOBJ(outline []solid.Point, high float64, turn solid.Transform) string {
	var b strings.Builder
	for _, z := range []float64{0, high} {
		for _, p := range outline {
			q := turn.Apply(solid.Vec{p[0], p[1], z})
			fmt.Fprintln(&b, "v", q[0], q[1], q[2])
		}
	}
	n := len(outline)
	bottom, top := "f", "f"
	for i := range n {
		bottom += fmt.Sprint(" ", n-i)
		top += fmt.Sprint(" ", n+i+1)
		j := (i + 1) % n
		fmt.Fprintln(&b, "f", i+1, j+1, n+j+1, n+i+1)
	}
	fmt.Fprintf(&b, "%s\n%s\n", bottom, top)
	return b.String()
}

// A polygon that no plane holds, or that crosses itself, still has its edges once
// each, so the surface is closed; what it looks like is for Check and repair.
func TestOBJOddPolygons(t *testing.T) {
	warped := strings.Replace(prismOBJ([]solid.Point{{0, 0}, {3, 0}, {4, 2}, {3, 3}, {0, 3}}, 5, solid.Identity()), "v 4 2 5", "v 4 2 7", 1)
	crossed := prismOBJ([]solid.Point{{0, 0}, {3, 3}, {3, 0}, {1, 4}, {0, 3}}, 5, solid.Identity())
	flat := prismOBJ([]solid.Point{{0, 0}, {1, 0}, {2, 0}, {3, 0}, {4, 0}}, 5, solid.Identity())
	for name, text := range map[string]string{"warped": warped, "crossed": crossed, "without area": flat} {
		m, err := readOBJ(text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, err := m.Opposites(); err != nil || len(m.Triangles) != 16 {
			t.Errorf("%s: %d triangles, %v", name, len(m.Triangles), err)
		}
	}
}

func TestOBJRefuses(t *testing.T) {
	line := func(from, to string) string { return strings.Replace(cubeOBJ, from, to, 1) }
	for _, c := range []struct{ name, text, want string }{
		{"NaN", line("v 1 1 0", "v 1 nan 0"), `OBJ line 6: "nan" is not a finite number`},
		{"infinite", line("v 1 1 0", "v 1 -inf 0"), `OBJ line 6: "-inf" is not a finite number`},
		{"overflow", line("v 1 1 0", "v 1 1e999 0"), `OBJ line 6: "1e999" is not a finite number`},
		{"two coordinates", line("v 1 1 0", "v 1 1"), "OBJ line 6: a vertex wants three coordinates, this has 2"},
		{"two corners", line("f 1 2 6 5", "f 1 2"), "OBJ line 20: a face wants three corners or more, this has 2"},
		{"no corners", line("f 1 2 6 5", "f"), "OBJ line 20: a face wants three corners or more, this has 0"},
		{"vertex 0", line("f 1 2 6 5", "f 0 2 6 5"), `OBJ line 20: "0" does not begin with the number of a vertex`},
		{"too high", line("f 1 2 6 5", "f 1 2 6 9"), "OBJ line 20: names vertex 9, and there are 8 so far"},
		{"too low", line("f 1 2 6 5", "f 1 2 6 -9"), "OBJ line 20: names vertex -9, and there are 8 so far"},
		{"past 32 bits", line("f 1 2 6 5", "f 1 2 6 4294967297"), "OBJ line 20: names vertex 4294967297, and there are 8 so far"},
		{"past 64 bits", line("f 1 2 6 5", "f 1 2 6 99999999999999999999"), `OBJ line 20: "99999999999999999999" does not begin with the number of a vertex`},
		{"before its vertex", "f 1 2 3\n" + cubeOBJ, "OBJ line 1: names vertex 1, and there are 0 so far"},
		{"a word for a corner", line("f 1 2 6 5", "f 1 2 x 5"), `OBJ line 20: "x" does not begin with the number of a vertex`},
		{"a word for a normal", line("f 5//1", "f 5//x"), `OBJ line 18: "5//x" is no corner: write v, v/vt, v//vn or v/vt/vn`},
		{"four numbers in a corner", line("f 5//1", "f 5/1/1/1"), `OBJ line 18: "5/1/1/1" is no corner: write v, v/vt, v//vn or v/vt/vn`},
		{"the line of a continued face", line("-2\nf 4 1", "-22\nf 4 1"), "OBJ line 23: names vertex -22, and there are 8 so far"},
		{"another format", "solid x\nfacet normal", `OBJ line 1: "solid" is no statement of the format`},
		{"binary", "\x00\x01\x02 x", `OBJ line 1: "\x00\x01\x02" is no statement of the format`},
		{"a free-form surface", cubeOBJ + "cstype bspline\nsurf 0 1", "OBJ line 27: cstype holds a free-form shape, which is not read: export polygons"},
		{"another file", cubeOBJ + "call more.obj\n", "OBJ line 27: call holds another file, which is not read: export polygons"},
		{"a line without end", cubeOBJ + strings.Repeat("x", 2<<20), "OBJ line 27: line longer than 1048576 bytes"},
		{"continued without end", cubeOBJ + strings.Repeat("g xxxxxxxxxxxxxxxxxxxxxxxxxxxxx\\\n", 1<<16), "OBJ line 32795: line longer than 1048576 bytes"},
		{"a polygon without end", cubeOBJ + "f" + strings.Repeat(" 1 2", 10_000), "OBJ: more than 16384 corners of one polygon"},
	} {
		_, err := readOBJ(c.text)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
	}
	var limit *formats.LimitError
	for name, limits := range map[string]formats.Limits{"triangles": {Triangles: 11}, "vertices": {Triangles: 2}, "bytes": {Bytes: 100}} {
		if _, err := formats.ReadOBJ(strings.NewReader(cubeOBJ), limits); !errors.As(err, &limit) || limit.What != name {
			t.Errorf("too many %s: %v", name, err)
		}
	}
}

func TestOBJDisk(t *testing.T) {
	if _, err := formats.ReadOBJ(failing{}, formats.Limits{}); !errors.Is(err, errDisk) {
		t.Errorf("ReadOBJ: %v", err)
	}
	if err := formats.WriteOBJ(failing{}, cube(), ""); !errors.Is(err, errDisk) {
		t.Errorf("WriteOBJ: %v", err)
	}
	var none bytes.Buffer
	open := cube()
	open.Triangles = open.Triangles[1:]
	var fault *solid.NotSolidError
	if err := formats.WriteOBJ(&none, open, ""); !errors.As(err, &fault) || none.Len() != 0 {
		t.Errorf("WriteOBJ(open) = %v with %d bytes written", err, none.Len())
	}
}

// A name can't break out of its line.
func TestOBJName(t *testing.T) {
	var b bytes.Buffer
	if err := formats.WriteOBJ(&b, cube(), "ring\nv 1 2 3 \\"); err != nil {
		t.Fatal(err)
	}
	back, err := formats.ReadOBJ(&b, formats.Limits{})
	if err != nil || len(back.Vertices) != 8 {
		t.Errorf("%d vertices, %v", len(back.Vertices), err)
	}
}
