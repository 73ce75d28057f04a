package book

import (
	"fmt"
	"io"
	"strings"

	"scalewright/craft/firmware"
	"scalewright/job"
)

// writeController writes the controller's program, its Makefile and the wiring.
func writeController(w Writer, r job.Result) error {
	if r.Effects.Supply == "" {
		return nil
	}
	files := []struct{ name, text string }{{"wiring.txt", wiring(r)}}
	if p := r.Effects.Program; len(p.Shows) > 0 && p.Pixels > 0 {
		files = append(files,
			struct{ name, text string }{"controller.c", firmware.Source(r.Name, p)},
			struct{ name, text string }{"Makefile", firmware.Makefile},
		)
	}
	for _, f := range files {
		if err := writeFile(w, "controller/"+f.name, func(w io.Writer) error { _, err := io.WriteString(w, f.text); return err }); err != nil {
			return err
		}
	}
	return nil
}

// wiring is the wiring table as text.
func wiring(r job.Result) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Wiring of %s\n\n%-20s %-22s %-22s %4s %8s %6s %6s  %s\n", r.Name, "wire", "from", "to", "AWG", "mm", "A", "V", "note")
	for _, w := range r.Effects.Wires {
		fmt.Fprintf(&b, "%-20s %-22s %-22s %4d %8.0f %6.2f %6.2f  %s\n",
			w.Wire.ID, w.FromPin, w.ToPin, w.Gauge, float64(w.Length), w.Amps, w.Drop, w.Note)
	}
	b.WriteString("\nLengths hold 15 % and 100 mm of slack; A at most, V lost there and back at that current.\n")
	b.WriteString("Mains: only a certified adapter, at the wall; nothing of it is opened. A fuse or the adapter's own limit guards the rail.\n")
	return b.String()
}
