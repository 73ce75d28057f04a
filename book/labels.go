package book

import (
	"fmt"
	"io"
	"strings"

	"github.com/boombuler/barcode/qr"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
)

// Labels of pieces on a sheet, mm: three by seven on A4.
const (
	labelWide   = 63.5
	labelHigh   = 38.1
	labelAcross = 3
	labelDown   = 7
	labelCode   = 27.0 // the code with its margin
	labelPad    = 2.5
)

// Labels writes the labels of all released pieces, to be cut out and stuck inside
// them: the label, the piece's name, and a code that leads to the piece's page at an
// address, which stands there as text too. Without an address there is no code.
func Labels(w io.Writer, r job.Result, o Options, address string) error {
	var pages []drawing.Page
	var sheet *drawing.Scene
	size := drawing.A4Portrait
	left, top := (size.Width-labelAcross*labelWide)/2, (size.Height-labelDown*labelHigh)/2
	n := 0
	for _, p := range r.Division.Pieces {
		name := label(r, p.ID.String())
		if name == "" {
			continue
		}
		at := n % (labelAcross * labelDown)
		if at == 0 {
			sheet = drawing.New(size.Width, size.Height)
			sheet.Title = fmt.Sprintf("Labels of %s, sheet %d", r.Name, len(pages)+1)
			pages = append(pages, drawing.Page{ID: fmt.Sprintf("labels-%d", len(pages)+1), Scene: sheet})
		}
		corner := drawing.Pt(left+labelWide*float64(at%labelAcross), top+labelHigh*float64(at/labelAcross))
		one, err := oneLabel(r, p, name, address)
		if err != nil {
			return err
		}
		sheet.Place(one, corner, name+"-")
		n++
	}
	if n == 0 {
		sheet = drawing.New(size.Width, size.Height)
		sheet.Text(drawing.Text{At: drawing.Pt(20, 30), String: "No piece is released yet; a label is given at release.", Size: drawing.SizeText})
		pages = append(pages, drawing.Page{ID: "labels-1", Scene: sheet})
	}
	return drawing.PDF(w, pages, drawing.Meta{Title: r.Name, Subject: "labels", Creator: "Scalewright", Lang: "en", Date: o.Date})
}

// oneLabel is a label with its cutting lines.
func oneLabel(r job.Result, p model.Piece, name, address string) (*drawing.Scene, error) {
	s := drawing.New(labelWide, labelHigh)
	s.Rect(drawing.Rect{W: labelWide, H: labelHigh}, drawing.Lined(drawing.Fine.In(drawing.Rule)))
	x := labelPad
	if address != "" {
		code, err := codeOf(address+"/bench/"+name, labelCode)
		if err != nil {
			return nil, fmt.Errorf("label %s: %w", name, err)
		}
		s.Begin(drawing.Group{ID: "code", Title: "code of " + name})
		s.Path(code.Moved(drawing.Pt(labelPad, (labelHigh-labelCode)/2-2)), drawing.Filled(drawing.Ink))
		s.End()
		x += labelCode + 1
		text := strings.TrimPrefix(address, "http://") + "/bench/" + name
		size := drawing.SizeCaption
		if wide := drawing.Measure(text, drawing.Regular, size); wide > labelWide-2*labelPad {
			size *= (labelWide - 2*labelPad) / wide // whole: it is typed where the code is torn
		}
		s.Text(drawing.Text{At: drawing.Pt(labelPad, labelHigh-labelPad), String: text, Size: size})
	}
	room := labelWide - x - labelPad
	s.Text(drawing.Text{At: drawing.Pt(x, 14), String: name, Face: drawing.Bold, Size: 12})
	for i, line := range []string{p.Name, r.Name, fmt.Sprintf("rev %d", revisionOf(r, name))} {
		s.Text(drawing.Text{At: drawing.Pt(x, 20+4.2*float64(i)), String: drawing.Shorten(line, drawing.Regular, drawing.SizeSmall, room), Size: drawing.SizeSmall})
	}
	return s, nil
}

// revisionOf the build at which a piece was released.
func revisionOf(r job.Result, label string) int {
	for _, m := range r.Facts.Made {
		if m.Label == label {
			return m.Revision
		}
	}
	return 0
}

// quietModules is the margin that ISO/IEC 18004:2015, 6.3.8, asks for.
const quietModules = 4

// codeOf is a QR code as one path, so many mm wide with its margin. A quarter of it
// may be dirty (level Q): it hangs in a workshop.
func codeOf(text string, wide float64) (*drawing.Path, error) {
	code, err := qr.Encode(text, qr.Q, qr.Auto)
	if err != nil {
		return nil, err
	}
	n := code.Bounds().Dx()
	module := wide / float64(n+2*quietModules)
	path := &drawing.Path{}
	for y := range n {
		for x := 0; x < n; x++ {
			from := x
			for x < n && isDark(code, x, y) {
				x++
			}
			if x > from { // one box a run
				path.Append(drawing.Box(drawing.Rect{
					X: float64(from+quietModules) * module, Y: float64(y+quietModules) * module,
					W: float64(x-from) * module, H: module,
				}))
			}
		}
	}
	return path, nil
}
