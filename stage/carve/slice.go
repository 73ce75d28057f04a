package carve

import (
	"context"
	"fmt"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// slice is a piece of a part that is not turned: what lies between two planes
// square to the part's own line, bored for the core where that runs through it.
func slice(ctx context.Context, in Input) (model.Carved, finding.List, error) {
	raw := in.Raw
	out := model.Carved{Piece: in.Piece.ID, Reach: in.Piece.Span, Wall: raw.Least.Thickness}
	out.WallAt.Station = float64(raw.Least.Station)
	mesh, err := between(in, raw.Solid)
	if err != nil {
		return out, nil, err
	}
	mesh = mesh.Transform(in.Part.Frame())
	if n := solids(mesh); n != 1 {
		return out, parted("not-one-slice", in, n), nil
	}
	if in.OnCore != nil {
		if mesh, err = onCore(ctx, in, mesh); err != nil {
			return out, nil, err
		}
		if n := solids(mesh); n != 1 {
			return out, parted("bore-parts-slice", in, n), nil
		}
	}
	out.Solid = mesh
	return out, nil, nil
}

// parted says that a piece would not be one body.
func parted(code finding.Code, in Input, n int) finding.List {
	return finding.List{finding.New(code, in.Part.At, finding.Args{
		"piece": finding.Name(in.Piece.Name), "count": finding.Count(n),
	}).About(in.Part.ID)}
}

// between is what of a solid in the part's own frame lies between the bounds of
// the piece. At a bound that is the part's own end there is nothing to cut.
func between(in Input, m solid.Mesh) (solid.Mesh, error) {
	line, span := in.Raw.Line, in.Piece.Span
	var err error
	if span.From > line.Span.From {
		m, _, err = solid.Cut(m, line.Plane(span.From))
	}
	if err == nil && span.To < line.Span.To {
		_, m, err = solid.Cut(m, line.Plane(span.To))
	}
	if err != nil {
		return m, fmt.Errorf("cut %s: %w", in.Piece.ID, err)
	}
	return m, nil
}

// onCore bores the piece, in its place in the build, for the core.
func onCore(ctx context.Context, in Input, m solid.Mesh) (solid.Mesh, error) {
	radius := float64(in.OnCore.Bore.Nominal) / 2 * solid.FacetScale(in.Segments)
	if !in.Raw.Filled.Empty() {
		var err error
		if m, err = sleeved(ctx, in, m, radius); err != nil {
			return m, fmt.Errorf("sleeve of %s: %w", in.Piece.ID, err)
		}
	}
	bore, err := rod(radius, float64(in.Core.Span.From), float64(in.Core.Span.To+model.EndGap), in.Segments)
	if err == nil {
		m, err = solid.Kernel{}.Subtract(ctx, m, bore)
	}
	if err != nil {
		return m, fmt.Errorf("bore %s: %w", in.Piece.ID, err)
	}
	return m, nil
}

// sleeved gives a hollow piece a sleeve of its wall round the bore, and a floor of
// its wall across the cut that it stands on, which holds the sleeve and is glued.
// Both go where the part was solid before it was hollowed.
func sleeved(ctx context.Context, in Input, m solid.Mesh, radius float64) (solid.Mesh, error) {
	filled, err := between(in, in.Raw.Filled)
	if err != nil {
		return m, err
	}
	wall := float64(in.Part.Wall)
	frame := in.Part.Frame()
	filled = filled.Transform(frame)
	from, to := float64(in.Core.Span.From)-wall, float64(in.Core.Span.To+model.EndGap)+wall
	box := filled.Bounds()
	// Down to where the piece stands, so that the sleeve need not begin in the air.
	down := frame.Turn(in.Raw.Line.Direction).Scale(way(in.Piece.Direction))
	switch {
	case down[2] < -upright:
		from = min(from, box.Min[2])
	case down[2] > upright:
		to = max(to, box.Max[2])
	}
	sleeve, err := rod(radius+wall, from, to, in.Segments)
	if err != nil {
		return m, err
	}
	k := solid.Kernel{}
	add := []solid.Mesh{sleeve}
	if floor, ok, err := floorOf(in, filled, frame); err != nil {
		return m, err
	} else if ok {
		add = append(add, floor)
	}
	for _, a := range add {
		a, err = k.Intersect(ctx, a, filled)
		if err == nil {
			m, err = k.Union(ctx, m, a)
		}
		if err != nil {
			return m, err
		}
	}
	return m, nil
}

// An axis that leans less than this, as a cosine, runs along the build's.
const upright = 1 - 1e-12

// way is 1 where the nose is down and -1 where the foot is: which way along the
// part's line the platform lies.
func way(d model.Direction) float64 {
	if d == model.NoseDown {
		return 1
	}
	return -1
}

// floorOf is the slab of the part's wall above the cut that a piece stands on; none
// where it stands on the part's own end.
func floorOf(in Input, filled solid.Mesh, frame solid.Transform) (solid.Mesh, bool, error) {
	line, span, wall := in.Raw.Line, in.Piece.Span, in.Part.Wall
	back, _ := frame.Inverse()
	own := filled.Transform(back)
	var err error
	switch {
	case in.Piece.Direction == model.NoseDown && span.To < line.Span.To:
		own, _, err = solid.Cut(own, line.Plane(span.To-wall))
	case in.Piece.Direction == model.FootDown && span.From > line.Span.From:
		_, own, err = solid.Cut(own, line.Plane(span.From+wall))
	default:
		return solid.Mesh{}, false, nil
	}
	return own.Transform(frame), true, err
}

// rod is a cylinder on the build's axis.
func rod(radius, from, to float64, flats int) (solid.Mesh, error) {
	return solid.Turn([]solid.PointRZ{{R: 0, Z: from}, {R: radius, Z: from}, {R: radius, Z: to}, {R: 0, Z: to}}, flats)
}

// solids counts the shells that enclose material; a cavity is a shell too.
func solids(m solid.Mesh) int {
	n := 0
	for _, c := range m.Components() {
		if c.Volume() > 0 {
			n++
		}
	}
	return n
}

// Widest is the widest place of what is turned on one axis: the body's parts
// together, each other part for itself, and the core where nothing else is.
func Widest(d model.Design, part model.Part) unit.Length {
	switch {
	case part.OnBody():
		return unit.Length(2 * d.Outline.MaxRadius())
	case part.Form != model.Flat && part.Form != model.Imported:
		return unit.Length(2 * part.Outline.MaxRadius())
	case d.Core != nil:
		return d.Core.Stock.Widest()
	}
	return 0
}
