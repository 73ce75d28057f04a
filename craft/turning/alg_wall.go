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
// side square into the material to the next side. A side on the axis is none.
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

// A side counts as the other face of a wall when it faces the ray within 60°;
// the end face that a ray from near a corner runs into does not.
const facing = -0.5

// nearestHit is the distance along a ray to the first side in front of it;
// +Inf when that side does not face it.
func nearestHit(sides [][2]model.Point, from, dir model.Point) float64 {
	nearest := math.Inf(1)
	faces := false
	for _, s := range sides {
		ez, er := s[1].Station-s[0].Station, s[1].Radius-s[0].Radius
		det := dir.Station*er - dir.Radius*ez
		if det == 0 {
			continue
		}
		az, ar := s[0].Station-from.Station, s[0].Radius-from.Radius
		d := (az*er - ar*ez) / det
		t := (az*dir.Radius - ar*dir.Station) / det
		if d > 1e-4 && t >= 0 && t <= 1 && d < nearest {
			nearest = d
			faces = (dir.Station*er-dir.Radius*ez)/math.Hypot(ez, er) <= facing
		}
	}
	if !faces {
		return math.Inf(1)
	}
	return nearest
}
