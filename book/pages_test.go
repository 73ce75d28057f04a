package book_test

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"scalewright/book"
	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// renamed is the result with names as long as ids may be.
func renamed(r job.Result) job.Result {
	const long = "abcdefghijklmnopqrstuvwxyz-abcde"
	r.Name = "A build with a name that is rather long"
	r.Division.Pieces = slices.Clone(r.Division.Pieces)
	for i := range r.Division.Pieces {
		r.Division.Pieces[i].Name = fmt.Sprintf("%s %d of 20", long, i+1)
	}
	return r
}

// books are the results and options that every page has to stand, made once.
func books(t *testing.T) map[string][]drawing.Page {
	finished(t)
	forms(t)
	return everyBook()
}

var everyBook = sync.OnceValue(func() map[string][]drawing.Page {
	r, _ := made() // books has looked at the errors
	others, _ := derived()
	out := map[string][]drawing.Page{}
	results := map[string]job.Result{"finial": r, "long names": renamed(r)}
	for name, r := range others {
		results[name] = r
		if name != "acorn" { // large, and its names stand where those of others do
			results[name+", long names"] = renamed(r)
		}
	}
	for name, result := range results {
		for _, u := range []unit.System{unit.Metric, unit.FeetInches} {
			for _, paper := range []book.Paper{book.PaperA3, book.PaperA4, book.PaperTabloid, book.PaperLetter} {
				o := options()
				o.System, o.Paper = u, paper
				out[fmt.Sprintf("%s %s %d", name, paper, u)] = book.Pages(result, o)
			}
		}
	}
	return out
})

// boxOf is the box of a line of letters, its capitals' height.
func boxOf(t drawing.Text) drawing.Rect {
	w, h := t.Width(), 0.73*t.Size
	x := 0.0
	switch t.H {
	case drawing.Middle:
		x = -w / 2
	case drawing.End:
		x = -w
	}
	y := -h
	switch t.V {
	case drawing.Centre:
		y = -h / 2
	case drawing.Top:
		y = 0
	}
	if t.Rotate == -90 { // reads from below
		return drawing.Rect{X: t.At.X + y, Y: t.At.Y - x - w, W: h, H: w}
	}
	return drawing.Rect{X: t.At.X + x, Y: t.At.Y + y, W: w, H: h}
}

// No two lines of letters overlap, none leaves the frame, on any paper, in any
// units, with any names.
func TestNothingOverlaps(t *testing.T) {
	all := books(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for n, page := range all[name] {
			paper := drawing.Rect{W: page.Scene.Width, H: page.Scene.Height}
			var boxes []drawing.Rect
			var texts []string
			for _, item := range page.Scene.Items {
				line, ok := item.(drawing.Text)
				if !ok {
					continue
				}
				b, text := boxOf(line), lettering(line)
				if !paper.Inset(4).Contains(b) {
					t.Errorf("%s, page %d %q: %q leaves the paper at %v", name, n+1, page.ID, text, b)
				}
				for k, other := range boxes {
					if b.Inset(0.1).Overlaps(other) {
						t.Errorf("%s, page %d %q: %q overlaps %q", name, n+1, page.ID, text, texts[k])
					}
				}
				boxes, texts = append(boxes, b), append(texts, text)
			}
		}
	}
}

// Every table lies inside the frame.
func TestTablesStayInTheFrame(t *testing.T) {
	n := 0
	for name, pages := range books(t) {
		for _, page := range pages {
			frame := drawing.Rect{X: 20, Y: 10, W: page.Scene.Width - 30, H: page.Scene.Height - 20} // ISO 5457:1999
			in := 0
			for _, item := range page.Scene.Items {
				switch item := item.(type) {
				case drawing.Group:
					if item.Class == "table" || in > 0 {
						in++
					}
				case drawing.GroupEnd:
					in = max(0, in-1)
				case drawing.Drawn:
					if in == 0 {
						continue
					}
					n++
					if !frame.Contains(item.Path.Bounds()) {
						t.Errorf("%s, page %q: a table reaches %v", name, page.ID, item.Path.Bounds())
					}
				}
			}
		}
	}
	if n == 0 {
		t.Error("no table found")
	}
}

