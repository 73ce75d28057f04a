package matgrid

import "math"

// Steps that cutting mats are printed with, mm: a centimetre, half an inch, an inch.
var matSteps = [3]float64{10, 12.7, 25.4}

// Graduations of rulers, mm: of those that have every second stroke longer, and
// of the others.
var (
	pairedGraduations = []float64{0.5, 25.4 / 16}
	plainGraduations  = []float64{1}
)

// likeStep is how far a row's strokes may be from a graduation's count: mats are
// printed up to three hundredths wrong, and a ruler stands a little nearer the camera.
const likeStep = 0.035

// Graduation is what a row of strokes must be, mm, for a step of the grid to be
// step mm; zero if no ruler is divided so.
func (s Strokes) Graduation(step float64) float64 {
	all := plainGraduations
	if s.Paired {
		all = pairedGraduations
	}
	for _, g := range all {
		if math.Abs(s.PerStep*g/step-1) < likeStep {
			return g
		}
	}
	return 0
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
func divides(border int, step float64) bool {
	switch border {
	case 10, 20:
		return step == 10
	case 8, 16:
		return step != 10
	}
	return true
}

// stepOf is the one step, mm, that fits the border's division and every row of a
// ruler; zero where more than one does, or none.
func stepOf(border int, rulers []Strokes) float64 {
	if border == 0 && len(rulers) == 0 {
		return 0
	}
	found := 0.0
	for _, step := range matSteps {
		fits := divides(border, step)
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
