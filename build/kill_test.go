package build_test

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"scalewright/build"
	"scalewright/model"
)

const (
	victimEnv = "SCALEWRIGHT_BUILD_VICTIM"
	kills     = 100
)

// told is the last that the victim acknowledged of each kind: a number that
// only grows.
type told struct{ revision, events, made, out int }

// wallAt is the wall that the victim writes with a revision, so that any
// revision proves its text.
func wallAt(revision int) string { return fmt.Sprintf("%d.%02d mm", 2+revision/100, revision%100) }

// victim saves, logs, releases and replaces results as fast as it can, and
// says what is done. It ends only by being killed.
func victim(dir string) {
	must := func(err error) {
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
	f, err := build.Open(dir)
	must(err)
	l, err := f.Load()
	must(err)
	revision := l.Revision
	pieces, err := f.Made()
	must(err)
	made, out := len(pieces), generation(dir)
	for i := os.Getpid(); ; i++ { // begins with another task each time
		switch i % 4 {
		case 0:
			revision, err = f.Set(revision, at("parts.tail.wall"), wallAt(revision+1))
			must(err)
			fmt.Println("revision", revision)
		case 1:
			n, err := f.Append(note("a"), note("b"))
			must(err)
			fmt.Println("events", n)
		case 2:
			made++
			_, n, err := f.Release(build.Release{
				Seen: revision, Piece: shell("tail", "foot", "nose"), Event: model.Event{Time: someTime},
				Files: map[string][]byte{"solid.stl": []byte(strings.Repeat(fmt.Sprintln("piece", made), 100))},
			})
			must(err)
			fmt.Println("made", made)
			fmt.Println("events", n)
		case 3:
			out++
			w, err := f.Out("")
			must(err)
			for _, name := range outNames {
				file, err := w.Create(name)
				must(err)
				_, err = fmt.Fprintln(file, out)
				must(err)
				must(file.Close())
			}
			must(w.Commit())
			fmt.Println("out", out)
		}
	}
}

var outNames = []string{"report.json", "pieces/a.stl", "book.pdf"}

// generation is which results stand in out/; 0: none.
func generation(dir string) int {
	text, err := os.ReadFile(filepath.Join(dir, "out", "report.json"))
	if err != nil {
		return 0
	}
	var n int
	fmt.Sscan(string(text), &n)
	return n
}

// A program that is killed again and again, at moments that nobody chose,
// leaves each time at least what it had acknowledged, and nothing half done.
func TestKill(t *testing.T) {
	dir := copyDemo(t)
	write(t, dir, "out/report.json", "0\n")
	for _, name := range outNames[1:] {
		write(t, dir, "out/"+name, "0\n")
	}
	write(t, dir, "out/.keep/x", "kept")
	random := rand.New(rand.NewPCG(1, 2))
	var acked told
	for i := range kills {
		// After so many acknowledgements and a little: a save takes a few
		// thousandths of a second, so the moment falls anywhere in one.
		torture(t, dir, 1+random.IntN(3), time.Duration(random.IntN(5000))*time.Microsecond, &acked)
		inspect(t, dir, acked)
		if t.Failed() {
			t.Fatalf("after kill %d; acknowledged %+v", i+1, acked)
		}
	}
	t.Logf("acknowledged %+v", acked)
	if acked.revision < 10 || acked.events < 10 || acked.made < 5 || acked.out < 5 {
		t.Errorf("the victim hardly lived: %+v", acked)
	}
}

func torture(t *testing.T, dir string, acks int, more time.Duration, acked *told) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), victimEnv+"="+dir)
	cmd.Stderr = os.Stderr
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(pipe)
	for range acks {
		hear(t, lines, acked)
	}
	time.Sleep(more)
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	for hear(t, lines, acked) {
	}
	_ = cmd.Wait() // says that it was killed
}

// hear takes in one acknowledgement; false at the end. A line cut short was
// never finished.
func hear(t *testing.T, lines *bufio.Reader, acked *told) bool {
	line, err := lines.ReadString('\n')
	if errors.Is(err, io.EOF) {
		return false
	}
	if err != nil {
		return false // the pipe of a killed program
	}
	what, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
	into, ok := map[string]*int{"revision": &acked.revision, "events": &acked.events, "made": &acked.made, "out": &acked.out}[what]
	if !ok {
		t.Errorf("the victim says %q", line)
		return false
	}
	fmt.Sscan(rest, into)
	return true
}

func inspect(t *testing.T, dir string, acked told) {
	t.Helper()
	f, err := build.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	if l.Revision < acked.revision || l.Revision > 1 && l.Declared.Parts[1].Wall.Text != wallAt(l.Revision) {
		t.Errorf("revision %d, wall %s", l.Revision, l.Declared.Parts[1].Wall)
	}
	if len(l.Events) < acked.events {
		t.Errorf("%d events", len(l.Events))
	}
	inspectMade(t, f, l.Events, acked)
	out := generation(dir)
	for _, name := range outNames {
		if got := strings.TrimSpace(text(t, dir, "out/"+name)); got != fmt.Sprint(out) || out < acked.out {
			t.Errorf("out/%s is of results %s, the report of %d", name, got, out)
		}
	}
	if got := text(t, dir, "out/.keep/x"); got != "kept" {
		t.Errorf("the memory of results holds %q", got)
	}
	if h, err := f.History(); err != nil || len(h.Undo) != l.Revision-1 {
		t.Errorf("%d steps to undo at revision %d, %v", len(h.Undo), l.Revision, err)
	}
	for _, left := range []string{"out.new", "out.old", ".build.yaml.new", "history/pending.json"} {
		if _, err := os.Stat(filepath.Join(dir, left)); err == nil {
			t.Errorf("%s is left", left)
		}
	}
}

// inspectMade holds the folders of made/ against the log: one to one.
func inspectMade(t *testing.T, f *build.Folder, events []model.Event, acked told) {
	t.Helper()
	pieces, err := f.Made()
	if err != nil || len(pieces) < acked.made {
		t.Errorf("%d made pieces, %v", len(pieces), err)
	}
	released := 0
	for _, e := range events {
		if e.Kind == model.Released {
			released++
		}
	}
	if released != len(pieces) {
		t.Errorf("%d pieces, but %d released in the log", len(pieces), released)
	}
	for i, p := range pieces {
		data, err := f.ReadMade(p.Label, "solid.stl")
		if err != nil || string(data) != strings.Repeat(fmt.Sprintln("piece", i+1), 100) {
			t.Errorf("piece %s holds %d bytes, %v", p.Label, len(data), err)
		}
		if about, err := f.ReadMade(p.Label, "piece.json"); err != nil || !json.Valid(about) {
			t.Errorf("piece %s: %v", p.Label, err)
		}
	}
}
