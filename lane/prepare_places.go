package lane

import (
	"cmp"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// bayBox is a component's room as it is seen from the side.
type bayBox struct {
	component model.Component
	bay       model.Bay
	from, to  float64 // stations
	low, high float64 // heights above the axis
	depth     float64 // towards the eye
	wound     float64 // radius of a strip wound round the axis; 0: a box
}

// wayLine is a wire's way as it is seen from the side.
type wayLine struct {
	wire   string
	name   string
	points []model.Point // height in place of the radius, of either sign
	from   float64
	to     float64
	area   float64 // mm² of a conductor; 0: not known
	gauge  int
	signal bool // data, sound or a switch
	run    model.WireRun
}

// findPlaces looks at components and wires from the side.
func (p *Prepared) findPlaces() {
	for _, b := range p.Places.Bays {
		x := bayBox{bay: b, depth: float64(b.Centre[1])}
		for _, c := range p.Design.Components {
			if c.ID == b.Component {
				x.component = c
			}
		}
		x.component.ID = b.Component
		z, h := float64(halfAlong(b)), 0.0
		for i, axis := range b.Axes {
			h += math.Abs(axis[0]) * float64(b.Size[i]) / 2
		}
		if b.Wound > 0 {
			x.wound = float64(b.Wound)
			h = x.wound
		}
		x.from, x.to = float64(b.Centre[2])-z, float64(b.Centre[2])+z
		x.low, x.high = float64(b.Centre[0])-h, float64(b.Centre[0])+h
		p.boxes = append(p.boxes, x)
	}
	slices.SortStableFunc(p.boxes, func(a, b bayBox) int { return cmp.Compare(a.depth, b.depth) })
	for _, w := range p.Places.Ways {
		line := wayLine{wire: w.Wire, name: w.From + " to " + w.To, from: math.Inf(1), to: math.Inf(-1)}
		for _, q := range w.Path {
			line.points = append(line.points, model.Point{Station: float64(q[2]), Radius: float64(q[0])})
			line.from, line.to = min(line.from, float64(q[2])), max(line.to, float64(q[2]))
		}
		for _, run := range p.Effects.Wires {
			if run.Wire.ID == w.Wire {
				line.run, line.gauge, line.area = run, run.Gauge, conductor(run.Gauge)
				line.signal = run.Wire.Carries != model.Power
			}
		}
		if len(line.points) > 1 {
			p.ways = append(p.ways, line)
		}
	}
}

// conductor is the cross-section of an AWG size, mm²: the diameter is
// 0.127 mm · 92^((36-n)/39) (ASTM B258).
func conductor(gauge int) float64 {
	d := 0.127 * math.Pow(92, float64(36-gauge)/39)
	return math.Pi / 4 * d * d
}

// says names a component and what it is.
func (b bayBox) says() string {
	role := string(b.component.Kind.Role)
	if role == "" || role == b.component.ID {
		return b.component.ID
	}
	if b.component.Kind.Role == stock.Bank {
		role = "power bank"
	}
	return b.component.ID + ", " + role
}

// flagged is a finding with a place, as a flag shows it.
type flagged struct {
	finding finding.Finding
	grade   drawing.Grade
	id      string
	count   int // findings of the same grade, code and station, this one included
}

// findFlags takes the findings with a place, and what may go wrong at one, by
// grade, the worst first, then by station.
func (p *Prepared) findFlags() {
	all := slices.Clone(p.Findings)
	for _, risk := range p.Risks {
		all.Add(risk.What)
	}
	seen := map[string]int{}
	for _, f := range all {
		if !f.HasPlace || math.IsNaN(float64(f.Station)) || math.IsInf(float64(f.Station), 0) {
			continue
		}
		id := FlagID(f)
		if k, twice := seen[id]; twice {
			p.flags[k].count++
			continue
		}
		seen[id] = len(p.flags)
		p.flags = append(p.flags, flagged{f, gradeOf(f.Severity), id, 1})
	}
	slices.SortStableFunc(p.flags, func(a, b flagged) int {
		return cmp.Or(cmp.Compare(b.grade, a.grade), cmp.Compare(a.finding.Station, b.finding.Station))
	})
}

func gradeOf(s finding.Severity) drawing.Grade {
	switch s {
	case finding.Blocker:
		return drawing.Blocker
	case finding.Caution:
		return drawing.Caution
	}
	return drawing.Note
}

// doubtPlace is the doubt of the radius at a station, at full size.
type doubtPlace struct {
	station, u float64
	typed      bool // hidden in the photograph and measured otherwise
}

// findDoubts takes the reference's doubt to full size.
func (p *Prepared) findDoubts() {
	k := p.Enlarge.Ratio
	for _, q := range p.Trace.Profile {
		d := doubtPlace{station: q.Station * k, u: q.Radius.U * k}
		for _, h := range p.Trace.Typed {
			d.typed = d.typed || q.Station >= h.From && q.Station <= h.To
		}
		if k > 0 && !math.IsNaN(d.u) && !math.IsNaN(d.station) {
			p.doubts = append(p.doubts, d)
		}
	}
}

// load is a mass spread over a stretch so that its middle lies where the result
// has it: evenly but for a slope, or at one place where the middle lies too far
// to one side for that.
type load struct {
	name     string
	mass     float64 // g
	from, to float64
	centre   float64
	slope    float64 // -1 to 1: density at the far end over the mean, less one
}

// findLoads spreads each weight of the result over the stretch its thing takes.
func (p *Prepared) findLoads() {
	at := map[string]model.Span{}
	for i, piece := range p.Division.Pieces {
		at[piece.Name] = p.stretch[i]
		if i < len(p.Carved) && !piece.Own {
			at[piece.Name] = p.Carved[i].Reach
		}
	}
	if c := p.Design.Core; c != nil {
		at["core"] = c.Span
	}
	for _, b := range p.boxes {
		at[b.component.ID] = model.Span{From: unit.Length(b.from), To: unit.Length(b.to)}
	}
	for _, w := range p.Structure.Weights {
		l := load{name: w.Name, mass: w.Mass.X, centre: w.Centre[2], from: w.Centre[2], to: w.Centre[2]}
		if math.IsNaN(l.mass) || math.IsNaN(l.centre) || math.IsInf(l.mass, 0) || math.IsInf(l.centre, 0) {
			continue
		}
		if span, ok := at[w.Name]; ok && span.Length() > 0 {
			// A density 1 + s·t over t from -1 to 1 has its middle at s/3.
			t := (l.centre - float64(span.From+span.To)/2) / (float64(span.Length()) / 2)
			if s := 3 * t; math.Abs(s) <= 1 {
				l.from, l.to, l.slope = float64(span.From), float64(span.To), s
			}
		}
		p.loads = append(p.loads, l)
	}
}

// below is how much of a load lies under a station.
func (l load) below(station float64) float64 {
	switch {
	case station <= l.from && l.to > l.from, station < l.from:
		return 0
	case station >= l.to:
		return l.mass
	}
	t := 2*(station-l.from)/(l.to-l.from) - 1
	return l.mass * ((t+1)/2 + l.slope*(t*t-1)/4)
}

// massBelow is the mass under a station, g.
func (p *Prepared) massBelow(station float64) float64 {
	sum := 0.0
	for _, l := range p.loads {
		sum += l.below(station)
	}
	return sum
}

// Places tried for the tip of a component's leader, as shares of its length and of
// its height: its middle first.
var (
	tipShares  = [...]float64{0.5, 0.3, 0.7, 0.15, 0.85}
	tipHeights = [...]float64{0.5, 0.25, 0.75, 0.1, 0.9}
)

// tipsOf are the places of a component between two stations at which a leader may
// point: on its side of the axis, and where no other lies over it.
func (p *Prepared) tipsOf(n int, from, to float64) []model.Point {
	b := p.boxes[n]
	from, to = max(b.from, from), min(b.to, to)
	low, high := b.low, b.high
	if low < 0 {
		high = min(high, 0)
	}
	if from > to || !finite(from, to, low, high) {
		return nil
	}
	var out []model.Point
	for _, share := range tipShares {
		for _, rise := range tipHeights {
			q := model.Point{Station: from + share*(to-from), Radius: low + rise*(high-low)}
			if !p.coveredBy(n, q) {
				out = append(out, q)
				break
			}
		}
	}
	if len(out) == 0 { // hidden by others: its middle
		out = append(out, model.Point{Station: (from + to) / 2, Radius: (low + high) / 2})
	}
	return out
}

// coveredBy reports whether a component that is drawn later lies over a place of one.
func (p *Prepared) coveredBy(n int, q model.Point) bool {
	for _, o := range p.boxes[n+1:] {
		if o.wound == 0 && q.Station > o.from && q.Station < o.to && q.Radius > o.low && q.Radius < o.high {
			return true
		}
	}
	return false
}
