package sched

import "slices"

// missed is why a task could not be put.
type missed struct {
	stock bool     // no mode leaves enough stock for the tasks to come
	blame []blamed // placed tasks that would have to be later; none: it is too late
}

// blamed is a placed task and the moment it would have to be at, at least.
type blamed struct {
	task, least int
	finish      bool
}

// put places task j in the mode that finishes first among those that keep every
// bound, the earlier mode where two are equal, or says why none does.
func (d *decoder) put(j int) *missed {
	bestMode, bestFinish := -1, far
	miss, missFinish, stocked := &missed{}, far, false
	var starts, ends []int
	for m := range d.e.modes[j] {
		mode := &d.e.modes[j][m]
		if !mode.usable || d.only != nil && d.only[j] != m {
			continue
		}
		if !d.stocked(j, mode) {
			continue
		}
		stocked = true
		w := d.window(j, m)
		d.count++
		if !d.e.fit(d.use, mode, w.lo, w.loEnd, &d.s) {
			continue
		}
		last := len(mode.phases) - 1
		start, finish := d.s.start[0], d.s.end[last]
		if start <= w.hi && finish <= w.hiEnd {
			if finish < bestFinish {
				bestMode, bestFinish = m, finish
				starts = append(starts[:0], d.s.start...)
				ends = append(ends[:0], d.s.end...)
			}
		} else if finish < missFinish {
			missFinish = finish
			miss = &missed{blame: d.blame(j, m, start, finish)}
		}
	}
	if bestMode < 0 {
		miss.stock = !stocked
		return miss
	}
	mode := &d.e.modes[j][bestMode]
	d.mode[j] = bestMode
	d.start[j], d.end[j] = slices.Clone(starts), slices.Clone(ends)
	d.e.reserve(d.use, mode, starts, ends, 1)
	d.draw(j, mode, -1)
	d.at[j] = len(d.seq)
	d.seq = append(d.seq, j)
	return nil
}

// stocked reports whether the mode leaves what the tasks to come need at least.
func (d *decoder) stocked(j int, m *engineMode) bool {
	for _, s := range m.stock {
		if s.Units-d.least[j][s.Resource] > d.spare[s.Resource] {
			return false
		}
	}
	return true
}

// window is what delays, release, deadline and placed tasks leave to a task.
type window struct {
	lo, loEnd, hi, hiEnd int
}

func (w *window) least(t int, finish bool) {
	if finish {
		w.loEnd = max(w.loEnd, t)
	} else {
		w.lo = max(w.lo, t)
	}
}

func (w *window) most(t int, finish bool) {
	if finish {
		w.hiEnd = min(w.hiEnd, t)
	} else {
		w.hi = min(w.hi, t)
	}
}

func (d *decoder) window(j, m int) window {
	w := window{max(0, d.e.p.Tasks[j].Release, d.lo[j]), d.loEnd[j], far, far}
	if t := d.e.p.Tasks[j].Deadline; t != nil {
		w.hiEnd = *t
	}
	d.eachLag(j, m, func(lag Lag, other int, otherFinish, finish bool) {
		t := d.moment(other, otherFinish)
		if lag.To == j { // t + Min <= mine <= t + Max
			w.least(t+lag.Min, finish)
			if lag.Max != nil {
				w.most(t+*lag.Max, finish)
			}
			return
		}
		w.most(t-lag.Min, finish) // mine + Min <= t <= mine + Max
		if lag.Max != nil {
			w.least(t-*lag.Max, finish)
		}
	})
	return w
}

// eachLag calls f for every lag that binds between j in mode m and a task placed.
func (d *decoder) eachLag(j, m int, f func(lag Lag, other int, otherFinish, finish bool)) {
	for _, l := range d.e.lagsOf[j] {
		lag := d.e.p.Lags[l]
		fromFinish, toFinish := lag.Kind.sides()
		other, mine, theirs := lag.From, lag.ToModes, lag.FromModes
		otherFinish, finish := fromFinish, toFinish
		if lag.From == j {
			other, mine, theirs = lag.To, lag.FromModes, lag.ToModes
			otherFinish, finish = toFinish, fromFinish
		}
		if d.at[other] < 0 || mine != nil && !slices.Contains(mine, m) ||
			theirs != nil && !slices.Contains(theirs, d.mode[other]) {
			continue
		}
		f(lag, other, otherFinish, finish)
	}
}

// blame lists the placed tasks whose lags forbid j to lie from start to finish,
// and where they would have to be for it: the other sides of window.most.
func (d *decoder) blame(j, m, start, finish int) []blamed {
	var list []blamed
	d.eachLag(j, m, func(lag Lag, other int, otherFinish, isFinish bool) {
		mine := start
		if isFinish {
			mine = finish
		}
		theirs := d.moment(other, otherFinish)
		switch {
		case lag.To == j && lag.Max != nil && mine > theirs+*lag.Max:
			list = append(list, blamed{other, mine - *lag.Max, otherFinish})
		case lag.From == j && mine > theirs-lag.Min:
			list = append(list, blamed{other, mine + lag.Min, otherFinish})
		}
	})
	return list
}
