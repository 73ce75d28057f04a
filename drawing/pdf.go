package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// Page is a sheet of a PDF. ID is what links lead to; Bookmarks stand in the
// reader's outline.
type Page struct {
	ID        string
	Scene     *Scene
	Bookmarks []Bookmark
}

// Bookmark is a line of the outline. Level 0 is the outermost; a line may be
// at most one level deeper than the one before, and is raised where it isn't.
type Bookmark struct {
	Title string
	Level int
	Y     float64 // mm from the top of its page
}

// Meta is what a PDF says of itself. Date is written as given; the zero time
// stands for the first second of 1970, so that nothing depends on the clock.
type Meta struct {
	Title, Subject, Author, Creator, Keywords string

	Lang    string // such as "en"
	Date    time.Time
	Palette Palette
	// Uncompressed leaves the pages' drawing commands readable, for tests.
	Uncompressed bool
}

// ptPerMM is the PDF's unit, 1/72 inch.
const ptPerMM = 72 / 25.4

// toPt is the same to the seven digits that the files carry.
const toPt = "2.8346457"

type pdfWriter struct {
	f        *fpdf.Fpdf
	palette  Palette
	links    map[string]int
	jpegs    map[int]string        // names, by columns
	pictures map[string]pdfPicture // by their bytes
	page     *Scene
	high     float64
}

// PDF writes the pages as one document: real text in subset fonts, real lines,
// inner links, an outline. The same pages and meta give the same bytes. A link
// to a page that isn't there is left out.
//
// On each page the drawing commands are millimetres, y down, by one change of
// coordinates at its head, so that they are the numbers of the SVG.
func PDF(w io.Writer, pages []Page, meta Meta) error {
	if len(pages) == 0 {
		return errors.New("drawing: no pages")
	}
	for i, p := range pages {
		if err := p.Scene.check(); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	g := newPDF(pages, meta)
	for i, p := range pages {
		if i > 0 {
			// The first page is already there: its links were numbered on it.
			g.f.AddPageFormat("P", fpdf.SizeType{Wd: p.Scene.Width, Ht: p.Scene.Height})
		}
		if err := g.write(p, lastLevel(pages[:i])); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	if err := g.f.Output(w); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

func newPDF(pages []Page, meta Meta) *pdfWriter {
	first := fpdf.SizeType{Wd: pages[0].Scene.Width, Ht: pages[0].Scene.Height}
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: first})
	f.SetCatalogSort(true)
	f.SetCompression(!meta.Uncompressed)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	date := meta.Date
	if date.IsZero() {
		date = time.Unix(0, 0)
	}
	f.SetCreationDate(date.UTC())
	f.SetModificationDate(date.UTC())
	f.SetTitle(narrow(meta.Title), true)
	f.SetSubject(narrow(meta.Subject), true)
	f.SetAuthor(narrow(meta.Author), true)
	f.SetCreator(narrow(meta.Creator), true)
	f.SetProducer(narrow(meta.Creator), true)
	f.SetKeywords(narrow(meta.Keywords), true)
	if langTag(meta.Lang) {
		f.SetLang(meta.Lang)
	}
	for face := range faceCount {
		if face == Regular || usesFace(pages, face) {
			f.AddUTF8FontFromBytes("lettering", face.style(), face.ttf())
		}
	}
	// A font must be chosen before the first bookmark, for its encoding.
	f.SetFont("lettering", "", 10)
	palette := meta.Palette
	if palette == (Palette{}) {
		palette = Print
	}
	f.AddPageFormat("P", first)
	g := &pdfWriter{f: f, palette: palette, links: map[string]int{}, jpegs: jpegsOf(pages), pictures: map[string]pdfPicture{}}
	for i, p := range pages {
		if _, twice := g.links[p.ID]; p.ID != "" && !twice {
			n := f.AddLink()
			f.SetLink(n, 0, i+1)
			g.links[p.ID] = n
		}
	}
	return g
}

// langTag accepts the letters, digits and hyphens of a language tag (RFC 5646),
// for the PDF writer sets it down unescaped.
func langTag(s string) bool {
	return s != "" && len(s) < 36 && strings.Trim(strings.ToLower(s), "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

func usesFace(pages []Page, f Face) bool {
	for _, p := range pages {
		for _, it := range p.Scene.Items {
			t, ok := it.(Text)
			if ok && slices.ContainsFunc(t.spans(), func(sp Span) bool { return sp.Face == f }) {
				return true
			}
		}
	}
	return false
}

// style is the PDF writer's name of the face.
func (f Face) style() string {
	return [faceCount]string{"", "B", "I", "BI"}[f]
}

// write sets down one page, whose bookmarks follow one of the given level.
func (g *pdfWriter) write(p Page, level int) error {
	g.page, g.high = p.Scene, p.Scene.Height
	for _, b := range p.Bookmarks {
		level = max(0, min(b.Level, level+1))
		title := strings.TrimSpace(narrow(b.Title))
		if title == "" {
			title = "-"
		}
		g.f.Bookmark(title, level, max(0, min(b.Y, g.high)))
	}
	g.raw("q " + toPt + " 0 0 -" + toPt + " 0 " + num(g.high*ptPerMM) + " cm 1 j")
	var clips []bool // of the groups open, whether each clips
	for n, it := range p.Scene.Items {
		switch v := it.(type) {
		case Group:
			clips = append(clips, v.Clip != nil)
			if v.Clip != nil {
				g.raw("q\n" + string(pathCommands(Box(*v.Clip))) + "W n")
			}
		case GroupEnd:
			if clips[len(clips)-1] {
				g.raw("Q")
			}
			clips = clips[:len(clips)-1]
		case Drawn:
			g.drawn(v)
		case Text:
			g.text(v)
		case Image:
			if err := g.image(v); err != nil {
				return fmt.Errorf("item %d: %w", n, err)
			}
		case Link:
			g.link(v)
		}
	}
	g.raw("Q")
	if err := g.f.Error(); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

// lastLevel is the level of the last bookmark so far, after raising.
func lastLevel(pages []Page) int {
	level := -1
	for _, p := range pages {
		for _, b := range p.Bookmarks {
			level = max(0, min(b.Level, level+1))
		}
	}
	return level
}

func (g *pdfWriter) raw(s string) { g.f.RawWriteStr(s) }

func (g *pdfWriter) link(v Link) {
	a := v.Area
	if v.URL != "" {
		g.f.LinkString(a.X, a.Y, a.W, a.H, v.URL)
		return
	}
	if n, ok := g.links[v.To]; ok {
		g.f.Link(a.X, a.Y, a.W, a.H, n)
	}
}

// image lays a picture in its box; the writer draws upright from a page's foot.
func (g *pdfWriter) image(v Image) error {
	kind, err := v.kind()
	if err != nil {
		return err
	}
	name := v.name()
	p, known := g.pictures[name]
	if !known {
		if p, err = g.picture(name, v.Data, kind); err != nil {
			return err
		}
		g.pictures[name] = p
	}
	o := fpdf.ImageOptions{ImageType: p.kind}
	g.f.RegisterImageOptionsReader(name, o, bytes.NewReader(p.data))
	g.raw("q " + upright(v.Box.X, v.Box.Y+v.Box.H, 0))
	g.f.ImageOptions(name, 0, g.high-v.Box.H, v.Box.W*p.wider, v.Box.H, false, o, 0, "")
	g.raw("Q")
	return g.f.Error()
}
