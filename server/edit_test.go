package server_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/build"
	"scalewright/server"
)

func version(b *bench) string {
	b.t.Helper()
	return get[server.Declaration](b, "./declaration").AsOf.Version
}

// declared is what the build file says at a place.
func declared(b *bench, path string) string {
	b.t.Helper()
	all := get[server.Declaration](b, "./declaration").Values
	k := slices.IndexFunc(all, func(v server.Declared) bool { return v.At.File == build.BuildFile && v.At.Path == path })
	if k < 0 {
		return ""
	}
	return all[k].Text
}

func TestEditKeepsCommentsAndSaysWhatFollows(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	before := b.text()
	done := send[server.Edited](b, "POST", "./edits", edit(version(b), "enlarge.ratio", "5"))
	if done.Name == "" || done.AsOf.Revision < 2 || done.AsOf.Stale {
		t.Errorf("edited = %+v", done)
	}
	c := done.Consequences
	if c == nil || c.After.Overall <= c.Before.Overall || c.After.Mass <= c.Before.Mass || !strings.HasPrefix(c.Says, "adds ") {
		t.Fatalf("consequences = %+v", c)
	}
	if strings.Count(before, "#") != strings.Count(b.text(), "#") || declared(b, "enlarge.ratio") != "5" {
		t.Errorf("after the edit:\n%s", b.text())
	}
	huge := send[server.Trial](b, "POST", "./trials", edit("", "enlarge.ratio", "9")).Consequences
	if !strings.Contains(huge.Says, "cannot be made") || len(huge.New) == 0 {
		t.Errorf("nine times as large: %q, %d new findings", huge.Says, len(huge.New))
	}
	v := get[server.VerdictSheet](b, "./verdict")
	if v.Totals != c.After {
		t.Errorf("the verdict has %+v, the consequences %+v", v.Totals, c.After)
	}
}

func TestTrialWritesNothing(t *testing.T) {
	b := newBench(t)
	before := b.text()
	trial := send[server.Trial](b, "POST", "./trials", edit("", "enlarge.ratio", "5"))
	if c := trial.Consequences; c.After.Overall <= c.Before.Overall || b.text() != before {
		t.Errorf("trial = %+v, text changed: %v", trial, b.text() != before)
	}
	wrong := b.refused(422, "POST", "./trials", edit("", "enlarge.ratio", "huge"))
	if len(wrong.Findings) == 0 || wrong.Findings[0].Line == 0 || b.text() != before {
		t.Errorf("a ratio of huge: %+v", wrong)
	}
}

func TestUndoAndRedoSurviveARestart(t *testing.T) {
	b := newBench(t)
	was := declared(b, "enlarge.ratio")
	send[server.Edited](b, "POST", "./edits", edit(version(b), "enlarge.ratio", "4.7"))
	name := get[server.Board](b, ".").Undo[0]
	b.stop()

	b = serve(t, options(t, filepath.Dir(filepath.Dir(b.dir))), b.dir)
	if got := get[server.Board](b, ".").Undo; len(got) == 0 || got[0] != name {
		t.Fatalf("after a restart undo knows %q, want %q first", got, name)
	}
	undone := send[server.Edited](b, "POST", "./undo", server.Walk{Base: version(b)})
	if undone.Name != name || declared(b, "enlarge.ratio") != was {
		t.Errorf("undone %q; the ratio is %s, was %s", undone.Name, declared(b, "enlarge.ratio"), was)
	}
	if got := get[server.Board](b, ".").Redo; len(got) == 0 || got[0] != name {
		t.Errorf("redo knows %q", got)
	}
	send[server.Edited](b, "POST", "./redo", server.Walk{Base: version(b)})
	if declared(b, "enlarge.ratio") != "4.7" {
		t.Errorf("done again the ratio is %s", declared(b, "enlarge.ratio"))
	}
	b.refused(409, "POST", "./redo", server.Walk{Base: version(b)}) // nothing left
}

// Two windows look at one version; the second to write is told what differs, and
// nothing of the first is overwritten.
func TestConflict(t *testing.T) {
	b := newBench(t)
	base := version(b)
	send[server.Edited](b, "POST", "./edits", edit(base, "enlarge.ratio", "4.7"))
	text := b.text()
	p := b.refused(409, "POST", "./edits", edit(base, "enlarge.ratio", "4.8"))
	if p.Conflict == nil || p.Conflict.Base != base || p.Conflict.Now != version(b) {
		t.Fatalf("problem = %+v", p)
	}
	if len(p.Conflict.Differs) != 1 || p.Conflict.Differs[0].At.Path != "enlarge.ratio" || p.Conflict.Differs[0].Is != "4.7" {
		t.Errorf("differs = %+v", p.Conflict.Differs)
	}
	if diff := cmp.Diff(text, b.text()); diff != "" {
		t.Errorf("the refused edit wrote:\n%s", diff)
	}
	// An editor on the disk is another window.
	base = version(b)
	outside := strings.Replace(text, "ratio: 4.7", "ratio: 5", 1)
	if err := os.WriteFile(filepath.Join(b.dir, build.BuildFile), []byte(outside), 0o644); err != nil {
		t.Fatal(err)
	}
	p = b.refused(409, "POST", "./edits", edit(base, "enlarge.ratio", "4.8"))
	if len(p.Conflict.Differs) != 1 || p.Conflict.Differs[0].Was != "4.7" || p.Conflict.Differs[0].Is != "5" || b.text() != outside {
		t.Errorf("after an editor: %+v", p.Conflict)
	}
}

func TestMistakesOnDiskAreShownAndMended(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	text := b.text()
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(b.dir, build.BuildFile), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	events := b.listen()
	write(strings.Replace(text, "ratio:", "rato:", 1))
	events.until("state")
	board := get[server.Board](b, ".")
	if len(board.Unreadable) == 0 || !board.AsOf.Stale || board.Empty {
		t.Errorf("board of a file with a mistake: unreadable %+v, as of %+v", board.Unreadable, board.AsOf)
	}
	get[server.VerdictSheet](b, "./verdict") // what was shown before stands
	b.refused(422, "POST", "./edits", edit(board.AsOf.Version, "name", "Other"))
	write(text)
	events.until("state")
	if board := get[server.Board](b, "."); len(board.Unreadable) != 0 {
		t.Errorf("after mending: %+v", board.Unreadable)
	}
}
