package divide

import (
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Parts may miss each other by this much, mm: what rounding leaves.
const apart = 0.01

// together looks that the parts of the body follow one another.
func together(parts []model.Part) finding.List {
	var found finding.List
	var last *model.Part
	for i, p := range parts {
		if !p.OnBody() {
			continue
		}
		if last != nil {
			code, gap := finding.Code("parts-apart"), p.Span.From-last.Span.To
			if gap < 0 {
				code, gap = "parts-overlap", -gap
			}
			if gap > apart {
				found.Add(finding.New(code, p.At, finding.Args{
					"other": finding.Name(last.ID), "gap": finding.Size(gap),
				}).About(p.ID).AtStation(p.Span.From))
			}
		}
		last = &parts[i]
	}
	return found
}

// room looks that every piece is long enough for its two joints and the ring on
// the spigot in its foot, so that none reaches into the other or past the piece.
func room(in Input, d model.Division) finding.List {
	var found finding.List
	for _, p := range d.Pieces {
		if need := atFoot(d, p) + atNose(d, p); need > p.Span.Length() {
			found.Add(finding.New("no-room-for-joint", workOf(in, p.ID.Part).part.At, finding.Args{
				"piece": finding.Name(p.Name), "long": finding.Size(p.Span.Length()), "need": finding.Size(need),
			}).About(p.ID.Part).AtStation(p.Span.From))
		}
	}
	return found
}

// atFoot is how much of a piece the joint at its foot takes, with the core ring
// that stands on it.
func atFoot(d model.Division, p model.Piece) unit.Length {
	need := unit.Length(0)
	for _, s := range d.Seams {
		if s.Above == p.ID {
			need = takes(s, p)
		}
	}
	for _, s := range d.Seats {
		if s.Host == p.ID && !underSpigot(d, s) {
			need = max(need, s.Span.To-p.Span.From+model.EndGap)
		}
	}
	return need
}

// atNose is how much of a piece the joint at its nose takes, with the core ring
// under a spigot that hangs into it.
func atNose(d model.Division, p model.Piece) unit.Length {
	need := unit.Length(0)
	for _, s := range d.Seams {
		if s.Below == p.ID {
			need = takes(s, p)
		}
	}
	for _, s := range d.Seats {
		if s.Host == p.ID && underSpigot(d, s) {
			need = max(need, p.Span.To-s.Span.From+model.EndGap)
		}
	}
	return need
}

// takes is how much of a piece a seam takes: a spigot's root or a socket.
func takes(s model.Seam, p model.Piece) unit.Length {
	switch {
	case s.Stands(p.ID):
		return model.RootDeep
	case s.Takes(p.ID):
		return s.Engage + model.EndGap
	}
	return 0
}

// underSpigot reports whether a ring lies under a spigot that hangs into its host.
func underSpigot(d model.Division, ring model.Seat) bool {
	return slices.ContainsFunc(d.Seams, func(s model.Seam) bool { return s.Below == ring.Host && s.Rests(ring) })
}

// held says that a spaced core found no ring.
func held(in Input, d model.Division) finding.List {
	onCore := slices.ContainsFunc(d.Pieces, func(p model.Piece) bool { return p.OnCore })
	if in.Core == nil || in.Core.Hold != model.Spaced || len(d.Seats) > 0 || onCore {
		return nil
	}
	return finding.List{finding.New("core-not-held", in.Core.At, finding.Args{
		"from": finding.Long(in.Core.Span.From), "to": finding.Long(in.Core.Span.To),
	}).AtStation(in.Core.Span.From)}
}
