package divide

import (
	"fmt"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Tongues of flat guests: common practice.
const (
	tabLeast  = 15.0                // mm along the root that a tongue needs to hold
	tabMost   = 80.0                // mm; a longer one gains nothing
	tabClear  = 5.0                 // mm kept from joints and core rings
	tabInside = 4 * unit.Millimetre // that a tongue stands out inside the wall: room for a fillet of glue
	rootStep  = 1.0                 // mm between stations at which a root is looked at
)

// tabs gives each flat guest its tongues: one in every stretch of its root where
// the host's wall is plain. A root that crosses a seam gets one in each piece,
// which keeps their clocking too.
func tabs(in Input, d model.Division) ([]model.Tab, finding.List) {
	var out []model.Tab
	var found finding.List
	for _, m := range in.Mounts {
		guest, host := workOf(in, m.Guest), workOf(in, m.Host)
		if guest.part.Form != model.Flat || guest.part.Plate.Lie != model.Along || !host.part.OnBody() || m.Kind != "" && m.Kind != model.Tongue {
			continue
		}
		root := rootOf(guest.part, host)
		if len(root) == 0 {
			continue // carve says that the two don't meet
		}
		n := len(out)
		for _, free := range plain(d, guest.part, host, root) {
			out = append(out, tab(in, d, m, free, len(out)-n+1))
		}
		if len(out) == n {
			found.Add(finding.New("no-tongue", m.At, finding.Args{
				"guest": finding.Name(m.Guest), "host": finding.Name(m.Host), "least": finding.Size(tabLeast),
			}).About(m.Guest).AtStation(unit.Length(root[0].from)))
		}
	}
	return out, found
}

// stretch is a run of stations.
type stretch struct{ from, to float64 }

// rootOf is where a plate passes through the host's surface.
func rootOf(guest model.Part, host work) []stretch {
	var out []stretch
	on := false
	edge := guest.Plate.Outer.Polyline(rootSag)
	last := float64(host.part.Span.To)
	for z := float64(host.part.Span.From); ; z += rootStep {
		z = math.Min(z, last)
		in := holds(edge, z, host.part.Outline.RadiusAt(z))
		switch {
		case in && !on:
			out = append(out, stretch{z, z})
		case in:
			out[len(out)-1].to = z
		}
		if on = in; z >= last {
			return out
		}
	}
}

// rootSag keeps the chords of a plate's arcs near enough to find its root by, mm.
const rootSag = 0.1

// holds reports whether a point lies inside a closed polyline, by crossings.
func holds(loop []model.Point, station, radius float64) (in bool) {
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Radius > radius) != (b.Radius > radius) &&
			station < a.Station+(radius-a.Radius)/(b.Radius-a.Radius)*(b.Station-a.Station) {
			in = !in
		}
	}
	return in
}

// free is a stretch of one piece's wall.
type free struct {
	piece model.Piece
	stretch
}

// plain is what of a root lies on wall that no joint, no core ring and no opening
// takes, long enough for a tongue.
func plain(d model.Division, guest model.Part, host work, root []stretch) []free {
	roof := tabClear + float64(guest.Plate.Thick)/2 // of the slot, whichever end is down
	var out []free
	for _, p := range d.Pieces {
		if p.ID.Kind != model.Shell || p.ID.Part != host.part.ID {
			continue
		}
		taken := append(seated(d, p), opened(d, p, guest, host)...)
		room := stretch{
			float64(p.Span.From+atFoot(d, p)) + roof,
			float64(p.Span.To-max(atNose(d, p), joinsAtNose(d, p))) - roof,
		}
		for _, r := range root {
			s := stretch{max(room.from, r.from+roof), min(room.to, r.to-roof)}
			for _, part := range without(s, taken, roof) {
				if part.to-part.from >= tabLeast {
					out = append(out, free{p, part})
				}
			}
		}
	}
	return out
}

// joinsAtNose is what a core ring or spigot below the piece's nose takes; a butt
// joint takes nothing.
func joinsAtNose(d model.Division, p model.Piece) unit.Length {
	for _, s := range d.Seams {
		if s.Below == p.ID && s.Stands(p.ID) {
			return 2 * model.RootDeep // its root slopes to the wall
		}
	}
	return 0
}

// seated are the stretches of a piece that core rings take.
func seated(d model.Division, p model.Piece) []stretch {
	var out []stretch
	for _, seat := range d.Seats {
		if seat.Host == p.ID {
			out = append(out, stretch{float64(seat.Span.From), float64(seat.Span.To)})
		}
	}
	return out
}

// without takes stretches out of one, with room on both sides.
func without(s stretch, taken []stretch, room float64) []stretch {
	out := []stretch{s}
	for _, t := range taken {
		from, to := t.from-room, t.to+room
		var next []stretch
		for _, o := range out {
			if to <= o.from || from >= o.to {
				next = append(next, o)
				continue
			}
			next = append(next, stretch{o.from, from}, stretch{to, o.to})
		}
		out = next
	}
	return out
}

// tab is the tongue in the middle of a free stretch.
func tab(in Input, d model.Division, m model.Mount, f free, n int) model.Tab {
	guest, host := workOf(in, m.Guest), workOf(in, m.Host)
	long := min(tabMost, f.to-f.from)
	middle := (f.from + f.to) / 2
	span := model.Span{From: unit.Length(math.Round(middle - long/2)), To: unit.Length(math.Round(middle + long/2))}
	low := model.LowestBetween(host.raw.Outer, float64(span.From), float64(span.To))
	high := model.HighestBetween(host.raw.Outer, float64(span.From), float64(span.To))
	tip := low - float64(host.part.Wall+tabInside)
	if in.Core != nil && in.Core.Hold == model.Bored {
		// Solid down to the core: it ends a wall before that.
		tip = max(tip, float64(in.Core.Stock.Widest())/2+float64(host.part.Wall))
	}
	out := model.Tab{
		ID: fmt.Sprintf("%s.t%d", m.ID, n), Mount: m.ID, Host: f.piece.ID, Span: span,
		Clocking: guest.part.Axis.Clocking, Thick: guest.part.Plate.Thick, Tip: unit.Length(tip), Top: unit.Length(high + tabJoins),
	}
	// The slice of the guest that the tongue grows out of.
	for _, p := range d.Pieces {
		if p.ID.Part != m.Guest {
			continue
		}
		out.Guest = p.ID
		line := guest.raw.Line
		at := line.Direction[0]*middle + line.Direction[1]*high - line.Zero
		if float64(p.Span.From) <= at && at <= float64(p.Span.To) {
			break
		}
	}
	return out
}

// tabJoins is how far past the host's surface a tongue runs on into its guest, mm.
const tabJoins = 2.0
