package structure

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// footing is base, ballast and post: their mass, and the height of its middle
// above the floor.
type footing struct{ grams, middle float64 }

func (in Input) footing(across unit.Length, ballast unit.Mass) footing {
	s := *in.Stand
	plate := in.area(across)*1e6*float64(s.Thick)*s.Density/1000 + float64(ballast)
	long := float64(s.Below) + in.start() + float64(s.Engage)
	post := postSection(s).Area() * long * s.Post.Density / 1000
	if plate+post == 0 {
		return footing{}
	}
	half := float64(s.Thick) / 2
	return footing{plate + post, (plate*half + post*(float64(s.Thick)+long/2)) / (plate + post)}
}

// start is the station at which the post goes into the core.
func (in Input) start() float64 {
	if in.Core == nil {
		return 0
	}
	return float64(in.Core.Span.From)
}

// area of the base, m².
func (in Input) area(across unit.Length) float64 {
	side := float64(across) / 1000
	if in.Stand.Square {
		return side * side
	}
	return math.Pi * side * side / 4
}

// tipping is how near it is to falling over.
type tipping struct {
	grams  float64     // with the stand
	middle float64     // height of the centre of mass above the floor
	angle  float64     // rad, that tips it
	push   float64     // N, that it must bear
	at     unit.Length // height of the push above the floor
	tips   float64     // N, that tips it there
}

func (t tipping) falls(needs float64) bool { return t.angle < needs || t.tips < t.push }

// tipping is taken over the nearest edge, on the floor as it is, the build leaning
// towards that edge: in the worst direction.
func (in Input) tipping(s model.Structure, across unit.Length, ballast unit.Mass) tipping {
	stand, base := *in.Stand, in.footing(across, ballast)
	foot := float64(stand.Thick + stand.Below) // of station 0 above the floor
	var out tipping
	out.grams = s.Total.X + base.grams
	out.middle = (s.Total.X*(foot+s.Centre[2]) + base.grams*base.middle) / out.grams
	off := math.Hypot(s.Centre[0], s.Centre[1])
	if free := float64(in.Length) - in.start(); free > 0 { // it turns where the post holds it
		off += float64(s.Stand.Lean) * max(0, s.Centre[2]-in.start()) / free
	}
	edge := float64(across)/2 - off*s.Total.X/out.grams
	tilt := 0.0
	if in.Site != nil {
		tilt = in.Site.TiltRad
	}
	out.angle = math.Atan2(edge, out.middle) - tilt
	force := newtons(out.grams)
	out.push, out.at = in.push(force, foot+float64(in.Length))
	// Moments about the edge, the floor sloping down towards it.
	sin, cos := math.Sincos(tilt)
	out.tips = force * (edge*cos - out.middle*sin) / float64(out.at)
	return out
}
