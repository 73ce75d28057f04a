package place

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// anyBay is a box turned anyhow, or now and then a ring about the axis.
func anyBay(t *rapid.T, name string, ring bool) model.Bay {
	length := func(what string, low, high int) unit.Length {
		return unit.Length(rapid.IntRange(low, high).Draw(t, name+" "+what))
	}
	b := model.Bay{Component: name, Axes: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
	for k := range 3 {
		b.Size[k] = length("size", 1, 30)
	}
	if ring {
		b.Wound = length("radius", 10, 30)
		b.Size[0] = min(b.Size[0], b.Wound-1)
		b.Centre[2] = length("centre", -20, 20)
		return b
	}
	for k := range 3 {
		b.Centre[k] = length("centre", -30, 30)
		axis := k
		turn := float64(rapid.IntRange(0, 359).Draw(t, name+" turn")) * math.Pi / 180
		sin, cos := math.Sincos(turn)
		for i := range b.Axes {
			v := b.Axes[i]
			p, q := (axis+1)%3, (axis+2)%3
			b.Axes[i][p], b.Axes[i][q] = cos*v[p]-sin*v[q], sin*v[p]+cos*v[q]
		}
	}
	return b
}

func meshOf(t *rapid.T, b model.Bay, flats int, share float64) solid.Mesh {
	if b.Wound > 0 {
		m, err := solid.Tube(solid.TubeSize{
			Outer: float64(b.Wound) * share, Bore: float64(b.Wound - b.Size[0]), Segments: flats,
			Low: float64(b.Centre[2] - b.Size[2]/2), High: float64(b.Centre[2] + b.Size[2]/2),
		})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	half := solid.Vec{float64(b.Size[0]) / 2, float64(b.Size[1]) / 2, float64(b.Size[2]) / 2}
	m, err := solid.Box(half.Scale(-1), half)
	if err != nil {
		t.Fatal(err)
	}
	place := solid.Transform{T: middle(b)}
	for i := range 3 {
		for k := range 3 {
			place.M[i][k] = b.Axes[k][i]
		}
	}
	return m.Transform(place)
}

// Two boxes are apart exactly where the kernel, which knows nothing of axes, finds
// that they share no room; a box and a ring only if it finds so.
func TestApartIsWhatTheKernelFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := rapid.Bool().Draw(t, "ring")
		a, b := anyBay(t, "a", ring), anyBay(t, "b", false)
		both, err := solid.Kernel{}.Intersect(context.Background(), meshOf(t, a, 64, 1), meshOf(t, b, 64, 1))
		if err != nil {
			t.Fatal(err)
		}
		// Of two boxes that just touch either may be said.
		const hair = 1e-6
		volume, much := both.Volume(), shared(a, b)
		if volume > hair && much < -hair {
			t.Fatalf("they share %v mm³ and count as %v apart", volume, -much)
		}
		if !ring && volume <= hair*hair && much > 1e-3 {
			t.Fatalf("they share nothing and count as %v into each other", much)
		}
		// Moved apart by what they share along any one direction they cannot be nearer
		// than that: along the line of their middles it is enough at least once over.
		if !ring && much > 0 && much > math.Max(far(a), far(b))*2 {
			t.Fatalf("%v into each other is more than either's size", much)
		}
	})
}

// far is half of a box's diagonal.
func far(b model.Bay) float64 {
	return solid.Vec{float64(b.Size[0]), float64(b.Size[1]), float64(b.Size[2])}.Length() / 2
}
