package turning

import (
	"math"

	"scalewright/model"
)

// Thin is where a region is thinnest and how thick it is there.
type Thin struct {
	Thickness float64
	At        model.Point
}

// Along each side the thickness is tried this often, mm.
const wallStep = 1.0

// LeastWall is the thinnest place of the region, measured from points of each
// side into the material to the nearest side across it. A side on the axis is none.
// Thickness +Inf where the region is empty.
func (r Region) LeastWall() Thin {
	thin := Thin{Thickness: math.Inf(1)}
	loops := r.Loops()
	var sides [][2]model.Point
	for _, loop := range loops {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			if p.Radius > 0 || q.Radius > 0 {
				sides = append(sides, [2]model.Point{p, q})
			}
		}
	}
	for _, s := range sides {
		length := math.Hypot(s[1].Station-s[0].Station, s[1].Radius-s[0].Radius)
		n := math.Ceil(length / wallStep)
		for k := range int(n) {
			t := (float64(k) + 0.5) / n
			p := model.Point{
				Station: s[0].Station + t*(s[1].Station-s[0].Station),
				Radius:  s[0].Radius + t*(s[1].Radius-s[0].Radius),
			}
			// The material lies to the left of the side, as radius to the right.
			n := model.Point{
				Station: (s[1].Radius - s[0].Radius) / length,
				Radius:  -(s[1].Station - s[0].Station) / length,
			}
			if d := nearestHit(sides, p, n); d < thin.Thickness {
				thin = Thin{d, p}
			}
		}
	}
	return thin
}

// A side counts as the other face of a wall when it faces back within 60° and
// its nearest point lies within 40° of square into the material; the end face
// that stands near a corner does neither.
const (
	facing = 0.5
	ahead  = 0.766
)

// nearestHit is the distance from a point to the nearest side in front of it.
func nearestHit(sides [][2]model.Point, from, dir model.Point) float64 {
	nearest := math.Inf(1)
	for _, s := range sides {
		ez, er := s[1].Station-s[0].Station, s[1].Radius-s[0].Radius
		if back := (ez*dir.Radius - er*dir.Station) / math.Hypot(ez, er); back < facing {
			continue
		}
		t := ((from.Station-s[0].Station)*ez + (from.Radius-s[0].Radius)*er) / (ez*ez + er*er)
		t = min(1, max(0, t))
		vz, vr := s[0].Station+t*ez-from.Station, s[0].Radius+t*er-from.Radius
		d := math.Hypot(vz, vr)
		if d > 1e-4 && d < nearest && vz*dir.Station+vr*dir.Radius >= ahead*d {
			nearest = d
		}
	}
	return nearest
}
