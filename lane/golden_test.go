package lane_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/unit"
)

var update = flag.Bool("update", false, "rewrite golden files")

// golden compares with a file of testdata.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, got) {
		t.Errorf("%s is not what the lane draws; look at it, then go test ./lane -run Golden -update", path)
	}
}

var systems = map[string]unit.System{"mm": unit.Metric, "ft-in": unit.FeetInches}

// Every lane of the demo, open and folded, in both systems of units, with its
// table. The folded lanes are one sheet.
func TestGoldenLanes(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	owned := map[string]bool{}
	for in, u := range systems {
		v := lane.View{Span: p.Span, Width: 240, System: u, HasPlumb: true, Plumb: 588}
		var tables bytes.Buffer
		for _, l := range lane.All() {
			name := l.ID + "-" + in + ".svg"
			owned[name] = true
			var svg bytes.Buffer
			if err := drawing.SVG(&svg, l.Draw(p, v), drawing.SVGOptions{Palette: drawing.Day}); err != nil {
				t.Fatal(err)
			}
			golden(t, name, svg.Bytes())
			writeTable(&tables, l.Table(p, u))
		}
		var svg bytes.Buffer
		if err := drawing.SVG(&svg, lane.Sheet(p, lane.SheetOptions{View: v}), drawing.SVGOptions{Palette: drawing.Day}); err != nil {
			t.Fatal(err)
		}
		golden(t, "folded-"+in+".svg", svg.Bytes())
		golden(t, "tables-"+in+".txt", tables.Bytes())
		owned["folded-"+in+".svg"], owned["tables-"+in+".txt"] = true, true
	}
	files, err := os.ReadDir("testdata")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if lanes := strings.HasSuffix(f.Name(), "-mm.svg") || strings.HasSuffix(f.Name(), "-ft-in.svg"); lanes && !owned[f.Name()] {
			t.Errorf("no lane owns testdata/%s", f.Name())
		}
	}
}

func writeTable(b *bytes.Buffer, t lane.Table) {
	b.WriteString(t.Caption + "\n")
	for k, c := range t.Columns {
		if k > 0 {
			b.WriteString(" | ")
		}
		b.WriteString(c.Head)
	}
	b.WriteByte('\n')
	for _, row := range t.Rows {
		fmt.Fprintln(b, strings.Join(row, " | "))
	}
	b.WriteByte('\n')
}
