package server

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"

	"scalewright/book"
	"scalewright/build"
	"scalewright/job/recipe"
	"scalewright/unit"
)

func files(_ context.Context, d *desk, _ seenIn) (Files, error) {
	d.used()
	listed, stale, err := d.folder.Results()
	if err != nil {
		return Files{}, err
	}
	d.mu.Lock()
	out := Files{Stale: stale, Made: len(listed) > 0, Making: d.making, Files: []FileLine{}}
	d.mu.Unlock()
	for _, f := range listed {
		out.Files = append(out.Files, FileLine{build.OutDir + "/" + f.Name, f.Bytes, fileWords(f.Name)})
	}
	return out, nil
}

// fileWords say what a file of out/ is.
func fileWords(name string) string {
	dir, ext := path.Dir(name), path.Ext(name)
	switch {
	case name == "book.pdf":
		return "the build book"
	case dir == "pieces" && ext == ".3mf":
		return "print file"
	case dir == "pieces":
		return "the same, for programs that take no 3MF"
	case dir == "templates":
		return "template, 1:1"
	case dir == "controller":
		return "program for the controller"
	case name == "calendar.ics":
		return "calendar file"
	case name == "parts.csv":
		return "list of parts"
	case name == build.ReportFile:
		return "everything found, for programs"
	}
	return ""
}

// mayRead are the folders from which files are handed out.
var mayRead = []string{build.OutDir, build.MadeDir}

// readFile reads a file of out/ or made/.
func (d *desk) readFile(name string) ([]byte, error) {
	first, _, _ := strings.Cut(name, "/")
	if !slices.Contains(mayRead, first) || !fs.ValidPath(name) || strings.Contains(name, "/.") {
		return nil, notFound("there is no file of that name", "the list of files has them")
	}
	data, err := d.folder.ReadFile(name, mostFile)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, build.ErrOutside) {
		return nil, notFound("there is no file of that name", "the list of files has them")
	}
	return data, err
}

// mostFile that is handed out, bytes.
const mostFile = 256 << 20

type makeIn struct {
	OnBuild
	Body struct {
		Units string `json:"units,omitempty" enum:"mm,ft"`
	}
}

// makeOut begins to write out/; it is refused while it is at it.
func (s *Server) makeOut(ctx context.Context, d *desk, in makeIn) (Files, error) {
	u := unit.Metric
	if in.Body.Units == "ft" {
		u = unit.FeetInches
	}
	now, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return Files{}, err
	}
	if asOf.Stale {
		return Files{}, &Problem{Status: http.StatusConflict, What: "a new result is being worked out", Do: "make it when nothing is stale"}
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.making || d.closed {
		return Files{}, &Problem{Status: http.StatusConflict, What: "it is being made already", Do: "wait for it"}
	}
	d.making = true
	d.work.Go(func() {
		blocked, err := recipe.Guard("make", func() (bool, error) { return d.writeOut(now, u) })
		d.mu.Lock()
		defer d.mu.Unlock()
		d.making = false
		event := MadeEvent{Blocked: blocked}
		if err != nil {
			event.Trouble = d.troubleOf(err)
		}
		d.tell(event)
	})
	return Files{Making: true, Files: []FileLine{}}, nil
}

// writeOut writes what the command make writes.
func (d *desk) writeOut(s *shown, u unit.System) (blocked bool, err error) {
	out, err := d.folder.Out("")
	if err != nil {
		return false, err
	}
	defer out.Abort()
	date, err := time.Parse(time.DateOnly, s.loaded.Declared.Calendar.Start)
	if err != nil {
		return false, err
	}
	r := s.result
	options := book.Options{System: u, Locate: s.loaded.Locate, Date: date}
	if r.Blocked() {
		var report bytes.Buffer
		if err := book.ReportJSON(&report, r, options); err != nil {
			return true, err
		}
		return true, out.MarkStale(report.Bytes())
	}
	if len(s.loaded.Kept) == 0 {
		if r.Sizes, err = d.sizesOf(d.until, s); err != nil {
			return false, err
		}
	}
	if err := book.Write(d.until, out, r, options); err != nil {
		return false, err
	}
	return false, out.Commit()
}
