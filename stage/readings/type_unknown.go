package readings

import (
	"fmt"
	"math"
	"slices"

	"scalewright/model"
)

// unknowns are what may be off, each one standard deviation wide, and what each
// does to every radius and station of the trace.
type unknowns struct {
	trace  model.Trace
	names  []string
	radius [][]float64 // mm by point of the profile and unknown
	own    []float64   // noise of each point that no unknown accounts for, mm
	length []float64   // mm, by unknown: the causes that the whole length has
	faces  []face
	sorts  []sort // of the outline's segments
	near   int    // unknown: the datum end
}

// sort is what is known of a segment besides its shape.
type sort struct {
	step   bool // a face square to the axis
	column int  // unknown of its own: out along the radius
	u      float64
}

// face is a place where a jaw or a rod can rest: an end, or a step.
type face struct {
	station float64
	column  int // unknown of its own; -1 at the datum end
	u       float64
	rises   bool // the radius grows across it, going away from the datum
	end     bool
}

const (
	// Neighbouring stations of a photograph share edge points: some three carry the
	// news of one (measure's own figure).
	independent = 3.0
	// Readings of a profile blend both sides of a corner so near to it, mm.
	blend = 0.75
)

func newUnknowns(t model.Trace, freed bool) *unknowns {
	u := &unknowns{trace: t}
	for _, p := range t.Profile {
		for _, s := range p.Radius.Sources {
			u.names = append(u.names, s.Name)
		}
	}
	for _, s := range t.Length.Sources {
		u.names = append(u.names, s.Name)
	}
	slices.Sort(u.names)
	u.names = slices.Compact(u.names)
	if freed {
		u.names = append(u.names, scaleName)
	}
	causes := len(u.names)
	u.near = u.add("outline: datum end")
	u.place()
	u.length = make([]float64, len(u.names))
	for _, s := range t.Length.Sources {
		u.length[slices.Index(u.names[:causes], s.Name)] = s.U
	}
	for _, p := range t.Profile {
		row := make([]float64, len(u.names))
		for _, s := range p.Radius.Sources {
			row[slices.Index(u.names[:causes], s.Name)] = s.U
		}
		own := p.Radius.Independent()
		if i := u.segmentAt(p.Station); i >= 0 {
			s := &u.sorts[i]
			row[s.column] = min(s.u, own)
			own = math.Sqrt(max(0, own*own-row[s.column]*row[s.column]))
		}
		if freed {
			row[causes-1] = scaleFree * p.Radius.X
		}
		u.radius, u.own = append(u.radius, row), append(u.own, own)
	}
	if freed {
		u.length[causes-1] = scaleFree * t.Length.X
	}
	return u
}

func (u *unknowns) add(name string) int {
	u.names = append(u.names, name)
	return len(u.names) - 1
}

// place gives each segment and each face an unknown of its own.
func (u *unknowns) place() {
	o := u.trace.Outline
	endU := u.trace.Length.Independent() / math.Sqrt2 // the two ends are alike in doubt
	u.faces = append(u.faces, face{station: o.Start(), column: -1, u: endU, end: true, rises: true})
	for i, s := range o {
		if s.From.Station == s.To.Station {
			c := u.add(fmt.Sprintf("outline: face %d", i+1))
			u.sorts = append(u.sorts, sort{step: true, column: c})
			u.faces = append(u.faces, face{station: s.To.Station, column: c, u: u.faceDoubt(s.To.Station), rises: s.To.Radius > s.From.Radius})
			continue
		}
		u.sorts = append(u.sorts, sort{column: u.add(fmt.Sprintf("outline: segment %d", i+1)), u: u.segmentDoubt(s)})
	}
	u.faces = append(u.faces, face{station: o.End(), column: u.add("outline: far end"), u: endU, end: true})
}

// segmentDoubt is how far a segment may lie off by itself: of one that was seen, the
// mean of its readings; of one that was typed, what was said of it.
func (u *unknowns) segmentDoubt(s model.Segment) float64 {
	var own []float64
	seen := false
	from, to := inner(s)
	for _, p := range u.trace.Profile {
		if from <= p.Station && p.Station <= to {
			own = append(own, p.Radius.Independent())
			seen = seen || len(p.Radius.Sources) > 0
		}
	}
	if len(own) == 0 {
		return u.trace.Profile[u.nearest((from+to)/2)].Radius.Independent()
	}
	slices.Sort(own)
	middle := own[len(own)/2]
	if seen {
		middle *= math.Sqrt(min(1, independent/float64(len(own))))
	}
	return middle
}

// faceDoubt is how far a step may lie off: it was drawn between two stations of the
// profile, anywhere (a rectangle: JCGM 100:2008, 4.3.7); a typed one as typed.
func (u *unknowns) faceDoubt(station float64) float64 {
	k := u.nearest(station)
	p := u.trace.Profile
	if len(p[k].Radius.Sources) == 0 {
		return p[k].Radius.U
	}
	gap := math.Abs(p[min(k+1, len(p)-1)].Station-p[max(k-1, 0)].Station) / 2
	return gap / math.Sqrt(12)
}

// inner is the stretch of a segment away from its corners.
func inner(s model.Segment) (from, to float64) {
	from, to = s.From.Station+blend, s.To.Station-blend
	if from > to {
		from = (s.From.Station + s.To.Station) / 2
		to = from
	}
	return from, to
}

// nearest is the point of the profile nearest to a station.
func (u *unknowns) nearest(station float64) int {
	best := 0
	for k, p := range u.trace.Profile {
		if math.Abs(p.Station-station) < math.Abs(u.trace.Profile[best].Station-station) {
			best = k
		}
	}
	return best
}

// segmentAt is the segment, no step, over a station; -1 off the outline.
func (u *unknowns) segmentAt(station float64) int {
	for i, s := range u.trace.Outline {
		if !u.sorts[i].step && s.From.Station <= station && station <= s.To.Station {
			return i
		}
	}
	return -1
}

// radiusAt is what each unknown does to the radius of a segment at a station: the
// mean over a few stations about it, clear of the corners.
func (u *unknowns) radiusAt(segment int, station float64) []float64 {
	const about = 2.0 // mm
	s := u.trace.Outline[segment]
	from, to := inner(s)
	at := min(max(station, from), to)
	out := make([]float64, len(u.names))
	n := 0.0
	for k, p := range u.trace.Profile {
		if math.Abs(p.Station-at) <= about && from <= p.Station && p.Station <= to {
			for j, x := range u.radius[k] {
				out[j] += x
			}
			n++
		}
	}
	if n == 0 {
		copy(out, u.radius[u.nearest(at)])
		n = 1
	}
	for j := range out {
		out[j] /= n
	}
	for _, other := range u.sorts {
		out[other.column] = 0
	}
	out[u.sorts[segment].column] = u.sorts[segment].u
	return out
}

// stationOf is what each unknown does to the station of a face.
func (u *unknowns) stationOf(f face) []float64 {
	out := make([]float64, len(u.names))
	if f.column < 0 {
		return out
	}
	start := u.trace.Outline.Start()
	share := (f.station - start) / (u.trace.Outline.End() - start)
	for j, x := range u.length {
		out[j] = share * x
	}
	out[u.near] += u.faces[0].u
	out[f.column] += f.u
	return out
}

const (
	// scaleName is the unknown of a photograph whose scale is wrong by more than its
	// marks admit, and scaleFree how wide it is then, as a share: a mat printed to fit
	// the page is off by so much (common practice; a guess until logged).
	scaleName = "photograph: scale"
	scaleFree = 0.05
)
