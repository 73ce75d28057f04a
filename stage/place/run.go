package place

import (
	"math"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// run is a way being laid.
type run struct {
	path [][3]unit.Length
	long float64
}

// stride is how finely a way follows the wall, mm.
const stride = 2.0

func (r *run) to(station, clocking, radius float64) {
	sin, cos := math.Sincos(clocking)
	r.add([3]unit.Length{unit.Length(radius * cos), unit.Length(radius * sin), unit.Length(station)})
}

func (r *run) add(p [3]unit.Length) {
	if n := len(r.path); n > 0 {
		r.long += distance(r.path[n-1], p)
	}
	r.path = append(r.path, p)
}

// station at which the run has arrived.
func (r *run) station() float64 { return float64(r.path[len(r.path)-1][2]) }

// round turns at one station.
func (r *run) round(station, from, turn, radius float64) {
	steps := int(math.Ceil(math.Abs(turn) / (math.Pi / 36)))
	for k := 1; k <= steps; k++ {
		r.to(station, from+turn*float64(k)/float64(steps), radius)
	}
}

// along runs to a station beside the core.
func (r *run) along(w *work, station, clocking float64) {
	r.follow(station, clocking, w.ductRadius)
}

// within runs to a station inside the core, straight through the holes in bushes.
func (r *run) within(w *work, station, clocking float64) {
	middle := func(z float64) float64 {
		inner, outer := w.lumen(z)
		return (inner + outer) / 2
	}
	for _, p := range w.bushes(r.station(), station) {
		near, far := float64(p.Span.From), float64(p.Span.To)
		if station < r.station() {
			near, far = far, near
		}
		r.follow(near, clocking, middle)
		r.follow(far, clocking, func(float64) float64 { return middle((near + far) / 2) })
	}
	r.follow(station, clocking, middle)
}

// follow runs along a profile of radii; where it steps, along at the smaller one.
func (r *run) follow(station, clocking float64, profile func(float64) float64) {
	from := r.station()
	radius := profile(from)
	r.to(from, clocking, radius)
	n := int(math.Ceil(math.Abs(station-from) / stride))
	for k := 1; k <= n; k++ {
		z := from + (station-from)*float64(k)/float64(n)
		next := profile(z)
		if next < radius {
			r.to(r.station(), clocking, next)
		} else {
			r.to(z, clocking, radius)
		}
		r.to(z, clocking, next)
		radius = next
	}
}

func distance(a, b [3]unit.Length) float64 {
	return solid.Vec{float64(a[0] - b[0]), float64(a[1] - b[1]), float64(a[2] - b[2])}.Length()
}

// crossing counts the places of a path, every few millimetres, that lie in a bay or
// a part inside, its own two ends left out. Past most it counts no further.
func (w *work) crossing(path [][3]unit.Length, from, to string, most int) int {
	n := 0
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		steps := math.Max(1, math.Ceil(distance(a, b)/ductStride))
		for k := 0.0; k < steps && n <= most; k++ {
			var p solid.Vec
			for m := range p {
				p[m] = float64(a[m]) + (float64(b[m])-float64(a[m]))*k/steps
			}
			if w.crosses(p, from, to) {
				n++
			}
		}
	}
	return n
}

// crosses reports whether a cable at a place runs through a bay or a part that lies
// inside. Discs across the axis are no hindrance: they get a hole.
func (w *work) crosses(p solid.Vec, from, to string) bool {
	for _, b := range w.bays {
		if b.Component != from && b.Component != to && holds(b, p, cable/2) {
			return true
		}
	}
	for _, b := range w.things {
		if b.Wound == 0 && holds(b, p, cable/2) {
			return true
		}
	}
	return false
}

// holds reports whether a place lies in a bay or so near to it.
func holds(b model.Bay, p solid.Vec, near float64) bool {
	off := p.Sub(middle(b))
	if b.Wound > 0 {
		r := math.Hypot(p[0], p[1])
		return math.Abs(off[2]) < float64(b.Size[2])/2+near && r < float64(b.Wound)+near && r > float64(b.Wound-b.Size[0])-near
	}
	for k := range 3 {
		if math.Abs(off.Dot(b.Axes[k])) >= float64(b.Size[k])/2+near {
			return false
		}
	}
	return true
}
