package server

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/unit"
)

// Error makes a Problem an error.
func (p *Problem) Error() string { return p.What }

// GetStatus is the HTTP status.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType is that of RFC 9457, problem details.
func (p *Problem) ContentType(string) string { return "application/problem+json" }

// The library answers what it refuses itself (a missing field, a wrong type) by this
// function, which it offers to be replaced.
func init() {
	huma.DefaultArrayNullable = false // lists are empty, never null
	huma.NewError = func(status int, message string, errs ...error) huma.StatusError {
		p := &Problem{Status: status, What: message}
		for _, err := range errs {
			if detailed, ok := err.(huma.ErrorDetailer); ok {
				d := detailed.ErrorDetail()
				p.Wrong = append(p.Wrong, Wrong{d.Location, d.Message})
			} else if err != nil {
				p.Wrong = append(p.Wrong, Wrong{What: err.Error()})
			}
		}
		return p
	}
}

func badRequest(what, do string) *Problem {
	return &Problem{Status: http.StatusUnprocessableEntity, What: what, Do: do}
}

func notFound(what, do string) *Problem {
	return &Problem{Status: http.StatusNotFound, What: what, Do: do}
}

// problemOf is the one table from errors to answers. What is our own fault or the
// disk's is told in full to the operator only.
func (d *desk) problemOf(err error) error {
	var problem *Problem
	var unread *build.Unreadable
	var cannot *build.CannotEdit
	var busy *build.Busy
	var conflict *build.Conflict
	switch {
	case err == nil:
		return nil
	case errors.As(err, &problem):
		return problem
	case errors.As(err, &conflict):
		return &Problem{Status: http.StatusConflict, What: "the build was changed by another meanwhile; nothing was written", Do: "look at it as it is now, then do it again"}
	case errors.As(err, &unread):
		w := finding.Writer{System: unit.Metric, Locate: unread.Locate}
		p := badRequest("the build could not be read", "each mistake has its place; mend it there")
		for _, f := range unread.Findings {
			p.Findings = append(p.Findings, findingOf(f, w))
		}
		return p
	case errors.As(err, &cannot):
		return badRequest(cannot.Error(), "edit the file itself")
	case errors.As(err, &busy):
		return &Problem{Status: http.StatusServiceUnavailable, What: busy.Error(), Do: "try again when that is done"}
	case errors.Is(err, build.ErrNothing):
		return &Problem{Status: http.StatusConflict, What: "there is nothing left to undo or redo"}
	case errors.Is(err, fs.ErrNotExist):
		return notFound("that is not there", "")
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &Problem{Status: http.StatusServiceUnavailable, What: "stopped", Do: "ask again"}
	}
	d.report(err)
	return &Problem{Status: http.StatusInternalServerError, What: "the disk or the program failed", Do: "the terminal that the program runs in says more; try again"}
}

// conflict says what another changed since a version. The caller holds mu.
func (d *desk) conflict(base string) *Problem {
	c := &Conflict{Base: base, Now: d.version}
	k := slices.IndexFunc(d.known, func(o oldText) bool { return o.version == base })
	if k >= 0 {
		b, s := d.loaded.Texts()
		c.Differs = []Difference{}
		for _, x := range build.Differences(d.known[k].build, d.known[k].shop, b, s) {
			c.Differs = append(c.Differs, Difference{Place{x.At.File, x.At.Path}, x.Was, x.Is})
		}
	}
	return &Problem{
		Status: http.StatusConflict, What: "the build was changed by another meanwhile; nothing was written",
		Do: "look at it as it is now, then do it again", Conflict: c,
	}
}
