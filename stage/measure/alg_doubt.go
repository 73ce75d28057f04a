package measure

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"

	"scalewright/craft/camera"
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
func sharedDoubts(ctx context.Context, p *picture, fit *camera.Fitted, edge []edgePoint, sol solution, set settings, n int) ([]shared, error) {
	base := solveAgain(p, &fit.Camera, edge, sol, set)
	type variant struct {
		name string
		cam  camera.Camera
		set  settings
	}
	var all []variant
	for i, cam := range fit.Modes() {
		all = append(all, variant{fmt.Sprintf("photograph: camera %d", i+1), cam, set})
	}
	raised, leaning := set, set
	raised.raise, leaning.lean = sol.uHeight, sol.uSlope
	all = append(all, variant{"photograph: height of the axis", fit.Camera, raised},
		variant{"photograph: slope of the axis", fit.Camera, leaning})
	out := make([]shared, len(all))
	var wg sync.WaitGroup
	bands := runtime.GOMAXPROCS(0)
	for b := range bands {
		wg.Go(func() {
			for i := b; i < len(all) && ctx.Err() == nil; i += bands {
				moved := solveAgain(p, &all[i].cam, edge, sol, all[i].set)
				out[i] = base.against(moved, all[i].name, set, n)
			}
		})
	}
	wg.Wait()
	return out, ctx.Err()
}

// again is a solution and what its view was.
type again struct {
	view
	solution
	ok bool
}

func solveAgain(p *picture, cam *camera.Camera, edge []edgePoint, sol solution, set settings) again {
	v := view{cam, edge, sights(cam, edge)}
	set.rounds, set.photo = 2, p
	// A displaced camera must not turn a rim into a tip: that would be another
	// body, not a displaced one.
	set.rims = &[2]bool{sol.lo.rim, sol.hi.rim}
	start := sol.pose
	s, ok := v.solve(start, set)
	return again{v, s, ok}
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
		x, ok1 := b.solution.read(s, set.flip)
		y, ok2 := m.solution.read(s, set.flip)
		if ok1 && ok2 {
			out.radius[k] = y - x
		} else if k > 0 {
			out.radius[k] = out.radius[k-1] // where one of them sees nothing, as its neighbour
		}
	}
	return out
}

// read is the radius at a station from the datum end, between the profile's own.
func (o *solution) read(s float64, flip bool) (float64, bool) {
	x := (o.own(s, flip) - o.prof[0].s) / stationStep
	k := int(math.Floor(x))
	if k < 0 || k+1 >= len(o.prof) || o.prof[k].seen == notSeen || o.prof[k+1].seen == notSeen {
		return 0, false
	}
	t := x - float64(k)
	return o.prof[k].r + t*(o.prof[k+1].r-o.prof[k].r), true
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
