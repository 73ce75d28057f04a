package model

import (
	"cmp"
	"slices"

	"scalewright/stock"
	"scalewright/unit"
)

// Resolve turns a declared build, the trace of its reference and a ratio into a
// design at full size. It is the only place that multiplies. The declaration
// has been checked: names are known, the ratio is positive. Outlines that parts
// have of their own are given by file name.
func Resolve(d Declared, t Trace, own map[string]DeclaredOutline, ratio float64) Design {
	full := t.Outline.Scaled(ratio)
	out := Design{
		Name:    d.Name,
		Outline: full,
		Length:  t.Length.Scale(ratio),
		Shop:    d.Shop,
	}
	station, u := t.WorstDoubt()
	out.Error = ErrorAt{unit.Length(station * ratio), unit.Length(u * ratio)}
	corners := corners{full, ratio, d.Parts}
	for _, p := range d.Parts {
		part := resolvePart(p, corners)
		if p.Outline != "" || p.Form == Flat || p.Form == Imported {
			part = resolveForm(part, p, own[p.Outline], ratio)
		}
		part.Finished = !p.Unfinished && d.Finish.Grade != Unfinished
		if part.Filament == "" && len(d.Shop.Filaments) > 0 {
			part.Filament = d.Shop.Filaments[0].ID
		}
		out.Parts = append(out.Parts, copies(part, p)...)
	}
	out.Core = resolveCore(d.Core, ratio)
	out.Interfaces = resolveJoints(d.Joints, out.Parts)
	out.Mounts = resolveMounts(d, out.Parts)
	out.Openings = resolveOpenings(d.Openings, ratio)
	out.Finish, out.Site, out.Shows = d.Finish, d.Site, d.Shows
	out.Stand = resolveStand(d.Stand)
	out.Components = resolveComponents(d, out, ratio)
	for _, c := range d.Cuts {
		for _, part := range out.Parts {
			if part.Declared == c.Part { // each copy is cut alike
				out.Cuts = append(out.Cuts, Cut{ID: c.ID, At: c.At, Part: part.ID, Station: c.Station.At(ratio), Kind: c.Kind})
			}
		}
	}
	slices.SortStableFunc(out.Cuts, func(a, b Cut) int {
		return cmp.Or(cmp.Compare(a.Station, b.Station), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func resolvePart(p DeclaredPart, c corners) Part {
	full, ratio := c.full, c.ratio
	span := Span{c.station(p.From), c.station(p.To)}
	part := Part{
		ID: p.ID, Declared: p.ID, At: p.At, Span: span, Wall: p.Wall.At(ratio),
		OpenFoot: slices.Contains(p.Open, Foot), OpenNose: slices.Contains(p.Open, Nose),
		Printers: slices.Clone(p.Printers), Filament: p.Filament, State: Open, Form: p.Form,
	}
	if p.Settled {
		part.State = Settled
	}
	if p.Axis != nil {
		part.Axis.Direction, part.Axis.Clocking = p.Axis.Direction, p.Axis.Clocking
		for i, x := range p.Axis.Position {
			part.Axis.Position[i] = x.At(ratio)
		}
	}
	if part.OnBody() {
		part.Outline = full.Between(float64(span.From), float64(span.To))
	}
	return part
}

func resolveCore(c *DeclaredCore, ratio float64) *Core {
	if c == nil {
		return nil
	}
	pipe, _ := stock.FindPipe(c.Stock)
	return &Core{At: c.At, Stock: pipe, Span: Span{c.From.At(ratio), c.To.At(ratio)}, Hold: c.Hold}
}

// resolveJoints gives each pair of neighbours its interface: as declared, or
// open for the program to choose.
func resolveJoints(declared []DeclaredJoint, parts []Part) []Interface {
	var out []Interface
	var row []Part
	for _, p := range parts {
		if p.OnBody() {
			row = append(row, p)
		}
	}
	for i := 1; i < len(row); i++ {
		below, above := row[i-1], row[i]
		face := Interface{
			ID: below.ID + "-" + above.ID, At: above.At,
			Below: below.ID, Above: above.ID, Station: above.Span.From,
		}
		for _, j := range declared {
			if j.Between == [2]string{below.ID, above.ID} || j.Between == [2]string{above.ID, below.ID} {
				face.At, face.Kind, face.Glue, face.Removable = j.At, j.Kind, j.Glue, j.Removable
			}
		}
		out = append(out, face)
	}
	return out
}
