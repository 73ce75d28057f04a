package server

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"scalewright/build"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// handles are what can be edited on the lanes: ends and walls of parts, the core's
// ends, cuts, openings and components along the build; joints, coats, the stand.
func handles(ctx context.Context, d *desk, in seenIn) (Handles, error) {
	s, asOf, err := d.see(ctx, job.Settled)
	if err != nil {
		return Handles{}, err
	}
	h := handleMaker{s.result, in.system(), snapsOf(s.result)}
	out := Handles{AsOf: asOf, Handles: []Handle{}}
	for _, v := range s.loaded.Values() {
		if !v.IsLength || v.At.File != build.BuildFile {
			continue
		}
		if one, ok := h.handle(v); ok {
			lanesOf(&one, h.r)
			out.Handles = append(out.Handles, one)
		}
	}
	for _, c := range s.result.Division.Cuts {
		k := slices.IndexFunc(s.result.Design.Parts, func(p model.Part) bool { return p.ID == c.Part })
		if !c.Provisional || k < 0 || !s.result.Design.Parts[k].OnBody() {
			continue
		}
		if one, ok := h.handleOfCut(c); ok {
			lanesOf(&one, h.r)
			out.Handles = append(out.Handles, one)
		}
	}
	out.Handles = append(out.Handles, h.byLane(valuesOf(s.loaded))...)
	slices.SortStableFunc(out.Handles, func(a, b Handle) int { return cmp.Compare(a.Station, b.Station) })
	return out, nil
}

type handleMaker struct {
	r     job.Result
	u     unit.System
	snaps []float64
}

func (h handleMaker) handle(v build.Declared) (Handle, bool) {
	full := fullSize(v.Length, h.r.Enlarge.Ratio)
	out := Handle{
		ID: "handle-" + strings.ReplaceAll(v.At.Path, ".", "-"), Value: hundredth(float64(full)), Says: h.u.Tenth(full),
		Text: v.Text, Owner: ownerOf(v.Length), At: Place{v.At.File, v.At.Path}, Snaps: []float64{},
	}
	whole := h.r.Design.Outline
	keys := strings.Split(v.At.Path, ".")
	if len(keys) < 2 || len(whole) == 0 {
		return out, false
	}
	name, key := keys[1], keys[len(keys)-1]
	switch {
	case keys[0] == "parts" && len(keys) == 3:
		k := slices.IndexFunc(h.r.Design.Parts, func(p model.Part) bool { return p.Declared == name })
		if k < 0 || !h.r.Design.Parts[k].OnBody() {
			return out, false
		}
		part := h.r.Design.Parts[k]
		out.Part = part.ID
		switch key {
		case "from", "to":
			h.along(&out, map[string]string{"from": "foot of " + name, "to": "nose of " + name}[key], full)
		case "wall":
			out.Kind, out.Name = "wall", "wall of "+name
			out.Station = hundredth(float64(part.Span.From+part.Span.To) / 2)
			out.Least, out.Most = leastWall, hundredth(whole.RadiusAt(out.Station))
		default:
			return out, false
		}
	case keys[0] == "core" && len(keys) == 2 && (key == "from" || key == "to"):
		h.along(&out, map[string]string{"from": "foot of the core", "to": "nose of the core"}[key], full)
	case keys[0] == "cuts" && len(keys) == 3 && key == "at":
		h.along(&out, "cut "+name, full)
	case keys[0] == "openings" && len(keys) == 3:
		k := slices.IndexFunc(h.r.Design.Openings, func(o model.Opening) bool { return o.ID == name })
		if k < 0 {
			return out, false
		}
		o := h.r.Design.Openings[k]
		out.Part = o.Part
		switch key {
		case "at":
			h.along(&out, "place of "+name, full)
		case "across", "wide", "high":
			out.Kind, out.Name, out.Station = "size", key+" of "+name, hundredth(float64(o.Station))
			out.Least, out.Most = leastOpening, hundredth(2*whole.RadiusAt(float64(o.Station)))
		default:
			return out, false
		}
	default:
		return out, false
	}
	return out, out.Most > out.Least
}

// Nothing smaller is printed or seen, mm.
const (
	leastWall    = 0.4
	leastOpening = 1.0
)

// along makes a handle that is dragged along the axis.
func (h handleMaker) along(out *Handle, name string, full unit.Length) {
	out.Kind, out.Name, out.Station, out.Snaps = "station", name, hundredth(float64(full)), h.snaps
	// A length by caliper may end a hair beyond the outline.
	out.Least, out.Most = min(hundredth(h.r.Design.Outline.Start()), out.Station), max(hundredth(h.r.Design.Outline.End()), out.Station)
}

// snapsOf are the stations that a drag catches at: ends of parts, corners of the
// outline, cuts.
func snapsOf(r job.Result) []float64 {
	out := []float64{}
	for _, p := range r.Design.Parts {
		if p.OnBody() {
			out = append(out, hundredth(float64(p.Span.From)), hundredth(float64(p.Span.To)))
		}
	}
	for _, s := range r.Design.Outline {
		out = append(out, hundredth(s.From.Station), hundredth(s.To.Station))
	}
	for _, c := range r.Division.Cuts {
		out = append(out, hundredth(float64(c.Station)))
	}
	slices.Sort(out)
	return slices.Compact(out)
}
