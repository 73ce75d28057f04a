package book

import (
	"io"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
)

// PDF writes the build book: the verdict, the general arrangement with its
// parts list, a page a piece, the calendar and the notes.
func PDF(w io.Writer, r job.Result, o Options) error {
	return drawing.PDF(w, Pages(r, o), drawing.Meta{
		Title: r.Name, Subject: "build book", Creator: "Scalewright", Lang: "en", Date: o.Date,
	})
}

// Pages are the sheets of the book.
func Pages(r job.Result, o Options) []drawing.Page {
	b := &sheets{r: r, o: o, lanes: lane.Prepare(r)}
	b.verdict()
	b.arrangement()
	b.allLanes()
	b.reference()
	b.sizes()
	for i := range r.Prints {
		b.piece(i)
	}
	b.inside()
	b.lights()
	b.finishing()
	b.standing()
	b.templates()
	b.details()
	b.exploded()
	b.assembly()
	b.calendar()
	b.notes()
	return b.finish()
}
