package measure

// unknowns numbers what is fitted: the pose's four, then stations, radii and rises.
type unknowns struct {
	s, r, rise []int // -1: not free
	n          int
}

func (f *fitting) unknowns() (u unknowns) {
	u.n = 4
	last := len(f.form.joints) - 1
	for i, j := range f.form.joints {
		if i == 0 && f.fixed[0] || i == last && f.fixed[1] {
			u.s, u.r = append(u.s, -1), append(u.r, -1)
			if i > 0 && f.form.spans[i-1].kind == faceSpan { // its other end cannot leave it
				u.s[i-1] = -1
			}
			continue
		}
		if i > 0 && f.form.spans[i-1].kind == faceSpan {
			u.s = append(u.s, u.s[i-1])
		} else {
			u.s = append(u.s, u.n)
			u.n++
		}
		if i == 0 && (j.r == 0 || f.narrow[0]) || i == last && (j.r == 0 || f.narrow[1]) {
			u.r = append(u.r, -1)
		} else {
			u.r = append(u.r, u.n)
			u.n++
		}
	}
	for _, g := range f.form.spans {
		if g.kind == arcSpan {
			u.rise = append(u.rise, u.n)
			u.n++
		} else {
			u.rise = append(u.rise, -1)
		}
	}
	return u
}
