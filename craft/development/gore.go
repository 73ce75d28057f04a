package development

import "math"

// Gores are strips of paper from one end of a body of revolution to the other, side
// by side all round: the polycylindric development. Each bends along the meridian
// alone and lies straight across, touching the body down its middle.
type Gores struct {
	Number int
	Off    float64 // how far a strip's edges stand off before they are pressed down
	Middle []Place // along the profile: distance from its start, half the strip's width
}

// mostGores is as many as anybody will cut.
const mostGores = 24

// CutGores are the fewest gores whose edges stand off no further than allowed:
// r·(1/cos(π/n) - 1), at the largest radius. Pressed down they meet, each being
// π(D + t)/n wide. It takes at least three, and no more than 24, which Off tells.
func CutGores(profile []Place, paper, allowed float64) Gores {
	largest := 0.0
	for _, p := range profile {
		largest = max(largest, p.Radius)
	}
	g := Gores{Number: 3}
	off := func(n int) float64 { return largest * (1/math.Cos(math.Pi/float64(n)) - 1) }
	for g.Number < mostGores && off(g.Number) > allowed {
		g.Number++
	}
	g.Off = off(g.Number)
	along := 0.0
	for i, p := range profile {
		if i > 0 {
			q := profile[i-1]
			along += math.Hypot(p.Station-q.Station, p.Radius-q.Radius)
		}
		half := 0.0
		if p.Radius > 0 {
			half = math.Pi * (p.Radius + paper/2) / float64(g.Number)
		}
		g.Middle = append(g.Middle, Place{along, half})
	}
	return g
}
