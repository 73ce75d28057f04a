package divide

import (
	"fmt"
	"math"

	"scalewright/craft/fastening"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stock"
	"scalewright/unit"
)

// hold fastens a guest with the largest of its kind that the guest and the host
// have room for.
func hold(in Input, d model.Division, m model.Mount, use stock.FastenerUse) ([]model.Fastening, finding.List) {
	guest := workOf(in, m.Guest)
	say := func(code finding.Code, args finding.Args) finding.List {
		args["guest"] = finding.Name(m.Guest)
		return finding.List{finding.New(code, m.At, args).About(m.Guest)}
	}
	held := finding.Args{"host": finding.Name(m.Host), "held": finding.Name(heldBy[use])}
	if guest.part.Form == model.Imported {
		return nil, say("fastener-imported", finding.Args{})
	}
	host, err := groundOf(in, m.Host)
	if err != nil {
		return nil, nil // what is no solid, shape has said
	}
	ways := spotsOf(d, guest, host)
	if len(ways) == 0 {
		if guest.part.Form == model.Flat && host.part.OnBody() && len(rootOf(guest.part, host.work)) > 0 {
			return nil, say("fastener-in-the-way", held)
		}
		return nil, say("fastener-no-foot", held)
	}
	fits := false
	for _, f := range stock.FastenersFor(use) {
		for _, lines := range ways {
			depths, ok := deep(f, host, lines)
			if !ok {
				continue
			}
			fits = true
			if out, ok := placed(d, m, guest, host, f, lines, depths); ok {
				return out, nil
			}
		}
	}
	if fits {
		return nil, say("fastener-in-the-way", held)
	}
	return nil, tooLarge(m, use, ways, say)
}

// heldBy says in words what a guest would be.
var heldBy = map[stock.FastenerUse]string{stock.Pin: "pinned", stock.Screw: "screwed", stock.Magnet: "held by magnets"}

// tooLarge says what the guest lacks for the smallest fastener of a use.
func tooLarge(m model.Mount, use stock.FastenerUse, ways [][]spot, say func(finding.Code, finding.Args) finding.List) finding.List {
	all := stock.FastenersFor(use)
	f := all[len(all)-1]
	edge, high := 0.0, 0.0
	for _, lines := range ways {
		edge, high = max(edge, lines[0].edge), max(high, lines[0].high(0))
	}
	var need unit.Length
	switch f.Use {
	case stock.Pin:
		d, _ := fastening.Pin(f)
		need = d.NeedsHigh
	case stock.Screw:
		d, _ := fastening.Screw(f, 0)
		need = d.NeedsHigh
		longest := all[0].Lengths[len(all[0].Lengths)-1]
		if most := longest + fastening.Deepest; high > float64(most) {
			return say("screw-too-short", finding.Args{"host": finding.Name(m.Host), "high": finding.Size(high), "most": finding.Size(most)})
		}
	case stock.Magnet:
		d, _ := fastening.Magnet(f, 0, 0)
		need = d.NeedsHigh
	}
	return say("fastener-too-large", finding.Args{
		"host": finding.Name(m.Host), "fastener": finding.Name(f.Name), "wide": finding.Size(2 * edge), "high": finding.Size(high),
		"need": finding.Size(2 * fastening.Needs(f)), "deep": finding.Size(need),
	})
}

// deep is how deep a fastener goes on each line; false where the guest has no room
// for it on one of them.
func deep(f stock.Fastener, host ground, lines []spot) ([]fastening.Depths, bool) {
	var out []fastening.Depths
	for _, s := range lines {
		if s.edge < float64(fastening.Needs(f)) {
			return nil, false
		}
		var d fastening.Depths
		ok := true
		switch f.Use {
		case stock.Pin:
			d, ok = fastening.Pin(f)
		case stock.Screw:
			d, ok = fastening.Screw(f, unit.Length(s.high(float64(f.Head()/2))))
		case stock.Magnet:
			low, high := host.round(s.at, s.out, float64(f.Most/2))
			d, ok = fastening.Magnet(f, unit.Length(low), unit.Length(high))
		}
		if !ok || s.high(float64(f.Most/2)) < float64(d.NeedsHigh) {
			return nil, false
		}
		out = append(out, d)
	}
	return out, true
}

// placed are the fastenings on lines; false where one of them would run into what
// else the host has there, or into nothing.
func placed(d model.Division, m model.Mount, guest work, host ground, f stock.Fastener, lines []spot, depths []fastening.Depths) ([]model.Fastening, bool) {
	var out []model.Fastening
	for i, s := range lines {
		deep := depths[i]
		h := model.Fastening{
			ID: fmt.Sprintf("%s.f%d", m.ID, i+1), Mount: m.ID, Kind: m.Kind, Stock: f, Long: deep.Long,
			At: [3]float64(s.at), Out: [3]float64(s.out), InHost: deep.InHost, InGuest: deep.InGuest,
			Station: unit.Length(s.at[2]), Clocking: math.Atan2(s.at[1], s.at[0]),
		}
		var ok bool
		if h.Guest, ok = pieceAt(d, guest, h); !ok {
			return nil, false
		}
		need := float64(deep.InHost + fastening.Floor)
		if s.lug {
			onLug(&h, host, need)
		} else if missing := need - host.thick(s.at, s.out, need); missing > 0 {
			lean := math.Hypot(s.out[0], s.out[1])
			if !host.grows() || lean < leastAcross {
				return nil, false
			}
			h.Pad = unit.Length(math.Ceil(10*need)/10) - host.part.Wall
			h.Half = fastening.Needs(f) + unit.Length(need*math.Tan(math.Acos(math.Min(1, lean))))
			h.PadSpan = model.Span{From: h.Station - h.Half, To: h.Station + h.Half}
		}
		if h.Host, ok = hostPiece(d, host, h); !ok {
			return nil, false
		}
		out = append(out, h)
	}
	return out, true
}

