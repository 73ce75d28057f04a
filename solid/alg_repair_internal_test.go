package solid

import (
	"math"
	"testing"
)

// wavyRim is a tube standing on a bottom, whose open rim has n corners and goes
// up and down five times.
func wavyRim(n int) (m Mesh, rim []int32) {
	m.Vertices = append(m.Vertices, Vec{0, 0, -10})
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		m.Vertices = append(m.Vertices, Vec{10 * cos, 10 * sin, math.Sin(10 * math.Pi * float64(i) / float64(n))})
	}
	for i := range n {
		m.Triangles = append(m.Triangles, [3]int32{0, int32(1 + (i+1)%n), int32(1 + i)})
	}
	r := &repair{m: m}
	r.pairSimple()
	return m, r.rims()[0]
}

// Every way to cap a hole must give a disc: each edge of the rim once, against
// the triangle beyond, and every other edge twice, once each way; and caps that
// cross a flat shadow must not be much larger than it.
func TestCapsAreDiscs(t *testing.T) {
	for _, n := range []int{3, 4, 5, 40, longestCap, longestCap + 1, 300} {
		m, rim := wavyRim(n)
		r := &repair{m: m, ctx: t.Context()}
		r.pairSimple()
		area := r.rimArea(rim)
		f := r.newFiller()
		l := f.loop(rim)
		middle := f.middle(l)
		for _, way := range []struct {
			name string
			cap  func() ([][3]int32, bool)
			more int // triangles besides n − 2
		}{
			{"best", func() ([][3]int32, bool) { return f.best(l, area) }, 0},
			{"flat", func() ([][3]int32, bool) { return f.flat(l, area) }, 0},
			{"clipped", func() ([][3]int32, bool) { return f.clipped(l, area) }, 0},
			{"fan", func() ([][3]int32, bool) { return f.fan(l, middle) }, 2},
		} {
			if way.name == "best" && n > longestCap {
				continue // never asked for
			}
			triangles, ok := way.cap()
			if !ok || len(triangles) != n-2+way.more {
				t.Fatalf("%s of %d: %d triangles, %v", way.name, n, len(triangles), ok)
			}
			edges := map[[2]int32]int{}
			var size float64
			place := func(i int32) Vec {
				if int(i) == n {
					return middle
				}
				return l.at[i]
			}
			for _, c := range triangles {
				for k := range 3 {
					edges[[2]int32{c[k], c[(k+1)%3]}]++
				}
				a, b, d := place(c[0]), place(c[1]), place(c[2])
				size += b.Sub(a).Cross(d.Sub(a)).Length() / 2
			}
			for e, count := range edges {
				onRim := int(e[1]) == (int(e[0])+1)%n && int(e[0]) < n
				if back := edges[[2]int32{e[1], e[0]}]; count != 1 || onRim != (back == 0) {
					t.Fatalf("%s of %d: edge %v is there %d times, back %d times", way.name, n, e, count, back)
				}
			}
			// The waves are a tenth of the radius; a cap that runs to and fro has more.
			if shadow := area.Length() / 2; size > 1.5*shadow {
				t.Errorf("%s of %d: area %v over a shadow of %v", way.name, n, size, shadow)
			}
		}
	}
}

// A cap of the best kind is no larger than that of any other way with as sharp a
// fold; over a flat rim it is flat.
func TestBestCapOfFlatRimIsFlat(t *testing.T) {
	// An L of a plate, its top open.
	outline := []Point{{0, 0}, {20, 0}, {20, 5}, {5, 5}, {5, 20}, {0, 20}}
	plate, err := Prism(Region{Outer: outline}, 0, 4)
	if err != nil {
		t.Fatal(err)
	}
	r := &repair{m: plate, ctx: t.Context()}
	r.keep(func(i int) bool {
		a, b, c := plate.corners(plate.Triangles[i])
		return a[2] != 4 || b[2] != 4 || c[2] != 4
	})
	r.pairSimple()
	rim := r.rims()[0]
	c, ok := r.newFiller().cap(rim, r.rimArea(rim))
	if !ok || len(c.triangles) != 4 || math.Abs(c.area-175) > 1e-9 { // 20·5 + 5·15
		t.Errorf("cap of %d triangles and %v mm², want 4 and 175", len(c.triangles), c.area)
	}
}
