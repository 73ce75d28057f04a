package book

import (
	"time"

	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/stage/measure"
)

// each maps a slice; never nil, so that JSON has an empty list and not null.
func each[T, U any](in []T, f func(T) U) []U {
	out := make([]U, 0, len(in))
	for _, x := range in {
		out = append(out, f(x))
	}
	return out
}

func newReport(r job.Result, o Options, solids []printSolid) report {
	d := r.Design
	return report{
		Format: reportFormat,
		Build: buildJSON{
			Name: r.Name, Revision: r.Revision, Invented: r.Invented,
			Date: o.Date.Format(time.DateOnly), Reruns: r.Reruns,
		},
		Blocked: r.Blocked(),
		Verdict: reportVerdict(r.Verdict),
		Enlargement: enlargementJSON{
			Ratio: figure(r.Enlarge.Ratio), Reference: valueOf(r.Enlarge.Reference), Length: valueOf(r.Enlarge.Length),
		},
		Photograph: reportPhoto(r.Measured),
		Trace:      reportTrace(r.Trace),
		Readings:   Readings(r.Readings),
		Trued:      reportTrued(r.Trued),
		Core:       reportCore(d.Core),
		Parts:      each(d.Parts, reportPart),
		Pieces:     reportPieces(r, solids),
		Seams:      each(r.Division.Seams, reportSeam),
		Seats:      each(r.Division.Seats, reportSeat),
		Fits:       each(r.Fits.Fits, reportFit),
		Cuts:       each(r.Division.Cuts, reportCut),
		Holds:      each(r.Division.Holds, reportHold),
		Bought:     reportBought(r),
		Assembly:   reportAssembly(r.Assembly),
		Calendar:   reportCalendar(r.Calendar),
		Places:     reportPlaces(r.Places),
		Effects:    reportEffects(r.Effects),
		Finishing:  reportFinishing(r.Finishing),
		Templates:  reportTemplates(r, o),
		Structure:  reportStructure(r.Structure),
		TestSlice:  reportSlice(r.Slice),
		Sizes:      Sizes(r.Sizes),
		Risks:      reportRisks(r, o.findings()),
		Findings:   Findings(r.Findings, o.findings()),
	}
}

func reportVerdict(v job.Verdict) verdictJSON {
	return verdictJSON{
		Overall: valueOf(v.Overall), Across: figure(v.Across), Prints: v.Prints,
		ByPrinter: each(v.ByPrinter, func(s job.PrinterShare) shareJSON {
			return shareJSON{s.Printer, s.Prints, figure(s.Hours)}
		}),
		Mass: figure(v.Grams), Spools: v.Spools, Money: figure(v.Money), MoneyFor: each(v.MoneyFor, func(s job.Spending) job.Spending { return s }), Currency: v.Currency,
		PrintHours: figure(v.PrintHours), BenchHours: figure(v.BenchHours), Finish: v.Finish, Likely: v.Likely, Safe: v.Safe,
		GoesTogether: figure(v.Together),
		LargestError: errorJSON{figure(v.Error.Station), figure(v.Error.U)}, Tonight: v.Tonight,
	}
}

func reportPhoto(m *measure.Result) *photoJSON {
	if m == nil {
		return nil
	}
	return &photoJSON{
		View:     m.View,
		Grid:     gridJSON{figure(m.Grid.PitchMM), m.Grid.Crossings, figure(m.Grid.RMSPx)},
		Scale:    scaleJSON{m.Scale.By, figure(m.Scale.X), figure(m.Scale.Y), figure(m.Scale.UX), figure(m.Scale.UY)},
		Camera:   cameraJSON{figure(m.Camera.K1), figure(m.Camera.K2), figure(m.Camera.HeightMM), figure(m.Camera.TiltDeg)},
		Axis:     axisJSON{figure(m.Axis.StartMM), figure(m.Axis.EndMM)},
		Features: reportFeatures(m),
	}
}

func reportSegment(s model.Segment) segmentJSON {
	out := segmentJSON{Kind: s.Kind, From: pair(s.From), To: pair(s.To)}
	if s.Kind == model.Arc {
		out.Centre, out.Radius = new(pair(s.Centre)), figure(s.R)
	}
	return out
}

func reportTrace(t model.Trace) traceJSON {
	return traceJSON{
		Length: valueOf(t.Length),
		Profile: each(t.Profile, func(p model.TracePoint) profileJSON {
			return profileJSON{figure(p.Station), figure(p.Radius.X), figure(p.Radius.U)}
		}),
		Segments: each(t.Outline, reportSegment),
		Typed: each(t.Typed, func(h model.Hidden) typedJSON {
			return typedJSON{figure(h.From), figure(h.To), h.Because}
		}),
	}
}

