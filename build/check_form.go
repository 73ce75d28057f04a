package build

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// form fills in what a part's form asks for, and asks for what is missing.
func (c *buildChecker) form(path string, raw partFile, part *model.DeclaredPart) {
	part.Form, part.Lie, part.ModelUnit = model.Turned, model.Along, unit.OfReference
	if raw.Form != nil && *raw.Form != "" {
		part.Form = model.Form(*raw.Form)
	}
	if raw.Lies != nil && *raw.Lies != "" {
		part.Lie = model.Lie(*raw.Lies)
	}
	if raw.ModelOf != nil {
		part.ModelUnit = raw.ModelOf.owner()
	}
	part.Outline, part.Model = string(raw.Outline), string(raw.Model)
	part.Bore, part.Thick, part.Unfinished = raw.Bore.Dim, raw.Thick.Dim, raw.Bare
	for _, degrees := range raw.Clocking {
		part.Clockings = append(part.Clockings, radians(degrees))
	}
	ask := func(key, do string, given bool) {
		if !given && c.doc.find(join(path, key)) == nil {
			c.missing(join(path, key), path, do)
		}
	}
	switch {
	case part.Form == model.Flat:
		ask("outline", "write outline: and the file of a closed outline", part.Outline != "")
		ask("thick", "write thick: 2.4 ref, or thick: 12 mm", part.Thick.Written())
	case part.Form == model.Imported:
		ask("model", "write model: and the file of the mesh", part.Model != "")
	case part.Outline != "" || raw.Axis != nil:
		ask("outline", "write outline: and the file of the outline round that axis", part.Outline != "")
		ask("axis", "write axis: {at: [0 ref, 0 ref, 20 ref], towards: [0, 0, 1]}", raw.Axis != nil)
	default:
		ask("from", "write from: 14 ref", part.From.Written())
		ask("to", "write to: 30 ref", part.To.Written())
		ask("wall", "write wall: 2.4 mm", part.Wall.Written())
	}
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

func (c *buildChecker) openings() []model.DeclaredOpening {
	var out []model.DeclaredOpening
	for _, id := range slices.Sorted(maps.Keys(c.raw.Openings)) {
		raw := c.raw.Openings[id]
		path := join("openings", id)
		c.knownPart(join(path, "part"), raw.Part)
		round, square := raw.Across.Written(), raw.Wide.Written() && raw.High.Written()
		switch {
		case round && (raw.Wide.Written() || raw.High.Written()):
			c.found.Add(finding.New("both-given", c.at(join(path, "across")), finding.Args{"one": finding.Name("across"), "other": finding.Name("wide and high")}))
		case !round && !square && c.doc.find(join(path, "across")) == nil && c.doc.find(join(path, "wide")) == nil:
			c.missing(join(path, "across"), path, "write across: 16.2 mm, or wide: 90 mm and high: 150 mm")
		case !round && !square && c.doc.find(join(path, "wide")) == nil:
			c.missing(join(path, "wide"), path, "write wide: 90 mm")
		case !round && !square && c.doc.find(join(path, "high")) == nil:
			c.missing(join(path, "high"), path, "write high: 150 mm")
		}
		out = append(out, model.DeclaredOpening{
			ID: id, At: c.at(path), Part: raw.Part, Station: raw.At.Dim, Clocking: radians(raw.Clocking),
			Across: raw.Across.Dim, Wide: raw.Wide.Dim, High: raw.High.Dim, Panel: raw.Panel,
		})
	}
	return out
}

// finish is none where the file says nothing of it.
func (c *buildChecker) finish() model.Finish {
	out := model.Finish{Grade: model.Unfinished}
	if raw := c.raw.Finish; raw != nil {
		out.At, out.Colour, out.Clear = c.at("finish"), raw.Colour, raw.Clear
		if raw.Grade != nil {
			out.Grade = cmp.Or(model.Grade(*raw.Grade), model.Unfinished)
		}
	}
	return out
}
