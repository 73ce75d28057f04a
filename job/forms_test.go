package job_test

import (
	"math"
	"testing"

	"scalewright/build"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
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
	foot, tip := way(0), way(32)
	b := handle.Solid.Bounds()
	// The ball at the tip ends 4 mm of the reference round its middle; the foot's
	// disc, 3.5 in radius, is square to the axis.
	for k, want := range map[int][2]float64{
		0: {foot[0] - 4*3.5*math.Cos(35*math.Pi/180), way(28)[0] + 16},
		2: {foot[2] - 4*3.5*math.Sin(35*math.Pi/180), way(28)[2] + 16},
	} {
		if math.Abs(b.Min[k]-want[0]) > 0.05 || math.Abs(b.Max[k]-want[1]) > 0.05 {
			t.Errorf("the handle lies from %v to %v, want %v in way %d (tip %v)", b.Min[k], b.Max[k], want, k, tip)
		}
	}
	if high := float64(print.Box[2]); math.Abs(high-128) > 1e-3 {
		t.Errorf("it prints %v high, want its own length of 128", high)
	}
	vane, solid, lying := pieceOf(t, r, "vane-1")
	if vane.Direction != model.Lying || math.Abs(float64(lying.Box[2])-8) > 1e-9 {
		t.Errorf("the vane prints %v, %v high; want lying and 8", vane.Direction, lying.Box[2])
	}
	// At 120° from +X: its edge at 38 of the reference stands out so far.
	b = solid.Solid.Bounds()
	out := 4 * 38.0
	if got, want := b.Max[1], out*math.Sin(2*math.Pi/3)+4*math.Cos(math.Pi/3); math.Abs(got-want) > 0.05 {
		t.Errorf("the vane reaches %v along +Y, want %v", got, want)
	}
	if math.Abs(b.Min[2]-32) > 1e-6 || math.Abs(b.Max[2]-144) > 1e-6 {
		t.Errorf("the vane lies from %v to %v, want 32 to 144", b.Min[2], b.Max[2])
	}
}
