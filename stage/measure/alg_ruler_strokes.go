package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A ruler's strokes speak as the grid's lines do: where they show, nothing lies on it, and
// where they do not, something does.
const (
	strokeFrom   = 0.3 // mm from the ruler's edge, between which its strokes lie
	strokeTo     = 4.2
	strokesLeast = 40  // mm, of strokes that say what strokes look like
	hiddenLeast  = 3   // mm of them in a row that something across the ruler hides
	coverWell    = 0.7 // of the lesser width that is hidden at the edges
)

// readRuler fills in what a ruler's strokes say of every pixel near its edges, and of what
// lies between two stretches of them that are hidden; of the rest of its face nothing is
// said.
func (m ground) readRuler(p *rulerPrint, face []bool) {
	for i, on := range face {
		if on {
			m.looks.says[i] = 0
		}
	}
	said := make([][]says, len(p.rows))
	from := make([]float64, len(p.rows))
	for k := range p.rows {
		row := m.strokes(p, &p.rows[k])
		from[k], said[k] = row.from, saidBy(row.shown())
	}
	over := p.across(from, said)
	for i, on := range face {
		at, ok := m.looks.at(i)
		if !on || !ok {
			continue
		}
		q := p.own(at)
		for k := range p.rows {
			r := &p.rows[k]
			if d := (q.Y - r.edge) * r.inwards; d < 0 || d > strokeTo {
				continue
			}
			if n := int(math.Floor(r.number(q.X) - from[k])); n >= 0 && n < len(said[k]) {
				m.looks.says[i] |= said[k][n]
			}
		}
		if slices.ContainsFunc(over, func(c cover) bool { return c.holds(q) }) {
			m.looks.says[i] |= saysHidden
		}
	}
}

// saidBy is what each millimetre of a row of strokes says by how much of them it and its
// neighbours show.
func saidBy(shares []float64) []says {
	out := make([]says, len(shares))
	threefold := func(k int, is func(share float64) bool) bool {
		return is(shares[k]) && is(shares[k-1]) && is(shares[k+1])
	}
	for k := 1; k+1 < len(shares); k++ {
		switch {
		case threefold(k, func(s float64) bool { return s > leastShows && s < mostShows }):
			out[k] = saysMat
		case threefold(k, func(s float64) bool { return math.Abs(s) < hiddenShows }):
			out[k] = saysHidden
		}
	}
	return out
}

// cover is what of a ruler lies between two stretches of strokes, one on each of its
// edges, that are hidden: something lies across.
type cover struct{ lo, hi coveredRow }

type coveredRow struct{ y, from, to float64 }

// holds reports whether a place of the ruler lies well between: what lies across may be
// narrower there than at the edges.
func (c cover) holds(q r2.Vec) bool {
	t := (q.Y - c.lo.y) / (c.hi.y - c.lo.y)
	middle := (c.lo.from + c.lo.to + t*(c.hi.from+c.hi.to-c.lo.from-c.lo.to)) / 2
	wide := min(c.lo.to-c.lo.from, c.hi.to-c.hi.from)
	return t > 0 && t < 1 && math.Abs(q.X-middle) < coverWell*wide/2
}

// across are the covers of two rows of strokes.
func (p *rulerPrint) across(from []float64, said [][]says) (out []cover) {
	if len(p.rows) != 2 {
		return nil
	}
	hidden := func(k int) (out []coveredRow) {
		r := &p.rows[k]
		on := make([]bool, len(said[k])+hiddenLeast) // runs looks at a closed list
		for n, s := range said[k] {
			on[n] = s == saysHidden
		}
		for _, run := range runs(on, hiddenLeast-1) {
			if run.n >= hiddenLeast {
				a, b := r.x(from[k]+float64(run.from)), r.x(from[k]+float64(run.from+run.n))
				out = append(out, coveredRow{r.edge, min(a, b), max(a, b)})
			}
		}
		return out
	}
	wide := math.Abs(p.rows[0].edge - p.rows[1].edge)
	for _, a := range hidden(0) {
		for _, b := range hidden(1) {
			if math.Abs(a.from+a.to-b.from-b.to)/2 < wide {
				out = append(out, cover{a, b})
			}
		}
	}
	return out
}

// strokes are what is seen along a row of strokes from a number on: the logarithm of the
// light, at so many places across, over its mean along the millimetre about it; not a number
// beyond the picture.
type strokes struct {
	from          float64
	along, across int
	over          []float64
}

// How finely strokes are read, and in how many places from longer stroke to longer stroke.
const (
	strokeParts  = 8 // of a millimetre
	strokePhases = strokeParts * int(printEvery)
)

// strokes reads a row of strokes.
func (m ground) strokes(p *rulerPrint, r *strokeRow) strokes {
	first, last := r.strokes[0].number, r.strokes[len(r.strokes)-1].number
	from, to := math.Floor(min(first, last)), math.Ceil(max(first, last))
	s := strokes{from: from, along: int(to-from) * strokeParts, across: int((strokeTo - strokeFrom) / printAcross)}
	s.over = make([]float64, s.along*s.across)
	line := make([]float64, s.along+strokeParts)
	for j := range s.across {
		y := r.edge + r.inwards*(strokeFrom+printAcross*float64(j))
		for k := range line {
			number := from + (float64(k-strokeParts/2)+0.5)/strokeParts
			line[k] = m.lightOn(p.place(r.x(number), y))
		}
		for k := range s.along {
			mean := (line[k] + line[k+strokeParts]) / 2
			for d := 1; d < strokeParts; d++ {
				mean += line[k+d]
			}
			s.over[k*s.across+j] = line[k+strokeParts/2] - mean/strokeParts
		}
	}
	return s
}

// lightOn is the logarithm of the light that comes from a place of the mat, or what lies
// there; not a number beyond the picture.
func (m ground) lightOn(mm r2.Vec) float64 {
	px, ok := m.cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
	if !ok || px.X < 0 || px.Y < 0 || px.X > float64(m.photo.w-1) || px.Y > float64(m.photo.h-1) {
		return math.NaN()
	}
	c := m.photo.at(px.X, px.Y)
	return math.Log(c[0] + c[1] + c[2] + 3*lightFloor)
}

// phase is where between two longer strokes a place along lies.
func (s *strokes) phase(k int) int {
	return ((k+int(s.from)*strokeParts)%strokePhases + strokePhases) % strokePhases
}

// pattern is what strokes look like, by phase and place across: the median along the row.
func (s *strokes) pattern() []float64 {
	all := make([][]float64, strokePhases*s.across)
	for k := range s.along {
		for j := range s.across {
			if v := s.over[k*s.across+j]; !math.IsNaN(v) {
				f := s.phase(k)*s.across + j
				all[f] = append(all[f], v)
			}
		}
	}
	out := make([]float64, len(all))
	for f, v := range all {
		if len(v) > 0 {
			out[f] = median(v)
		}
	}
	return out
}

// shown is how much of what strokes look like each millimetre of the row shows; not a number
// where that is too little to tell.
func (s *strokes) shown() []float64 {
	if s.along < strokesLeast*strokeParts {
		return nil
	}
	pattern := s.pattern()
	out := make([]float64, s.along/strokeParts)
	for n := range out {
		with, all := 0.0, 0.0
		for k := n * strokeParts; k < (n+1)*strokeParts; k++ {
			for j := range s.across {
				w := pattern[s.phase(k)*s.across+j]
				with, all = with+w*s.over[k*s.across+j], all+w*w
			}
		}
		out[n] = with / all
		if math.Sqrt(all/float64(strokeParts*s.across)) < leastInk {
			out[n] = math.NaN()
		}
	}
	return out
}
