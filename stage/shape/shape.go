package shape

import (
	"context"

	"scalewright/craft/turning"
	"scalewright/finding"
	"scalewright/model"
)

// Input is one part of a design, with what its form is made from.
type Input struct {
	Part  model.Part
	Body  model.Outline // of a stretch of it: the whole turned body, at full size
	Model []byte        // of an imported part: its file
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
func Run(ctx context.Context, in Input) (model.Raw, finding.List, error) {
	switch {
	case in.Part.OnBody():
		raw, found := stretch(in)
		return raw, found, nil
	case in.Part.Form == model.Flat:
		return flat(in.Part)
	case in.Part.Form == model.Imported:
		return imported(ctx, in)
	}
	raw, found := ownTurned(in.Part)
	return raw, found, nil
}

// stretch is a part of the turned body.
func stretch(in Input) (model.Raw, finding.List) {
	part := in.Part
	raw := model.Raw{Part: part.ID}
	var found finding.List
	raw.Outer = part.Outline.Polyline(chordSag)
	if len(raw.Outer) == 0 {
		found.Add(finding.New("part-off-body", part.At, finding.Args{
			"from": finding.Long(part.Span.From), "to": finding.Long(part.Span.To),
			"start": finding.Long(start(in.Body)), "end": finding.Long(end(in.Body)),
		}).About(part.ID).AtStation(part.Span.From))
		return raw, found
	}
	hollow(&raw, in.Body, part)
	return raw, found
}

// ownTurned is a part turned round an axis of its own. Without a wall it is
// solid.
func ownTurned(part model.Part) (model.Raw, finding.List) {
	raw := model.Raw{Part: part.ID}
	if trouble, at := part.Outline.Trouble(); trouble != "" {
		return raw, finding.List{badOutline(part, string(trouble), at.Station, at.Radius)}
	}
	raw.Outer = part.Outline.Polyline(chordSag)
	if part.Wall > 0 {
		hollow(&raw, part.Outline, part)
	}
	return raw, nil
}

// badOutline says why a part's own outline can't be made.
func badOutline(part model.Part, trouble string, x, y float64) finding.Finding {
	return finding.New("own-outline", part.At.Key("outline"), finding.Args{
		"trouble": finding.Name(trouble), "x": finding.Number(x), "y": finding.Number(y),
	}).About(part.ID)
}

// hollow gives the part the cavity that leaves its wall inside a body.
func hollow(raw *model.Raw, body model.Outline, part model.Part) {
	wall := float64(part.Wall)
	line := closeEnds(body.Polyline(chordSag), part, wall)
	cavity := clip(turning.Inset(line, wall, leastCavity), float64(part.Span.From), float64(part.Span.To))
	raw.FootDown = turning.SelfSupporting(cavity, steepest, false)
	raw.NoseDown = turning.SelfSupporting(cavity, steepest, true)
}

func start(o model.Outline) float64 {
	if len(o) == 0 {
		return 0
	}
	return o.Start()
}

func end(o model.Outline) float64 {
	if len(o) == 0 {
		return 0
	}
	return o.End()
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
