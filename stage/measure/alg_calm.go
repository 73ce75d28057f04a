package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// The printed lines are taken out of what is seen: what each line adds to the mat's
// light is learned, by how far from its middle, along all of it that shows.
const (
	calmStep  = 0.1 // mm
	calmSteps = 15
	calmLeast = 30 // pixels that say what a line adds
	calmMost  = 2.0
)

// printedLine is a line of the grid: of those of one X or of one Y.
type printedLine struct{ axis, line int }

// profile is what a line adds to the logarithm of the light, by steps from its middle.
type profile [calmSteps][3]float32

// calm is each pixel's colour over the bare mat's without the grid's lines, wherever
// they are printed.
func (m ground) calm(l *look) [][3]float32 {
	if !l.printed {
		return l.ratio
	}
	lines := m.profiles(l)
	out := make([][3]float32, len(l.ratio))
	for i, q := range l.ratio {
		out[i] = q
		at, ok := l.at(i)
		if !ok {
			continue
		}
		var most [3]float32
		m.eachLine(at, func(line printedLine, step int) {
			for c, v := range lines[line][step] {
				if math.Abs(float64(v)) > math.Abs(float64(most[c])) {
					most[c] = v
				}
			}
		})
		for c, v := range most {
			out[i][c] -= v
		}
	}
	return out
}

// eachLine tells of the lines near a place of the mat and how many steps off it lies.
func (m ground) eachLine(at r2.Vec, call func(line printedLine, step int)) {
	for axis, x := range [2]float64{at.X, at.Y} {
		line := math.Round(x / m.pitch[axis])
		if step := int(math.Abs(x-line*m.pitch[axis]) / calmStep); step < calmSteps {
			call(printedLine{axis, int(line)}, step)
		}
	}
}

// profiles are the lines' own, over what the mat is like clear of them.
func (m ground) profiles(l *look) map[printedLine]profile {
	type sums struct {
		of [3]float64
		n  float64
	}
	all := map[printedLine]*[calmSteps]sums{}
	for i, s := range l.says {
		at, ok := l.at(i)
		if !ok || s&saysMat == 0 {
			continue
		}
		m.eachLine(at, func(line printedLine, step int) {
			if all[line] == nil {
				all[line] = &[calmSteps]sums{}
			}
			into := &all[line][step]
			into.n++
			for c, v := range l.ratio[i] {
				into.of[c] += min(max(float64(v), -calmMost), calmMost)
			}
		})
	}
	out := map[printedLine]profile{}
	for line, steps := range all {
		var p profile
		clear := steps[calmSteps-1]
		for k, s := range steps {
			if s.n < calmLeast || clear.n < calmLeast {
				continue
			}
			for c := range s.of {
				p[k][c] = float32(s.of[c]/s.n - clear.of[c]/clear.n)
			}
		}
		out[line] = p
	}
	return out
}
