package solid

import "math"

// noBounds holds nothing; joined with a box it gives that box.
var noBounds = Bounds{
	Vec{math.Inf(1), math.Inf(1), math.Inf(1)},
	Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)},
}

func (b Bounds) join(c Bounds) Bounds {
	return Bounds{
		Vec{min(b.Min[0], c.Min[0]), min(b.Min[1], c.Min[1]), min(b.Min[2], c.Min[2])},
		Vec{max(b.Max[0], c.Max[0]), max(b.Max[1], c.Max[1]), max(b.Max[2], c.Max[2])},
	}
}

// meets reports whether two boxes share a point; touching counts.
func (b Bounds) meets(c Bounds) bool {
	return b.Min[0] <= c.Max[0] && c.Min[0] <= b.Max[0] &&
		b.Min[1] <= c.Max[1] && c.Min[1] <= b.Max[1] &&
		b.Min[2] <= c.Max[2] && c.Min[2] <= b.Max[2]
}

// boxOf returns the box around points.
func boxOf(points ...Vec) Bounds {
	b := noBounds
	for _, p := range points {
		b = b.join(Bounds{p, p})
	}
	return b
}
