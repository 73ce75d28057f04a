package server

import "context"

func (s *Server) listBuilds(context.Context, *struct{}) (Shelf, error) { return s.shelf.list(), nil }

func (s *Server) openBuild(_ context.Context, in *struct{ Body Opening }) (Opened, error) {
	d, err := s.shelf.open(in.Body)
	if err != nil {
		return Opened{}, s.shelf.problemOf(err)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return Opened{d.id, d.loaded.Declared.Name}, nil
}
