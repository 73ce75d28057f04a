package drawing

import "math"

// inkBox is the box round an item's ink; false where it has none.
func inkBox(it Item) (Rect, bool) {
	switch v := it.(type) {
	case Drawn:
		if len(v.Path.segs) == 0 {
			return Rect{}, false
		}
		return v.Path.Bounds().Inset(-v.Style.Stroke.Width / 2), true
	case Text:
		if v.blank() {
			return Rect{}, false
		}
		return v.box().Inset(-v.Halo), true
	case Image:
		return v.Box, true
	}
	return Rect{}, false
}

// box is the upright box round the line of letters.
func (t Text) box() Rect {
	sin, cos := sincosDeg(t.Rotate)
	x0, x1 := -t.back(), t.Width()-t.back()
	y0, y1 := t.drop()-t.Size*ascent, t.drop()+t.Size*descent
	lo, hi := Pt(math.Inf(1), math.Inf(1)), Pt(math.Inf(-1), math.Inf(-1))
	for _, q := range [4]Point{{x0, y0}, {x1, y0}, {x0, y1}, {x1, y1}} {
		p := t.At.Add(Pt(float64(q.X*cos)-float64(q.Y*sin), float64(q.X*sin)+float64(q.Y*cos)))
		lo = Pt(min(lo.X, p.X), min(lo.Y, p.Y))
		hi = Pt(max(hi.X, p.X), max(hi.Y, p.Y))
	}
	return Rect{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}

// inkIn reports whether an item leaves ink inside a box.
func inkIn(it Item, r Rect) bool {
	box, ok := inkBox(it)
	if !ok || !box.Overlaps(r) {
		return false
	}
	v, ok := it.(Drawn)
	if !ok || v.Style.Fill != None {
		return true
	}
	wide := r.Inset(-v.Style.Stroke.Width / 2)
	for _, line := range v.Path.chords() {
		for i := 1; i < len(line); i++ {
			if wide.crossesSegment(line[i-1], line[i]) {
				return true
			}
		}
	}
	return false
}

// stretched is an item drawn so many times as wide and as high: places move,
// letters and lines keep their size.
func stretched(it Item, kx, ky float64) Item {
	by := func(p Point) Point { return Pt(p.X*kx, p.Y*ky) }
	switch v := it.(type) {
	case Drawn:
		path := &Path{segs: make([]seg, len(v.Path.segs))}
		for i, s := range v.Path.segs {
			for j := range s.p {
				s.p[j] = by(s.p[j])
			}
			path.segs[i] = s
		}
		v.Path = path
		return v
	case Text:
		v.At = by(v.At)
		return v
	case Image:
		v.Box = Rect{v.Box.X * kx, v.Box.Y * ky, v.Box.W * kx, v.Box.H * ky}
		return v
	}
	return it
}
