package solid

// Prism returns the solid over a region of the xy plane between two stations.
func Prism(r Region, z0, z1 float64) (Mesh, error) {
	if err := r.Check(); err != nil {
		return Mesh{}, err
	}
	if z0-z0 != 0 {
		return Mesh{}, &ValueError{"z0", z0, "finite"}
	}
	if !(z1 > z0) || z1-z1 != 0 {
		return Mesh{}, &ValueError{"z1", z1, "finite and above z0"}
	}
	loops := r.Loops()
	var m Mesh
	n := int32(0)
	for _, l := range loops {
		n += int32(len(l))
	}
	for _, z := range [2]float64{z0, z1} {
		for _, l := range loops {
			for _, p := range l {
				m.Vertices = append(m.Vertices, Vec{p[0], p[1], z})
			}
		}
	}
	base := int32(0)
	for _, l := range loops {
		for i := range int32(len(l)) {
			a, b := base+i, base+(i+1)%int32(len(l))
			m.Triangles = append(m.Triangles, [3]int32{a, b, b + n}, [3]int32{a, b + n, a + n})
		}
		base += int32(len(l))
	}
	for _, t := range triangulate(loops, 0, nil).triangles {
		m.Triangles = append(m.Triangles,
			[3]int32{t[0] + n, t[1] + n, t[2] + n},
			[3]int32{t[0], t[2], t[1]})
	}
	return m, nil
}

// Box returns the box with the given corners; each coordinate of high must be
// above that of low.
func Box(low, high Vec) (Mesh, error) {
	return Prism(Region{Outer: []Point{
		{low[0], low[1]}, {high[0], low[1]}, {high[0], high[1]}, {low[0], high[1]},
	}}, low[2], high[2])
}
