package place

import (
	"math"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// things are the parts with an axis of their own that lie inside the body, as what
// bays keep off: a ring where one is turned about the build's axis, else the box
// round it. Component is the part's id.
func (in Input) things() []model.Bay {
	var out []model.Bay
	for i, part := range in.Design.Parts {
		if part.OnBody() {
			continue
		}
		b, corners := in.around(part, in.Raw[i])
		inside := len(corners) > 0
		for _, p := range corners {
			at := math.Hypot(p[0], p[1])
			inside = inside && at < in.Design.Outline.RadiusAt(p[2])
		}
		if inside {
			out = append(out, b)
		}
	}
	return out
}

// around is the box or ring round a part, and points of it that lie furthest out.
func (in Input) around(part model.Part, raw model.Raw) (model.Bay, []solid.Vec) {
	b := model.Bay{Component: part.ID, Part: part.ID}
	frame := part.Frame()
	box := raw.Solid.Bounds()
	var far []solid.Vec
	if raw.Solid.Empty() {
		from, to := float64(part.Span.From), float64(part.Span.To)
		r := model.HighestBetween(raw.Outer, from, to)
		if r == 0 {
			return b, nil
		}
		box = solid.Bounds{Min: solid.Vec{-r, -r, from}, Max: solid.Vec{r, r, to}}
		const round = 48 // points of each rim
		for k := range round {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / round)
			for _, z := range [...]float64{from, to} {
				// As far out as the rim is there, or a slim waist would count as outside.
				rim := model.LowestBetween(raw.Outer, z, z)
				far = append(far, frame.Apply(solid.Vec{rim * cos, rim * sin, z}))
			}
		}
		if d, p := part.Axis.Direction, part.Axis.Position; d[0] == 0 && d[1] == 0 && p[0] == 0 && p[1] == 0 {
			foot, head := frame.Apply(solid.Vec{0, 0, from})[2], frame.Apply(solid.Vec{0, 0, to})[2]
			b.Wound = unit.Length(r)
			b.Centre[2] = unit.Length((foot + head) / 2)
			b.Size = [3]unit.Length{unit.Length(r) - part.Bore/2, unit.Length(2 * r), unit.Length(math.Abs(head - foot))}
			b.Axes = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
			return b, far
		}
	} else {
		for _, v := range raw.Solid.Vertices {
			far = append(far, frame.Apply(v))
		}
	}
	middle := frame.Apply(box.Min.Add(box.Max).Scale(0.5))
	for k := range 3 {
		var axis solid.Vec
		axis[k] = 1
		b.Axes[k] = frame.Turn(axis)
		b.Centre[k] = unit.Length(middle[k])
		b.Size[k] = unit.Length(box.Max[k] - box.Min[k])
	}
	return b, far
}
