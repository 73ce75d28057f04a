package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// silhouette is the object's edge and a first guess of its axis.
type silhouette struct {
	edge  []edgePoint
	a, b  r2.Vec  // image points near the two ends, a to the left
	width float64 // rough width across the axis, mm
}

// findSilhouette finds the object inside a region of the mat (pixels of the full
// picture) and its edge to a fraction of a pixel. ok is false where there is no
// object to be told from the mat.
func findSilhouette(ctx context.Context, p *picture, cam *camera.Camera, region []r2.Vec, pitch float64) (silhouette, bool, error) {
	r, err := reduce(ctx, p)
	if err != nil {
		return silhouette{}, false, err
	}
	in := r.inside(region)
	b := findBackground(r, in)
	scale := cam.F / cam.Height() / float64(r.n) // reduced pixels a millimetre
	thin := max(1, int(math.Ceil(thinLine*scale)))
	kinds, err := classify(ctx, b, in, otherColour)
	if err != nil {
		return silhouette{}, false, err
	}
	g, ok := findObject(kinds, in, r.w, r.h, thin, scale)
	if !ok {
		return silhouette{}, false, nil
	}
	if own := ownColour(b, g, thin); own > otherColour {
		if kinds, err = classify(ctx, b, in, own); err != nil {
			return silhouette{}, false, err
		}
		if g, ok = findObject(kinds, in, r.w, r.h, thin, scale); !ok {
			return silhouette{}, false, nil
		}
	}
	g = trimLines(r, g, cam, pitch)
	outline := trace(r, g)
	if outline == nil {
		return silhouette{}, false, nil
	}
	edge, err := refineEdge(ctx, p, b, outline)
	if err != nil {
		return silhouette{}, false, err
	}
	good := 0
	for _, e := range edge {
		if e.good {
			good++
		}
	}
	if good < 40 || 2*good < len(edge) {
		return silhouette{}, false, nil
	}
	s := silhouette{edge: edge}
	var sh shape
	var pixels []int
	for i, on := range g.on {
		if on {
			pixels = append(pixels, i)
		}
	}
	sh = shapeOf(blob{pixels: pixels}, g.w)
	sin, cos := math.Sincos(sh.angle)
	if cos < 0 {
		sin, cos = -sin, -cos
	}
	half := 0.45 * sh.long
	s.a = r.full(sh.cx-half*cos, sh.cy-half*sin)
	s.b = r.full(sh.cx+half*cos, sh.cy+half*sin)
	s.width = sh.short / scale
	return s, true, nil
}

// thinLine is how wide, mm, half a printed line or scratch is at most, its blur
// included.
const thinLine = 0.55

// regionOf is where the object is looked for: the polygon told, or the hull of
// the marks and a little beyond.
func regionOf(cam *camera.Camera, around [][2]float64, marks []camera.Mark) []r2.Vec {
	var mm []r2.Vec
	if len(around) >= 3 {
		for _, p := range around {
			mm = append(mm, r2.Vec{X: p[0], Y: p[1]})
		}
	} else {
		for _, m := range marks {
			mm = append(mm, m.Mm)
		}
		mm = hull(mm)
		var mean r2.Vec
		for _, p := range mm {
			mean = r2.Add(mean, p)
		}
		mean = r2.Scale(1/float64(len(mm)), mean)
		for i, p := range mm {
			mm[i] = r2.Add(mean, r2.Scale(1.03, r2.Sub(p, mean)))
		}
	}
	out := make([]r2.Vec, 0, len(mm))
	for _, p := range mm {
		if px, ok := cam.Project(r3.Vec{X: p.X, Y: p.Y}); ok {
			out = append(out, px)
		}
	}
	return out
}

// hull is the convex hull, anticlockwise (Andrew, Information Processing Letters
// 9 (1979) 216-219).
func hull(pts []r2.Vec) []r2.Vec {
	pts = slices.Clone(pts)
	slices.SortFunc(pts, func(p, q r2.Vec) int {
		switch {
		case p.X != q.X && p.X < q.X, p.X == q.X && p.Y < q.Y:
			return -1
		case p == q:
			return 0
		}
		return 1
	})
	var out []r2.Vec
	for range 2 {
		base := len(out)
		for _, p := range pts {
			for len(out) >= base+2 && r2.Cross(r2.Sub(out[len(out)-1], out[len(out)-2]), r2.Sub(p, out[len(out)-1])) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(pts)
	}
	return out
}
