package server_test

import (
	"bytes"
	"encoding/json"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"scalewright/build"
	"scalewright/server"
)

// bench is a server with one small build, the spindle that every new build is, and a
// browser.
type bench struct {
	t      *testing.T
	dir    string // of the build
	id     string
	server *server.Server
	http   *httptest.Server
}

func options(t *testing.T, home string) server.Options {
	return server.Options{
		Folder: filepath.Join(home, "builds"), Remember: filepath.Join(home, "recent.json"),
		Demo: os.DirFS("../examples/acorn"), Now: time.Now, Log: log.New(testLog{t}, "", 0),
	}
}

type testLog struct{ t *testing.T }

func (l testLog) Write(p []byte) (int, error) { l.t.Log(string(p)); return len(p), nil }

func newBench(t *testing.T) *bench {
	t.Helper()
	home := t.TempDir()
	dir := filepath.Join(home, "builds", "spindle")
	if err := build.New(dir, "Spindle"); err != nil {
		t.Fatal(err)
	}
	return serve(t, options(t, home), dir)
}

// serve starts a server on a build's folder. It stops with the test.
func serve(t *testing.T, o server.Options, dir string, with ...func(*http.Server)) *bench {
	t.Helper()
	b := &bench{t: t, dir: dir}
	b.http = httptest.NewUnstartedServer(nil)
	o.Hosts = append(o.Hosts, b.http.Listener.Addr().String())
	b.server = server.New(o)
	b.http.Config.Handler = b.server.Handler()
	for _, change := range with {
		change(b.http.Config)
	}
	b.http.Start()
	t.Cleanup(b.stop)
	id, err := b.server.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	b.id = id
	return b
}

// restartedWith is another server on the same build, with short limits of time.
func (b *bench) restartedWith(limit time.Duration) *bench {
	b.stop()
	return serve(b.t, options(b.t, filepath.Dir(filepath.Dir(b.dir))), b.dir, func(s *http.Server) {
		s.ReadTimeout, s.WriteTimeout = limit, limit
	})
}

func (b *bench) stop() {
	b.server.Close()
	b.http.CloseClientConnections()
	b.http.Close()
}

// raw asks, and gives status and text.
func (b *bench) raw(method, path string, body any) (int, []byte) {
	b.t.Helper()
	var in io.Reader
	kind := "application/json"
	switch v := body.(type) {
	case nil:
	case []byte:
		in, kind = bytes.NewReader(v), "application/octet-stream"
	default:
		text, err := json.Marshal(v)
		if err != nil {
			b.t.Fatal(err)
		}
		in = bytes.NewReader(text)
	}
	r, err := http.NewRequestWithContext(b.t.Context(), method, b.http.URL+b.path(path), in)
	if err != nil {
		b.t.Fatal(err)
	}
	if in != nil {
		r.Header.Set("Content-Type", kind)
	}
	w, err := b.http.Client().Do(r)
	if err != nil {
		b.t.Fatal(err)
	}
	defer w.Body.Close()
	text, err := io.ReadAll(w.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return w.StatusCode, text
}

// path of a question about the build, where it begins with a point.
func (b *bench) path(p string) string {
	if rest, ok := strings.CutPrefix(p, "."); ok {
		return "/api/builds/" + b.id + rest
	}
	return p
}

// get asks and wants 200.
func get[T any](b *bench, path string) T {
	b.t.Helper()
	return send[T](b, "GET", path, nil)
}

func send[T any](b *bench, method, path string, body any) T {
	b.t.Helper()
	var out T
	status, text := b.raw(method, path, body)
	if status != http.StatusOK {
		b.t.Fatalf("%s %s = %d %s", method, path, status, text)
	}
	if err := json.Unmarshal(text, &out); err != nil {
		b.t.Fatalf("%s %s: %v", method, path, err)
	}
	return out
}

// refused wants another status, and gives the problem.
func (b *bench) refused(status int, method, path string, body any) server.Problem {
	b.t.Helper()
	got, text := b.raw(method, path, body)
	if got != status {
		b.t.Fatalf("%s %s = %d, want %d: %s", method, path, got, status, text)
	}
	var p server.Problem
	if err := json.Unmarshal(text, &p); err != nil {
		b.t.Fatalf("%s %s: %v: %s", method, path, err, text)
	}
	return p
}

// edit is one change of build.yaml.
func edit(base, path, text string) server.Edit {
	return server.Edit{Base: base, Wait: 60_000, Changes: []server.Change{{Op: "put", At: server.Place{File: build.BuildFile, Path: path}, Text: text}}}
}

func (b *bench) text() string {
	b.t.Helper()
	text, err := os.ReadFile(filepath.Join(b.dir, build.BuildFile))
	if err != nil {
		b.t.Fatal(err)
	}
	return string(text)
}
