package solidtest

import (
	"math"

	"scalewright/solid"
)

// Circle returns the n = 2^k points of a circle of radius 1: the four on the
// axes, then repeatedly the normalised middle of neighbours. Entry m has the
// cosine and the sine of m/n of a turn.
func Circle(n int) []solid.Point {
	c := []solid.Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	for len(c) < n {
		finer := make([]solid.Point, 0, 2*len(c))
		for i, p := range c {
			q := c[(i+1)%len(c)]
			x, y := p[0]+q[0], p[1]+q[1]
			l := math.Sqrt(float64(x*x) + float64(y*y))
			finer = append(finer, p, solid.Point{x / l, y / l})
		}
		c = finer
	}
	return c
}

// Sphere returns a ball of radius r about a centre, 8·n² triangles: the lattice
// points |i|+|j|+|k| = n pushed out to the radius.
func Sphere(n int, r float64, centre solid.Vec) solid.Mesh {
	var m solid.Mesh
	index := map[[3]int]int32{}
	vertex := func(p [3]int) int32 {
		at, seen := index[p]
		if !seen {
			at = int32(len(m.Vertices))
			index[p] = at
			v := solid.Vec{float64(p[0]), float64(p[1]), float64(p[2])}
			l := math.Sqrt(float64(v[0]*v[0]) + float64(v[1]*v[1]) + float64(v[2]*v[2]))
			for k := range 3 {
				v[k] = float64(r*v[k])/l + centre[k]
			}
			m.Vertices = append(m.Vertices, v)
		}
		return at
	}
	for octant := range 8 {
		sx, sy, sz := 1-2*(octant&1), 1-octant&2, 1-octant&4/2
		add := func(a, b, c [3]int) {
			if sx*sy*sz < 0 {
				b, c = c, b
			}
			m.Triangles = append(m.Triangles, [3]int32{vertex(a), vertex(b), vertex(c)})
		}
		g := func(a, b int) [3]int { return [3]int{sx * a, sy * b, sz * (n - a - b)} }
		for i := range n {
			for j := range n - i {
				add(g(i, j), g(i+1, j), g(i, j+1))
				if i+j < n-1 {
					add(g(i+1, j), g(i+1, j+1), g(i, j+1))
				}
			}
		}
	}
	return m
}

// Tube returns a pipe 300 long with a wavy outside of radius about 60 and a bore
// of 57.15, n = 2^k points round and m stations along: 4·n·m triangles.
func Tube(n, m int) solid.Mesh {
	circle, wave := Circle(n), Circle(512)
	var out solid.Mesh
	for k := range m {
		z := 300 * float64(k) / float64(m-1)
		outer := 60 + float64(1.5*wave[(26*k)%512][1])
		for _, r := range [2]float64{outer, 57.15} {
			for _, c := range circle {
				out.Vertices = append(out.Vertices, solid.Vec{float64(r * c[0]), float64(r * c[1]), z})
			}
		}
	}
	quad := func(a, b, c, d int) {
		out.Triangles = append(out.Triangles, [3]int32{int32(a), int32(b), int32(c)}, [3]int32{int32(a), int32(c), int32(d)})
	}
	for i := range n {
		j := (i + 1) % n
		for k := range m - 1 {
			low, high := 2*n*k, 2*n*(k+1)
			quad(low+i, low+j, high+j, high+i)
			quad(low+n+j, low+n+i, high+n+i, high+n+j)
		}
		top := 2 * n * (m - 1)
		quad(j, i, n+i, n+j)
		quad(top+i, top+j, top+n+j, top+n+i)
	}
	return out
}

// Drills returns 100 cylinders of radius 2 and 64 sides that go through the wall
// of the [Tube] at places and in directions spread all round it.
func Drills() []solid.Mesh {
	table, round := Circle(4096), Circle(64)
	out := make([]solid.Mesh, 100)
	for i := range out {
		d := table[(1579*i+3)%4096]
		z := 300 * (float64(i) + 0.5) / 100
		var m solid.Mesh
		for _, along := range [2]float64{50, 70} {
			x, y := float64(along*d[0]), float64(along*d[1])
			for _, c := range round {
				side, up := float64(2*c[0]), float64(2*c[1])
				m.Vertices = append(m.Vertices, solid.Vec{x - float64(side*d[1]), y + float64(side*d[0]), z + up})
			}
			m.Vertices = append(m.Vertices, solid.Vec{x, y, z})
		}
		for a := range int32(64) {
			b := (a + 1) % 64
			m.Triangles = append(m.Triangles,
				[3]int32{a, b, 65 + b}, [3]int32{a, 65 + b, 65 + a},
				[3]int32{64, b, a}, [3]int32{129, 65 + a, 65 + b})
		}
		out[i] = m
	}
	return out
}

// Cube returns the unit cube with its low corner at p.
func Cube(p solid.Vec) solid.Mesh {
	m, err := solid.Box(p, p.Add(solid.Vec{1, 1, 1}))
	if err != nil {
		panic(err) // only where p is not finite
	}
	return m
}
