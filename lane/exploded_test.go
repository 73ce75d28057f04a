package lane_test

import (
	"bytes"
	"context"
	"testing"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/solid"
)

// Pulled apart no piece is in another, and every one but those at the middle has
// moved.
func TestPulledApart(t *testing.T) {
	for name := range examples {
		r := prepared(t, name).Result
		by := lane.PulledApart(r)
		solids := make([]solid.Mesh, len(by))
		still := 0
		for i, v := range by {
			solids[i] = r.Carved[i].Solid.Translate(v)
			if v == (solid.Vec{}) {
				still++
			}
		}
		if still > 1 {
			t.Errorf("%s: %d of %d pieces stay where they were", name, still, len(by))
		}
		for i, a := range solids {
			for k, b := range solids[:i] {
				if !boxesMeet(a.Bounds(), b.Bounds()) {
					continue
				}
				both, err := solid.Kernel{}.Intersect(context.Background(), a, b)
				if err != nil {
					t.Fatal(err)
				}
				if !both.Empty() {
					t.Errorf("%s: %s is in %s", name, r.Division.Pieces[i].Name, r.Division.Pieces[k].Name)
				}
			}
		}
	}
}

func boxesMeet(a, b solid.Bounds) bool {
	for k := range 3 {
		if a.Max[k] <= b.Min[k] || b.Max[k] <= a.Min[k] {
			return false
		}
	}
	return true
}

// Every piece is named once, no name lies on another, none leaves the sheet; and
// the same result gives the same bytes.
func TestExploded(t *testing.T) {
	for name := range examples {
		r := prepared(t, name).Result
		s := lane.Exploded(r, 380, 240)
		named := map[string]bool{}
		var words []drawing.Rect
		for _, it := range s.Items {
			switch v := it.(type) {
			case drawing.Group:
				named[v.ID] = true
			case drawing.Text:
				b := v.Bounds()
				if !(drawing.Rect{W: s.Width, H: s.Height}).Contains(b) {
					t.Errorf("%s: %q leaves the sheet", name, v.String)
				}
				for _, w := range words {
					if w.Overlaps(b) {
						t.Errorf("%s: %q lies on other words", name, v.String)
					}
				}
				words = append(words, b)
			}
		}
		for _, p := range r.Division.Pieces {
			if !named["apart-"+p.ID.String()] {
				t.Errorf("%s: %s is not named", name, p.Name)
			}
		}
		if named["apart-core"] != (r.Design.Core != nil) {
			t.Errorf("%s: core named %t", name, named["apart-core"])
		}
		if !bytes.Equal(pdfOf(t, s), pdfOf(t, lane.Exploded(r, 380, 240))) {
			t.Errorf("%s: not the same bytes twice", name)
		}
	}
	if lane.Exploded(job.Result{}, 380, 240) != nil {
		t.Error("of nothing there is a picture")
	}
}

// A piece's picture fills its box one way and stays in it the other.
func TestPicture(t *testing.T) {
	r := prepared(t, "angled-handle").Result
	for i, piece := range r.Division.Pieces {
		for _, below := range [...]bool{false, true} {
			s := lane.Picture(r, i, 60, 40, below)
			images := 0
			for _, it := range s.Items {
				if v, ok := it.(drawing.Image); ok {
					images++
					const dot = 0.5
					if v.Box.X < 0 || v.Box.X+v.Box.W > 60+dot || v.Box.H > 40+dot || v.Box.W < 60-dot && v.Box.H < 40-dot {
						t.Errorf("%s lies in %v", piece.Name, v.Box)
					}
				}
			}
			if images != 1 {
				t.Errorf("%s has %d pictures", piece.Name, images)
			}
		}
	}
}

func pdfOf(t *testing.T, s *drawing.Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := drawing.PDF(&b, []drawing.Page{{Scene: s}}, drawing.Meta{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
