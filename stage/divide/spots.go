package divide

import (
	"math"
	"slices"

	"scalewright/model"
	"scalewright/solid"
)

// spot is a line along which a guest could be fastened, in the build's frame.
type spot struct {
	at, out solid.Vec // where it leaves the host, and which way
	edge    float64   // from the line to the guest's nearest side
	// high is how far the guest stands over at, everywhere within so much of the line.
	high func(within float64) float64
	lug  bool // the guest lies inside the host, on lugs of its wall
}

// Where lines are looked for: common practice.
const (
	footLook  = 12.0 // mm above the host in which a guest's foot is looked at for its sides
	threeFrom = 8.0  // mm of pitch radius from which three lines go round a foot, else two
	turnsLook = 12   // turns of the lines round a foot's axis that are tried
	lineApart = 80.0 // mm at most between lines along a root
	lineAlone = 25.0 // mm of root that two lines need
)

// spotsOf are ways to fasten a guest to its host, each a few lines; the first that
// keeps off everything is taken. None where the guest has no foot on the host.
func spotsOf(d model.Division, guest work, host ground) [][]spot {
	switch {
	case guest.part.Form == model.Imported:
		return nil
	case guest.part.Form == model.Flat && guest.part.Plate.Lie == model.Along && host.part.OnBody():
		return alongRoot(d, guest, host)
	case guest.part.Form == model.Flat:
		return onPlate(guest, host)
	}
	if lines := onLugs(guest, host); lines != nil {
		return lines
	}
	return roundFoot(guest, host)
}

// lugRim is how far inside its rim a disc is fastened to lugs, mm: room for the
// head of an M3.
const lugRim = 4.0

// onLugs are lines along the axis through the rim of a disc inside an open end of its
// host; the lugs stand behind it, seen from that end. None where it is no such disc.
func onLugs(guest work, host ground) [][]spot {
	a, p := guest.part.Axis, host.part
	if !host.grows() || math.Hypot(a.Direction[0], a.Direction[1]) > 0 || a.Position[0] != 0 || a.Position[1] != 0 || p.OpenFoot == p.OpenNose {
		return nil
	}
	frame := guest.part.Frame()
	ends := [2]float64{frame.Apply(solid.Vec{0, 0, float64(guest.part.Span.From)})[2], frame.Apply(solid.Vec{0, 0, float64(guest.part.Span.To)})[2]}
	low, high := min(ends[0], ends[1]), max(ends[0], ends[1])
	rim := model.LowestBetween(guest.raw.Outer, float64(guest.part.Span.From), float64(guest.part.Span.To))
	if low < float64(p.Span.From) || high > float64(p.Span.To) || rim >= model.LowestBetween(host.raw.FootDown, low, high) {
		return nil
	}
	face, out := high, solid.Vec{0, 0, -1}
	if p.OpenNose {
		face, out = low, solid.Vec{0, 0, 1}
	}
	pitch := rim - lugRim
	edge := min(lugRim, pitch-float64(guest.part.Bore)/2)
	var ways [][]spot
	for turn := range turnsLook {
		var lines []spot
		for k := range 3 {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + float64(turn)/turnsLook) / 3)
			lines = append(lines, spot{
				at: solid.Vec{pitch * cos, pitch * sin, face}, out: out, edge: edge, lug: true,
				high: func(float64) float64 { return high - low },
			})
		}
		ways = append(ways, lines)
	}
	return ways
}

// alongRoot are lines along the root of a plate that stands along the axis, square
// to the axis, wherever the wall is plain.
func alongRoot(d model.Division, guest work, host ground) [][]spot {
	p, frame := guest.part.Plate, guest.part.Frame()
	edge := p.Outer.Polyline(rootSag)
	out := frame.Turn(solid.Vec{0, 1, 0})
	var all []spot
	for _, f := range plain(d, guest.part, host.work, rootOf(guest.part, host.work)) {
		n := 1
		if long := f.to - f.from; long >= lineAlone {
			n = 2 + int(long/lineApart)
		}
		for i := range n {
			z := f.from + (f.to-f.from)*(float64(i)+0.5)/float64(n)
			r := model.LowestBetween(host.raw.Outer, z, z)
			all = append(all, spot{
				at: frame.Apply(solid.Vec{z, r, float64(p.Thick) / 2}), out: out, edge: float64(p.Thick) / 2,
				high: func(within float64) float64 { return overRoot(edge, z, r, within) },
			})
		}
	}
	if len(all) == 0 {
		return nil
	}
	return [][]spot{all}
}

