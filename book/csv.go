package book

import (
	"encoding/csv"
	"io"
	"strconv"

	"scalewright/job"
)

// partsCSV writes one line a print (RFC 4180, lines end in CRLF). Units stand
// in the head; minutes and grams add up to the verdict's.
func partsCSV(w io.Writer, r job.Result) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	c.Write([]string{
		"item", "id", "name", "label", "printer", "filament", "direction", "length_mm", "diameter_mm", "wall_mm",
		"x_mm", "y_mm", "z_mm", "minutes", "mass_g", "layers", "volume_mm3", "file",
	}) // errors are kept and asked for below
	number := func(x float64, places int) string { return strconv.FormatFloat(x, 'f', places, 64) }
	for i, p := range r.Prints {
		piece, carved := r.Division.Pieces[i], r.Carved[i]
		id := piece.ID.String()
		c.Write([]string{
			strconv.Itoa(i + 1), id, piece.Name, label(r, id), p.Printer, piece.Filament, string(piece.Direction),
			number(float64(carved.Reach.Length()), 2), number(float64(carved.Diameter), 2), number(float64(carved.Wall), 2),
			number(float64(p.Box[0]), 2), number(float64(p.Box[1]), 2), number(float64(p.Box[2]), 2),
			strconv.Itoa(int(p.Minutes)), number(float64(p.Grams), 3), strconv.Itoa(p.Layers),
			number(carved.Volume, 0), threeMFName(id),
		})
	}
	c.Flush()
	return c.Error()
}
