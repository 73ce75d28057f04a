package build

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// What a place is taken to be like where nothing is said: a heated room that
// people walk through.
const (
	usualColdest = 15.0 // °C
	usualWarmest = 30.0 // °C
	usualHours   = 8.0  // a day
)

func (c *buildChecker) site() *model.Site {
	raw := c.raw.Stands
	if raw == nil {
		return nil
	}
	out := &model.Site{
		At: c.at("stands"), Name: raw.Place, Coldest: usualColdest, Warmest: usualWarmest,
		Sun: model.NoSun, Hours: usualHours, Reach: model.Touches, TiltRad: radians(raw.Tilt), Bears: raw.Bears,
	}
	if raw.Coldest != nil {
		out.Coldest = *raw.Coldest
	}
	if raw.Warmest != nil {
		out.Warmest = *raw.Warmest
	}
	if out.Coldest > out.Warmest {
		c.found.Add(finding.New("runs-back", c.at("stands.warmest_c"), finding.Args{
			"from": finding.Number(out.Coldest), "to": finding.Number(out.Warmest),
		}))
	}
	if raw.Sun != nil && *raw.Sun != "" {
		out.Sun = model.Sun(*raw.Sun)
	}
	if raw.Hours != nil {
		out.Hours = *raw.Hours
	}
	if raw.Public != nil && *raw.Public != "" {
		out.Reach = model.Reach(*raw.Public)
	}
	for i, p := range raw.Passages {
		out.Passages = append(out.Passages, model.Passage{
			At: c.at(item("stands.way", i)), Name: p.Name, Wide: full(p.Wide), High: full(p.High), Deep: full(p.Deep),
		})
	}
	return out
}

func (c *buildChecker) stand() *model.DeclaredStand {
	raw := c.raw.Stand
	if raw == nil {
		return nil
	}
	return &model.DeclaredStand{
		At: c.at("stand"), Across: raw.Across.Dim, Square: raw.Square, Thick: raw.Thick.Dim, Density: raw.Density,
		Ballast: unit.Mass(raw.Ballast), Post: string(raw.Post), Engage: raw.Engage.Dim, Below: raw.Below.Dim,
	}
}
