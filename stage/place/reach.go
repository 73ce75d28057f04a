package place

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
)

// mouthOf is what a joint that comes apart opens of a room: the ring between what
// stands in the middle and the narrowest place of the joint's own side.
func (in Input) mouthOf(r room, s model.Seam) mouth {
	at := float64(s.Station)
	m := mouth{joint: s.ID, station: at, depth: float64(s.Engage + model.EndGap)}
	m.inner = in.middle(math.Min(at, r.from), math.Max(at, r.to))
	m.outer = r.outerAt(at-m.depth, at+m.depth)
	return m
}

// windowsOf are the openings of a room's wall that something may be brought in by:
// with a panel, or open with nothing in them.
func (in Input) windowsOf(r room) []opening {
	taken := map[string]bool{}
	for _, c := range in.Design.Components {
		taken[c.Opening] = true
	}
	var out []opening
	for _, v := range in.Division.Windows {
		o := v.Opening
		at := float64(o.Station)
		if v.Piece != r.piece.ID || at < r.from || at > r.to || !o.Panel && taken[o.ID] {
			continue
		}
		rim := 0.0
		if o.Panel {
			rim = 2 * float64(model.LedgeWide)
		}
		w := opening{Window: v, depth: r.outerAt(at, at) - r.inner}
		if o.Across > 0 {
			w.round, w.wide, w.high = true, float64(o.Across)-rim, float64(o.Across)-rim
		} else {
			w.wide, w.high = chord(float64(o.Wide)-rim, float64(v.Radius)), float64(o.High)-rim
		}
		if w.wide > 0 && w.high > 0 {
			out = append(out, w)
		}
	}
	return out
}

// chord is how far apart the ends of an arc are, measured straight.
func chord(arc, radius float64) float64 {
	if radius <= 0 {
		return 0
	}
	return 2 * radius * math.Sin(math.Min(math.Max(arc, 0)/(2*radius), math.Pi/2))
}

// bare is a component as it is carried in, its plugs pulled.
func bare(c model.Component) [3]float64 {
	var size [3]float64
	for i, s := range c.Kind.Size {
		size[i] = float64(s) + 2*spare
	}
	if c.Kind.Pitch > 0 {
		size[0] = 0 // a strip goes in by its end
	}
	return size
}

// lacks is by how much an opening is too narrow and too low for a component to go
// straight in along the radius, in the position that lacks least of those that the
// room behind is deep enough for; nothing where it passes.
func (o opening) lacks(c model.Component) (wide, high float64) {
	size := bare(c)
	least := math.Inf(1)
	wide, high = least, least
	for _, l := range lies {
		if size[l[2]] > o.depth {
			continue
		}
		w, h := math.Max(0, size[l[1]]-o.wide), math.Max(0, size[l[0]]-o.high)
		if o.round {
			w = math.Max(0, math.Hypot(size[l[0]], size[l[1]])-o.wide)
			h = w
		}
		if lack := math.Max(w, h); lack < least {
			least, wide, high = lack, w, h
		}
	}
	return wide, high
}

// off is how far a bay lies from an opening, along the axis and round it.
func (o opening) off(b model.Bay, r room) float64 {
	along := float64(b.Centre[2] - o.Opening.Station)
	if b.Wound > 0 {
		return math.Abs(along) // a strip passes before it
	}
	x, y := float64(b.Centre[0]), float64(b.Centre[1])
	turn := math.Abs(math.Remainder(math.Atan2(y, x)-o.Opening.Clocking, 2*math.Pi))
	return math.Hypot(along, turn*(r.inner+r.outerAt(float64(b.Centre[2]), float64(b.Centre[2])))/2)
}

// admits reports whether a hand gets through a clear width and height.
func admits(wide, high float64) bool {
	return math.Min(wide, high) >= handThick && math.Max(wide, high) >= handBroad
}

// within reports whether what lies so far behind a way in is got at: by fingers, or
// by an arm whose hand passes.
func within(far, wide, high float64) bool {
	return far <= fingersFar || far <= armFar && admits(wide, high)
}

// passes reports whether a component goes out along the axis through a mouth.
func (m mouth) passes(c model.Component) bool {
	size := bare(c)
	for _, l := range lies {
		a, b := size[l[1]], size[l[2]]
		if m.outer > a/2 && math.Sqrt(m.outer*m.outer-a*a/4)-b >= m.inner {
			return true
		}
	}
	return false
}

// reached are the openings and loose joints through which a component in a bay is
// brought in, and got at with fingers or an arm.
func (r room) reached(c model.Component, b model.Bay) []string {
	var out []string
	for _, o := range r.windows {
		if w, h := o.lacks(c); w == 0 && h == 0 && within(o.off(b, r), o.wide, o.high) {
			out = append(out, o.Opening.ID)
		}
	}
	for _, m := range r.mouths {
		far := math.Abs(float64(b.Centre[2]) - m.station)
		// Round the axis there is room for the hand's breadth where there is for its
		// thickness.
		if m.passes(c) && within(far, m.outer-m.inner, 2*m.outer) {
			out = append(out, m.joint)
		}
	}
	return out
}

// unreached says why the opening nearest to what is to be serviced does not lead to
// it. Where there is none, assembly says what would, for it knows what is glued.
func (w *work) unreached(c model.Component, b model.Bay) finding.List {
	if c.Service != model.Serviced || len(b.Reached) > 0 {
		return nil
	}
	var r room
	for _, q := range w.all {
		if at := float64(b.Centre[2]); q.piece.ID == b.Piece && at >= q.from && at <= q.to {
			r = q
		}
	}
	best, near := -1, math.Inf(1)
	for i, o := range r.windows {
		if off := o.off(b, r); o.Opening.Panel && off < near {
			best, near = i, off
		}
	}
	if best < 0 {
		return nil
	}
	o := r.windows[best]
	args := finding.Args{
		"component": finding.Name(c.ID), "opening": finding.Name(o.Opening.ID),
		"wide": finding.Size(o.wide), "high": finding.Size(o.high),
	}
	code := finding.Code("opening-too-far")
	wide, high := o.lacks(c)
	if wide > 0 || high > 0 {
		code, args["wider"], args["higher"] = "opening-too-small", finding.Size(math.Ceil(wide)), finding.Size(math.Ceil(high))
	} else {
		args["far"], args["broad"], args["thick"], args["arm"] = finding.Long(near), finding.Long(handBroad), finding.Long(handThick), finding.Long(armFar)
	}
	return finding.List{finding.New(code, c.At, args).About(b.Part).AtStation(b.Centre[2])}
}
