package matgrid

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
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

	// LikelyMM is what StepMM is by common practice where nothing in the picture says
	// it for sure: by every how many lines one is heavier. Zero where several are.
	LikelyMM float64
	Heavy    int // every so many; 0: none is, or none is told
}

const (
	// longSide of the reduced picture.
	longSide = 1600
	// leastCrossings make a grid: fewer may be a crate, a keyboard, a tiled wall.
	leastCrossings = 16
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
	// Lines lighter than the mat, and darker.
	var seen [2]*lattice
	var faults [2]error
	var wg sync.WaitGroup
	for k, sign := range [2]float32{1, -1} {
		wg.Go(func() {
			var r *ridges
			if r, faults[k] = findRidges(ctx, small, sign); faults[k] == nil {
				seen[k] = r.lattice(small.w, small.h)
			}
		})
	}
	wg.Wait()
	if err := errors.Join(faults[:]...); err != nil {
		return found, false, err
	}
	best := seen[0]
	if seen[1] != nil && (best == nil || len(seen[1].order) > 2*len(best.order)) {
		best, found.Dark = seen[1], true
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
	kept, v, ok := weigh(f.Crossings, full.w, full.h)
	if !ok {
		return false, nil
	}
	f.Crossings = kept
	b := boundsOf(f.Crossings)
	sign := 1.0
	if f.Dark {
		sign = -1
	}
	border := borderOf(full, sign, v, b)
	f.Border = border.Count
	g := &printless{full, v, b}
	patches, err := hatches(ctx, g, wavesOf(border))
	if err != nil {
		return false, err
	}
	told := stepOf(border, nil)
	var printed []Strokes
	for _, r := range rowsOf(patches) {
		s := read(g, r)
		switch {
		case !s.even(v):
		case s.ofPrint(v, b):
			if s.Longer == EveryFifth { // an inch's eighths and half an inch's sixteenths look alike
				printed = append(printed, s)
			}
		case f.ofRuler(&s, told, v):
			f.Rulers = append(f.Rulers, s)
		}
		if len(f.Rulers) == bothEdges {
			break
		}
	}
	f.StepMM = stepOf(border, f.Rulers)
	if f.StepMM == 0 {
		// A ruler laid along the grid that happens to keep step with it tells as much as
		// the mat's own strokes would, only not where the mat is misprinted.
		f.StepMM = stepOf(border, slices.Concat(f.Rulers, printed))
	}
	if f.StepMM == 0 {
		f.Heavy = heavyOf(full, sign, v, f.Crossings)
		f.LikelyMM = f.likely(border)
	}
	return true, nil
}

const (
	bothEdges = 2 // of one ruler
	// longKept is the least of strokes kept for a row without longer ones to be a
	// ruler's: eight centimetres.
	longKept = 8
)

// ofRuler reports whether a row is a ruler's: its longer strokes say so, or it goes
// with the row that said so, or it is long, askew to the grid and what a ruler on a
// mat of the step told by its border shows.
func (f *Found) ofRuler(s *Strokes, told float64, v view) bool {
	switch {
	case len(f.Rulers) > 0:
		s.Longer = f.Rulers[0].Longer
		return math.Abs(s.PerStep/f.Rulers[0].PerStep-1) < sameRuler
	case s.Longer != NoneSeen:
		return s.divided() && (told == 0 || s.Graduation(told) > 0)
	}
	askew := s.lean(v) > borderLean || math.Abs(s.PerStep-math.Round(s.PerStep)) > borderWhole
	return told > 0 && s.Graduation(told) == 1 && len(s.Kept) >= longKept && askew
}

// sameRuler is how nearly both edges of a ruler have as many strokes to a step.
const sameRuler = 0.01

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

// grown is the largest lattice from the best windows of one size, or nil. The first few are
// grown side by side; more only where none of them comes to anything.
func (r *ridges) grown(reach float64, w, h int) *lattice {
	seeds := r.seeds(reach)
	first := make([]*lattice, min(seedsAtOnce, len(seeds)))
	cores.Each(len(first), func(k int) { first[k] = r.bridged(seeds[k], w, h) })
	var best *lattice
	for _, l := range first {
		if l != nil && (best == nil || len(l.order) > len(best.order)) {
			best = l
		}
	}
	for k := len(first); best == nil && k < min(seedTries, len(seeds)); k++ {
		best = r.bridged(seeds[k], w, h)
	}
	return best
}

// seedsAtOnce is how many windows are grown whatever comes of the first.
const seedsAtOnce = 3

// bridged is the lattice grown from a seed, over what hides its lines; nil where there are
// too few crossings.
func (r *ridges) bridged(s seed, w, h int) *lattice {
	l := r.grow(s)
	if len(l.order) < leastCrossings {
		return nil
	}
	if l, ok := l.bridge(r, w, h); ok {
		return l
	}
	return nil
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
