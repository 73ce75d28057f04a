package build

import (
	"cmp"
	"maps"
	"slices"

	"scalewright/finding"
	"scalewright/model"
)

func (c *buildChecker) components() []model.DeclaredComponent {
	var out []model.DeclaredComponent
	for _, id := range slices.Sorted(maps.Keys(c.raw.Components)) {
		raw := c.raw.Components[id]
		path := join("components", id)
		c.knownPart(join(path, "in"), raw.Part)
		if raw.Opening != "" {
			c.report(join(path, "opening"), choose(raw.Opening, "opening", slices.Sorted(maps.Keys(c.raw.Openings))))
		}
		k := model.DeclaredComponent{
			ID: id, At: c.at(path), Kind: string(raw.Kind), Part: raw.Part, Opening: raw.Opening,
			Clocking: radians(raw.Clocking), Pixels: raw.Pixels, Service: model.Serviced,
		}
		if raw.At != nil {
			k.Station = raw.At.Dim
		}
		switch {
		case raw.Service != nil && *raw.Service != "":
			k.Service = model.Service(*raw.Service)
		case raw.Opening != "":
			k.Service = model.Pressed
		}
		if raw.Part == "" && raw.Opening == "" && k.Service != model.Outside {
			c.missing(join(path, "in"), path, "write in: and the part that holds it, or reached: outside")
		}
		out = append(out, k)
	}
	return out
}

func (c *buildChecker) shows() []model.Show {
	var out []model.Show
	for _, id := range slices.Sorted(maps.Keys(c.raw.Shows)) {
		raw := c.raw.Shows[id]
		path := join("shows", id)
		if raw.Button != "" {
			c.report(join(path, "button"), choose(raw.Button, "component", slices.Sorted(maps.Keys(c.raw.Components))))
		}
		s := model.Show{
			ID: id, At: c.at(path), Button: raw.Button, Sound: raw.Sound, Pattern: model.Steady,
			Colour: raw.Colour, Level: 1, Lasts: raw.Seconds, Period: raw.Period,
		}
		if raw.Light != nil {
			s.Pattern = cmp.Or(model.Pattern(*raw.Light), model.Steady)
		}
		if raw.Level != nil {
			s.Level = *raw.Level
		}
		out = append(out, s)
	}
	return out
}

// copiesAreFree checks that nothing else bears the name of a copy.
func (c *buildChecker) copiesAreFree(parts []model.DeclaredPart) {
	for _, p := range parts {
		for _, id := range p.Copies() {
			if _, taken := c.raw.Parts[id]; taken && id != p.ID {
				c.found.Add(finding.New("double-id", c.at(join("parts", id)), finding.Args{"id": finding.Name(id), "other": finding.Name("a copy of " + p.ID)}))
			}
		}
	}
}
