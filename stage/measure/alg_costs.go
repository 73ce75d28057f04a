package measure

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
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

func (l *look) glimpse(i int) *glimpse { return &glimpse{l.ratio[i], l.calm[i]} }

// border is the cost of parting two neighbours: less where their colour differs. Where
// a line is printed it must differ with the line taken out too: else it is the line
// that is seen; and where the object hides one, taking it out makes a difference that
// is not there to see.
func (a *glimpse) border(b *glimpse) float64 {
	apart := min(stepsApart(&a.ratio, &b.ratio), stepsApart(&a.calm, &b.calm))
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
func stepsApart(a, b *[3]float32) float64 {
	r, g, bl := float64(a[0]-b[0]), float64(a[1]-b[1]), float64(a[2]-b[2])
	return (r*r + g*g + bl*bl) * (1 / (3 * borderStep * borderStep))
}

// costs is what a fan sees: for each row and column what the pixels on both sides say
// of mat or object, and the cost of a border beside them, outwards and towards the row
// before.
type costs struct {
	rows, cols    int
	say, out, row []float64
}

// room makes room for a fan's costs, in what was taken before where that is enough.
func (e *costs) room(f fan) {
	n := f.rows * f.cols
	e.rows, e.cols = f.rows, f.cols
	for _, v := range [3]*[]float64{&e.say, &e.out, &e.row} {
		if cap(*v) < n {
			*v = make([]float64, n)
		}
		*v = (*v)[:n]
		clear(*v)
	}
}

// spyglass is a patch looked at through fans, one after the other.
type spyglass struct {
	patch
	m    ground
	say  []float64 // what each pixel of the patch says: mat, or less than nothing the object
	seen []glimpse // of each pixel of the patch
	costs
}

func (p patch) spyglass(m ground, say []float64) *spyglass {
	g := &spyglass{patch: p, m: m, say: say, seen: make([]glimpse, p.w*p.h)}
	for i := range g.seen {
		g.seen[i] = *p.glimpse(p.full(i))
	}
	return g
}

// through is what the patch costs seen through a fan. Beyond the patch there is mat. The
// costs last until the next.
func (g *spyglass) through(ctx context.Context, f fan) (*costs, error) {
	g.room(f)
	columns := f.columns()
	err := cores.Bands(ctx, f.rows, func(from, to int) {
		before, now := make([]glimpse, f.cols), make([]glimpse, f.cols)
		for _, side := range [2]float64{1, -1} {
			for row := max(from-1, 0); row < to; row++ {
				g.along(f, row, side, columns, now, row >= from)
				if row >= from {
					g.borders(f, row, before, now)
				}
				before, now = now, before
			}
		}
	})
	return &g.costs, err
}

// along is what is seen along a row to one side, and where it counts what that says.
func (g *spyglass) along(f fan, row int, side float64, columns []turn, now []glimpse, counts bool) {
	scale := g.scale(f)
	ray := f.ray(row)
	say := g.costs.say[row*f.cols:][:f.cols]
	for col := range now {
		now[col] = glimpse{}
		i, ok := g.pixel(f.at(ray, columns[col], side))
		if ok {
			now[col] = g.seen[i]
		}
		if !counts {
			continue
		}
		say[col] += scale * scale * cutTrust
		if ok {
			say[col] += scale * scale * (min(max(g.say[i], -cutTrust), cutTrust) - cutTrust)
		}
	}
}

// pixel is that of the patch at a place of the full picture.
func (g *spyglass) pixel(px r2.Vec, ok bool) (int, bool) {
	if !ok {
		return 0, false
	}
	x, y := g.m.reduced.from(px)
	x, y = x-g.x0, y-g.y0
	return y*g.w + x, x >= 0 && y >= 0 && x < g.w && y < g.h
}

// borders adds the cost of parting what is seen along a row from each other and from the
// row before.
func (g *spyglass) borders(f fan, row int, before, now []glimpse) {
	scale := g.scale(f)
	at := row * f.cols
	for col := range now {
		if col+1 < f.cols {
			g.out[at+col] += scale * now[col].border(&now[col+1])
		}
		if row > 0 {
			g.row[at+col] += scale * now[col].border(&before[col])
		}
	}
}

// scale is reduced pixels to a step of a fan.
func (g *spyglass) scale(f fan) float64 { return f.step * g.m.cam.F / float64(g.m.reduced.n) }
