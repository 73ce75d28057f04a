package model

// Between is the outline clipped to a stretch of stations. A step that stands
// just at an end belongs to the larger side, so that two neighbours share the
// face but not the material.
func (o Outline) Between(from, to float64) Outline {
	var out Outline
	for _, s := range o {
		if s.To.Station <= from || s.From.Station >= to {
			continue
		}
		out = append(out, s.clip(from, to))
	}
	return out
}

func (s Segment) clip(from, to float64) Segment {
	if s.From.Station < from {
		s.From = Point{from, s.radiusAt(from)}
	}
	if s.To.Station > to {
		s.To = Point{to, s.radiusAt(to)}
	}
	return s
}
