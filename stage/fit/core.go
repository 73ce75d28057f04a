package fit

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// seat sizes a core ring in its host and on the core.
func (w work) seat(s model.Seat) ([]model.Fit, finding.List) {
	in := w.sized(s.Ring.String(), s.Ring, s.Host, 2*w.cavity(s.Host, float64(s.Span.From), float64(s.Span.To+model.EndGap)), leastGlued)
	for _, f := range w.Division.Seams {
		// On a spigot's end the ring slides into the same socket as the spigot.
		if f.Rests(s) {
			fits := w.seam(f)
			in = w.sized(s.Ring.String(), s.Ring, s.Host, float64(fits[len(fits)-1].Bore.Nominal), leastGlued)
		}
	}
	on := w.onCore(s.Ring)
	for _, f := range []*model.Fit{&in, &on} {
		f.Seam, f.Station, f.Depth = s.Ring.String(), s.Span.From, s.Span.Length()
	}
	var found finding.List
	if edge := float64(in.MaleSize.Nominal-on.Bore.Nominal) / 2; edge < ringEdge {
		found.Add(finding.New("ring-too-narrow", w.Core.At, finding.Args{
			"room": finding.Size(max(0, in.MaleSize.Nominal)), "bore": finding.Size(on.Bore.Nominal),
			"least": finding.Size(ringEdge),
		}).About(s.Ring.Part).AtStation(s.Span.From))
	}
	return []model.Fit{in, on}, found
}

// bored sizes the bores of the shells that slide along a bored core.
func (w work) bored() []model.Fit {
	if w.Core == nil || w.Core.Hold != model.Bored {
		return nil
	}
	var fits []model.Fit
	for _, p := range w.Division.Pieces {
		if p.Own || p.ID.Kind != model.Shell || p.Span.To <= w.Core.Span.From || p.Span.From >= w.Core.Span.To {
			continue
		}
		f := w.onCore(p.ID)
		f.Seam, f.Station = p.ID.String(), max(p.Span.From, w.Core.Span.From)
		f.Depth = min(p.Span.To, w.Core.Span.To) - f.Station
		fits = append(fits, f)
	}
	return fits
}

// through sizes the bores of what is not turned and has the core run through it.
func (w work) through() []model.Fit {
	var fits []model.Fit
	for _, p := range w.Division.Pieces {
		if !p.OnCore {
			continue
		}
		f := w.onCore(p.ID)
		f.Seam, f.Station, f.Depth = p.ID.String(), p.Span.From, p.Span.Length()
		fits = append(fits, f)
	}
	return fits
}

// onCore sizes the bore of a piece that slides along the core.
func (w work) onCore(piece model.PieceID) model.Fit {
	core := model.Size{Nominal: w.Core.Stock.OD, Actual: w.coreWidth()}
	play := w.offset(piece, core.Actual.X, true).Sub(core.Actual)
	asked := math.Ceil((leastCore+spare*play.U-play.X)*10) / 10
	f := model.Fit{Male: "core", Female: piece.String(), MaleSize: core, Bore: w.side(piece, asked, true)}
	return finish(f, MostLoose+float64(w.Core.Stock.Oval))
}

// coreWidth is the core's widest diameter: as measured, or the middle of the
// table's range and half the out-of-roundness. Within its limits the mean
// diameter is as likely anywhere, so its doubt is the half range over √3 (JCGM
// 100:2008, 4.3.7).
func (w work) coreWidth() unit.Value {
	if w.CoreWidth != nil {
		return *w.CoreWidth
	}
	pipe := w.Core.Stock
	middle, half := float64(pipe.OD+pipe.ODMost)/2, float64(pipe.ODMost-pipe.OD)/2
	return unit.Estimate(middle+float64(pipe.Oval)/2, 0, unit.Source{Name: "core diameter", U: half / math.Sqrt(3)})
}

// way is the radius that the core needs inside a shell.
func (w work) way() float64 { return (w.coreWidth().X + leastCore) / 2 }

// checkCore looks for the first place along the core where it does not fit
// inside; past it the core has to end anyway.
func (w work) checkCore() finding.List {
	if w.Core == nil {
		return nil
	}
	for _, p := range w.Division.Pieces {
		from, to := max(w.Core.Span.From, p.Span.From), min(w.Core.Span.To, p.Span.To)
		if p.Own || p.ID.Kind != model.Shell || from >= to {
			continue
		}
		part, raw := w.partOf(p.ID)
		line, need := raw.Cavity(p.Direction), w.way()
		if w.Core.Hold == model.Bored {
			line, need = raw.Outer, need+float64(part.Wall)
		}
		if at, room, bad := firstBelow(line, float64(from), float64(to), need); bad {
			return finding.List{w.breaksOut(p.ID.Part, at, need, room)}
		}
	}
	return nil
}

// checkJoint looks that a spigot or collar is no thinner than a pin, and goes
// round the core or inside it.
func (w work) checkJoint(s model.Seam, fits []model.Fit) finding.List {
	if len(fits) == 0 {
		return nil
	}
	across := fits[0].MaleSize.Nominal
	owner, from, to := s.Below, s.Station-model.RootDeep, s.Station+s.Engage
	switch s.Male() {
	case stock.MaleOwn:
		owner, from = s.Above, s.Station-s.Engage
	case stock.MaleAbove:
		owner, from, to = s.Above, s.Station-s.Engage, s.Station+model.RootDeep
	}
	part, _ := w.partOf(owner)
	if across < leastPin {
		return finding.List{finding.New("joint-too-narrow", part.At, finding.Args{
			"across": finding.Size(max(0, across)), "least": finding.Size(leastPin),
		}).About(part.ID).AtStation(s.Station)}
	}
	above, _ := w.Division.Piece(s.Above)
	if above.Own || w.Core == nil || w.Core.Span.To <= from || w.Core.Span.From >= to+model.EndGap {
		return nil
	}
	// A land of the wall stands round the socket.
	pipe := w.Core.Stock
	within := float64(pipe.OD-pipe.Oval)/2 - wallsRun*float64(pipe.Wall)
	if float64(across)/2+float64(part.Wall)+1 < within {
		return nil
	}
	if room := float64(across)/2 - float64(part.Wall); room < w.way() {
		return finding.List{w.breaksOut(part.ID, max(float64(from), float64(w.Core.Span.From)), w.way(), room)}
	}
	return nil
}

func (w work) breaksOut(part string, at, need, room float64) finding.Finding {
	return finding.New("core-breaks-out", w.Core.At, finding.Args{
		"pipe": finding.Name(w.Core.Stock.Name), "need": finding.Size(2 * need), "room": finding.Size(max(0, 2*room)),
	}).About(part).AtStation(unit.Length(at))
}

// Along the core the room is looked at this often, mm.
const lookEvery = 1.0

func firstBelow(line []model.Point, from, to, need float64) (at, room float64, bad bool) {
	for z := from; z <= to; z += lookEvery {
		if r := model.LowestBetween(line, z, min(to, z+lookEvery)); r < need {
			return z, r, true
		}
	}
	return 0, 0, false
}
