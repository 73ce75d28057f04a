package development

import "math"

// Mitre is the station at which a plane cuts a cylinder, at a turn, about the
// station where it cuts the axis: r·tan(lean)·cos θ. Lean is how far the plane is
// from square; it rises towards turn 0.
func Mitre(radius, lean, turn float64) float64 { return radius * math.Tan(lean) * math.Cos(turn) }

// Pipes are two cylinders that meet: a guest of radius Guest ends on a host of
// radius Host; their axes make an Angle (0 < Angle < π) and pass each other at an
// Offset.
type Pipes struct {
	Guest, Host   float64
	Angle, Offset float64
}

// Saddle is how far along the guest's axis, from the foot of the axes' common
// perpendicular, the guest's surface meets the host's at a turn. Turn 0 is towards
// the host's axis direction with which the guest makes Angle, and a quarter turn
// further lies the side of the offset. False where it passes the host by.
//
// On the line of the guest's surface at the turn φ the distance from the host's
// axis is that of two sides, o + r·sin φ and s·sin β - r·cos φ·cos β; setting it to R:
//
//	s = (√(R² - (o + r·sin φ)²) + r·cos φ·cos β) / sin β
func (p Pipes) Saddle(turn float64) (along float64, ok bool) {
	sin, cos := math.Sincos(turn)
	side := p.Offset + p.Guest*sin
	under := p.Host*p.Host - side*side
	if under < 0 {
		return 0, false
	}
	return (math.Sqrt(under) + p.Guest*cos*math.Cos(p.Angle)) / math.Sin(p.Angle), true
}

// Leaving is the last place, from 0 to 1, at which a curve leaves a body: depth is
// positive inside it. The curve is looked at in so many steps, then halved down to
// the last digit. False where it is never inside, or still is at its end.
func Leaving(depth func(t float64) float64, steps int) (t float64, ok bool) {
	for i := steps - 1; i >= 0; i-- {
		low, high := float64(i)/float64(steps), float64(i+1)/float64(steps)
		if depth(high) > 0 {
			return 0, false
		}
		if depth(low) <= 0 {
			continue
		}
		for range 60 {
			if mid := (low + high) / 2; depth(mid) > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		return high, true
	}
	return 0, false
}
