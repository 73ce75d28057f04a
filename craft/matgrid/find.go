package matgrid

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Crossing is one crossing of the mat's lines.
type Crossing struct {
	Px   r2.Vec // in the upright photograph
	I, J int    // steps from the lowest at the left: I to the right, J up
}

// Found is a grid seen in a photograph.
type Found struct {
	Crossings []Crossing // in rows from the bottom, each from the left
	Dark      bool       // lines darker than the mat

	// StepMM is from line to line as printed, 10, 12.7 or 25.4; zero where nothing in
	// the picture says which.
	StepMM float64
	Border int       // strokes a step along the mat's border; 0: none seen
	Rulers []Strokes // rows of a ruler's strokes, longest first
}

const (
	// longSide of the reduced picture.
	longSide = 1600
	// leastCrossings make a grid: fewer may be a crate, a keyboard, a tiled wall.
	leastCrossings = 35
	// seedTries is how many windows a walk is begun from.
	seedTries = 12
)

// Find looks for the mat's grid; ok is false where there is none to be sure of.
func Find(ctx context.Context, p Picture) (found Found, ok bool, err error) {
	n := max(1, (max(p.W, p.H)+longSide-1)/longSide)
	small, err := greyOf(ctx, p, n)
	if err != nil {
		return found, false, err
	}
	var best *lattice
	for _, sign := range [2]float32{1, -1} {
		r, err := findRidges(ctx, small, sign)
		if err != nil {
			return found, false, err
		}
		if l := r.lattice(small.w, small.h); l != nil && (best == nil || len(l.order) > 2*len(best.order)) {
			best, found.Dark = l, sign < 0
		}
	}
	if best == nil {
		return found, false, nil
	}
	full, err := greyOf(ctx, p, 1)
	if err != nil {
		return found, false, err
	}
	sign := 1.0
	if found.Dark {
		sign = -1
	}
	places, err := refineAll(ctx, full, sign, best, n)
	if err != nil || len(places) < leastCrossings {
		return found, false, err
	}
	found.Crossings = fromLowestLeft(places)
	ok, err = found.read(ctx, full)
	return found, ok, err
}

// read drops crossings that lie aside, then reads the ruler and the border.
func (f *Found) read(ctx context.Context, full *grey) (bool, error) {
	kept, cam, ok := weigh(f.Crossings, full.w, full.h)
	if !ok {
		return false, nil
	}
	f.Crossings = kept
	v, b := view{cam, full.w, full.h}, boundsOf(f.Crossings)
	patches, err := hatches(ctx, full, v)
	if err != nil {
		return false, err
	}
	for _, r := range rowsOf(patches) {
		if s := read(full, v, r); s.even(v) && s.divided() && !r.alongGrid(s.PerStep, b) && f.sameRuler(s) {
			f.Rulers = append(f.Rulers, s)
		}
	}
	f.Border = borderOf(full, v, b)
	f.StepMM = stepOf(f.Border, f.Rulers)
	return true, nil
}

// sameRuler reports whether a row goes with the longest one: a picture holds one
// ruler, and shorter rows that differ are figures and grain.
func (f *Found) sameRuler(s Strokes) bool {
	return len(f.Rulers) == 0 || math.Abs(s.PerStep/f.Rulers[0].PerStep-1) < 0.01
}

// leastKept is the least of strokes kept for a row to be a ruler's: three centimetres.
const leastKept = 4

// lattice is the one that grows from the best seeds, or nil.
func (r *ridges) lattice(w, h int) *lattice {
	for _, reach := range seedReach {
		if l := r.grown(reach, w, h); l != nil {
			return l
		}
	}
	return nil
}

// grown is the largest lattice from the best windows of one size, or nil.
func (r *ridges) grown(reach float64, w, h int) *lattice {
	var best *lattice
	for k, s := range r.seeds(reach) {
		if k == seedTries {
			break
		}
		l := r.grow(s)
		if len(l.order) < leastCrossings {
			continue
		}
		l, ok := l.bridge(r, w, h)
		if ok && (best == nil || len(l.order) > len(best.order)) {
			best = l
		}
		if best != nil && k >= 2 {
			break
		}
	}
	return best
}

func fromLowestLeft(places map[node]r2.Vec) []Crossing {
	lo, hi, first := 0, 0, true
	for n := range places {
		if first || n.i < lo {
			lo = n.i
		}
		if first || n.j > hi {
			hi = n.j
		}
		first = false
	}
	out := make([]Crossing, 0, len(places))
	for n, at := range places {
		out = append(out, Crossing{at, n.i - lo, hi - n.j})
	}
	slices.SortFunc(out, func(a, b Crossing) int { return cmp.Or(cmp.Compare(a.J, b.J), cmp.Compare(a.I, b.I)) })
	return out
}
