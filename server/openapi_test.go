package server_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"net/http/httptest"
	"os"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"scalewright/server"
)

var update = flag.Bool("update", false, "rewrite golden files")

// The page's client is generated from this file.
const golden = "openapi.json"

func TestOpenAPI(t *testing.T) {
	s := server.New(server.Options{Hosts: []string{"example.com"}, Now: time.Now})
	defer s.Close()
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, httptest.NewRequest("GET", "/openapi.json", nil))
	var got bytes.Buffer
	if err := json.Indent(&got, w.Body.Bytes(), "", " "); err != nil {
		t.Fatalf("%d %s: %v", w.Code, w.Body, err)
	}
	got.WriteByte('\n')
	if *update {
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got.String()); diff != "" {
		t.Errorf("%s is not of these types (go test ./server -update) (-want +got):\n%s", golden, diff)
	}
}