func pair(p model.Point) [2]figure { return [2]figure{figure(p.Station), figure(p.Radius)} }

func span(s model.Span) spanJSON { return spanJSON{figure(s.From), figure(s.To)} }

func reportCore(c *model.Core) *coreJSON {
	if c == nil {
		return nil
	}
	return &coreJSON{c.Stock.ID, c.Stock.Name, figure(c.Stock.OD), figure(c.Stock.Wall), span(c.Span), c.Hold}
}

func reportPart(p model.Part) partJSON {
	return partJSON{p.ID, span(p.Span), figure(p.Wall), p.Filament, p.State, reportForm(p)}
}

func reportPieces(r job.Result, solids []printSolid) []pieceJSON {
	out := make([]pieceJSON, 0, len(r.Prints))
	for i, p := range r.Prints {
		piece, carved := r.Division.Pieces[i], r.Carved[i]
		id := piece.ID.String()
		j := pieceJSON{
			ID: id, Name: piece.Name, Label: label(r, id), Kind: piece.ID.Kind, Part: piece.ID.Part,
			Span: span(piece.Span), Reach: span(carved.Reach), Diameter: figure(carved.Diameter),
			Wall: figure(carved.Wall), WallAt: pair(carved.WallAt), Volume: figure(carved.Volume),
			Printer: p.Printer, Filament: piece.Filament, Direction: piece.Direction,
			Box:   [3]figure{figure(p.Box[0]), figure(p.Box[1]), figure(p.Box[2])},
			Hours: figure(p.Minutes.Hours()), Minutes: int(p.Minutes), Logged: p.Logged,
			Mass: figure(p.Grams), Layers: p.Layers, Overhang: figure(p.Overhang),
		}
		j.ownJSON = reportOwn(r, i)
		back, ok := p.Placement.Inverse()
		if !ok && !carved.Solid.Empty() { // what could not be carved lies nowhere
			panic("book: internal error: the placement of " + id + " cannot be undone")
		}
		for k := range 3 {
			for l := range 3 {
				j.ToBuild[k][l] = figure(back.M[k][l])
			}
			j.ToBuild[k][3] = figure(back.T[k])
		}
		if solids != nil {
			reportFiles(&j, solids[i])
		}
		out = append(out, j)
	}
	return out
}

func reportFiles(j *pieceJSON, s printSolid) {
	j.ThreeMF = threeMFName(j.ID)
	if s.err != nil {
		return
	}
	j.STL = stlName(j.ID)
	j.Rounding = &roundingJSON{Moved: figure(s.rounding.Moved), Clean: s.rounding.Clean()}
	if !s.rounding.Clean() {
		j.Rounding.Mended = s.rounding.String()
	}
}

// label is what a released piece bears; empty before its release.
func label(r job.Result, id string) string {
	for _, m := range r.Facts.Made {
		if m.Piece == id {
			return m.Label
		}
	}
	return ""
}

func reportSeam(s model.Seam) seamJSON {
	return seamJSON{
		s.ID, figure(s.Station), s.Kind, s.Below.String(), s.Above.String(),
		figure(s.Engage), s.Glue, s.Removable,
	}
}

func reportSeat(s model.Seat) seatJSON {
	return seatJSON{s.Ring.String(), s.Host.String(), span(s.Span)}
}

func reportFit(f model.Fit) fitJSON {
	side := func(piece string, s model.Size) sideJSON {
		return sideJSON{piece, figure(s.Nominal), valueOf(s.Actual)}
	}
	return fitJSON{
		Seam: f.Seam, Station: figure(f.Station), Male: side(f.Male, f.MaleSize), Female: side(f.Female, f.Bore),
		Depth: figure(f.Depth), Clearance: valueOf(f.Clearance), Step: valueOf(f.Step),
		Bind: figure(f.Bind), Loose: figure(f.Loose),
	}
}

func reportCut(c model.Cut) cutJSON {
	return cutJSON{c.ID, c.Part, figure(c.Station), c.Kind, c.Provisional}
}

func reportCalendar(c calendar.Result) calendarJSON {
	return calendarJSON{
		Start: c.Start, Until: c.Finish, Half: c.Likely, Most: c.Safe, Bench: int(c.Bench), Print: int(c.Print),
		Tasks: each(c.Tasks, func(t calendar.Task) taskJSON {
			return taskJSON{
				t.ID, t.Kind, t.Name, t.Piece, t.Who, t.Printer, int(t.From), int(t.To), int(t.Bench), figure(t.Critical),
				each(t.Steps, func(s calendar.Step) stepJSON { return stepJSON{s.Name, int(s.From), int(s.To)} }),
			}
		}),
	}
}
