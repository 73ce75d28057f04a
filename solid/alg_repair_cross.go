package solid

import "errors"

// tellCrossings is step 9. Where the surface still passes through itself that is
// told and left; parting it would take an exact arrangement of the triangles (Q.
// Zhou, E. Grinspun, D. Zorin and A. Jacobson, "Mesh arrangements for solid
// geometry", ACM Trans. Graph. 35 (2016) 39).
func (r *repair) tellCrossings() error {
	pairs, err := r.k.Crossings(r.ctx, r.m)
	if large, ok := errors.AsType[*ValueError](err); ok && large != nil {
		return &RepairError{Reason: CoordinateLarge, At: r.m.Vertices[0]}
	}
	if err != nil {
		return err
	}
	for _, p := range pairs {
		a, b, c := r.m.corners(r.m.Triangles[p[0]])
		r.log.add(CrossingsLeft, a.Add(b).Add(c).Scale(1.0/3), 0)
	}
	if n := len(pairs); n > 0 && r.o.Strict {
		return &RepairError{Reason: SelfCrossing, At: r.log[CrossingsLeft].At, Size: float64(n)}
	}
	return nil
}
