package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// How blurred a photograph is, by how far the light takes to pass from one level to
// another across an edge. A blurred step is a normal distribution of light; from a
// tenth to nine tenths of it are 2·1.2816 standard deviations.
const (
	tenthToNine = 2 * 1.2816 // quantile 0.9 of the normal distribution, twice
	riseReach   = 18.0       // pixels looked at to either side
	riseSide    = 12.0       // from there on out lies one level alone
	riseStep    = 0.5
	riseLeast   = 0.04 // of white, the least step worth reading
	riseFlat    = 0.15 // of the step, how much a side may still change
	sharpest    = 3    // the share, one in so many, of many edges
	leastRises  = 12
	sharpTile   = 64 // pixels a side, of which one edge is taken
	tileGrey    = 16 // the least difference of 8-bit values for which an edge is looked at
)

// rise is the blur of the step at a place across a direction, one standard
// deviation, pixels; ok is false where there is no lone step.
func (p *picture) rise(at, across r2.Vec) (sigma float64, ok bool) {
	const n = int(2*riseReach/riseStep) + 1
	var v [n]float64
	for k := range v {
		t := -riseReach + riseStep*float64(k)
		for _, side := range [3]float64{-1, 0, 1} {
			c := p.at(at.X+t*across.X-side*across.Y, at.Y+t*across.Y+side*across.X)
			v[k] += (c[0] + c[1] + c[2]) / 9
		}
	}
	const m = int((riseReach-riseSide)/riseStep) + 1
	a1, a2 := mean(v[:m/2]), mean(v[m/2:m])
	b1, b2 := mean(v[n-m:n-m/2]), mean(v[n-m/2:])
	a, b := (a1+a2)/2, (b1+b2)/2
	step := b - a
	if math.Abs(step) < riseLeast || max(math.Abs(a1-a2), math.Abs(b1-b2)) > riseFlat*math.Abs(step) {
		return 0, false
	}
	low, high := math.NaN(), math.NaN()
	for k := 1; k < n; k++ {
		x, y := (v[k-1]-a)/step, (v[k]-a)/step
		if x < 0.1 && y >= 0.1 { // the last way up through a tenth
			low = float64(k-1) + (0.1-x)/(y-x)
		}
		if x < 0.9 && y >= 0.9 && math.IsNaN(high) {
			high = float64(k-1) + (0.9-x)/(y-x)
		}
	}
	if !(high > low) {
		return 0, false // up and down again: a line, or two
	}
	return (high - low) * riseStep / tenthToNine, true
}

func mean(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

// sharpness is the blur of the sharper edges of several, one standard deviation,
// pixels: one that is soft itself, as a shadow's or a round limb's, says nothing of
// the lens.
func sharpness(rises []float64) (sigma float64, ok bool) {
	if len(rises) < leastRises {
		return 0, false
	}
	slices.Sort(rises)
	return rises[len(rises)/sharpest], true
}

// blur is that of the whole picture, by the strongest edge of each tile.
func (p *picture) blur(ctx context.Context) (sigma float64, ok bool, err error) {
	const margin = int(riseReach) + 2
	w, h := (p.w-2*margin)/sharpTile, (p.h-2*margin)/sharpTile
	if w < 1 || h < 1 {
		return 0, false, nil
	}
	all := make([]float64, w*h)
	err = cores.Rows(ctx, h, func(j int) {
		for i := range w {
			at, across, clear := p.strongest(margin+i*sharpTile, margin+j*sharpTile)
			if !clear {
				continue
			}
			if s, ok := p.rise(at, across); ok {
				all[j*w+i] = s
			}
		}
	})
	rises := slices.DeleteFunc(all, func(s float64) bool { return s == 0 })
	sigma, ok = sharpness(rises)
	return sigma, ok, err
}

// strongest is the steepest place of a tile and the way across it, by green, which
// is the sharpest channel of a sensor and most of what the eye calls light.
func (p *picture) strongest(x0, y0 int) (at, across r2.Vec, clear bool) {
	const far = 2
	best := tileGrey
	for y := y0; y < y0+sharpTile; y += 2 {
		for x := x0; x < x0+sharpTile; x += 2 {
			i := 3*(y*p.w+x) + 1
			gx := int(p.rgb[i+3*far]) - int(p.rgb[i-3*far])
			gy := int(p.rgb[i+3*far*p.w]) - int(p.rgb[i-3*far*p.w])
			if g := max(abs(gx), abs(gy)); g > best {
				best, clear = g, true
				at, across = r2.Vec{X: float64(x), Y: float64(y)}, r2.Unit(r2.Vec{X: float64(gx), Y: float64(gy)})
			}
		}
	}
	return at, across, clear
}
