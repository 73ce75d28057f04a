package beam

import "math"

// Section is a round tube, or a rod where its bore is 0; diameters in mm.
type Section struct{ Outside, Bore float64 }

// Area of the section, mm²: π(D² - d²)/4.
func (s Section) Area() float64 { return math.Pi * (s.Outside*s.Outside - s.Bore*s.Bore) / 4 }

// I is the second moment of area, mm⁴: π(D⁴ - d⁴)/64.
func (s Section) I() float64 {
	return math.Pi * (math.Pow(s.Outside, 4) - math.Pow(s.Bore, 4)) / 64
}

// Z is the section modulus, mm³: 2I/D.
func (s Section) Z() float64 { return 2 * s.I() / s.Outside }
