package drawing_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"scalewright/drawing"
)

// dpi is what pages are printed at here: a dot is 0.085 mm.
const dpi = 300

// dots is a page as a printer would set it, dark or not.
type dots struct {
	wide, high int
	dark       []bool
}

// printed is a page through pdftoppm (Poppler), an implementation of PDF that
// shares nothing with ours.
func printed(t *testing.T, page *drawing.Scene) dots {
	t.Helper()
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm is not installed: the bars are not measured on a printed page")
	}
	file := filepath.Join(t.TempDir(), "page.pdf")
	var pdf bytes.Buffer
	if err := drawing.PDF(&pdf, []drawing.Page{{Scene: page}}, drawing.Meta{}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, pdf.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-r", fmt.Sprint(dpi), "-gray", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	var d dots
	var most int
	if _, err := fmt.Sscanf(string(out[:min(40, len(out))]), "P5\n%d %d\n%d\n", &d.wide, &d.high, &most); err != nil {
		t.Fatal(err)
	}
	for _, v := range out[len(out)-d.wide*d.high:] {
		d.dark = append(d.dark, v < 128)
	}
	return d
}

// bar is the length of the check bar along rows or columns, mm: between the
// outermost dots of the line that has five fields of about 10 mm, less half a line's
// width at either end.
func (d dots) bar(down bool) float64 {
	const mm = dpi / 25.4
	lines, long := d.high, d.wide
	if down {
		lines, long = d.wide, d.high
	}
	best := 0.0
	for line := range lines {
		at := func(i int) bool {
			if down {
				return d.dark[i*d.wide+line]
			}
			return d.dark[line*d.wide+i]
		}
		fields, run, first, last := 0, 0, -1, -1
		for i := range long {
			if at(i) {
				run++
				if i+1 < long && at(i+1) {
					continue
				}
			}
			if run > 0 {
				if length := float64(run) / mm; length > 8.8 && length < 11.5 {
					fields++
					if first < 0 {
						first = i - run + 1
					}
					last = i
				}
				run = 0
			}
		}
		if fields != 5 {
			continue
		}
		// The bar runs from one end's dark field to the line that closes the last, light
		// one, on whichever side that is.
		for i, free := last+1, 0; i < long && float64(free) < 12*mm; i, free = i+1, free+1 {
			if at(i) {
				last = i
			}
		}
		for i, free := first-1, 0; i >= 0 && float64(free) < 12*mm; i, free = i-1, free+1 {
			if at(i) {
				first = i
			}
		}
		best = math.Max(best, float64(last-first+1)/mm-0.25)
	}
	return best
}

// Printed at 300 dots to the inch, both bars measure 100 mm within a tenth, or what
// makes 100 of them on a printer that stretches.
func TestRasterCheckBars(t *testing.T) {
	block := drawing.New(120, 40)
	block.Rect(drawing.Rect{W: 120, H: 40}, drawing.Lined(drawing.Outline))
	for _, c := range []struct{ short, long float64 }{{0, 0}, {99.2, 99.6}, {101.3, 97.4}} {
		for _, sheet := range []drawing.Format{drawing.A4Portrait, drawing.Letter} {
			page := (drawing.Tiling{Sheet: sheet, Short: c.short, Long: c.long}).Pages(block)[0]
			d := printed(t, page)
			short, long := 100.0, 100.0
			if c.short > 0 {
				short, long = 1e4/c.short, 1e4/c.long
			}
			if got := d.bar(false); math.Abs(got-short) > 0.1 {
				t.Errorf("the bar along the short side measures %.2f, want %.2f", got, short)
			}
			if got := d.bar(true); math.Abs(got-long) > 0.1 {
				t.Errorf("the bar along the long side measures %.2f, want %.2f", got, long)
			}
		}
	}
}
