package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"scalewright/job/recipe"
	"scalewright/unit"
)

// OnBuild is the part of a request that names a build.
type OnBuild struct {
	Build string `path:"build" maxLength:"80" doc:"Id of the build."`
}

// InUnits is the part of a request that says how lengths are written.
type InUnits struct {
	Units string `query:"units" enum:"mm,ft" default:"mm" doc:"Lengths in mm, or in feet, inches and sixteenths."`
}

func (u InUnits) system() unit.System {
	if u.Units == "ft" {
		return unit.FeetInches
	}
	return unit.Metric
}

// answer is a body of JSON.
type answer[T any] struct{ Body T }

// route documents a handler and registers it. The id is the name of the operation in
// the page's client.
func route[I, T any](s *Server, method, path, id, summary string, handle func(context.Context, *I) (T, error)) {
	op := huma.Operation{
		Method: method, Path: "/api" + path, OperationID: id, Summary: summary,
		MaxBodyBytes: mostEditBody,
		Errors:       []int{http.StatusNotFound, http.StatusConflict, http.StatusUnprocessableEntity, http.StatusServiceUnavailable},
	}
	huma.Register(s.api, op, func(ctx context.Context, in *I) (*answer[T], error) {
		body, err := handle(ctx, in)
		if err != nil {
			return nil, err
		}
		return &answer[T]{body}, nil
	})
}

// on is a handler of a build.
type built interface{ of() string }

func (b OnBuild) of() string { return b.Build }

// onDesk finds the build that a request names, and puts errors into words.
func onDesk[I built, T any](s *Server, handle func(context.Context, *desk, I) (T, error)) func(context.Context, *I) (T, error) {
	return func(ctx context.Context, in *I) (T, error) {
		var none T
		d, err := s.shelf.desk((*in).of())
		if err != nil {
			return none, s.shelf.problemOf(err)
		}
		out, err := recipe.Guard("", func() (T, error) { return handle(ctx, d, *in) })
		if err != nil {
			return none, d.problemOf(err)
		}
		return out, nil
	}
}

func (s *shelf) problemOf(err error) error {
	d := desk{report: s.report}
	return d.problemOf(err)
}

// routes are all questions and orders, by sheet.
func (s *Server) routes() {
	const build = "/builds/{build}"
	route(s, "GET", "/builds", "listBuilds", "Builds opened before", s.listBuilds)
	route(s, "POST", "/builds", "openBuild", "Start a build, copy the demo, or open a folder", s.openBuild)
	route(s, "GET", build, "board", "What the window shows round every sheet", onDesk(s, board))
	route(s, "GET", build+"/verdict", "verdict", "The answer before all others", onDesk(s, verdictSheet))
	route(s, "GET", build+"/lanes", "lanes", "Lanes drawn for one view", onDesk(s, lanes))
	route(s, "GET", build+"/lanes/{lane}/table", "laneTable", "A lane's facts as rows by station", onDesk(s, laneTable))
	route(s, "GET", build+"/readings", "readings", "What the plumb line reads in every lane", onDesk(s, readings))
	route(s, "GET", build+"/drawings/{drawing}", "drawing", "A picture that is no lane", onDesk(s, drawingOf))
	route(s, "GET", build+"/handles", "handles", "What can be dragged or typed on the elevation", onDesk(s, handles))
	route(s, "GET", build+"/declaration", "declaration", "What build.yaml and shop.yaml say", onDesk(s, declaration))
	route(s, "GET", build+"/findings", "findings", "What the stages have to say", onDesk(s, findings))
	route(s, "POST", build+"/edits", "edit", "Change build.yaml or shop.yaml", onDesk(s, edit))
	route(s, "POST", build+"/trials", "try", "What an edit would lead to", onDesk(s, try))
	route(s, "POST", build+"/undo", "undo", "Take the last edit back", onDesk(s, undo))
	route(s, "POST", build+"/redo", "redo", "Do the last edit again that was taken back", onDesk(s, redo))
	route(s, "POST", build+"/cuts", "acceptCuts", "Write cuts into build.yaml, each with an id of its own", onDesk(s, acceptCuts))
	route(s, "POST", build+"/stop", "stop", "Stop the run under way; what is shown stands", onDesk(s, stopRun))
	route(s, "POST", build+"/run", "run", "Go on after a stop", onDesk(s, runAgain))
	route(s, "GET", build+"/log", "log", "What happened", onDesk(s, logList))
	route(s, "POST", build+"/log", "record", "Record what happened", onDesk(s, s.record))
	route(s, "GET", build+"/today", "today", "A day's bench list", onDesk(s, s.today))
	route(s, "GET", build+"/calendar", "calendar", "Who and what does which work when", onDesk(s, plan))
	route(s, "GET", build+"/pieces", "pieces", "All prints", onDesk(s, pieces))
	route(s, "GET", build+"/pieces/{piece}", "piece", "The bench page of a piece", onDesk(s, piecePage))
	route(s, "GET", build+"/sizes", "sizes", "Ratios worth weighing", onDesk(s, sizes))
	route(s, "GET", build+"/reference", "reference", "What is known of the reference", onDesk(s, reference))
	route(s, "GET", build+"/reference/caliper", "caliper", "Readings by caliper beside the photograph, and what may be true of the outline", onDesk(s, caliper))
	route(s, "POST", build+"/reference/corner", "moveCorner", "Where a corner or an arc comes to lie that is moved on the photograph", onDesk(s, moveCorner))
	route(s, "POST", build+"/reference/stroke", "paint", "A stroke on the photograph as an edit", onDesk(s, paint))
	route(s, "POST", build+"/reference/feature", "markFeature", "What a mark on the photograph comes to, and the edit that keeps it", onDesk(s, markFeature))
	route(s, "GET", build+"/photos/{name}/grid", "seeGrid", "The mat's grid as it is found in a photograph by itself", onDesk(s, seeGrid))
	route(s, "PUT", build+"/marks/{name}", "putMarks", "Store the marks of a photograph beside it", onDesk(s, putMarks))
	route(s, "GET", build+"/outlines", "outlines", "Outlines that the build names, as typed", onDesk(s, outlines))
	route(s, "PUT", build+"/outlines/{name}", "putOutline", "Store a typed outline", onDesk(s, putOutline))
	route(s, "GET", build+"/lights", "lights", "Lights and sound", onDesk(s, lights))
	route(s, "GET", build+"/solids", "solids", "Pieces that can be turned", onDesk(s, solids))
	route(s, "GET", build+"/files", "files", "What was made", onDesk(s, files))
	route(s, "POST", build+"/make", "make", "Write out/: print files, book, templates; the event made says when it is done", onDesk(s, s.makeOut))
	s.bytesRoutes(build)
	s.eventRoute(build)
}
