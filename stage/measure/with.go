package measure

import "scalewright/model"

// With is the result with another trace in place of its own: length, profile and
// segments are of that. What the photograph shows stays.
func (r Result) With(t model.Trace) Result {
	r.Trace = t
	r.Length = Length{t.Length.X, t.Length.U}
	r.Profile = make([]Point, 0, len(t.Profile))
	for _, p := range t.Profile {
		r.Profile = append(r.Profile, Point{p.Station, p.Radius.X, p.Radius.U})
	}
	r.Segments = listSegments(t.Outline)
	return r
}
