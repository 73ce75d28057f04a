package book

import (
	"io"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
)

// writeTemplates writes each template at full size as SVG and PDF.
func writeTemplates(w Writer, r job.Result, o Options) error {
	for _, t := range lane.Templates(r, o.System) {
		name := "templates/" + t.Name
		err := writeFile(w, name+".svg", func(w io.Writer) error { return drawing.SVG(w, t.Scene, drawing.SVGOptions{}) })
		if err != nil {
			return err
		}
		err = writeFile(w, name+".pdf", func(w io.Writer) error {
			return drawing.PDF(w, []drawing.Page{{ID: t.Name, Scene: t.Scene}}, drawing.Meta{
				Title: r.Name + ", " + t.Title, Subject: "template, full size", Creator: "Scalewright", Lang: "en", Date: o.Date,
			})
		})
		if err != nil {
			return err
		}
	}
	return nil
}
