package book_test

import (
	"maps"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/unit"
)

// On no sheet of a template do words lie on words or leave the paper, in either
// unit, and each has both check bars.
func TestTemplateSheets(t *testing.T) {
	all := maps.Clone(forms(t))
	all["finial"] = finished(t)
	for name, r := range all {
		for _, u := range []unit.System{unit.Metric, unit.FeetInches} {
			for _, c := range lane.Templates(r, u) {
				for n, page := range c.Pages(r, u) {
					paper := drawing.Rect{W: page.Width, H: page.Height}
					var clip *drawing.Rect
					var boxes []drawing.Rect
					var texts []string
					bars := 0
					for _, item := range page.Items {
						switch v := item.(type) {
						case drawing.Group:
							clip = v.Clip
							if v.ID == "check-bar" {
								bars++
							}
						case drawing.GroupEnd:
							clip = nil
						case drawing.Text:
							if v.Rotate != 0 && v.Rotate != -90 {
								continue
							}
							b := boxOf(v)
							if clip != nil && !clip.Contains(b) {
								continue
							}
							if !paper.Inset(8).Contains(b) {
								t.Errorf("%s, %s, page %d: %q leaves the paper at %v", name, c.Name, n+1, v.String, b)
							}
							for i, other := range boxes {
								if b.Inset(0.1).Overlaps(other) {
									t.Errorf("%s, %s, page %d: %q lies on %q", name, c.Name, n+1, lettering(v), texts[i])
								}
							}
							boxes, texts = append(boxes, b), append(texts, lettering(v))
						}
					}
					if bars != 2 {
						t.Errorf("%s, %s, page %d has %d check bars", name, c.Name, n+1, bars)
					}
				}
			}
		}
	}
}
