package measure

import (
	"context"
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/finding"
	"scalewright/unit"
)

// Where no mat lies in the photograph, one known length sets the scale. The camera is
// taken to look straight down, as nearly as a hand holds it, through the lens that the
// file speaks of (camera.FromLength); the table is then told from the object by its
// colour alone. What that leaves open is shared by all radii and the length, and so is
// carried like all that a camera leaves open.
const (
	// heightDoubt is that of the height of a known length over the table, mm: of a thing
	// that lies flat its thickness by a steel rule.
	heightDoubt = 0.5
	// axisRounds is how often a length at the axis' height is laid on the axis found.
	axisRounds = 4
	// lowest and highest, mm, a camera may stand by the known length: nearer none
	// focuses, farther none is held by hand.
	lowest, highest = 30.0, 20e3
	// pictureMargin, pixels, is left out along the photograph's border.
	pictureMargin = 4
)

// byLength measures a photograph whose scale one known length sets.
func (out Result) byLength(ctx context.Context, p *picture, in Input, list finding.List) (Result, finding.List, error) {
	fit, err := lengthFit(p, in, in.Known.HeightMM, heightDoubt)
	if err != nil {
		list.Add(knownLost(err, in))
		return out, list, nil
	}
	region := wholePicture(p)
	if len(in.Around) >= 3 {
		region = regionOf(&fit.Camera, in.Around, nil)
	}
	m, err := findGround(ctx, p, &fit.Camera, region, [2]float64{}) // no grid: no pitch
	if err != nil {
		return out, nil, err
	}
	m.brushes = in.Brushes
	objects := m.objects()
	sil, ok := silhouette{}, false
	if objects = m.wanted(objects); len(objects) > 0 {
		if sil, ok, err = m.silhouetteOf(ctx, objects[0]); err != nil {
			return out, nil, err
		}
	}
	out.lens(&fit)
	if !ok {
		return out, list, m.lostBecause(ctx, in, &list)
	}
	// How blurred it is does not show: on a plain table most edges are the object's limb.
	m.checkLight(sil.edge, in, &list)
	set := settingsOf(p, &fit, in)
	out.Contour = contourOf(sil.edge)
	guess := 0.4 * sil.width
	start := pose{a: sil.a, b: sil.b, ha: guess, hb: guess}
	v := view{&fit.Camera, sil.edge, sights(&fit.Camera, sil.edge)}
	var sol solution
	if in.Known.OnAxis {
		v, sol, ok = onAxis(p, in, sil.edge, start, set, &fit)
	} else {
		sol, ok = v.solve(start, set)
	}
	out.lens(&fit)
	turned := false
	if ok {
		if v, sol, turned, err = m.again(ctx, v, sol, set, sil.even); err != nil {
			return out, nil, err
		}
		sil.edge = v.edge
	}
	if !turned {
		list.Add(finding.New("silhouette-not-turned", in.PhotoAt, nil))
		return out, list, nil
	}
	out.Contour = v.traced(&sol)
	v.openEnds(&sol)
	v.checkEdge(&sol, set, in, &list)
	sol.checkFurther(in, &list)
	checkInside(p, &fit, nil, 0, sil.edge, in, &list)
	if err := out.fill(ctx, p, &fit, sil.edge, sol, set, in, &list); err != nil {
		return out, nil, err
	}
	sayKnown(&list, out.Trace.Length, in)
	out.Seen = sol.seen(v, p, set.flip, out.Length.Value/(sol.hi.s-sol.lo.s))
	out.Lost = list.Blocked()
	return out, list, nil
}

// lens notes the camera.
func (out *Result) lens(fit *camera.Fitted) {
	out.Scale = MatScale{By: ByLength, X: 1, Y: 1}
	out.Lens, out.Lies.Camera = fit.Camera, fit.Camera
	out.Camera = Camera{K1: fit.K1, K2: fit.K2, HeightMM: fit.Height(), TiltDeg: fit.Tilt() / deg}
}

// lengthFit is the camera by the known length, its height over the table told.
func lengthFit(p *picture, in Input, height, doubt float64) (camera.Fitted, error) {
	k := in.Known
	fit, err := camera.FromLength(camera.Length{
		From: r2.Vec{X: k.From[0], Y: k.From[1]}, To: r2.Vec{X: k.To[0], Y: k.To[1]},
		MM: k.Length.X, U: k.Length.U, Height: height, HeightDoubt: doubt,
	}, camera.Known{Width: p.w, Height: p.h, F35: p.f35})
	if err == nil && !(fit.Height() > lowest && fit.Height() < highest) {
		err = camera.ErrNoSolution
	}
	return fit, err
}

// onAxis puts a known length at the height of the axis found, in turns until the two
// agree; fit is the camera then.
func onAxis(p *picture, in Input, edge []edgePoint, start pose, set settings, fit *camera.Fitted) (v view, sol solution, ok bool) {
	for range axisRounds {
		v = view{&fit.Camera, edge, sights(&fit.Camera, edge)}
		if sol, ok = v.solve(start, set); !ok {
			return v, sol, false
		}
		middle := sol.axis.p.Z + (sol.lo.s+sol.hi.s)/2*sol.axis.u.Z
		again, err := lengthFit(p, in, middle, math.Hypot(sol.uHeight, heightDoubt))
		if err != nil {
			return v, sol, false
		}
		*fit = again
	}
	v = view{&fit.Camera, edge, sights(&fit.Camera, edge)}
	sol, ok = v.solve(start, set)
	return v, sol, ok
}

// wholePicture is the photograph within its margin.
func wholePicture(p *picture) []r2.Vec {
	const m = pictureMargin
	w, h := float64(p.w-1-m), float64(p.h-1-m)
	return []r2.Vec{{X: m, Y: m}, {X: w, Y: m}, {X: w, Y: h}, {X: m, Y: h}}
}

// sayKnown says what a scale by one known length leaves open.
func sayKnown(list *finding.List, length unit.Value, in Input) {
	if length.X <= 0 {
		return
	}
	list.Add(finding.New("scale-by-length", in.Known.At, finding.Args{
		"share": rounded(100*length.U/length.X, 1), "metre": finding.Size(1000 * length.U / length.X),
		"mat": finding.Size(1000 * camera.MatDoubt),
	}))
}

// knownLost says why no camera sees the known length.
func knownLost(err error, in Input) finding.Finding {
	code := finding.Code("known-length-none")
	if errors.Is(err, camera.ErrNoSolution) {
		code = "known-length-unseen"
	}
	return finding.New(code, in.Known.At, nil)
}
