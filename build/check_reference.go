package build

import (
	"scalewright/finding"
	"scalewright/model"
)

// readings are diameters at a station and lengths between faces: of each one of the
// two, with what it asks for.
func (c *buildChecker) readings() []model.DeclaredReading {
	var out []model.DeclaredReading
	for i, raw := range c.raw.Reference.Readings {
		path := item("reference.readings", i)
		across, along := c.given(path, "diameter"), c.given(path, "length")
		switch {
		case across && along:
			c.found.Add(finding.New("both-given", c.at(join(path, "length")), finding.Args{"one": finding.Name("diameter"), "other": finding.Name("length")}).
				WithNote("first-here", c.at(join(path, "diameter")), nil))
		case across:
			c.ask(path, "at", "write at: 80 ref, the station that was read")
		case along:
			c.ask(path, "from", "write from: 0 ref, the station of the face that the length begins at")
			c.ask(path, "to", "write to: 168 ref, the station of the face that the length ends at")
			c.forward(path, raw.From.Dim, raw.To.Dim)
		default:
			c.missing(join(path, "diameter"), path, "write diameter: 42 ref with at:, or length: 168 ref with from: and to:")
		}
		out = append(out, model.DeclaredReading{
			At: c.at(path), Diameter: raw.Diameter.Dim, Station: raw.At.Dim,
			Length: raw.Length.Dim, From: raw.From.Dim, To: raw.To.Dim,
		})
	}
	return out
}

// given reports whether a key is written, well or not.
func (c *buildChecker) given(path, key string) bool { return c.doc.find(join(path, key)) != nil }

func (c *buildChecker) ask(path, key, do string) {
	if !c.given(path, key) {
		c.missing(join(path, key), path, do)
	}
}

// known is the known length that sets the scale: instead of a mat's print, never
// beside it.
func (c *buildChecker) known() *model.DeclaredKnown {
	raw := c.raw.Reference.Known
	if raw == nil {
		return nil
	}
	const path = "reference.known_length"
	for _, other := range []string{"marks", "grid", "more_photos"} {
		if c.given("reference", other) {
			c.found.Add(finding.New("both-given", c.at(path), finding.Args{"one": finding.Name(other), "other": finding.Name("known_length")}).
				WithNote("first-here", c.at(join("reference", other)), nil))
			break
		}
	}
	out := &model.DeclaredKnown{At: c.at(path), Length: raw.Length.Dim, From: raw.From, To: raw.To, Above: raw.Above.Dim}
	out.OnAxis = raw.On != nil && string(*raw.On) == onAxis
	if out.OnAxis && c.given(path, "above") {
		c.found.Add(finding.New("both-given", c.at(join(path, "above")), finding.Args{"one": finding.Name("on"), "other": finding.Name("above")}).
			WithNote("first-here", c.at(join(path, "on")), nil))
	}
	return out
}