// onLug stands a lug behind a guest's rim, wide enough for the fastening and as thick
// as it is deep.
func onLug(h *model.Fastening, host ground, need float64) {
	end := h.At[2] - h.Out[2]*math.Ceil(10*need)/10
	h.Lug, h.Half = true, fastening.Needs(h.Stock)
	h.PadSpan = model.Span{From: unit.Length(min(h.At[2], end)), To: unit.Length(max(h.At[2], end))}
	inner := math.Hypot(h.At[0], h.At[1]) - float64(h.Half)
	h.Pad = unit.Length(model.LowestBetween(host.raw.FootDown, float64(h.PadSpan.From), float64(h.PadSpan.To)) - inner)
}

// leastAcross is the least share of a line that runs square to the body's axis for
// a pad inside the wall to take it, as a cosine: 45°.
const leastAcross = math.Sqrt2 / 2

// hostPiece is the piece of the host that a fastening lies in; false where it would
// reach into a joint, a core ring, an opening or the core.
func hostPiece(d model.Division, host ground, h model.Fastening) (model.PieceID, bool) {
	if !host.part.OnBody() {
		return pieceAt(d, host.work, h)
	}
	needs := fastening.Needs(h.Stock)
	takes := model.Span{From: h.Station - needs, To: h.Station + needs}
	if h.Pad > 0 { // and of the slope under it, whichever end is down
		takes = model.Span{From: h.PadSpan.From - h.Pad, To: h.PadSpan.To + h.Pad}
	}
	margin := unit.Length(tabClear)
	if h.Lug {
		takes, margin = h.PadSpan, 0
	}
	for _, p := range d.Pieces {
		if p.ID.Kind != model.Shell || p.ID.Part != host.part.ID || h.Station < p.Span.From || h.Station > p.Span.To {
			continue
		}
		low := p.Span.From + atFoot(d, p) + margin
		high := p.Span.To - max(atNose(d, p), joinsAtNose(d, p)) - margin
		if takes.From < low || takes.To > high || runsInto(d, p.ID, h, takes) {
			return p.ID, false
		}
		if c := host.core; c != nil && h.Pad > 0 && takes.To > c.Span.From && takes.From < c.Span.To {
			inner := model.LowestBetween(host.raw.Cavity(p.Direction), float64(takes.From), float64(takes.To)) - float64(h.Pad)
			if inner < float64(c.Stock.Widest())/2+tabClear {
				return p.ID, false
			}
		}
		return p.ID, true
	}
	return model.PieceID{}, false
}

// runsInto reports whether a fastening meets a core ring, an opening or a tongue.
func runsInto(d model.Division, piece model.PieceID, h model.Fastening, takes model.Span) bool {
	radius := math.Hypot(h.At[0], h.At[1])
	near := func(from, to unit.Length, clocking, beside float64) bool {
		if takes.To+tabClear <= from || takes.From-tabClear >= to {
			return false
		}
		return math.Abs(math.Remainder(clocking-h.Clocking, 2*math.Pi))*radius < beside+float64(max(h.Half, fastening.Needs(h.Stock)))+tabClear
	}
	for _, s := range d.Seats {
		if s.Host == piece && near(s.Span.From, s.Span.To, h.Clocking, 0) {
			return true
		}
	}
	for _, w := range d.Windows {
		r := unit.Length(half(w.Opening))
		if w.Piece == piece && near(w.Opening.Station-r, w.Opening.Station+r, w.Opening.Clocking, sideways(w.Opening)) {
			return true
		}
	}
	for _, t := range d.Tabs {
		if t.Host == piece && near(t.Span.From, t.Span.To, t.Clocking, float64(t.Thick)/2) {
			return true
		}
	}
	return false
}

// pieceAt is the piece of a part with a line of its own that a fastening lies in;
// false where a cut of the part goes through its hole.
func pieceAt(d model.Division, w work, h model.Fastening) (model.PieceID, bool) {
	back, _ := w.part.Frame().Inverse()
	q := back.Apply(solid.Vec(h.At))
	station := unit.Length(q[2])
	if len(w.raw.Outer) == 0 {
		station = unit.Length(w.raw.Line.Station(q))
	}
	var best model.PieceID
	off := unit.Length(math.Inf(1))
	clear := true
	for _, p := range d.Pieces {
		if p.ID.Part != w.part.ID || p.ID.Kind != model.Shell && p.ID.Kind != model.Slice {
			continue
		}
		if away := max(p.Span.From-station, station-p.Span.To); away < off {
			best, off = p.ID, away
			needs := fastening.Needs(h.Stock)
			clear = (p.ID.From == model.Foot || station-p.Span.From > needs) && (p.ID.To == model.Nose || p.Span.To-station > needs)
		}
	}
	return best, clear
}
