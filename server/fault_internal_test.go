package server

import (
	"bytes"
	"context"
	"errors"
	"log"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"scalewright/build"
	"scalewright/job"
)

// A fault of ours is an answer, told in full to the operator alone, and the server
// goes on.
func TestAFaultIsAnAnswer(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "lantern")
	if err := build.New(dir, "Lantern"); err != nil {
		t.Fatal(err)
	}
	var told bytes.Buffer
	s := New(Options{Folder: home, Now: time.Now, Log: log.New(&told, "", 0)})
	defer s.Close()
	id, err := s.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	ask := onDesk(s, func(context.Context, *desk, seenIn) (AsOf, error) { panic("no such wall") })
	_, err = ask(t.Context(), &seenIn{OnBuild: OnBuild{id}})
	p, ok := errors.AsType[*Problem](err)
	if !ok || p.Status != http.StatusInternalServerError || strings.Contains(p.What+p.Do, "wall") {
		t.Errorf("answer = %+v, %v", p, err)
	}
	if !strings.Contains(told.String(), "no such wall") || !strings.Contains(told.String(), "fault_internal_test.go") {
		t.Errorf("the operator is told %q", told.String())
	}
	if _, err := runJob(t.Context(), job.Input{Reached: func(string, job.Result) { panic("no such step") }}); err == nil {
		t.Error("a run that throws ends without an error")
	}
	again := onDesk(s, board)
	if _, err := again(t.Context(), &boardIn{OnBuild: OnBuild{id}}); err != nil {
		t.Errorf("afterwards: %v", err)
	}
}
