package shape

import (
	"context"

	"scalewright/craft/turning"
	"scalewright/finding"
	"scalewright/model"
)

// Input is one part of a design.
type Input struct {
	Part model.Part
	Body model.Outline // the whole turned body, at full size
}

const (
	// Arcs become chords this near, mm.
	chordSag = 0.01
	// A cavity narrower than this radius is filled, mm: nothing reaches in.
	leastCavity = 2.0
	// A ceiling may run out this far for each mm of height: 45°.
	steepest = 1.0
)

// Run shapes the part.
func Run(_ context.Context, in Input) (model.Raw, finding.List, error) {
	part := in.Part
	raw := model.Raw{Part: part.ID}
	var found finding.List
	if !part.Axis.IsBuild() {
		found.Add(finding.New("part-off-axis", part.At.Key("axis"), nil).About(part.ID).AtStation(part.Span.From))
		return raw, found, nil
	}
	raw.Outer = part.Outline.Polyline(chordSag)
	if len(raw.Outer) == 0 {
		found.Add(finding.New("part-off-body", part.At, finding.Args{
			"from": finding.Long(part.Span.From), "to": finding.Long(part.Span.To),
			"start": finding.Long(in.Body.Start()), "end": finding.Long(in.Body.End()),
		}).About(part.ID).AtStation(part.Span.From))
		return raw, found, nil
	}
	wall := float64(part.Wall)
	body := closeEnds(in.Body.Polyline(chordSag), part, wall)
	cavity := clip(turning.Inset(body, wall, leastCavity), float64(part.Span.From), float64(part.Span.To))
	raw.FootDown = turning.SelfSupporting(cavity, steepest, false)
	raw.NoseDown = turning.SelfSupporting(cavity, steepest, true)
	return raw, found, nil
}

// closeEnds gives the body a wall across each end, or runs it on past an end
// that the part leaves open.
func closeEnds(body []model.Point, part model.Part, wall float64) []model.Point {
	first, last := body[0], body[len(body)-1]
	if part.OpenFoot {
		body = append([]model.Point{{Station: first.Station - 2*wall, Radius: first.Radius}}, body...)
	} else {
		body = append([]model.Point{{Station: first.Station}}, body...)
	}
	if part.OpenNose {
		return append(body, model.Point{Station: last.Station + 2*wall, Radius: last.Radius})
	}
	return append(body, model.Point{Station: last.Station})
}

// clip is the stretch of a polyline between two stations.
func clip(line []model.Point, from, to float64) []model.Point {
	out := []model.Point{{Station: from, Radius: model.LowestBetween(line, from, from)}}
	for _, p := range line {
		if p.Station > from && p.Station < to {
			out = append(out, p)
		}
	}
	return append(out, model.Point{Station: to, Radius: model.LowestBetween(line, to, to)})
}
