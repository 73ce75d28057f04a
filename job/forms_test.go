package job_test

import (
	"math"
	"testing"

	"scalewright/build"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/solid"
)

// example loads a build of examples/ as make does.
func example(t *testing.T, name string) job.Input {
	t.Helper()
	f, err := build.Open("../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	return job.Input{
		Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks,
		Outlines: l.Outlines, Models: l.Files, Memo: recipe.NewMemo(recipe.Options{}), Seed: 1,
	}
}

// pieceOf is the first piece of a part, with what was made of it.
func pieceOf(t *testing.T, r job.Result, part string) (model.Piece, model.Carved, model.Print) {
	t.Helper()
	for i, p := range r.Division.Pieces {
		if p.ID.Part == part {
			return p, r.Carved[i], r.Prints[i]
		}
	}
	t.Fatalf("no piece of %s", part)
	return model.Piece{}, model.Carved{}, model.Print{}
}

func TestAngledHandle(t *testing.T) {
	r := mustRun(t, example(t, "angled-handle"))
	mustAssemble(t, r)
	_, handle, print := pieceOf(t, r, "handle")
	// Four times station 17 across and 22 up, then 16 of 32 up an axis that leans
	// 35°: the middle of its length.
	way := func(d float64) [3]float64 {
		return [3]float64{4 * (17 + d*math.Sin(35*math.Pi/180)), 0, 4 * (22 + d*math.Cos(35*math.Pi/180))}
	}
	tip := way(32)
	b := handle.Solid.Bounds()
	// The ball at the tip ends 4 mm of the reference round its middle.
	for k, want := range map[int]float64{0: way(28)[0] + 16, 2: way(28)[2] + 16} {
		if math.Abs(b.Max[k]-want) > 0.05 {
			t.Errorf("the handle reaches %v, want %v in way %d (tip %v)", b.Max[k], want, k, tip)
		}
	}
	// Its foot ends at the hull: nothing of it lies further inside than the flats of
	// both are off their circles.
	for _, v := range handle.Solid.Vertices {
		if hull := r.Design.Outline.RadiusAt(v[2]); math.Hypot(v[0], v[1]) < hull-0.05 {
			t.Errorf("the handle reaches to %v inside the hull of %v at %v", math.Hypot(v[0], v[1]), hull, v[2])
			break
		}
	}
	if high := float64(print.Box[2]); high > 128+1e-3 || high < 110 {
		t.Errorf("it prints %v high, want its own length of 128 less what the hull takes", high)
	}
	vane, carved, lying := pieceOf(t, r, "vane-1")
	if vane.Direction != model.Lying || math.Abs(float64(lying.Box[2])-8) > 1e-9 {
		t.Errorf("the vane prints %v, %v high; want lying and 8", vane.Direction, lying.Box[2])
	}
	// At 120° from +X: its edge at 38 of the reference stands out so far.
	b = carved.Solid.Bounds()
	out := 4 * 38.0
	if got, want := b.Max[1], out*math.Sin(2*math.Pi/3)+4*math.Cos(math.Pi/3); math.Abs(got-want) > 0.05 {
		t.Errorf("the vane reaches %v along +Y, want %v", got, want)
	}
	if b.Min[2] < 32-1e-6 || b.Max[2] > 144+1e-6 || b.Max[2]-b.Min[2] < 100 {
		t.Errorf("the vane lies from %v to %v, want within 32 to 144", b.Min[2], b.Max[2])
	}
	tongues := 0
	for _, c := range r.Division.Tabs {
		if c.Guest == vane.ID {
			tongues++
		}
	}
	if tongues == 0 {
		t.Error("the vane has no tongue")
	}
}

// A word on a board: no body, no outline, no core.
func TestLetters(t *testing.T) {
	r := mustRun(t, example(t, "letters"))
	mustAssemble(t, r)
	// The board's reading sets the length; its height is the largest across.
	if got := r.Verdict.Overall.X; math.Abs(got-6*84) > 1e-9 {
		t.Errorf("overall %v, want 504", got)
	}
	if got := float64(r.Verdict.Across); math.Abs(got-180) > 1e-9 {
		t.Errorf("across %v, want the board's 180", got)
	}
	board := 0.0
	for i, p := range r.Division.Pieces {
		if p.ID.Part == "board" {
			board += r.Carved[i].Volume
		}
	}
	// A rectangle with corners of 3 mm radius, 1.5 thick, six times as large.
	want := 216 * 1.5 * (84*30 - (4-math.Pi)*9)
	if math.Abs(board-want) > 1e-4*want {
		t.Errorf("the board's pieces hold %v, want %v", board, want)
	}
	// A: a trapezium 21 and 5 wide, 20 high, less a notch of 9 to 12 below (its sides
	// lean as the legs do) and a triangle 6.2 wide, 8.1 high.
	_, a, _ := pieceOf(t, r, "a")
	want = 216 * 1.5 * ((21+5)/2.0*20 - (9+12)/2.0*4 - 6.2*8.1/2)
	if math.Abs(a.Volume-want) > 1e-6*want {
		t.Errorf("A holds %v, want %v", a.Volume, want)
	}
	if r.Fits.Together != 1 || len(r.Fits.Fits) != 0 {
		t.Errorf("fits where nothing plugs: %+v", r.Fits)
	}
}

// A mesh bored for a dowel, hollowed and divided.
func TestAcorn(t *testing.T) {
	r := mustRun(t, example(t, "acorn"))
	mustAssemble(t, r)
	if n := len(r.Division.Pieces); n != 2 {
		t.Fatalf("%d pieces, want 2: it is 282 high and the printers build 250", n)
	}
	dowel := r.Design.Core.Stock
	for i, p := range r.Division.Pieces {
		c := r.Carved[i]
		if !p.OnCore || len(r.Fits.Of(p.ID.String())) != 1 {
			t.Errorf("%s: the core runs through it, and it has %d bores", p.ID, len(r.Fits.Of(p.ID.String())))
		}
		if c.Wall < 5 {
			t.Errorf("%s: its wall is %v, declared 5", p.ID, c.Wall)
		}
		// On the core's axis it is empty, just outside the bore it is solid: the
		// sleeve holds the dowel where the part is hollow.
		tree, err := solid.NewTree(c.Solid)
		if err != nil {
			t.Fatal(err)
		}
		bore := float64(r.Fits.Of(p.ID.String())[0].Bore.Nominal) / 2
		if bore < float64(dowel.Widest())/2 {
			t.Errorf("%s: its bore is %v in radius, and the dowel up to %v", p.ID, bore, dowel.Widest()/2)
		}
		for z := float64(p.Span.From) + 1; z < min(199, float64(p.Span.To)); z += 7 {
			for _, at := range []struct {
				radius float64
				want   solid.Place
			}{{0, solid.Outside}, {bore - 0.05, solid.Outside}, {bore + 0.5, solid.Inside}, {bore + 4.5, solid.Inside}} {
				sin, cos := math.Sincos(1 + z)
				got, err := tree.Locate(solid.Vec{at.radius * cos, at.radius * sin, z})
				if err != nil || got != at.want {
					t.Errorf("%s: at station %v, radius %v: %v, want %v", p.ID, z, at.radius, got, at.want)
				}
			}
		}
	}
}
