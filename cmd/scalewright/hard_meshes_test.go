package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// seconds are what no two runs share.
var seconds = regexp.MustCompile(`(?m)^.*"seconds": .*\n`)

// TestHardMeshes gives the commands of examples/hard-meshes and compares what is
// said with says.txt: the command, its exit status, then what it prints.
func TestHardMeshes(t *testing.T) {
	const from = "../../examples/hard-meshes"
	commands, err := os.ReadFile(filepath.Join(from, "commands.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out := t.TempDir()
	t.Chdir(from)
	var got strings.Builder
	for line := range strings.Lines(string(commands)) {
		var said bytes.Buffer
		status := run(t.Context(), strings.Fields(strings.ReplaceAll(line, "OUT", out)), &said, &said)
		text := strings.ReplaceAll(said.String(), out, "OUT")
		fmt.Fprintf(&got, "> %sexit %d\n%s\n", line, status, seconds.ReplaceAllString(text, ""))
	}
	if *update {
		if err := os.WriteFile("says.txt", []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("says.txt")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got.String()); diff != "" {
		t.Errorf("the commands said (-want +got):\n%s", diff)
	}
}
