package beam

// OnTwoAt is how far a beam on supports at a and b moves down at a place, mm;
// less than 0 where it moves up, as the far end of an overhang does.
func OnTwoAt(loads []Load, a, b, ei, at float64) float64 {
	var down float64
	onTwo(loads, a, b, ei, func(s *shape) { down = s.at(at) })
	return down
}

// HeldAt is how far a beam that is held fast at 0 moves down at a place past it.
func HeldAt(loads []Load, ei, at float64) float64 { return held(loads, ei).at(at) }
