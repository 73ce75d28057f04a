// Package handling says how much a person should lift: the revised lifting
// equation of the US National Institute for Occupational Safety and Health,
// NIOSH publication 94-110 (revised 9/2021). It is advice for healthy people at
// work and no medical judgement.
package handling

import "math"

// Lift is how a load is lifted, in centimetres and radians.
type Lift struct {
	Horizontal float64 // hands from the middle of the ankles
	Vertical   float64 // hands above the floor at the start
	Travel     float64 // up or down
	Twist      float64 // of the body, rad
}

// Usual is a load taken from a bench and carried close to the body.
var Usual = Lift{Horizontal: 40, Vertical: 75, Travel: 25}

// constant is what the equation allows under ideal conditions, kg.
const constant = 23.0

// Limit is the recommended weight limit, kg, for one person who lifts now and
// then: RWL = LC·HM·VM·DM·AM with HM = 25/H, VM = 1 - 0.003·|V - 75|,
// DM = 0.82 + 4.5/D, AM = 1 - 0.0032·A in degrees. Past the equation's reach it
// is 0: nobody should.
func (l Lift) Limit() float64 {
	degrees := l.Twist * 180 / math.Pi
	if l.Horizontal > 63 || l.Vertical < 0 || l.Vertical > 175 || l.Travel > 175 || degrees > 135 {
		return 0
	}
	h := 25 / max(25, l.Horizontal)
	v := 1 - 0.003*math.Abs(l.Vertical-75)
	d := 0.82 + 4.5/max(25, l.Travel)
	a := 1 - 0.0032*degrees
	return constant * h * v * d * a
}