// overRoot is how far a plate stands over a radius near a station.
func overRoot(edge []model.Point, z, r, within float64) float64 {
	least := math.Inf(1)
	for _, at := range [3]float64{z - within, z, z + within} {
		h := 0.0
		for holds(edge, at, r+h+rootStep) {
			h += rootStep
		}
		least = min(least, h)
	}
	return least
}

// roundFoot are lines round the axis of a turned guest, along it: in the middle of
// its ring, or two thirds out where it is solid.
func roundFoot(guest work, host ground) [][]spot {
	frame := guest.part.Frame()
	from, to := float64(guest.part.Span.From), float64(guest.part.Span.To)
	foot, way, ok := footOf(host, frame, solid.Vec{}, from, to)
	if !ok {
		return nil
	}
	low, high := min(foot, foot+way*footLook), max(foot, foot+way*footLook)
	low, high = max(low, from), min(high, to)
	outer := model.LowestBetween(guest.raw.Outer, low, high)
	inner := float64(guest.part.Bore) / 2
	if guest.part.Wall > 0 {
		inner = max(inner, model.HighestBetween(guest.raw.FootDown, low, high))
	}
	pitch := (outer + inner) / 2
	if inner == 0 {
		pitch = outer * 2 / 3
	}
	var ways [][]spot
	for _, n := range [...]int{3, 2} {
		if n == 3 && pitch < threeFrom {
			continue
		}
		side := min(outer-pitch, pitch*math.Sin(math.Pi/float64(n)))
		if inner > 0 {
			side = min(side, pitch-inner)
		}
		for turn := range turnsLook {
			if lines := ring(guest, host, pitch, side, n, 2*math.Pi*float64(turn)/float64(turnsLook*n)); len(lines) == n {
				ways = append(ways, lines)
			}
		}
	}
	return ways
}

// ring are so many lines round a turned guest's axis that meet the host.
func ring(guest work, host ground, pitch, side float64, n int, turn float64) []spot {
	frame := guest.part.Frame()
	var lines []spot
	for k := range n {
		sin, cos := math.Sincos(turn + 2*math.Pi*float64(k)/float64(n))
		base := solid.Vec{pitch * cos, pitch * sin, 0}
		foot, way, ok := footOf(host, frame, base, float64(guest.part.Span.From), float64(guest.part.Span.To))
		if !ok {
			return nil
		}
		lines = append(lines, spot{
			at: frame.Apply(base.Add(solid.Vec{0, 0, foot})), out: frame.Turn(solid.Vec{0, 0, way}), edge: side,
			high: func(within float64) float64 { return overFoot(guest, foot, way, pitch, within) },
		})
	}
	return lines
}

// footOf is where a guest's line along its own z leaves the host, and which way it
// goes on; false where both its ends are inside or both outside.
func footOf(host ground, frame solid.Transform, base solid.Vec, from, to float64) (foot, way float64, ok bool) {
	at, up := frame.Apply(base), frame.Turn(solid.Vec{0, 0, 1})
	const hair = 1e-3 // mm: an end that lies just on the surface is outside
	a, b := host.inside(at.Add(up.Scale(from-hair))), host.inside(at.Add(up.Scale(to+hair)))
	switch {
	case a && !b:
		s, ok := host.leaves(at, up, from-hair, to+hair)
		return s, 1, ok
	case b && !a:
		s, ok := host.leaves(at, up.Scale(-1), -to-hair, -from+hair)
		return -s, -1, ok
	}
	return 0, 0, false
}

