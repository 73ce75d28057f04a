package book

import (
	"io"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
)

// writeTemplates writes each template at full size: whole as SVG, on sheets of the
// shop's paper as PDF.
func writeTemplates(w Writer, r job.Result, o Options) error {
	for _, t := range lane.Templates(r, o.System) {
		name := "templates/" + t.Name
		err := writeFile(w, name+".svg", func(w io.Writer) error { return drawing.SVG(w, t.Scene, drawing.SVGOptions{}) })
		if err != nil {
			return err
		}
		err = writeFile(w, name+".pdf", func(w io.Writer) error {
			var pages []drawing.Page
			for _, p := range t.Pages(r, o.System) {
				pages = append(pages, drawing.Page{Scene: p})
			}
			return drawing.PDF(w, pages, drawing.Meta{
				Title: r.Name + ", " + t.Title, Subject: "template, full size", Creator: "Scalewright", Lang: "en", Date: o.Date,
			})
		})
		if err != nil {
			return err
		}
	}
	return nil
}
