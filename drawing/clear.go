package drawing

// Corners are the corners of a line of letters, turned with it.
func (t Text) Corners() [4]Point {
	flat := t
	flat.Rotate = 0
	b := flat.Bounds()
	sin, cos := sincosDeg(t.Rotate)
	out := [4]Point{{b.X, b.Y}, {b.X + b.W, b.Y}, {b.X + b.W, b.Y + b.H}, {b.X, b.Y + b.H}}
	for i, c := range out {
		d := c.Sub(t.At)
		out[i] = t.At.Add(Pt(d.X*cos-d.Y*sin, d.X*sin+d.Y*cos))
	}
	return out
}

// Clear reports whether a line of letters, turned as it may be, stands inside the
// paper, over no other letters and across no line that is drawn so far.
func (s *Scene) Clear(t Text) bool {
	mine := t.Corners()
	for _, c := range mine {
		if c.X < 0 || c.Y < 0 || c.X > s.Width || c.Y > s.Height {
			return false
		}
	}
	for _, it := range s.Items {
		switch v := it.(type) {
		case Text:
			other := v.Corners()
			if !v.blank() && (touched(mine, middle(other)) || touched(other, middle(mine)) || edgesCross(mine, other[:])) {
				return false
			}
		case Drawn:
			if v.Style.Stroke.Width == 0 {
				continue
			}
			for _, l := range v.Path.flat(1) {
				line := l.points
				if l.closed && len(line) > 0 {
					line = append(line[:len(line):len(line)], line[0])
				}
				for i := 1; i < len(line); i++ {
					if touched(mine, line[i]) || sidesCross(mine, line[i-1], line[i]) {
						return false
					}
				}
			}
		}
	}
	return true
}

// touched reports whether a place lies in a box of letters.
func touched(box [4]Point, p Point) bool {
	right, down := box[1].Sub(box[0]), box[3].Sub(box[0])
	d := p.Sub(box[0])
	along, across := d.X*right.X+d.Y*right.Y, d.X*down.X+d.Y*down.Y
	return along > 0 && along < right.X*right.X+right.Y*right.Y && across > 0 && across < down.X*down.X+down.Y*down.Y
}

func middle(box [4]Point) Point { return box[0].Add(box[2]).Mul(0.5) }

func edgesCross(box [4]Point, other []Point) bool {
	for i := range other {
		if sidesCross(box, other[i], other[(i+1)%len(other)]) {
			return true
		}
	}
	return false
}

// sidesCross reports whether a line crosses a side of a box.
func sidesCross(box [4]Point, a, b Point) bool {
	for i := range box {
		if segmentsCross(a, b, box[i], box[(i+1)%4]) {
			return true
		}
	}
	return false
}
