package job_test

import (
	"context"
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// bayOf is a bay as a solid: a box, or the ring of a strip wound round.
func bayOf(t failer, b model.Bay) solid.Mesh {
	t.Helper()
	if b.Wound > 0 {
		ring, err := solid.Tube(solid.TubeSize{
			Outer: float64(b.Wound), Bore: float64(b.Wound - b.Size[0]), Segments: 96,
			Low: float64(b.Centre[2] - b.Size[2]/2), High: float64(b.Centre[2] + b.Size[2]/2),
		})
		if err != nil {
			t.Fatalf("ring of %s: %v", b.Component, err)
		}
		return ring
	}
	half := solid.Vec{float64(b.Size[0]) / 2, float64(b.Size[1]) / 2, float64(b.Size[2]) / 2}
	box, err := solid.Box(half.Scale(-1), half)
	if err != nil {
		t.Fatalf("box of %s: %v", b.Component, err)
	}
	place := solid.Transform{T: solid.Vec{float64(b.Centre[0]), float64(b.Centre[1]), float64(b.Centre[2])}}
	for i := range 3 {
		for k := range 3 {
			place.M[i][k] = b.Axes[k][i]
		}
	}
	return box.Transform(place)
}

// mustHaveRoom checks on the finished solids, with the kernel, that no bay shares
// room with a piece, the core, the stand's post or another bay, and that ways pass
// no piece but through its holes.
func mustHaveRoom(t failer, r job.Result) {
	t.Helper()
	var bays []solid.Mesh
	for _, b := range r.Places.Bays {
		bays = append(bays, bayOf(t, b))
	}
	core := pipeOf(t, r.Design.Core, 180)
	drilled := drilledCore(t, r, core)
	for i, bay := range bays {
		name := r.Places.Bays[i].Component
		for k, other := range bays[:i] {
			if v := shared(t, bay, other); v > 1e-6 {
				t.Errorf("%s and %s share %v mm³", name, r.Places.Bays[k].Component, v)
			}
		}
		for _, c := range r.Carved {
			if v := shared(t, bay, c.Solid); v > 1e-6 {
				t.Errorf("%s and %s share %v mm³", name, c.Piece, v)
			}
		}
		if v := shared(t, bay, core); v > 1e-6 {
			t.Errorf("%s and the core share %v mm³", name, v)
		}
	}
	var trees []*solid.Tree
	for _, c := range r.Carved {
		tree, err := solid.NewTree(c.Solid)
		if err != nil {
			t.Fatalf("%s: %v", c.Piece, err)
		}
		trees = append(trees, tree)
	}
	tree, err := solid.NewTree(drilled)
	if err != nil {
		t.Fatalf("core: %v", err)
	}
	trees = append(trees, tree)
	for i, b := range bays {
		if tree, err = solid.NewTree(b); err != nil {
			t.Fatalf("%s: %v", r.Places.Bays[i].Component, err)
		}
		trees = append(trees, tree)
	}
	// what a way runs through, its own ends excepted
	name := func(n int) string {
		switch {
		case n < len(r.Carved):
			return r.Carved[n].Piece.String()
		case n == len(r.Carved):
			return "the core"
		}
		return r.Places.Bays[n-len(r.Carved)-1].Component
	}
	for _, w := range r.Places.Ways {
		for i := 1; i < len(w.Path); i++ {
			for s := 0.0; s <= 1; s += 0.25 {
				var at solid.Vec
				for k := range at {
					at[k] = float64(w.Path[i-1][k]) + s*float64(w.Path[i][k]-w.Path[i-1][k])
				}
				for n, tree := range trees {
					if name(n) == w.From || name(n) == w.To {
						continue
					}
					if place, err := tree.Locate(at); err != nil || place == solid.Inside {
						t.Errorf("way %s runs through %s at %v, %v", w.Wire, name(n), at, err)
					}
				}
			}
		}
	}
}

// drilledCore is the core with its holes for cables.
func drilledCore(t failer, r job.Result, core solid.Mesh) solid.Mesh {
	t.Helper()
	for _, w := range r.Places.Ways {
		for _, p := range w.Passes {
			if !p.Core {
				continue
			}
			const deep = 20.0
			drill, err := solid.Tube(solid.TubeSize{Outer: float64(p.Across) / 2, Segments: 48, Low: float64(p.Radius) - deep, High: float64(p.Radius) + deep})
			if err != nil {
				t.Fatalf("drill: %v", err)
			}
			sin, cos := math.Sincos(p.Clocking)
			// Its own axis becomes the radius at the clocking.
			turn := solid.Transform{M: [3][3]float64{{0, -sin, cos}, {0, cos, sin}, {-1, 0, 0}}, T: solid.Vec{0, 0, float64(p.Station)}}
			if core, err = (solid.Kernel{}).Subtract(context.Background(), core, drill.Transform(turn)); err != nil {
				t.Fatalf("drilled core: %v", err)
			}
		}
	}
	return core
}

func TestDemoHasRoomForEverything(t *testing.T) {
	r := mustRun(t, demo(t))
	if len(r.Places.Bays) != 8 || len(r.Places.Ways) != 11 {
		t.Errorf("%d bays, %d ways", len(r.Places.Bays), len(r.Places.Ways))
	}
	mustHaveRoom(t, r)
	for _, b := range r.Places.Bays {
		if b.Component == "road" && len(b.Reached) == 0 {
			t.Error("nothing leads to the power bank")
		}
	}
	for _, w := range r.Places.Ways {
		long := 0.0
		for i := 1; i < len(w.Path); i++ {
			a, b := w.Path[i-1], w.Path[i]
			long += math.Sqrt(math.Pow(float64(a[0]-b[0]), 2) + math.Pow(float64(a[1]-b[1]), 2) + math.Pow(float64(a[2]-b[2]), 2))
		}
		if float64(w.Length) < long+100 {
			t.Errorf("way %s is %v long on a path of %v", w.Wire, w.Length, long)
		}
	}
}

// Each component that cannot be has its own finding.
func TestComponentsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		code   finding.Code
		change func(*job.Input)
	}{
		{"no-room", func(in *job.Input) { in.Declared.Components[partOfDemo(in, "road")].Part = "tail" }},
		{"place-taken", func(in *job.Input) {
			for _, id := range []string{"brain", "player"} {
				k := &in.Declared.Components[partOfDemo(in, id)]
				k.Station, k.Clocking = unit.Ref(80), 1
			}
		}},
		{"battery-sealed", func(in *job.Input) { in.Declared.Components[partOfDemo(in, "road")].Service = model.Sealed }},
		{"not-hollow", func(in *job.Input) { in.Declared.Components[partOfDemo(in, "brain")].Part = "fin" }},
		{"too-deep", func(in *job.Input) {
			for i := range in.Declared.Openings {
				if in.Declared.Openings[i].ID == "voice-hole" {
					in.Declared.Openings[i].Part, in.Declared.Openings[i].Station = "nose", unit.Ref(178)
				}
			}
		}},
		{"strip-too-long", func(in *job.Input) { in.Declared.Components[partOfDemo(in, "glow")].Pixels = 300 }},
	} {
		in := demo(t)
		c.change(&in)
		r, err := job.Run(t.Context(), in)
		if err != nil {
			t.Fatalf("%s: %v", c.code, err)
		}
		if all := codes(r.Findings); len(all) == 0 || all[0] != "blocker "+string(c.code) {
			t.Errorf("findings %v, want %s first", all, c.code)
		}
	}
}

