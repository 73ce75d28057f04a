package lane_test

import (
	"math"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/stage/calendar"
)

// Each step of the plan is a bar as long as it lasts, within the drawing, and the
// ends are marked.
func TestDaysShowEveryStep(t *testing.T) {
	r := result(t)
	const width = 170.0
	s := lane.Days(r, width)
	steps := 0
	for _, task := range r.Calendar.Tasks {
		steps += len(task.Steps)
	}
	bars, minutes := 0, 0.0
	wide := 0.0 // mm a day: the distance of the first two lines of the scale
	var lines []float64
	for _, item := range s.Items {
		d, ok := item.(drawing.Drawn)
		if !ok {
			continue
		}
		b := d.Path.Bounds()
		if b.X < -1e-9 || b.X+b.W > width+1e-9 {
			t.Errorf("something reaches from %v to %v, the drawing to %v", b.X, b.X+b.W, width)
		}
		switch {
		case d.Style.Fill == drawing.Ink || d.Style.Fill == drawing.Ink3 || d.Style.Fill == drawing.TintB:
			bars++
			if b.W > 0.3 { // wider than the least
				minutes += b.W
			}
		case d.Style.Stroke.Colour == drawing.Hair:
			lines = append(lines, b.X)
		}
	}
	if bars != steps {
		t.Errorf("%d bars for %d steps", bars, steps)
	}
	if len(lines) > 1 {
		wide = lines[1] - lines[0]
	}
	want := 0.0
	for _, task := range r.Calendar.Tasks {
		for _, step := range task.Steps {
			if w := float64(step.To-step.From) / 1440 * wide; w > 0.3 {
				want += w
			}
		}
	}
	if math.Abs(minutes-want) > 1e-6*want {
		t.Errorf("bars are %v mm long together, want %v", minutes, want)
	}
	r.Calendar = calendar.Result{Start: "2026-11-30"}
	if empty := lane.Days(r, width); len(empty.Items) != 0 || empty.Height != 0 {
		t.Errorf("no plan is drawn with %d items", len(empty.Items))
	}
}
