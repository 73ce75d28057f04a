package build_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/build"
)

var update = flag.Bool("update", false, "rewrite the files that the tests compare with")

// The published schemas are those of the types. Rewrite them by go generate.
func TestSchemaIsCurrent(t *testing.T) {
	for name, want := range build.Schemas() {
		file := filepath.Join("..", "docs", "schema", name)
		if *update {
			if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, want, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		// Windows may check text out with CR LF.
		got = bytes.ReplaceAll(got, []byte("\r\n"), []byte("\n"))
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s is not current; run go generate ./build (-want +got):\n%s", file, diff)
		}
	}
}