func partOfDemo(in *job.Input, id string) int {
	for i, c := range in.Declared.Components {
		if c.ID == id {
			return i
		}
	}
	panic("no component " + id)
}

// Elsewhere in the rocket too, with thick walls and every kind of joint, bays keep
// off the slopes that hold sockets and spigots, and ways get past.
func TestRoomElsewhereInTheRocket(t *testing.T) {
	for name, change := range map[string]func(*job.Input){
		"thick": func(in *job.Input) {
			for i := range in.Declared.Parts {
				if p := &in.Declared.Parts[i]; p.ID == "body" || p.ID == "shoulder" {
					p.Wall = unit.Shop(6)
				}
			}
		},
		"collar": func(in *job.Input) { jointOfDemo(in, "tail-body").Kind = model.Collar },
		"hanging": func(in *job.Input) {
			jointOfDemo(in, "tail-body").Kind = "hanging spigot"
		},
		"all over": func(in *job.Input) {
			for id, part := range map[string]string{"brain": "tail", "player": "shoulder", "amplifier": "nose"} {
				c := &in.Declared.Components[partOfDemo(in, id)]
				c.Part, c.Service = part, model.Sealed
			}
		},
	} {
		in := demo(t)
		change(&in)
		r, err := job.Run(t.Context(), in)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if len(r.Carved) == 0 || len(r.Places.Ways) != 11 {
			t.Errorf("%s: %d pieces, %d ways, %v", name, len(r.Carved), len(r.Places.Ways), codes(r.Findings))
			continue
		}
		mustHaveRoom(t, r)
	}
}

func jointOfDemo(in *job.Input, id string) *model.DeclaredJoint {
	for i := range in.Declared.Joints {
		if in.Declared.Joints[i].ID == id {
			return &in.Declared.Joints[i]
		}
	}
	panic("no joint " + id)
}

// A lamp is wound round inside a lantern just above the end of a core that fills it
// lower down.
func TestRoomAboveTheCore(t *testing.T) {
	r := mustRun(t, example(t, "harbour-light"))
	mustHaveRoom(t, r)
	if lamp := r.Places.Bays[len(r.Places.Bays)-1]; lamp.Component != "lamp" || lamp.Wound == 0 {
		t.Errorf("the lamp lies in %+v", lamp)
	}
}
