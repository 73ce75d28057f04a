package divide

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// openRoom is kept between an opening's rim, its ledge included, and whatever
// joins at a seam or sits on a ring, mm: common practice.
const openRoom = 5.0

// half is how far an opening reaches along the axis, its ledge included.
func half(o model.Opening) float64 {
	h := float64(max(o.Across, o.High)) / 2
	if o.Panel {
		h += float64(model.LedgeWide)
	}
	return h
}

// keptWhole are the stretches of a part where no cut of the program's own may lie:
// openings with room for the joint on either side.
func keptWhole(in Input, part model.Part) []stretch {
	var out []stretch
	for _, o := range in.Openings {
		if o.Part != part.ID {
			continue
		}
		room := half(o) + openRoom + float64(2*engageMost+ringThick)
		out = append(out, stretch{float64(o.Station) - room, float64(o.Station) + room})
	}
	return out
}

// windows puts each opening into the piece that it lies in, with its panel.
func windows(in Input, d model.Division) ([]model.Window, finding.List) {
	var out []model.Window
	var found finding.List
	for _, o := range in.Openings {
		w, f := window(in, d, o)
		found.Add(f...)
		if len(f) == 0 {
			out = append(out, w)
		}
	}
	for i, w := range out {
		for _, v := range out[:i] {
			if w.Piece == v.Piece && overlap(w, v) {
				found.Add(finding.New("openings-overlap", w.Opening.At, finding.Args{
					"one": finding.Name(w.Opening.ID), "other": finding.Name(v.Opening.ID),
				}).About(w.Opening.Part).AtStation(w.Opening.Station))
			}
		}
	}
	return out, found
}

func window(in Input, d model.Division, o model.Opening) (model.Window, finding.List) {
	host := workOf(in, o.Part)
	say := func(code finding.Code, args finding.Args) finding.List {
		args["opening"] = finding.Name(o.ID)
		return finding.List{finding.New(code, o.At, args).About(o.Part).AtStation(o.Station)}
	}
	if !host.part.OnBody() {
		return model.Window{}, say("opening-off-body", finding.Args{})
	}
	if least := 2*model.LedgeWide + leastHole; o.Panel && min(o.Wide, o.High) < least {
		return model.Window{}, say("panel-too-small", finding.Args{
			"wide": finding.Size(o.Wide), "high": finding.Size(o.High), "least": finding.Size(least),
		})
	}
	reach := half(o)
	for _, p := range d.Pieces {
		if p.ID.Kind != model.Shell || p.ID.Part != o.Part || o.Station < p.Span.From || o.Station > p.Span.To {
			continue
		}
		radius := model.LowestBetween(host.raw.Outer, float64(o.Station)-reach, float64(o.Station)+reach)
		if wide := max(float64(o.Across), float64(o.Wide)/math.Pi*2); wide >= 2*radius*widestShare {
			return model.Window{}, say("opening-too-wide", finding.Args{
				"wide": finding.Size(max(o.Across, o.Wide)), "across": finding.Size(2 * radius),
			})
		}
		low := float64(p.Span.From+atFoot(d, p)) + openRoom
		high := float64(p.Span.To-max(atNose(d, p), joinsAtNose(d, p))) - openRoom
		from, to := float64(o.Station)-reach, float64(o.Station)+reach
		if from < low || to > high {
			move := max(low-from, 0)
			if to > high {
				move = high - to
			}
			return model.Window{}, say("opening-on-joint", finding.Args{
				"piece": finding.Name(p.Name), "move": finding.Size(math.Ceil(math.Abs(move))), "way": finding.Name(wayWords(move)),
				"low": finding.Long(low + reach), "high": finding.Long(high - reach),
			})
		}
		w := model.Window{Opening: o, Piece: p.ID, Radius: unit.Length(radius)}
		if o.Panel {
			w.Panel = model.PieceID{Kind: model.Panel, Part: o.Part, From: o.ID}
			if least, ok := screwed(&w, host, p); !ok {
				return model.Window{}, say("panel-too-thin", finding.Args{
					"wall": finding.Fine(host.part.Wall), "least": finding.Size(least),
				})
			}
		}
		return w, nil
	}
	return model.Window{}, say("opening-off-part", finding.Args{})
}

// leastHole is left inside a panel's ledge, mm: less is no way in. Common practice.
const leastHole = 6 * unit.Millimetre

// widestShare of the body's diameter that an opening may take: past it too little
// of the ring is left to hold it together, common practice.
const widestShare = 0.7

func wayWords(move float64) string {
	if move < 0 {
		return "towards station 0"
	}
	return "away from station 0"
}

// overlap reports whether two openings of one piece share wall, ledges included.
func overlap(w, v model.Window) bool {
	if math.Abs(float64(w.Opening.Station-v.Opening.Station)) >= half(w.Opening)+half(v.Opening) {
		return false
	}
	apart := math.Abs(math.Remainder(w.Opening.Clocking-v.Opening.Clocking, 2*math.Pi)) * float64(min(w.Radius, v.Radius))
	return apart < sideways(w.Opening)+sideways(v.Opening)
}

// sideways is how far an opening reaches round the body from its middle.
func sideways(o model.Opening) float64 {
	s := float64(max(o.Across, o.Wide)) / 2
	if o.Panel {
		s += float64(model.LedgeWide)
	}
	return s
}

// panels are the pieces that close openings.
func panels(in Input, windows []model.Window) []model.Piece {
	var out []model.Piece
	for _, w := range windows {
		if w.Panel == (model.PieceID{}) {
			continue
		}
		o := w.Opening
		out = append(out, model.Piece{
			ID: w.Panel, Name: "panel " + o.ID, Span: model.Span{From: o.Station - o.High/2, To: o.Station + o.High/2},
			Filament: filament(in, o.Part), Direction: model.FootDown,
		})
	}
	return out
}

// panelHours is what laying a panel takes; negative where it does not fit.
func panelHours(in Input, p model.Piece, printer model.Printer) float64 {
	for _, o := range in.Openings {
		if o.ID != p.ID.From {
			continue
		}
		if o.Wide > bed(printer) || o.High > printer.Build[2] {
			return -1
		}
		laid := float64(o.Wide) * float64(o.High) * float64(workOf(in, o.Part).part.Wall)
		return laid/rate(printer)/3600 + printer.WarmUp.Hours()
	}
	panic("divide: internal error: no opening " + p.ID.From)
}
