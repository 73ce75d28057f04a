package build

import (
	"scalewright/finding"
	"scalewright/model"
)

// trued is what is to be true of the outline.
func (c *buildChecker) trued() model.DeclaredTrue {
	const path = "reference.trued"
	raw := c.raw.Reference.Trued
	if raw == nil {
		return model.DeclaredTrue{}
	}
	out := model.DeclaredTrue{
		At: c.at(path), Symmetric: raw.Symmetric, Crisp: raw.Crisp.Dim, Edge: raw.Edge.Dim, Chamfered: raw.Chamfered,
	}
	if (raw.Edge.Written() || raw.Chamfered) && !c.given(path, "crisp") {
		c.missing(join(path, "crisp"), path, "write crisp: 1.2 ref, the size below which edges become crisp")
	}
	if raw.Chamfered && !c.given(path, "edge") {
		c.missing(join(path, "edge"), path, "write edge: 1 mm, the chamfer's legs at full size")
	}
	for i, s := range raw.Segments {
		where := item(join(path, "segments"), i)
		is := model.Truth(s.Is)
		if is == model.Equal {
			c.ask(where, "to", "write to: 150 ref, a station inside the other segment")
		}
		if c.given(where, "across") && is != model.Parallel && is != model.NoDraft && is != "" {
			c.found.Add(finding.New("across-of", c.at(join(where, "across")), finding.Args{"is": finding.Name(s.Is)}))
		}
		out.Segments = append(out.Segments, model.DeclaredTruth{At: c.at(where), Station: s.At.Dim, Is: is, To: s.To.Dim, Across: s.Across.Dim})
	}
	return out
}
