package matgrid

import "math"

// Steps that cutting mats are printed with, mm: a centimetre, half an inch, an inch.
var matSteps = [3]float64{10, 12.7, 25.4}

// graduations of rulers, mm, and which of their strokes are longer.
var graduations = []struct {
	mm     float64
	longer Longer
}{{1, EveryFifth}, {0.5, EverySecond}, {25.4 / 16, EverySecond}, {25.4 / 32, EverySecond}}

// likeStep is how far a row's strokes may be from a graduation's count: mats are
// printed up to three hundredths wrong, and a ruler stands a little nearer the camera.
const likeStep = 0.035

// Graduation is what a row of strokes must be, mm, for a step of the grid to be
// step mm; zero if no ruler is divided so.
func (s Strokes) Graduation(step float64) float64 {
	for _, g := range graduations {
		if math.Abs(s.PerStep*g.mm/step-1) < likeStep && (s.Longer == NoneSeen || s.Longer == g.longer) {
			return g.mm
		}
	}
	return 0
}

// wavesOf lists how many strokes a step a ruler may show on a mat whose border is
// divided so.
func wavesOf(border division) (out []float64) {
	for _, step := range matSteps {
		for _, g := range graduations {
			if w := step / g.mm; border.divides(step) && w < manyWaves {
				out = append(out, w)
			}
		}
	}
	return out
}

// divided reports whether a row may be a ruler's at all, on some mat.
func (s Strokes) divided() bool {
	for _, step := range matSteps {
		if s.Graduation(step) > 0 {
			return true
		}
	}
	return false
}

// divides reports whether a mat with this step prints its border so divided.
func (d division) divides(step float64) bool {
	switch d.Count {
	case 4:
		return step == 12.7
	case 10, 20:
		return step == 10
	case 8, 16: // eighths of an inch, or sixteenths on half an inch
		switch d.Inch {
		case everyLine:
			return step == 25.4
		case everySecond:
			return step == 12.7
		}
		return step != 10
	}
	return true
}

// stepOf is the one step, mm, that fits the border's division and every row of a
// ruler; zero where more than one does, or none.
func stepOf(border division, rulers []Strokes) float64 {
	if border.Count == 0 && len(rulers) == 0 {
		return 0
	}
	found := 0.0
	for _, step := range matSteps {
		fits := border.divides(step)
		for _, r := range rulers {
			fits = fits && r.Graduation(step) > 0
		}
		if fits && found > 0 {
			return 0
		}
		if fits {
			found = step
		}
	}
	return found
}

// likely is the step that mats with such heavier lines have, if the border and the
// rulers do not speak against it.
func (f *Found) likely(border division) float64 {
	step := heavySteps[f.Heavy]
	fits := border.divides(step)
	for _, r := range f.Rulers {
		fits = fits && r.Graduation(step) > 0
	}
	if !fits {
		return 0
	}
	return step
}
