package solid

// nudgeFlat moves corners of triangles that are still exactly on a line, by a few
// units in the last place and never by reach, until no triangle round them is.
// Where surfaces pass each other at a billionth of a degree there may be no way to
// divide them that leaves every triangle some height; this gives it one.
func (t *tidier) nudgeFlat() {
	for tri := t.whole; int(tri) < len(t.triangles); tri++ {
		if t.gone(tri) {
			continue
		}
		for k := range int32(3) {
			if c := t.triangles[tri]; !Collinear(t.points[c[0]], t.points[c[1]], t.points[c[2]]) {
				break
			}
			t.nudge(t.triangles[tri][k])
		}
	}
}

// nudge tries places round a vertex and keeps the first that will do.
func (t *tidier) nudge(v int32) {
	was := t.points[v]
	for step := t.reach / reachUlps; step < t.reach; step *= 2 {
		for axis := range 3 {
			for _, way := range [2]float64{step, -step} {
				t.points[v] = was
				t.points[v][axis] += way
				if t.standing(v) {
					t.changes++
					return
				}
			}
		}
	}
	t.points[v] = was
}

// standing reports whether no triangle round v has its corners on a line.
func (t *tidier) standing(v int32) bool {
	fine := true
	t.around(v, func(h int32) {
		c := t.triangles[h/3]
		fine = fine && !Collinear(t.points[c[0]], t.points[c[1]], t.points[c[2]])
	})
	return fine
}
