package measure

import (
	"context"
	"fmt"
	"math"

	"scalewright/craft/camera"
	"scalewright/craft/cores"
	"scalewright/unit"
)

// shared is one cause of error that all stations have in common, by what it
// would do to each if it were one standard deviation off.
type shared struct {
	name    string
	radius  []float64 // mm, by station of the profile
	length  float64   // mm
	marked  []spans   // of the marked features
	missing bool
}

// leastShared is the effect, mm, below which a cause is not worth naming.
const leastShared = 0.002

// sharedDoubts solves the photograph again with the camera displaced by one
// standard deviation along each independent direction of its covariance, then
// with the axis raised, then leaned. What comes out differently, station by
// station, is that cause's contribution (JCGM 100:2008, 5.1.3 note 2: numerical
// sensitivity), everything that hangs on it re-solved: a longer lens puts the
// camera higher, which changes parallax, slope and length together.
func sharedDoubts(ctx context.Context, fit *camera.Fitted, edge []edgePoint, sol solution, set settings, n int) ([]shared, error) {
	// All begin where the fit has come to rest: what still moves is no effect of a cause.
	base := solveAgain(&fit.Camera, edge, sol, 0, 0)
	sol = base.solution
	type variant struct {
		name        string
		cam         camera.Camera
		raise, lean float64
	}
	var all []variant
	for i, cam := range fit.Modes() {
		all = append(all, variant{fmt.Sprintf("photograph: camera %d", i+1), cam, 0, 0})
	}
	all = append(all, variant{"photograph: height of the axis", fit.Camera, sol.uHeight, 0},
		variant{"photograph: slope of the axis", fit.Camera, 0, sol.uSlope})
	out := make([]shared, len(all))
	err := cores.Rows(ctx, len(all), func(i int) {
		moved := solveAgain(&all[i].cam, edge, sol, all[i].raise, all[i].lean)
		out[i] = base.against(moved, all[i].name, set, n)
	})
	return out, err
}

// again is a solution and what its view was.
type again struct {
	view
	solution
	ok bool
}

// solveAgain fits the outline found to the edge again, seen by a displaced camera, or
// with the axis raised, mm, or leaned, rad.
func solveAgain(cam *camera.Camera, edge []edgePoint, sol solution, raise, lean float64) again {
	v := view{cam, edge, sights(cam, edge)}
	f := fitting{view: v, axis: sol.axis, form: sol.form.clone(), rests: sol.rests, slope: sol.pull, scale: sol.scale, again: true, believed: sol.believed}
	f.home = f.form.clone()
	f.look(v.unbelieved(&sol))
	held := holdNone
	if raise != 0 || lean != 0 {
		held = holdHeights
		g := f.frame()
		up := 1 / g.raised.Z
		lift := func(s float64) float64 { return up * (raise + lean*(s-sol.touch)) }
		f.axis = f.axis.moved(g, [4]float64{2: lift(g.from), 3: lift(g.to)})
	}
	out := again{v, sol, true}
	out.ok = f.descend(6, held)
	out.axis, out.form = f.axis, f.form
	n := len(f.form.joints)
	out.lo.s, out.hi.s = f.form.joints[0].s, f.form.joints[n-1].s
	return out
}

// against is what a displaced solution changes at n stations from the datum.
func (b again) against(m again, name string, set settings, n int) shared {
	out := shared{name: name, radius: make([]float64, n), marked: b.apart(m, set)}
	if !b.ok || !m.ok {
		out.missing = true
		return out
	}
	out.length = (m.hi.s - m.lo.s) - (b.hi.s - b.lo.s)
	for k := range n {
		s := stationStep * float64(k)
		out.radius[k] = m.solution.read(s, set.flip) - b.solution.read(s, set.flip)
	}
	return out
}

// read is the radius at a station from the datum end.
func (o *solution) read(s float64, flip bool) float64 {
	r, _ := o.form.at(max(o.lo.s, min(o.hi.s, o.own(s, flip))))
	return r
}

// sources lists the shared causes worth naming at station k.
func sources(all []shared, k int) (out []unit.Source) {
	for _, s := range all {
		if !s.missing && math.Abs(s.radius[k]) >= leastShared {
			out = append(out, unit.Source{Name: s.name, U: s.radius[k]})
		}
	}
	return out
}

func lengthSources(all []shared) (out []unit.Source) {
	for _, s := range all {
		if !s.missing && math.Abs(s.length) >= leastShared {
			out = append(out, unit.Source{Name: s.name, U: s.length})
		}
	}
	return out
}
