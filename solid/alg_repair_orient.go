package solid

// orient is step 4, on mates that are final but for the holes.
func (r *repair) orient() error {
	at, conflict := r.agree()
	for i, turned := range r.turned {
		if turned {
			r.log.add(TriangleFlipped, r.m.Vertices[r.m.Triangles[i][0]], 0)
		}
	}
	if conflict {
		return r.refuse(OneSided, at, 0)
	}
	return nil
}

// agree turns triangles so that those on both sides of each pair of mates run
// against each other, each patch the way that turns fewer of them (the way of its
// first triangle, where that is half). It reports a place where that can't be.
func (r *repair) agree() (at Vec, conflict bool) {
	const unseen, stays, turns = 0, 1, 2
	state := make([]uint8, len(r.m.Triangles))
	var patch []int32
	for first := range r.m.Triangles {
		if state[first] != unseen {
			continue
		}
		state[first] = stays
		patch = append(patch[:0], int32(first))
		count := [3]int{}
		for i := 0; i < len(patch); i++ {
			t := patch[i]
			count[state[t]]++
			for h := 3 * t; h < 3*t+3; h++ {
				g := r.mate[h]
				if g < 0 {
					continue
				}
				want := state[t]
				if r.m.tail(h) == r.m.tail(g) {
					want = stays + turns - want
				}
				switch state[g/3] {
				case unseen:
					state[g/3] = want
					patch = append(patch, g/3)
				case want:
				default:
					if !conflict {
						at, conflict = r.m.Vertices[r.m.tail(h)], true
					}
				}
			}
		}
		turned := uint8(turns)
		if count[turns] > count[stays] {
			turned = stays
		}
		for _, t := range patch {
			if state[t] == turned {
				r.flip(t)
				r.turned[t] = !r.turned[t]
			}
		}
	}
	return at, conflict
}

// flip turns triangle t over; its first and third half-edge change places.
func (r *repair) flip(t int32) {
	tri := &r.m.Triangles[t]
	tri[1], tri[2] = tri[2], tri[1]
	first, third := r.mate[3*t], r.mate[3*t+2]
	r.mate[3*t], r.mate[3*t+2] = third, first
	if r.over[3*t] != r.over[3*t+2] {
		r.over[3*t], r.over[3*t+2] = r.over[3*t+2], r.over[3*t]
	}
	if third >= 0 {
		r.mate[third] = 3 * t
	}
	if first >= 0 {
		r.mate[first] = 3*t + 2
	}
}
