package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// When ends of lines ask for another edge than the steps that were found: how many in a
// row must; the fewest where they ask for one that lies clearly off, but not so far that
// it may be the end of a line's mirror image, pixels.
const (
	endNear     = 15  // points of the outline to either side whose steps are compared
	endApart    = 0.6 // pixels from which on the steps about an end are not its edge
	askingLeast = 3
	askingMany  = 5
	askingClear = 1.2
	askingFar   = 6.0
	askingOut   = 20.0 // outside the outline nothing mirrors a line: there it ends at the body
)

// mayBe reports whether the edge may lie so far outside an outline by the ends of lines.
func mayBe(off float64) bool { return -askingFar < off && off < askingOut }

// asked is how far outside the steps near it each end lies; NaN where there are none.
func asked(fine []edgePoint, pts []r2.Vec, ends []lineEnd) []float64 {
	n := len(pts)
	out := make([]float64, len(ends))
	for k, e := range ends {
		var near []float64
		for d := -endNear; d <= endNear; d++ {
			i := ((e.i+d)%n + n) % n
			if p := fine[i]; p.good {
				near = append(near, r2.Dot(r2.Sub(p.at, pts[i]), p.out))
			}
		}
		out[k] = math.NaN()
		if len(near) >= endNear/2 {
			out[k] = e.off - median(near)
		}
	}
	return out
}

// asking are rows of ends that all ask the same way for another edge.
func (m ground) asking(ends []lineEnd, by []float64, n int) (out [][]lineEnd) {
	var row []lineEnd
	close := func() {
		var off []float64
		for _, e := range row {
			off = append(off, e.off)
		}
		least := askingMany
		if len(off) > 0 && math.Abs(median(off)) > askingClear && mayBe(median(off)) {
			least = askingLeast
		}
		if len(row) >= least {
			out = append(out, row)
		}
		row = nil
	}
	count := len(ends)
	start := 0
	for k, v := range by { // begin behind one that does not ask
		if math.Abs(v) < endApart {
			start = k + 1
			break
		}
	}
	for d := range count {
		k := (start + d) % count
		e := lineEnd{ends[k].i, by[k], ends[k].sigma}
		if math.IsNaN(e.off) {
			continue
		}
		if len(row) > 0 {
			last := row[len(row)-1]
			if last.off*e.off < 0 || float64((e.i-last.i+n)%n) > m.guideMost() {
				close()
			}
		}
		if math.Abs(e.off) < endApart {
			close()
			continue
		}
		row = append(row, e)
	}
	close()
	return out
}
