package server

import (
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"
)

// Server serves builds to the page. Close it when done.
type Server struct {
	o     Options
	shelf *shelf
	api   huma.API
	root  http.Handler
}

// New makes a server. Nothing is opened yet.
func New(o Options) *Server {
	s := &Server{o: o, shelf: newShelf(o)}
	mux := http.NewServeMux()
	config := huma.Config{OpenAPI: &huma.OpenAPI{
		OpenAPI: "3.1.0",
		Info: &huma.Info{
			Title: "Scalewright", Version: "1",
			Description: "What the page asks of a build. Lengths in mm, masses in g; everything is read from what the stages found.",
		},
		Components: &huma.Components{Schemas: huma.NewMapRegistry("#/components/schemas/", huma.DefaultSchemaNamer)},
	}}
	config.OpenAPIPath = "/openapi"
	config.Formats = map[string]huma.Format{"application/json": huma.DefaultJSONFormat, "json": huma.DefaultJSONFormat}
	config.DefaultFormat = "application/json"
	s.api = humago.New(mux, config)
	s.routes()
	mux.Handle("/", pageHandler(o.Page))
	s.root = guard(o, mux)
	return s
}

// Handler answers requests.
func (s *Server) Handler() http.Handler { return s.root }

// Open opens a build at once, so that its first result is under way before the page
// asks. It returns the build's id.
func (s *Server) Open(dir string) (string, error) {
	d, err := s.shelf.openDir(dir)
	if err != nil {
		return "", err
	}
	return d.id, nil
}

// Close ends all work and waits for it.
func (s *Server) Close() { s.shelf.close() }

// HTTP is a server with the limits that a public door needs. Streams of events
// extend their own time.
func (s *Server) HTTP() *http.Server {
	return &http.Server{
		Handler:           s.root,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       2 * time.Minute, // a photograph over a shop's network
		WriteTimeout:      2 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    1 << 15,
		ErrorLog:          s.o.Log,
	}
}
