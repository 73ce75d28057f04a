package measure

import "math"

// Which of two sides that contradict each other is believed.
const (
	contestWay   = 3.0 // pixels more to and fro than the other side
	contestCrisp = 0.2 // pixels of doubt at most of a crisp point, and
	contestNear  = 3   // steps, within which both agree again
	contestClear = 0.7 // the share of them beside a groove that is one
)

// disbelieved is which side is wrong about the steps from one to another: the one that goes
// more to and fro between where both agree. Where neither does and they lie wide apart, the one
// that lies farther out: a printed line, a shadow or the ruler makes a body wider on one side,
// and hardly anything makes it narrower. So is it beside a narrow groove that the other side
// shows crisply. Else neither is: -1.
func (f *fitting) disbelieved(say [][2]saying, from, to int, wide bool) int {
	var way, begin, last, out [2]float64
	crisp, n, begun := [2]int{}, [2]int{}, false
	first, end := f.agree(say, from, -1), f.agree(say, to, 1)
	for i := first; i <= end; i++ {
		a, b := say[i][0], say[i][1]
		if !a.speaks() || !b.speaks() {
			continue
		}
		now := [2]float64{a.mean(), b.mean()}
		if i == first && first < from || i == end && end > to {
			now[0] = (now[0] + now[1]) / 2
			now[1] = now[0]
		}
		if !begun {
			begin, last, begun = now, now, true
		}
		for k := range now {
			way[k] += math.Abs(now[k] - last[k])
			if i >= from && i <= to {
				out[k] += now[k]
				crisp[k] += say[i][k].crisp
				n[k] += say[i][k].n
			}
		}
		last = now
	}
	for k := range way { // to and fro
		way[k] -= math.Abs(last[k] - begin[k])
	}
	outer, restless := 0, 0
	if out[1] > out[0] {
		outer = 1
	}
	if way[1] > way[0] {
		restless = 1
	}
	if math.Abs(way[1]-way[0]) < contestWay*mmPerPixel(f.view, f.axis) {
		if !wide {
			return -1
		}
		return outer
	}
	narrow := float64(to-from+1)*contestStep <= grooveWide
	if restless != outer && narrow && float64(crisp[restless]) > contestClear*float64(n[restless]) {
		return outer
	}
	return restless
}

// agree is the step nearest to another, that way, at which both sides agree; the other where
// none does.
func (f *fitting) agree(say [][2]saying, from, step int) int {
	apart := contestApart * mmPerPixel(f.view, f.axis)
	for i := from + step; i >= 0 && i < len(say) && i*step <= from*step+contestNear; i += step {
		if a, b := say[i][0], say[i][1]; a.speaks() && b.speaks() && math.Abs(a.mean()-b.mean()) < apart {
			return i
		}
	}
	return from
}
