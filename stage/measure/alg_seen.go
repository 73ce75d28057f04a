package measure

// Seen is where the body's two sides are seen in the upright photograph, so that the
// outline can be shown on it.
type Seen struct {
	Width, Height int // pixels, upright
	Sides         [2][]SeenPoint
}

// SeenPoint is an edge point of a side, by station.
type SeenPoint struct {
	Station float64 // mm of the reference from the datum end, as the profile has it
	Px      [2]float64
}

// seenStep is how far apart, mm, edge points are handed on: as near as the profile's
// stations.
const seenStep = stationStep

// seen lists the edge points of both sides by station; those of places that are not
// the body's (fins, what is typed instead) too, for they are what the photograph shows.
func (o *solution) seen(v view, p *picture, flip bool, stretch float64) Seen {
	out := Seen{Width: p.w, Height: p.h}
	for side, spots := range split(o.axis, v.cam.C, v.edge, v.sight) {
		n := len(spots)
		for k := range spots {
			spot := spots[k]
			if flip { // from the datum end in either case
				spot = spots[n-1-k]
			}
			s := o.datum(spot.s, flip) * stretch
			points := out.Sides[side]
			if len(points) > 0 && s-points[len(points)-1].Station < seenStep {
				continue
			}
			at := v.edge[spot.i].at
			out.Sides[side] = append(points, SeenPoint{s, [2]float64{at.X, at.Y}})
		}
	}
	return out
}
