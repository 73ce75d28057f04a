package measure

import (
	"context"
	"math"
)

// What a border costs, nats a pixel of it.
const (
	cutBorder   = 4.0  // over plain ground
	leastBorder = 0.03 // of it, over the sharpest edge
	borderStep  = 0.15 // change of the logarithm of light that is an edge rather than grain
)

// glimpse is what there is to see at one place: the colour against the bare mat's, with
// the grid's lines and without.
type glimpse struct{ ratio, calm [3]float32 }

func (l *look) glimpse(i int) glimpse { return glimpse{l.ratio[i], l.calm[i]} }

// border is the cost of parting two neighbours: less where their colour differs. Where
// a line is printed it must differ with the line taken out too: else it is the line
// that is seen; and where the object hides one, taking it out makes a difference that
// is not there to see.
func (a glimpse) border(b glimpse) float64 {
	apart := min(stepsApart(a.ratio, b.ratio), stepsApart(a.calm, b.calm))
	k := int(apart * costSteps)
	if k >= len(borderCosts)-1 {
		return cutBorder * leastBorder
	}
	return borderCosts[k] + (apart*costSteps-float64(k))*(borderCosts[k+1]-borderCosts[k])
}

// costSteps is how many steps borderCosts takes for each square of border steps: between
// them it is a straight line to a hundred-thousandth.
const costSteps = 64

// borderCosts is what a border costs by how far apart the colours lie, up to where that no
// longer matters.
var borderCosts = func() (out [32 * costSteps]float64) {
	for k := range out {
		out[k] = cutBorder * (leastBorder + (1-leastBorder)*math.Exp(-float64(k)/costSteps/2))
	}
	return out
}()

// stepsApart is how far apart two colours lie, the square of border steps, as a mean over
// the channels.
func stepsApart(a, b [3]float32) float64 {
	dd := 0.0
	for c := range a {
		d := float64(a[c]-b[c]) / borderStep
		dd += d * d / 3
	}
	return dd
}

// costs is what a fan sees: for each row and column what the pixels on both sides say
// of mat or object, and the cost of a border beside them, outwards and towards the row
// before.
type costs struct {
	rows, cols    int
	say, out, row []float64
}

// through is what a patch costs seen through a fan. Beyond the patch there is mat.
func (p patch) through(ctx context.Context, m ground, f fan, say []float64) (costs, error) {
	scale := f.step * m.cam.F / float64(m.reduced.n) // reduced pixels a step
	n := f.rows * f.cols
	e := costs{rows: f.rows, cols: f.cols, say: make([]float64, n), out: make([]float64, n), row: make([]float64, n)}
	for _, side := range [2]float64{1, -1} {
		seen := make([]glimpse, n)
		if err := rows(ctx, f.rows, func(row int) {
			for col := range f.cols {
				i := row*f.cols + col
				e.say[i] += scale * scale * cutTrust
				px, ok := f.pixel(row, col, side)
				if !ok {
					continue
				}
				x, y := m.reduced.from(px)
				x, y = x-p.x0, y-p.y0
				if x < 0 || y < 0 || x >= p.w || y >= p.h {
					continue
				}
				e.say[i] += scale * scale * (min(max(say[y*p.w+x], -cutTrust), cutTrust) - cutTrust)
				seen[i] = p.glimpse(p.full(y*p.w + x))
			}
		}); err != nil {
			return costs{}, err
		}
		if err := rows(ctx, f.rows, func(row int) {
			for col := range f.cols {
				i := row*f.cols + col
				if col+1 < f.cols {
					e.out[i] += scale * seen[i].border(seen[i+1])
				}
				if row > 0 {
					e.row[i] += scale * seen[i].border(seen[i-f.cols])
				}
			}
		}); err != nil {
			return costs{}, err
		}
	}
	return e, nil
}
