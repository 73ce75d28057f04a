package lane_test

import (
	"fmt"
	"strings"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/lane/lanetest"
)

// Each place of a show's strip has the colour that the controller sends to that lamp
// at that time, read from the boxes as they lie over one another; cross-ticks stand
// at the turns, and no letters meet.
func TestSecondsShowWhatIsSent(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	all := lane.Sequences(p.Result)
	if len(all) < 2 {
		t.Fatalf("%d shows", len(all))
	}
	for _, q := range all {
		for _, width := range []float64{90, 170, 260} {
			s := lane.Seconds(p.Result, q, width)
			if bad := meets(s); bad != "" {
				t.Errorf("%s on %v mm: %s", q.Show.ID, width, bad)
			}
			var boxes []drawing.Drawn
			var frame drawing.Rect
			strip, ticks := false, 0
			for _, it := range s.Items {
				switch it := it.(type) {
				case drawing.Group:
					strip = strings.HasPrefix(it.ID, "strip-")
				case drawing.GroupEnd:
					strip = false
				case drawing.Drawn:
					switch {
					case strip && it.Style.Stroke.Width == 0:
						boxes = append(boxes, it)
					case strip:
						frame = it.Path.Bounds()
					case it.Style.Stroke.Width == drawing.ObjectWidth:
						ticks++
					}
				}
			}
			if ticks != len(q.Turns) {
				t.Errorf("%s: %d cross-ticks for %d turns", q.Show.ID, ticks, len(q.Turns))
			}
			lamps := len(q.Columns[0])
			every := (len(q.Columns) + 159) / 160 // columns that share a box's width
			for k := every / 2; k < len(q.Columns); k += 7 * every {
				for lamp := range lamps {
					first := k - k%every
					c := q.Columns[first][lamp]
					want := drawing.Colour(fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]))
					at := drawing.Pt(
						frame.X+frame.W*(float64(first)+0.5*float64(min(every, len(q.Columns)-first)))*q.Step/q.Seconds,
						frame.Y+frame.H*(float64(lamps-1-lamp)+0.5)/float64(lamps))
					got := drawing.None
					for _, b := range boxes {
						if r := b.Path.Bounds(); at.X >= r.X && at.X <= r.X+r.W && at.Y >= r.Y && at.Y <= r.Y+r.H {
							got = b.Style.Fill // the last lies on top
						}
					}
					if got != want {
						t.Fatalf("%s: lamp %d at %.2f s is %s, want %s", q.Show.ID, lamp, float64(k)*q.Step, got, want)
					}
				}
			}
		}
	}
	if s := lane.Seconds(p.Result, lane.Sequence{}, 170); len(lanetest.Lettering(s)) != 1 {
		t.Error("a show without lamps says nothing")
	}
}
