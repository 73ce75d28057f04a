package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// How steps of light are held to the ends of lines.
const (
	endMoves  = 0.35 // pixels of doubt that a move leaves, for each pixel of it
	pathDoubt = 1.0  // pixels, of an edge that no step tells, between ends of lines
	endsErr   = 0.35 // pixels, by how much the median of some ends errs

	heldRounds   = 3
	missingLeast = 30 // points without a step in a row: fewer are what a line or a scratch takes
)

// held puts an edge right where its steps and the ends of lines do not agree, or no step
// was found: there the path is sought again, nearer to those ends, in turns.
func (m ground) held(ctx context.Context, fine []edgePoint, pts []r2.Vec) ([]edgePoint, error) {
	ends := agreed(m.lineEnds(pts))
	for range heldRounds {
		by := m.between(ends, len(pts))
		astray := m.astray(fine, pts, ends)
		if !slices.Contains(astray, true) {
			break
		}
		far := 0.0
		for i := range by {
			if by[i].told = by[i].told && astray[i]; by[i].told {
				far = max(far, math.Abs(by[i].off))
			}
		}
		found, next, err := m.stepsAlong(ctx, pts, by, guidedReach+far)
		if err != nil {
			return nil, err
		}
		if next == nil {
			break
		}
		fine, pts = found, next
		ends = agreed(m.lineEnds(pts))
	}
	m.hold(fine, pts, ends)
	m.leaveOpen(fine, pts, ends)
	return fine, nil
}

// leaveOpen takes what ends of lines still ask for, by the median of some in a row, into
// what readings of the edge leave open.
func (m ground) leaveOpen(fine []edgePoint, pts []r2.Vec, ends []lineEnd) {
	n := len(pts)
	var told []lineEnd
	for k, v := range asked(fine, pts, ends) {
		if !math.IsNaN(v) {
			told = append(told, lineEnd{ends[k].i, v, ends[k].sigma})
		}
	}
	for k, e := range told {
		var near []float64
		for d := -2; d <= 2; d++ {
			q := told[(k+d+len(told))%len(told)]
			if gap := (q.i-e.i+3*n/2)%n - n/2; math.Abs(float64(gap)) < m.guideMost() {
				near = append(near, q.off)
			}
		}
		if len(near) < askingLeast {
			continue
		}
		by := median(near)
		by = math.Copysign(max(0, math.Abs(by)-endsErr)/2, by)
		next := told[(k+1)%len(told)]
		gap := (next.i - e.i + n) % n
		for d := range min(gap, int(m.guideMost())) {
			if p := &fine[(e.i+d)%n]; math.Abs(by) > math.Abs(p.open) {
				p.open = by
			}
		}
	}
}

// astray is where steps are missing in a row between ends of lines, or lie beside them.
func (m ground) astray(fine []edgePoint, pts []r2.Vec, ends []lineEnd) []bool {
	n := len(pts)
	told := m.between(ends, n)
	out := make([]bool, n)
	for i, by := range m.apart(fine, pts, ends) {
		out[i] = by != 0
	}
	for _, i := range missing(fine) {
		out[i] = out[i] || told[i].near()
	}
	return out
}

// missing are the points of long runs without a step.
func missing(fine []edgePoint) (out []int) {
	none := make([]bool, len(fine))
	for i := range fine {
		none[i] = !fine[i].good
	}
	for _, r := range runs(none, 3) {
		if r.n < missingLeast {
			continue
		}
		for k := range r.n {
			if i := (r.from + k) % len(fine); none[i] {
				out = append(out, i)
			}
		}
	}
	return out
}

// hold moves steps that still lie beside the ends of lines: an inner border was followed,
// of a gleam or of a dark rim. Where no step was found between two ends, the path is the
// edge.
func (m ground) hold(fine []edgePoint, pts []r2.Vec, ends []lineEnd) {
	told := m.between(ends, len(pts))
	for i, by := range m.apart(fine, pts, ends) {
		if p := &fine[i]; p.good && by != 0 {
			p.at = r2.Add(p.at, r2.Scale(by, p.out))
			p.sigma = math.Hypot(p.sigma, endMoves*math.Abs(by))
			p.open = 0
		}
	}
	for _, i := range missing(fine) {
		if told[i].near() {
			at, dir := tangent(pts, i, 5)
			fine[i] = edgePoint{at: at, out: outwards(dir), sigma: pathDoubt, good: true}
		}
	}
}

// apart is how far outside the steps along an outline the edge lies by the ends of lines;
// nought where they agree or nothing is told.
func (m ground) apart(fine []edgePoint, pts []r2.Vec, ends []lineEnd) []float64 {
	n := len(pts)
	out := make([]float64, n)
	for _, run := range m.asking(ends, asked(fine, pts, ends), n) {
		for k, a := range run[:len(run)-1] {
			b := run[k+1]
			gap := (b.i - a.i + n) % n
			for d := range gap + 1 {
				out[(a.i+d)%n] = a.off + float64(d)/float64(max(gap, 1))*(b.off-a.off)
			}
		}
	}
	return out
}
