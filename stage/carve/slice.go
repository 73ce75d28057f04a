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
	if in.OnCore != nil {
		if mesh, err = onCore(ctx, in, mesh); err != nil {
			return out, nil, err
		}
	}
	if n := solids(mesh); n != 1 {
		return out, finding.List{finding.New("not-one-slice", in.Part.At, finding.Args{
			"piece": finding.Name(in.Piece.Name), "count": finding.Count(n),
		}).About(in.Part.ID)}, nil
	}
	out.Solid = mesh
	return out, nil, nil
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

// onCore bores the piece, in its place in the build, for the core. A hollow one
// gets a sleeve of its wall round the bore, wherever it was solid before.
func onCore(ctx context.Context, in Input, m solid.Mesh) (solid.Mesh, error) {
	radius := float64(in.OnCore.Bore.Nominal) / 2 * solid.FacetScale(in.Segments)
	from, to := float64(in.Core.Span.From), float64(in.Core.Span.To+model.EndGap)
	k := solid.Kernel{}
	if !in.Raw.Filled.Empty() {
		filled, err := between(in, in.Raw.Filled)
		if err != nil {
			return m, err
		}
		wall := float64(in.Part.Wall)
		sleeve, err := rod(radius+wall, from-wall, to+wall, in.Segments)
		if err == nil {
			sleeve, err = k.Intersect(ctx, sleeve, filled.Transform(in.Part.Frame()))
		}
		if err == nil {
			m, err = k.Union(ctx, m, sleeve)
		}
		if err != nil {
			return m, fmt.Errorf("sleeve of %s: %w", in.Piece.ID, err)
		}
	}
	bore, err := rod(radius, from, to, in.Segments)
	if err == nil {
		m, err = k.Subtract(ctx, m, bore)
	}
	if err != nil {
		return m, fmt.Errorf("bore %s: %w", in.Piece.ID, err)
	}
	return m, nil
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
	case part.Form == model.Turned:
		return unit.Length(2 * part.Outline.MaxRadius())
	case d.Core != nil:
		return d.Core.Stock.Widest()
	}
	return 0
}
