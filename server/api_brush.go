package server

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/limb"
	"scalewright/model"
)

func strokeOf(p limb.Pose, b model.DeclaredBrush, n, of int) Stroke {
	out := Stroke{Is: "mat", Wide: b.WidthMM, Px: [][2]float64{}, Drop: dropped("reference.brushes", n, of)}
	if b.In {
		out.Is = "object"
	}
	for _, at := range b.Path {
		if q, ok := p.OfMat(r2.Vec{X: at[0], Y: at[1]}); ok {
			out.Px = append(out.Px, px(q))
		}
	}
	return out
}

type paintIn struct {
	OnBuild
	Body Paint
}

// paint makes an edit of a stroke: its line on the mat, with no more points than its
// width asks for.
func paint(ctx context.Context, d *desk, in paintIn) (Painted, error) {
	s, ref, err := d.seenByHand(ctx)
	if err != nil {
		return Painted{}, err
	}
	var path []r2.Vec
	for _, q := range in.Body.Px {
		at, ok := s.result.Measured.Lies.OnMat(r2.Vec{X: q[0], Y: q[1]})
		if !ok {
			return Painted{}, badRequest("the camera is not known yet, so nobody can tell where that lies", "mark crossings of the mat first")
		}
		path = append(path, at)
	}
	path = thinned(path, in.Body.Wide)
	if len(path) > mostOfStroke {
		return Painted{}, badRequest("the stroke is too long for one", "paint it in several strokes")
	}
	var points []string
	for _, p := range path {
		points = append(points, fmt.Sprintf("[%.1f, %.1f]", p.X, p.Y))
	}
	text := fmt.Sprintf("{is: %s, wide_mm: %g, path: [%s]}", in.Body.Is, hundredth(in.Body.Wide), strings.Join(points, ", "))
	return Painted{
		Says:    fmt.Sprintf("a stroke of %s, %.1f mm wide", in.Body.Is, in.Body.Wide),
		Changes: appended("reference.brushes", len(ref.Brushes), text),
	}, nil
}

// mostOfStroke is how many points a stroke has at most: what one line of the build file
// holds.
const mostOfStroke = 110

// strokeShare is how far, of its width, a stroke's line may lie off the hand's.
const strokeShare = 0.05

// thinned leaves out the points of a line that lie within a share of its width of the
// line without them (Douglas and Peucker, The Canadian Cartographer 10 (1973) 112-122).
func thinned(path []r2.Vec, wide float64) []r2.Vec {
	if len(path) < 3 {
		return path
	}
	a, b := path[0], path[len(path)-1]
	worst, at := 0.0, 0
	for i, p := range path {
		if d := offLine(p, a, b); d > worst {
			worst, at = d, i
		}
	}
	if worst <= strokeShare*wide {
		return []r2.Vec{a, b}
	}
	first := thinned(path[:at+1], wide)
	return append(first[:len(first)-1:len(first)-1], thinned(path[at:], wide)...)
}

// offLine is how far a place lies from the line between two others.
func offLine(p, a, b r2.Vec) float64 {
	d := r2.Sub(b, a)
	t := 0.0
	if dd := r2.Dot(d, d); dd > 0 {
		t = min(max(r2.Dot(r2.Sub(p, a), d)/dd, 0), 1)
	}
	q := r2.Add(a, r2.Scale(t, d))
	return math.Hypot(p.X-q.X, p.Y-q.Y)
}