func TestLinksLeadToPages(t *testing.T) {
	for name, pages := range books(t) {
		ids := map[string]bool{}
		for _, p := range pages {
			ids[p.ID] = true
		}
		n := 0
		for _, p := range pages {
			for _, item := range p.Scene.Items {
				if link, ok := item.(drawing.Link); ok {
					n++
					if !ids[link.To] {
						t.Errorf("%s: a link of page %q leads to %q", name, p.ID, link.To)
					}
				}
			}
		}
		if n == 0 {
			t.Errorf("%s has no links", name)
		}
	}
}

// Words that the page and the book do not use.
var unused = regexp.MustCompile(`(?i)\b(P50|P90|task|gantt|milestone|critical path|sprint|resource|assignee|queue|dashboard|kpi|slice|viewport|node|rig|please|oops|stage|plate)s?\b|!`)

func TestVocabulary(t *testing.T) {
	pages := book.Pages(finished(t), options())
	all := slices.Clone(pages)
	for _, r := range forms(t) {
		all = append(all, book.Pages(r, options())...)
	}
	for _, page := range all {
		for _, item := range page.Scene.Items {
			line, ok := item.(drawing.Text)
			if !ok || strings.HasSuffix(lettering(line), ".3mf") { // the name of a file
				continue
			}
			text := lettering(line)
			if m := unused.FindString(text); m != "" {
				t.Errorf("page %q says %q in %q", page.ID, m, text)
			}
		}
	}
	if !strings.Contains(words(pages[0]), "An invented example:") {
		t.Error("page 1 does not say that the example is invented")
	}
}

// lettering is a line's letters, whatever their faces.
func lettering(t drawing.Text) string {
	var b strings.Builder
	b.WriteString(t.String)
	for _, s := range t.Spans {
		b.WriteString(s.Text)
	}
	return b.String()
}

func words(p drawing.Page) string {
	var b strings.Builder
	for _, item := range p.Scene.Items {
		if line, ok := item.(drawing.Text); ok {
			b.WriteString(lettering(line) + "\n")
		}
	}
	return b.String()
}

// A page a piece, a verdict, an arrangement, a calendar and notes; the same
// bytes twice.
func TestPDF(t *testing.T) {
	r := finished(t)
	pages := book.Pages(r, options())
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := book.PDF(w, r, options()); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same book gives other bytes")
	}
	if got, want := bytes.Count(a.Bytes(), []byte("/Type /Page\n")), len(pages); got != want {
		t.Errorf("%d pages in the file, %d made", got, want)
	}
	marks := map[string]bool{}
	for _, p := range pages {
		for _, m := range p.Bookmarks {
			marks[m.Title] = true
		}
	}
	for _, want := range []string{"Verdict", "General arrangement", "Standing and carrying", "Calendar", "Notes"} {
		if !marks[want] {
			t.Errorf("no bookmark %q among %v", want, marks)
		}
	}
	for _, p := range r.Division.Pieces {
		if !slices.ContainsFunc(slices.Collect(maps.Keys(marks)), func(m string) bool { return strings.Contains(m, p.Name) }) {
			t.Errorf("no bookmark of %s", p.Name)
		}
	}
	if t.Failed() || testing.Verbose() {
		path := filepath.Join(t.ArtifactDir(), "book.pdf")
		if err := os.WriteFile(path, a.Bytes(), 0o666); err != nil {
			t.Error(err)
		}
	}
}

// The sizes weighed have a page of their own, with all of them on it.
func TestPageOfSizes(t *testing.T) {
	r := finished(t)
	r.Sizes = []model.Candidate{
		{Proposal: model.Proposal{Ratio: 6, Because: model.BecauseDeclared}, Length: 1200, Pieces: 9, Best: []string{"largest"}},
		{Proposal: model.Proposal{Ratio: 4, Because: model.BecauseRound}, Length: 800, Blocked: "cut-off-part", Obstacle: finding.New("cut-off-part", finding.Place{}, finding.Args{
			"cut": finding.Name("c1"), "at": finding.Long(1), "from": finding.Long(2), "to": finding.Long(3),
		}).About("body")},
	}
	for _, p := range book.Pages(r, options()) {
		if p.ID != "sizes" {
			continue
		}
		var sheet bytes.Buffer
		if err := drawing.SVG(&sheet, p.Scene, drawing.SVGOptions{}); err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"6.00", "4.00", "As declared, largest", "Cut c1 lies at 1 mm", `sizes-size-2`} {
			if !strings.Contains(sheet.String(), want) {
				t.Errorf("the page does not have %s", want)
			}
		}
		return
	}
	t.Error("no page")
}
