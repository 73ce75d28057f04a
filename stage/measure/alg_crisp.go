package measure

import "math"

// A fit that settled on a wrong axis explains the rims of flanges by slants and rounded
// corners, each of which suits that axis, and none can be mended alone. So all that may be a
// step is made one at once, and the axis fitted with it.

// crisped makes every short slant and rounding that may be a step a face, with the axis fitted
// anew, and reports whether that is the shorter description.
func (f *fitting) crisped() bool {
	f.perParam = 0.5 * math.Log(float64(len(f.rays))/independent+1)
	g := *f
	g.form = f.crisp()
	g.home = g.form.clone()
	before := f.cost() + f.words()
	if !g.descend(descents, holdNone) || g.cost()+g.words() > before-leastGain {
		return false
	}
	*f = g
	return true
}

// crisp is the form with a face in place of every run of steep spans that climb, or fall, over
// no more of the axis than a step may be smeared over and half as much again; but not at its
// ends.
func (f *fitting) crisp() form {
	from := &f.form
	out := form{joints: []joint{from.joints[0]}}
	n := len(from.spans)
	for i := 0; i < n; {
		k := i + 1
		for up := from.joints[k].r > from.joints[i].r; k < n && from.steep(i) && from.steep(k) && (from.joints[k+1].r > from.joints[k].r) == up; {
			k++
		}
		a, b := from.joints[i], from.joints[k]
		if i == 0 || k == n || !from.steep(i) || b.s-a.s > crispReach*f.smeared(a, b) || math.Abs(b.r-a.r) < squareLeast {
			out.joints = append(out.joints, from.joints[i+1:k+1]...)
			out.spans = append(out.spans, from.spans[i:k]...)
			i = k
			continue
		}
		s := from.midway(i, k)
		if m := len(out.spans); out.spans[m-1].kind == faceSpan { // a peak: its rim lies between
			out.joints = append(out.joints, joint{s, a.r})
			out.spans = append(out.spans, span{})
		} else {
			out.joints[len(out.joints)-1].s = s
		}
		out.joints = append(out.joints, joint{s, b.r})
		out.spans = append(out.spans, span{kind: faceSpan})
		if from.spans[k].kind == faceSpan && b.s > s { // what comes next stays where it stands
			out.joints = append(out.joints, b)
			out.spans = append(out.spans, span{})
		}
		i = k
	}
	return out
}

// crispReach is how much longer a run of slants may be than what a step is smeared over.
const crispReach = 1.5

// steep reports whether a span climbs or falls by half of what it runs along, or more.
func (g *form) steep(i int) bool {
	a, b := g.joints[i], g.joints[i+1]
	return g.spans[i].kind == faceSpan || b.s-a.s < 2*math.Abs(b.r-a.r)
}

// midway is where between two joints the outline is half way up from one to the other.
func (g *form) midway(i, k int) float64 {
	half := (g.joints[i].r + g.joints[k].r) / 2
	for j := i; j < k; j++ {
		a, b := g.joints[j], g.joints[j+1]
		if (a.r-half)*(b.r-half) <= 0 && a.r != b.r {
			return a.s + (half-a.r)/(b.r-a.r)*(b.s-a.s)
		}
	}
	return (g.joints[i].s + g.joints[k].s) / 2
}
