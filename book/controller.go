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
	if p := r.Effects.Program; len(p.Shows) > 0 {
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
	e := r.Effects
	fmt.Fprintf(&b, "Wiring of %s\n\n%-20s %-22s %-32s %4s %8s %-16s %6s %6s  %s\n", r.Name, "wire", "from", "to", "AWG", "mm", "colours", "A", "V", "note")
	for _, w := range e.Wires {
		about := ""
		if w.Guessed {
			about = "length a guess; "
		}
		fmt.Fprintf(&b, "%-20s %-22s %-32s %4d %8.0f %-16s %6.2f %6.2f  %s\n",
			w.Wire.ID, w.FromPin, w.ToPin, w.Gauge, float64(w.Length), w.Colours, w.Amps, w.Drop, about+w.Note)
	}
	fmt.Fprintf(&b, "\nLengths hold 15 %% and 100 mm of slack; A at most, V lost there and back at that current, copper at %.0f °C.\n", e.Celsius)
	if e.Fuse > 0 {
		fmt.Fprintf(&b, "Fuse: %v A, slow (T), in the supply's red lead, the first thing behind the plug.\n", e.Fuse)
	} else {
		fmt.Fprintf(&b, "Fuse: none would open before %s limits itself at %.1f A; every lead bears that.\n", e.Supply, e.Gives/1000)
	}
	b.WriteString("Data: the strip wants 0.7 of its supply, 3.5 V at 5 V; a controller of 3.3 V needs a buffer (74AHCT125) before it.\n")
	b.WriteString("Mains: only a certified adapter, at the wall; nothing of it is opened.\n")
	return b.String()
}
