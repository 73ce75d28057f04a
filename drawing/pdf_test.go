package drawing_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"scalewright/drawing"
)

// checkPDF reads the file back by its cross-reference table (ISO 32000-1,
// 7.5.4): every entry in use must stand at "n 0 obj".
func checkPDF(t testing.TB, pdf []byte) {
	t.Helper()
	if !bytes.HasPrefix(pdf, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(pdf), []byte("%%EOF")) {
		t.Fatal("no PDF head or foot")
	}
	m := regexp.MustCompile(`startxref\n(\d+)\n`).FindSubmatch(pdf)
	if m == nil {
		t.Fatal("no startxref")
	}
	at, _ := strconv.Atoi(string(m[1]))
	lines := strings.Split(string(pdf[at:]), "\n")
	if lines[0] != "xref" {
		t.Fatalf("startxref leads to %q", lines[0])
	}
	var first, n int
	if _, err := fmt.Sscan(lines[1], &first, &n); err != nil {
		t.Fatal(err)
	}
	for i := 1; i < n; i++ {
		off, _ := strconv.Atoi(lines[2+i][:10])
		if want := fmt.Sprintf("%d 0 obj", i); !bytes.HasPrefix(pdf[off:], []byte(want)) {
			t.Fatalf("object %d is not at %d", i, off)
		}
	}
}

