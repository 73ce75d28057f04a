package server

import (
	"fmt"
	"sync"

	"scalewright/lane"
	"scalewright/unit"
)

// readingsKept are the readings of a result, found once for each way of asking.
type readingsKept struct {
	mu sync.Mutex
	by map[string]LaneReadings
}

// readingsIn is what the lanes read along the whole build, station by station. Where
// nothing changes from one station to the next nothing is repeated.
func (s *shown) readingsIn(u unit.System, step float64) LaneReadings {
	key := fmt.Sprint(u, step)
	s.readings.mu.Lock()
	defer s.readings.mu.Unlock()
	if kept, ok := s.readings.by[key]; ok {
		return kept
	}
	p := s.prepared()
	span := p.Span
	for float64(span.Length())/step > mostReadings {
		step *= 2
	}
	out := LaneReadings{Step: step, Axis: []Reading{}, Lanes: []LaneReadList{}}
	for _, at := range [...]unit.Length{span.From, span.To} {
		r := Reading{From: hundredth(float64(at)), Here: u.Whole(at)}
		if ratio := s.result.Enlarge.Ratio; ratio > 0 {
			r.Reference = u.Tenth(unit.Length(float64(at) / ratio))
		}
		out.Axis = append(out.Axis, r)
	}
	v := lane.View{Span: span, Width: lane.WidthAt(span, 1), System: u, HasPlumb: true}
	for _, l := range lane.All() {
		list := LaneReadList{ID: l.ID, Readings: []Reading{}}
		for n := 0; ; n++ {
			v.Plumb = span.From + unit.Length(float64(n)*step)
			if v.Plumb > span.To {
				break
			}
			read := l.Read(p, v)
			if k := len(list.Readings); k > 0 && list.Readings[k-1].Here == read.Here && list.Readings[k-1].Reference == read.Reference {
				continue
			}
			list.Readings = append(list.Readings, Reading{hundredth(float64(v.Plumb)), read.Here, read.Reference})
		}
		out.Lanes = append(out.Lanes, list)
	}
	if s.readings.by == nil {
		s.readings.by = map[string]LaneReadings{}
	}
	s.readings.by[key] = out
	return out
}

// mostReadings a lane is read at.
const mostReadings = 4000
