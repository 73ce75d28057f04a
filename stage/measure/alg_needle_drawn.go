package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/limb"
)

// needled is a solution with its needles as long as what lies between their sides says, and
// its outline drawn so.
func (m ground) needled(v view, o *solution, pts []r2.Vec) []r2.Vec {
	for _, last := range [2]bool{false, true} {
		n, ok := o.form.needleOf(last)
		if !ok {
			continue
		}
		s, elsewhere := m.needleEnd(v, o, &n)
		if !elsewhere {
			continue
		}
		next := pointed(v, o, &n, s, pts)
		if next == nil {
			continue
		}
		pts = next
		tip := joint{s, max(n.radius(s), leastRadius)}
		g := o.form.clone()
		if last {
			g.joints, g.spans = append(g.joints[:n.span+1], tip), g.spans[:n.span+1]
			o.hi.s = s
		} else {
			g.joints, g.spans = append([]joint{tip}, g.joints[n.span+1:]...), g.spans[n.span:]
			o.lo.s = s
		}
		o.form = g
	}
	return pts
}

// pointed is an outline drawn along a needle's sides to a station and round its end; none
// where that is no one stretch of it.
func pointed(v view, o *solution, n *needle, s float64, pts []r2.Vec) []r2.Vec {
	pose := limb.Pose{Camera: *v.cam, Origin: o.axis.p, Along: o.axis.u, Stretch: 1}
	psi := -n.in * math.Atan(n.slope)
	from := max((n.end.s-n.root.s)*-n.in, 0)
	from = min(from, (n.root.s-s)*n.in) - needleKeep // mm outside the root
	if from < needleKeep {
		return nil
	}
	beyond := make([]bool, len(pts))
	for i, at := range pts {
		g := v.grazeAt(o, at)
		beyond[i] = g.ok && (n.root.s-g.at.s)*n.in > from
	}
	gone := runs(beyond, 3)
	if len(gone) != 1 {
		return nil
	}
	var sides [2][]r2.Vec
	mm := mmPerPixel(v, o.axis)
	for d := from; d < (n.root.s-s)*n.in; d += mm {
		at := n.root.s - n.in*d
		for k, side := range [2]limb.Side{limb.Left, limb.Right} {
			if px, ok := pose.Edge(at, max(n.radius(at), leastRadius), psi, side); ok {
				sides[k] = append(sides[k], px)
			}
		}
	}
	if len(sides[0]) == 0 || len(sides[1]) == 0 {
		return nil
	}
	r := gone[0]
	before := pts[(r.from+len(pts)-1)%len(pts)]
	if r2.Norm(r2.Sub(before, sides[0][0])) > r2.Norm(r2.Sub(before, sides[1][0])) {
		sides[0], sides[1] = sides[1], sides[0]
	}
	slices.Reverse(sides[1])
	out := slices.Concat(sides[0], sides[1])
	for k := r.n; k < len(pts); k++ {
		out = append(out, pts[(r.from+k)%len(pts)])
	}
	return resample(out, 1)
}

// grazeAt is where the ray of a pixel comes nearest to a solution's form.
func (v view) grazeAt(o *solution, px r2.Vec) graze {
	p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, v.cam.Ray(px))
	return touches(o.form.parts(), &p, o.form.most())
}