func TestPDFPages(t *testing.T) {
	pdf := pdfOf(t, samplePages(), sampleMeta)
	checkPDF(t, pdf)
	if n := len(regexp.MustCompile(`/Type /Page\n`).FindAll(pdf, -1)); n != 3 {
		t.Errorf("%d pages, want 3", n)
	}
	if !bytes.Contains(pdf, []byte("/Count 3\n")) {
		t.Error("page tree doesn't count 3")
	}
	// ISO 216: A3 is 297 x 420, A4 210 x 297 mm; a point is 25.4/72 mm.
	var got []string
	for _, m := range regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindAllSubmatch(pdf, -1) {
		got = append(got, string(m[1])+" "+string(m[2]))
	}
	a3 := fmt.Sprintf("%.2f %.2f", 420/25.4*72, 297/25.4*72)
	a4 := fmt.Sprintf("%.2f %.2f", 210/25.4*72, 297/25.4*72)
	if want := []string{a4, a4, a3}; strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("MediaBox %q, want %q (the sheet's is the tree's)", got, want)
	}
	for _, want := range []string{"/Outlines", "/Subtype /Link", "/Lang (en)", "D:20260302090000"} {
		if !bytes.Contains(pdf, []byte(want)) {
			t.Errorf("no %s in the file", want)
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	run := func(procs int) (pdf, svg []byte) {
		old := runtime.GOMAXPROCS(procs)
		defer runtime.GOMAXPROCS(old)
		return pdfOf(t, samplePages(), drawing.Meta{Title: "x"}), svgOf(t, sampleSheet(), drawing.SVGOptions{})
	}
	p1, s1 := run(1)
	p8, s8 := run(8)
	if !bytes.Equal(p1, p8) || !bytes.Equal(s1, s8) {
		t.Error("bytes differ from run to run")
	}
}

// TestPDFWidths compares the widths a viewer goes by with Measure.
func TestPDFWidths(t *testing.T) {
	const letters = "Ångström ⌀ 4⅝ ×÷ ½ ″′ fiﬂ Ωμ ЖДЯ עברית …–—"
	s := drawing.New(100, 20)
	s.Letter(drawing.Pt(5, 10), 4, drawing.Regular, letters)
	pdf := pdfOf(t, []drawing.Page{{Scene: s}}, drawing.Meta{Uncompressed: true})
	m := regexp.MustCompile(`(?s)/W \[(.*?) \]\n/CIDToGIDMap`).FindSubmatch(pdf)
	if m == nil {
		t.Fatal("no widths in the file")
	}
	widths := map[int]float64{}
	tok := strings.Fields(strings.NewReplacer("[", " [ ", "]", " ] ").Replace(string(m[1])))
	num := func(i int) int { v, _ := strconv.Atoi(tok[i]); return v }
	for i := 0; i+1 < len(tok); {
		c := num(i)
		if tok[i+1] != "[" {
			for r := c; r <= num(i+1); r++ {
				widths[r] = float64(num(i + 2))
			}
			i += 3
			continue
		}
		for i += 2; tok[i] != "]"; i++ {
			widths[c] = float64(num(i))
			c++
		}
		i++
	}
	for _, r := range letters {
		want := drawing.Measure(string(r), drawing.Regular, 1000)
		if r == ' ' {
			continue
		}
		if got, ok := widths[int(r)]; !ok || math.Abs(got-want) > 0.5 {
			t.Errorf("width of %q in the file is %v, measured %v", r, got, want)
		}
	}
}

func pictures(t testing.TB) (pngData, jpegData []byte) {
	m := image.NewNRGBA64(image.Rect(0, 0, 8, 4)) // 16 bit, with alpha
	for i := range 8 {
		m.Set(i, i%4, color.NRGBA64{uint16(i * 8000), 30000, 60000, 50000})
	}
	var p, j bytes.Buffer
	if err := png.Encode(&p, m); err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(&j, m, nil); err != nil {
		t.Fatal(err)
	}
	return p.Bytes(), j.Bytes()
}

func TestPictures(t *testing.T) {
	p, j := pictures(t)
	s := drawing.New(100, 50)
	s.Image(drawing.Image{Box: drawing.Rect{X: 5, Y: 5, W: 40, H: 20}, Data: p, Alt: "eight squares"})
	s.Image(drawing.Image{Box: drawing.Rect{X: 50, Y: 5, W: 40, H: 20}, Data: j})
	s.Image(drawing.Image{Box: drawing.Rect{X: 50, Y: 30, W: 40, H: 20}, Data: j})
	pdf := pdfOf(t, []drawing.Page{{Scene: s}}, sampleMeta)
	checkPDF(t, pdf)
	// The JPEG once, the PNG with its mask: three.
	if n := bytes.Count(pdf, []byte("/Subtype /Image")); n != 3 {
		t.Errorf("%d pictures stored, want 3", n)
	}
	svg := string(svgOf(t, s, drawing.SVGOptions{}))
	if !strings.Contains(svg, "data:image/png;base64,") || strings.Count(svg, "data:image/jpeg;base64,") != 2 {
		t.Error("pictures missing from SVG")
	}
}

func TestRefused(t *testing.T) {
	nan := math.NaN()
	scene := func(it ...drawing.Item) *drawing.Scene {
		s := drawing.New(100, 100)
		s.Add(it...)
		return s
	}
	line := drawing.Polyline(drawing.Pt(0, 0), drawing.Pt(1, 1))
	for name, s := range map[string]*drawing.Scene{
		"nil":           nil,
		"no size":       {},
		"endless":       drawing.New(math.Inf(1), 100),
		"place":         scene(drawing.Drawn{Path: drawing.Polyline(drawing.Pt(nan, 0))}),
		"far away":      scene(drawing.Text{At: drawing.Pt(1e9, 0)}),
		"no path":       scene(drawing.Drawn{}),
		"colour":        scene(drawing.Drawn{Path: line, Style: drawing.Filled("mauve")}),
		"literal":       scene(drawing.Text{Colour: "#12345"}),
		"width":         scene(drawing.Drawn{Path: line, Style: drawing.Lined(drawing.Thin.Wide(-1))}),
		"dash":          scene(drawing.Drawn{Path: line, Style: drawing.Lined(drawing.Stroke{Colour: drawing.Ink, Width: 1, Dash: []float64{0, 0}})}),
		"open group":    scene(drawing.Group{}),
		"closed twice":  scene(drawing.Group{}, drawing.GroupEnd{}, drawing.GroupEnd{}),
		"picture":       scene(drawing.Image{Data: []byte("GIF89a")}),
		"script":        scene(drawing.Link{URL: "javascript:alert(1)"}),
		"broken link":   scene(drawing.Link{URL: "https://a b"}),
		"box":           scene(drawing.Link{Area: drawing.Rect{W: -1}}),
		"face":          scene(drawing.Text{Face: 9}),
		"span's colour": scene(drawing.Text{Spans: []drawing.Span{{Colour: "mauve"}}}),
		"data name":     scene(drawing.Group{Data: [][2]string{{"x onload", "1"}}}, drawing.GroupEnd{}),
		"half a letter": scene(drawing.Text{Size: nan}),
	} {
		var b bytes.Buffer
		if err := drawing.SVG(&b, s, drawing.SVGOptions{}); err == nil {
			t.Errorf("SVG(%s): no error", name)
		}
		if err := drawing.PDF(&b, []drawing.Page{{Scene: s}}, drawing.Meta{}); err == nil {
			t.Errorf("PDF(%s): no error", name)
		}
		if b.Len() > 0 {
			t.Errorf("%s: wrote %d bytes before refusing", name, b.Len())
		}
	}
	if err := drawing.PDF(&bytes.Buffer{}, nil, drawing.Meta{}); err == nil {
		t.Error("PDF of no pages: no error")
	}
}
