package drawing_test

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"scalewright/drawing"
)

var update = flag.Bool("update", false, "rewrite golden files")

var sampleMeta = drawing.Meta{
	Title: "Lantern finial", Creator: "drawing test", Lang: "en",
	Date: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC), Uncompressed: true,
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		out := filepath.Join(t.ArtifactDir(), name)
		if err := os.WriteFile(out, got, 0o644); err != nil {
			t.Fatal(err)
		}
		t.Errorf("%s differs from the golden file; what was drawn is in %s", name, out)
	}
}

func svgOf(t testing.TB, s *drawing.Scene, o drawing.SVGOptions) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := drawing.SVG(&b, s, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pdfOf(t testing.TB, pages []drawing.Page, m drawing.Meta) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := drawing.PDF(&b, pages, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

var flateStream = regexp.MustCompile(`(?s)/FlateDecode.*?stream\n(.*?)\nendstream`)

// readable puts the sum of its inflated bytes in place of each packed stream
// (the fonts): packing may change with the compiler, what is packed may not.
func readable(t *testing.T, pdf []byte) []byte {
	t.Helper()
	return flateStream.ReplaceAllFunc(pdf, func(m []byte) []byte {
		before, after, _ := bytes.Cut(m, []byte("stream\n"))
		r, err := zlib.NewReader(bytes.NewReader(after))
		if err != nil {
			t.Fatal(err)
		}
		raw, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Appendf(nil, "%s[%d bytes, sha256 %x]", before, len(raw), sha256.Sum256(raw))
	})
}

// TestGoldenOwned fails on a golden file that no test writes.
func TestGoldenOwned(t *testing.T) {
	owned := map[string]bool{"sheet.svg": true, "sheet-night.svg": true, "habits.svg": true, "book.pdf.txt": true, "fuzz": true}
	files, err := os.ReadDir("testdata")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !owned[f.Name()] {
			t.Errorf("testdata/%s belongs to no test", f.Name())
		}
	}
}

func TestGolden(t *testing.T) {
	golden(t, "sheet.svg", svgOf(t, sampleSheet(), drawing.SVGOptions{}))
	golden(t, "sheet-night.svg", svgOf(t, sampleSheet(), drawing.SVGOptions{
		Palette: drawing.Night, Variables: true, Fluid: true, IDPrefix: "n-", Family: drawing.ScreenFamily,
	}))
	golden(t, "habits.svg", svgOf(t, habitsSheet(), drawing.SVGOptions{Palette: drawing.Day}))
	golden(t, "book.pdf.txt", readable(t, pdfOf(t, samplePages(), sampleMeta)))
}

// TestWriteArtifacts leaves the sample where a person can look at it, with
// go test -run Artifacts -artifacts -outputdir DIR.
func TestWriteArtifacts(t *testing.T) {
	dir := t.ArtifactDir()
	m := sampleMeta
	m.Uncompressed = false
	for name, data := range map[string][]byte{
		"sheet.svg":  svgOf(t, sampleSheet(), drawing.SVGOptions{}),
		"habits.svg": svgOf(t, habitsSheet(), drawing.SVGOptions{}),
		"habits.pdf": pdfOf(t, []drawing.Page{{Scene: habitsSheet()}}, m),
		"book.pdf":   pdfOf(t, samplePages(), m),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Error(err)
		}
	}
}
