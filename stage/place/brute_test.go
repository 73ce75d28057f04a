package place_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/place"
	"scalewright/unit"
)

// corners of a box against the wall in the cross-section, its outer corners 2 mm off
// a wall of a radius.
func section(wall, clocking, round, deep float64) []solid.Vec {
	out := math.Sqrt((wall-2)*(wall-2) - round*round/4)
	sin, cos := math.Sincos(clocking)
	var all []solid.Vec
	for _, p := range [...][2]float64{{out - deep, -round / 2}, {out, -round / 2}, {out, round / 2}, {out - deep, round / 2}} {
		all = append(all, solid.Vec{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos, 0})
	}
	return all
}

// clipped is the area of what two convex polygons share: one cut by each edge of the
// other (Sutherland and Hodgman, Reentrant polygon clipping, CACM 17, 1974).
func clipped(p, q []solid.Vec) float64 {
	for i := range q {
		a, b := q[i], q[(i+1)%len(q)]
		side := func(v solid.Vec) float64 { return (b[0]-a[0])*(v[1]-a[1]) - (b[1]-a[1])*(v[0]-a[0]) }
		var next []solid.Vec
		for k := range p {
			u, v := p[k], p[(k+1)%len(p)]
			if side(u) >= 0 {
				next = append(next, u)
			}
			if side(u)*side(v) < 0 {
				next = append(next, u.Add(v.Sub(u).Scale(side(u)/(side(u)-side(v)))))
			}
		}
		p = next
	}
	area := 0.0
	for k := range p {
		u, v := p[k], p[(k+1)%len(p)]
		area += (u[0]*v[1] - v[0]*u[1]) / 2
	}
	return area
}

// Where place finds no room, ten thousand places thrown anyhow against the wall, in
// all six positions, find none either; by the plane, not by axes.
func TestNoRoomIsNoRoom(t *testing.T) {
	refused := 0
	rapid.Check(t, func(t *rapid.T) {
		wall := float64(rapid.IntRange(50, 75).Draw(t, "wall"))
		long := float64(rapid.IntRange(30, 80).Draw(t, "long"))
		in := drum()
		line := []model.Point{{Station: 0, Radius: wall}, {Station: long, Radius: wall}}
		in.Raw[0].FootDown, in.Raw[0].NoseDown = line, line
		in.Division.Seats, in.Division.Pieces[0].Span.To = nil, unit.Length(long)
		in.Design.Parts[0].Span.To, in.Design.Core.Span.To = unit.Length(long), unit.Length(long)
		for i := range rapid.IntRange(3, 8).Draw(t, "components") {
			c := component(fmt.Sprint("c", i), "sound-player")
			c.Kind.Plug = 0
			for k := range c.Kind.Size {
				c.Kind.Size[k] = unit.Length(rapid.IntRange(10, 50).Draw(t, "size"))
			}
			in.Design.Components = append(in.Design.Components, c)
		}
		p, found, err := place.Run(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			if f.Code != "no-room" {
				continue
			}
			refused++
			thrown(t, in, p, fmt.Sprint(f.Args["component"]), wall, long)
		}
	})
	if refused == 0 {
		t.Error("room for everything: nothing was tried")
	}
}

// thrown looks for room by chance, and fails where it finds any.
func thrown(t *rapid.T, in place.Input, p model.Places, id string, wall, long float64) {
	const off = 2.0 // kept off everything
	widest := float64(in.Design.Core.Stock.Widest()) / 2
	var size [3]float64
	for _, c := range in.Design.Components {
		for k := range size {
			if c.ID == id {
				size[k] = float64(c.Kind.Size[k]) + 2
			}
		}
	}
	// Larger ones were put in before it and were in its way.
	bulk := (size[0] - 2) * (size[1] - 2) * (size[2] - 2)
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 10000 {
		o := rnd.Perm(3)
		along, round, deep := size[o[0]], size[o[1]], size[o[2]]
		z := off + along/2 + rnd.Float64()*(long-2*off-along)
		if along > long-2*off || round/2 >= wall-off || math.Sqrt((wall-off)*(wall-off)-round*round/4)-deep < widest+off {
			continue
		}
		turn := rnd.Float64() * 2 * math.Pi
		mine, free := section(wall, turn, round, deep), true
		for _, b := range p.Bays {
			if float64((b.Size[0]-2)*(b.Size[1]-2)*(b.Size[2]-2)) < bulk-1e-6 {
				continue
			}
			var other [3]float64 // along, round, deep
			x, y := float64(b.Centre[0]), float64(b.Centre[1])
			for k, axis := range b.Axes {
				switch {
				case math.Abs(axis[2]) > 0.5:
					other[0] = float64(b.Size[k])
				case math.Abs(axis[0]*x+axis[1]*y) > math.Hypot(x, y)/2:
					other[2] = float64(b.Size[k])
				default:
					other[1] = float64(b.Size[k])
				}
			}
			if math.Abs(z-float64(b.Centre[2])) < (along+other[0])/2 && clipped(mine, section(wall, math.Atan2(y, x), other[1], other[2])) > 1e-6 {
				free = false
			}
		}
		if free {
			t.Fatalf("%s, %v, has room at %v and %v rad; bays %+v", id, size, z, turn, p.Bays)
		}
	}
}
