package solid

// quadric is the sum of the squared distances of a point from some planes, each
// weighted by an area: p·A·p + 2·b·p + c. Source: M. Garland and P. S. Heckbert,
// "Surface simplification using quadric error metrics", SIGGRAPH 1997, 209–216.
// Here it only decides what comes first and where a vertex goes; what is allowed
// is decided by drift.
type quadric struct {
	a       [6]float64 // xx, xy, xz, yy, yz, zz
	b       Vec
	c, area float64
}

// newQuadric is that of a triangle's plane.
func newQuadric(a, b, c Vec) quadric {
	cross := b.Sub(a).Cross(c.Sub(a))
	n, area := cross.Unit(), cross.Length()/2
	d := -n.Dot(a)
	return quadric{
		a: [6]float64{
			float64(area * float64(n[0]*n[0])), float64(area * float64(n[0]*n[1])), float64(area * float64(n[0]*n[2])),
			float64(area * float64(n[1]*n[1])), float64(area * float64(n[1]*n[2])), float64(area * float64(n[2]*n[2])),
		},
		b: n.Scale(area * d), c: float64(area * float64(d*d)), area: area,
	}
}

func (q *quadric) add(o *quadric) {
	for k := range q.a {
		q.a[k] += o.a[k]
	}
	q.b = q.b.Add(o.b)
	q.c += o.c
	q.area += o.area
}

// times returns A·p.
func (q *quadric) times(p Vec) Vec {
	a := &q.a
	return Vec{
		float64(a[0]*p[0]) + float64(a[1]*p[1]) + float64(a[2]*p[2]),
		float64(a[1]*p[0]) + float64(a[3]*p[1]) + float64(a[4]*p[2]),
		float64(a[2]*p[0]) + float64(a[4]*p[1]) + float64(a[5]*p[2]),
	}
}

func (q *quadric) at(p Vec) float64 {
	return max(0, p.Dot(q.times(p))+float64(2*q.b.Dot(p))+q.c)
}

// quadricPull is how strongly the best point is drawn to the middle of the edge,
// as a share of how strongly the planes hold it. It settles what they leave open:
// on flat ground, along a crease.
const quadricPull = 1e-6

// best returns the point where the sum is least, near the given middle.
func (q *quadric) best(middle Vec) Vec {
	// (A + w)·(p − middle) = −(A·middle + b), by Cramer's rule.
	w := quadricPull * (q.a[0] + q.a[3] + q.a[5])
	r := q.times(middle).Add(q.b).Scale(-1)
	x := Vec{q.a[0] + w, q.a[1], q.a[2]}
	y := Vec{q.a[1], q.a[3] + w, q.a[4]}
	z := Vec{q.a[2], q.a[4], q.a[5] + w}
	det := x.Dot(y.Cross(z))
	if !(det > 0) {
		return middle
	}
	p := middle.Add(Vec{r.Dot(y.Cross(z)), x.Dot(r.Cross(z)), x.Dot(y.Cross(r))}.Scale(1 / det))
	if !p.finite() {
		return middle
	}
	return p
}
