package measure

import (
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/model"
)

// A groove that was typed stands in the outline as it was typed, and the lines
// on either side run up to it.
func TestTypedGrooveIsSpliced(t *testing.T) {
	seen := model.Lines(0, 20.03, 100, 20.03)
	groove := model.Lines(40, 20, 42, 20, 42, 18, 44, 18, 44, 20, 46, 20)
	o := outlineOf(seen, []Hidden{{From: 40, To: 46, Typed: groove}})
	if trouble, at := o.Trouble(); trouble != "" {
		t.Fatalf("outline %s at %v", trouble, at)
	}
	if got := o.RadiusAt(43); got != 18 {
		t.Errorf("radius in the groove = %v, want 18", got)
	}
	for i := 1; i < len(o); i++ {
		if o[i].From != o[i-1].To {
			t.Errorf("segment %d begins at %v, the one before ends at %v", i, o[i].From, o[i-1].To)
		}
	}
	if start, end := o.Start(), o.End(); start != 0 || end != 100 {
		t.Errorf("outline from %v to %v, want 0 to 100", start, end)
	}
	if got := o.RadiusAt(20); math.Abs(got-20.03) > 0.02 {
		t.Errorf("radius beside the groove = %v, want 20.03", got)
	}
}

func TestTypedTipGoesWithTheEnd(t *testing.T) {
	h := atEnd(Hidden{From: 96, To: 100.2, Typed: model.Lines(96, 3, 100.2, 0)}, 100)
	if h.Typed.End() != 100 || math.Abs(h.From-95.8) > 1e-12 {
		t.Errorf("typed tip from %v to %v, want 95.8 to 100", h.From, h.Typed.End())
	}
	far := Hidden{From: 40, To: 50, Typed: model.Lines(40, 3, 50, 3)}
	if got := atEnd(far, 100); got.From != 40 {
		t.Errorf("a stretch far from the end moved to %v", got.From)
	}
}

// A pitch that the marks do not have is said; half a pitch is a grid too.
func TestMarksOffTheGrid(t *testing.T) {
	for _, c := range []struct {
		pitch float64
		want  int
	}{{10, 0}, {25.4, 1}, {20, 0}, {0, 0}} {
		var list finding.List
		in := Input{Marks: model.Marks{PitchMM: c.pitch}}
		for x := 0.0; x <= 100; x += 10 {
			in.Marks.Marks = append(in.Marks.Marks, model.Mark{Mat: [2]float64{x, 40}})
		}
		checkGrid(&list, in)
		if len(list) != c.want {
			t.Errorf("pitch %v: %d findings, want %d", c.pitch, len(list), c.want)
		}
	}
}
