package measure

import "math"

// guide says, for each point of an outline, how far outside it the edge lies by the ends
// of the lines about it.
type guide []guided

type guided struct {
	off   float64
	told  bool
	stays bool // nothing is told: the outline lies well there
}

func (g guide) at(i int) guided {
	if g == nil {
		return guided{}
	}
	q := g[i]
	q.stays = !q.told
	return q
}

// near reports whether the edge is told to lie near the outline.
func (g guided) near() bool { return g.told && mayBe(g.off) }

// cost is what a place so far outside the outline costs.
func (g guided) cost(t float64) float64 {
	if g.stays {
		return pathStay*math.Abs(t) + max(0, math.Abs(t)-stayMost)
	}
	if !g.told {
		return pathStay * math.Abs(t)
	}
	return pathGuide * (t - g.off) * (t - g.off)
}

// How the ends of lines guide an edge between them.
const (
	pathGuide   = 0.1  // for each square pixel off
	stayMost    = 2.0  // pixels, from where on one costs as much as a plain place, between guides
	guideFar    = 25.0 // mm from one to the next, or
	guideSteps  = 1.15 // of the grid's, if that is more
	guideBeyond = 4.0  // mm beyond the last
	guidedReach = 10.0 // pixels, beyond where it lies by the ends of lines
	endsAgree   = 1.2  // pixels
	endStray    = 2.5
)

// guideMost is how far apart, pixels, two ends may lie that guide the edge between them.
func (m ground) guideMost() float64 {
	return max(guideFar, guideSteps*max(m.pitch[0], m.pitch[1])) * m.perMM()
}

// between is the guide that ends of lines give along an outline of n points.
func (m ground) between(ends []lineEnd, n int) guide {
	g := make(guide, n)
	for k, a := range ends {
		b := ends[(k+1)%len(ends)]
		gap := (b.i - a.i + n) % n
		if len(ends) == 1 || gap == 0 {
			gap = n
		}
		if float64(gap) <= m.guideMost() {
			for d := range gap + 1 {
				t := float64(d) / float64(gap)
				g[(a.i+d)%n] = guided{off: a.off + t*(b.off-a.off), told: true}
			}
			continue
		}
		beyond := int(guideBeyond * m.perMM())
		for d := range min(beyond, gap/2) + 1 {
			g[(a.i+d)%n] = guided{off: a.off, told: true}
			g[(b.i-d+n)%n] = guided{off: b.off, told: true}
		}
	}
	return g
}

// agreed leaves out what both neighbours contradict, and of two in one place the less
// sure.
func agreed(ends []lineEnd) (out []lineEnd) {
	for k, e := range ends {
		a, b := ends[(k+len(ends)-1)%len(ends)], ends[(k+1)%len(ends)]
		if math.Abs(a.off-b.off) < endsAgree && math.Abs(e.off-a.off) > endStray && math.Abs(e.off-b.off) > endStray {
			continue
		}
		if len(out) > 0 && out[len(out)-1].i == e.i {
			if e.sigma < out[len(out)-1].sigma {
				out[len(out)-1] = e
			}
			continue
		}
		out = append(out, e)
	}
	return out
}
