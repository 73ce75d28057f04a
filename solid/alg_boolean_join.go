package solid

// surface is a closed surface whose sides are known one by one: two triangles
// may share both ends of an edge and not be neighbours there.
type surface struct {
	points    []Vec
	triangles [][3]int32
	twin      []int32 // of a half-edge: the other side
	source    []int32 // of a triangle: the face of the operands it is part of
	original  int32   // points that are vertices of the operands come first
	whole     int32   // triangles that are whole faces come first
	reach     float64 // lengths below this mean nothing
}

// join puts the whole faces and the filled ones into one surface.
func (d *division) join(runs []filled) *surface {
	r := &surface{points: d.points, original: d.original, reach: d.reach}
	first := make([]int32, len(d.divided)) // of a whole face: its first copy
	n := int32(0)
	for i := range d.sides {
		o := &d.sides[i]
		for f, t := range o.Triangles {
			first[o.base+int32(f)] = n
			if !d.divided[o.base+int32(f)] {
				n += abs(o.kept[t[0]])
			}
		}
	}
	for _, run := range runs {
		n += int32(len(run.triangles))
	}
	r.triangles = make([][3]int32, 0, n)
	r.source = make([]int32, 0, n)
	r.twin = make([]int32, 3*n)
	for i := range d.sides {
		d.sides[i].copyFaces(r, d.divided)
	}
	halves := make([]int32, 2*len(d.pieces)) // of a side of a piece: its half-edge
	for i := range d.sides {
		d.linkWhole(r, &d.sides[i], first)
	}
	for _, b := range d.borders {
		halves[b.name] = d.sides[b.operand].copyOf(b.half, b.n, first)
	}
	r.whole = int32(len(r.triangles))
	for _, run := range runs {
		base := int32(3 * len(r.triangles))
		r.triangles = append(r.triangles, run.triangles...)
		r.source = append(r.source, run.source...)
		for h, o := range run.twin {
			if o < 0 {
				halves[^o] = base + int32(h)
			} else {
				r.twin[base+int32(h)] = base + o
			}
		}
		for _, fold := range run.folds {
			halves[fold[0]], halves[fold[1]] = ^fold[1], ^fold[0]
		}
	}
	for side, h := range halves {
		if h < 0 {
			continue
		}
		// A fold leads on to the other side of the piece it was paired with.
		other := int32(side) ^ 1
		for halves[other] < 0 {
			other = ^halves[other] ^ 1
		}
		r.twin[h] = halves[other]
	}
	return r
}

// copyFaces adds the copies of the whole faces.
func (o *remains) copyFaces(r *surface, divided []bool) {
	for f, t := range o.Triangles {
		if divided[o.base+int32(f)] {
			continue
		}
		for n := range abs(o.kept[t[0]]) {
			a, b, c := o.first[t[0]]+n, o.first[t[1]]+n, o.first[t[2]]+n
			if o.kept[t[0]] < 0 {
				b, c = c, b
			}
			r.triangles = append(r.triangles, [3]int32{a, b, c})
			r.source = append(r.source, o.base+int32(f))
		}
	}
}

// copyOf returns the half-edge of copy n of a whole face that half-edge h became.
// Turned over, the corners 0 1 2 become 0 2 1, and half-edge k becomes 2 − k.
func (o *remains) copyOf(h, n int32, first []int32) int32 {
	t := 3 * (first[o.base+h/3] + n)
	if o.kept[o.tail(h)] < 0 {
		return t + 2 - h%3
	}
	return t + h%3
}

// linkWhole makes neighbours of the copies of whole faces.
func (d *division) linkWhole(r *surface, o *remains, first []int32) {
	for h := range int32(len(o.opposite)) {
		other := o.opposite[h]
		if d.divided[o.base+h/3] || d.divided[o.base+other/3] {
			continue
		}
		for n := range abs(o.kept[o.tail(h)]) {
			r.twin[o.copyOf(h, n, first)] = o.copyOf(other, n, first)
		}
	}
}
