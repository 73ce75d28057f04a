package sched

// This file places the phases of one task. All constraints inside a task are
// such that of two placements the earlier start of each phase, taken phase by
// phase, is again a placement (waits, gaps that must be free, ends that grow
// with starts). So there is one placement that is earliest in every phase at
// once, and raising starts only where something forbids the present ones finds
// it; no search is needed.

// open is the first place at or after t where the calendar lets the phase run,
// use by others aside.
func (ph *enginePhase) open(t int) (start, end int, ok bool) {
	switch {
	case ph.cal == nil || ph.minutes == 0:
		return t, t + ph.minutes, true
	case ph.work == Splittable:
		start, ok = ph.cal.Next(t)
		if !ok {
			return 0, 0, false
		}
		end, ok = ph.cal.Clock(ph.cal.Work(start) + ph.minutes)
		return start, end, ok
	}
	for i := ph.cal.after(t); i < len(ph.cal.open); i++ {
		start = max(t, ph.cal.open[i].Start)
		if start+ph.minutes <= ph.cal.open[i].End {
			return start, start + ph.minutes, true
		}
	}
	return 0, 0, false
}

// notBefore is a minute no later than any start with which the phase ends at or
// after end, so that a search may begin there.
func (ph *enginePhase) notBefore(end int) int {
	if ph.cal == nil || ph.work != Splittable || ph.minutes == 0 {
		return end - ph.minutes
	}
	// Ends too early exactly when the work is done before the last minute: start
	// at the first minute with enough work behind it that it is not.
	t, ok := ph.cal.Clock(ph.cal.Work(end-1) - ph.minutes + 1)
	if !ok {
		return end
	}
	return t
}

// segments calls f for each stretch worked from start to end until f says no.
func (ph *enginePhase) segments(start, end int, f func(a, b int) bool) {
	if ph.minutes == 0 {
		return
	}
	if ph.cal == nil || ph.work != Splittable {
		f(start, end)
		return
	}
	for i := ph.cal.after(start); i < len(ph.cal.open) && ph.cal.open[i].Start < end; i++ {
		if !f(max(start, ph.cal.open[i].Start), min(end, ph.cal.open[i].End)) {
			return
		}
	}
}

// place is the first start at or after lo, with the end at or after loEnd, at
// which calendar and resources let the phase run; ok is false beyond horizon.
func (e *engine) place(use []profile, ph *enginePhase, lo, loEnd int) (start, end int, ok bool) {
	if loEnd > lo {
		lo = max(lo, ph.notBefore(loEnd))
	}
	for {
		start, end, ok = ph.open(lo)
		if !ok || end > e.horizon {
			return 0, 0, false
		}
		if lo = e.blockedUntil(use, ph, start, end); lo <= start {
			return start, end, true
		}
	}
}

// blockedUntil is the minute before which the phase, now at start, cannot start
// for want of a resource; start or less where nothing is in the way.
func (e *engine) blockedUntil(use []profile, ph *enginePhase, start, end int) int {
	for _, d := range ph.demands {
		room := e.p.Resources[d.Resource].Capacity - d.Units
		if d.Keep || ph.work != Splittable || ph.cal == nil {
			if until, over := use[d.Resource].lastOver(start, end, room); over {
				return until
			}
			continue
		}
		until := start
		ph.segments(start, end, func(a, b int) bool {
			if u, over := use[d.Resource].lastOver(a, b, room); over {
				until = max(until, u)
			}
			return true
		})
		if until > start {
			return until
		}
	}
	return start
}

// room is scratch space for fit: one value each phase.
type room struct {
	start, end, lo, loEnd []int
}

func (s *room) reset(n int) {
	if cap(s.start) < n {
		s.start, s.end, s.lo, s.loEnd = make([]int, n), make([]int, n), make([]int, n), make([]int, n)
	}
	s.start, s.end, s.lo, s.loEnd = s.start[:n], s.end[:n], s.lo[:n], s.loEnd[:n]
	for k := range n {
		s.lo[k], s.loEnd[k] = 0, 0
	}
}

// fit finds the placement of a mode that is earliest in every phase, starting at
// or after lo and finishing at or after loEnd, and leaves it in s.start, s.end.
// It is false where there is none by the horizon.
func (e *engine) fit(use []profile, m *engineMode, lo, loEnd int, s *room) bool {
	n := len(m.phases)
	s.reset(n)
	s.lo[0] = lo
	s.loEnd[n-1] = loEnd
	for k := 0; k < n; {
		if k > 0 {
			s.lo[k] = max(s.lo[k], s.end[k-1])
		}
		var ok bool
		if s.start[k], s.end[k], ok = e.place(use, &m.phases[k], s.lo[k], s.loEnd[k]); !ok {
			return false
		}
		// What this start asks of the phase before: a wait not too long, and what
		// it keeps free of others until now.
		if k > 0 {
			need := s.end[k-1]
			if w := m.phases[k].wait; s.start[k]-need > w {
				need = s.start[k] - w
			}
			for _, d := range m.phases[k-1].demands {
				if !d.Keep {
					continue
				}
				free := e.p.Resources[d.Resource].Capacity - d.Units
				if until, over := use[d.Resource].lastOver(s.end[k-1], s.start[k], free); over {
					// Past what is in the way, or up to this start: no gap, no use.
					need = max(need, min(until, s.start[k]))
				}
			}
			if need > s.end[k-1] {
				// Start k cannot become earlier when the phase before ends later.
				s.lo[k] = s.start[k]
				k--
				s.lo[k], s.loEnd[k] = s.start[k], need
				continue
			}
		}
		k++
	}
	return true
}

// reserve takes what a placement needs from the profiles, or with sign -1 gives
// it back.
func (e *engine) reserve(use []profile, m *engineMode, start, end []int, sign int) {
	for k := range m.phases {
		ph := &m.phases[k]
		for _, d := range ph.demands {
			if d.Keep {
				use[d.Resource].add(start[k], start[k+1], sign*d.Units)
				continue
			}
			ph.segments(start[k], end[k], func(a, b int) bool {
				use[d.Resource].add(a, b, sign*d.Units)
				return true
			})
		}
	}
}

// placement writes starts and ends out as a Placement.
func (e *engine) placement(task, mode int, start, end []int) Placement {
	m := &e.modes[task][mode]
	pl := Placement{Mode: mode, Phases: make([]Span, len(m.phases))}
	for k := range m.phases {
		span := Span{Start: start[k], End: end[k]}
		m.phases[k].segments(start[k], end[k], func(a, b int) bool {
			span.Work = append(span.Work, Interval{a, b})
			return true
		})
		pl.Phases[k] = span
	}
	return pl
}