// overFoot is how far a turned guest stands over its foot within so much of a
// line.
func overFoot(guest work, foot, way, pitch, within float64) float64 {
	end := float64(guest.part.Span.To)
	if way < 0 {
		end = float64(guest.part.Span.From)
	}
	const step = 0.05 // mm; a head's face is then as far under the guest's
	h := 0.0
	for z := foot; (end-z)*way > 0; z += way * step {
		if model.LowestBetween(guest.raw.Outer, z, z) < pitch+within {
			break
		}
		h = (z - foot) * way
	}
	return h
}

// onPlate are lines through a plate that lies on the host: the two places that are
// furthest apart of those with most plate round them.
func onPlate(guest work, host ground) [][]spot {
	p, frame := guest.part.Plate, guest.part.Frame()
	foot, way := 0.0, 1.0
	loops := [][]model.Point{p.Outer.Polyline(rootSag)}
	for _, h := range p.Holes {
		loops = append(loops, h.Polyline(rootSag))
	}
	var ways [][]spot
	for _, share := range [...]float64{0.9, 0.7, 0.5, 0.3} {
		var lines []spot
		for _, q := range roomiest(loops, share) {
			base := solid.Vec{q.Station, q.Radius, 0}
			at, w, ok := footOf(host, frame, base, -footReach, float64(p.Thick)+footReach)
			if !ok {
				break
			}
			foot, way = at, w
			end := float64(p.Thick)
			if way < 0 {
				end = 0
			}
			over := (end - foot) * way
			lines = append(lines, spot{
				at: frame.Apply(base.Add(solid.Vec{0, 0, foot})), out: frame.Turn(solid.Vec{0, 0, way}), edge: sideOf(loops, q),
				high: func(float64) float64 { return over },
			})
		}
		if len(lines) == 2 {
			ways = append(ways, lines)
		}
	}
	return ways
}

// footReach is how far past a plate's faces its host's surface may lie, mm: what
// touches.
const footReach = 0.1

// roomiest are the two places of a plate furthest apart of those that have at
// least a share of the most room round them; none where they are too near.
func roomiest(loops [][]model.Point, share float64) []model.Point {
	const steps = 48
	low, high := loops[0][0], loops[0][0]
	for _, q := range loops[0] {
		low.Station, low.Radius = min(low.Station, q.Station), min(low.Radius, q.Radius)
		high.Station, high.Radius = max(high.Station, q.Station), max(high.Radius, q.Radius)
	}
	var places []model.Point
	most := 0.0
	for i := 1; i < steps; i++ {
		for k := 1; k < steps; k++ {
			q := model.Point{
				Station: low.Station + (high.Station-low.Station)*float64(i)/steps,
				Radius:  low.Radius + (high.Radius-low.Radius)*float64(k)/steps,
			}
			if s := sideOf(loops, q); s > 0 {
				places, most = append(places, q), max(most, s)
			}
		}
	}
	places = slices.DeleteFunc(places, func(q model.Point) bool { return sideOf(loops, q) < share*most })
	var best []model.Point
	far := 0.0
	for i, a := range places {
		for _, b := range places[:i] {
			if d := math.Hypot(a.Station-b.Station, a.Radius-b.Radius); d > far {
				far, best = d, []model.Point{b, a}
			}
		}
	}
	if far < math.Max(high.Station-low.Station, high.Radius-low.Radius)*leastSpread {
		return nil // it would turn and tilt
	}
	return best
}

// leastSpread of a plate's longer side lies between two lines: common practice.
const leastSpread = 1.0 / 3

// sideOf is how near a place of a plate is to its edges; negative outside.
func sideOf(loops [][]model.Point, q model.Point) float64 {
	near := math.Inf(1)
	in := false
	for _, loop := range loops {
		if holds(loop, q.Station, q.Radius) {
			in = !in
		}
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			dx, dy := b.Station-a.Station, b.Radius-a.Radius
			t := 0.0
			if n := dx*dx + dy*dy; n > 0 {
				t = min(1, max(0, ((q.Station-a.Station)*dx+(q.Radius-a.Radius)*dy)/n))
			}
			near = min(near, math.Hypot(a.Station+t*dx-q.Station, a.Radius+t*dy-q.Radius))
		}
	}
	if !in {
		return -near
	}
	return near
}
