package book

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"scalewright/job"
)

// Write writes all files of a result. Files made before an error stay with the
// writer, which throws them away.
func Write(ctx context.Context, w Writer, r job.Result, o Options) error {
	solids, err := printed(ctx, r)
	if err != nil {
		return err
	}
	for i := range solids {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := writeSolid(w, r, i, solids[i]); err != nil {
			return err
		}
	}
	if err := writeSlice(w, r); err != nil {
		return err
	}
	if err := writeController(w, r); err != nil {
		return err
	}
	if err := writeTemplates(w, r, o); err != nil {
		return err
	}
	r.Findings = append(r.Findings[:len(r.Findings):len(r.Findings)], roundingFindings(r, solids)...).Sorted()
	files := []struct {
		name  string
		write func(io.Writer) error
	}{
		{"report.json", func(w io.Writer) error { return writeReport(w, r, o, solids) }},
		{"parts.csv", func(w io.Writer) error { return partsCSV(w, r) }},
		{"calendar.ics", func(w io.Writer) error { return calendarICS(w, r, o) }},
		{"book.pdf", func(w io.Writer) error { return PDF(w, r, o) }},
	}
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := writeFile(w, f.name, f.write); err != nil {
			return err
		}
	}
	return nil
}

// writeFile writes a file through memory, so that what makes it never waits for
// a disk and a file is either whole or not begun.
func writeFile(w Writer, name string, write func(io.Writer) error) error {
	var text bytes.Buffer
	if err := write(&text); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	file, err := w.Create(name)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if _, err := file.Write(text.Bytes()); err != nil {
		_ = file.Close() // the first error says more
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := file.Close(); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}
