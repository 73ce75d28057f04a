package server_test

import (
	"os"
	"path/filepath"
	"testing"

	"scalewright/build"
	"scalewright/server"
)

func TestShelf(t *testing.T) {
	b := newBench(t)
	one := send[server.Opened](b, "POST", "/api/builds", server.Opening{Kind: "new", Name: "Lantern"})
	demo := send[server.Opened](b, "POST", "/api/builds", server.Opening{Kind: "demo"})
	again := send[server.Opened](b, "POST", "/api/builds", server.Opening{Kind: "open", Folder: "Lantern"})
	if one.Name != "Lantern" || again.ID != one.ID || demo.ID == one.ID || demo.Name == "" {
		t.Errorf("opened %+v, %+v, %+v", one, demo, again)
	}
	shelf := get[server.Shelf](b, "/api/builds")
	if len(shelf.Recent) != 3 || !shelf.Demo {
		t.Errorf("shelf = %+v", shelf)
	}
	b.refused(409, "POST", "/api/builds", server.Opening{Kind: "new", Folder: "Lantern"})
	b.refused(404, "POST", "/api/builds", server.Opening{Kind: "open", Folder: "Nowhere"})
	b.refused(404, "GET", "/api/builds/nobody-00000000", nil)
	for _, folder := range []string{"..", "../x", "a/b", "/etc", `a\b`, ".hidden", "x.", "con\x00"} {
		b.refused(422, "POST", "/api/builds", server.Opening{Kind: "open", Folder: folder})
	}
	outside := filepath.Join(t.TempDir(), "elsewhere")
	if err := build.New(outside, "Elsewhere"); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(filepath.Dir(b.dir), "link")); err != nil {
		t.Skipf("no links here: %v", err)
	}
	b.refused(422, "POST", "/api/builds", server.Opening{Kind: "open", Folder: "link"})
}

// The server stops while a build is derived, and while it is edited: the next one
// finds it whole.
func TestStoppedInTheMiddle(t *testing.T) {
	b := newBench(t)
	for n, ratio := range []string{"4.2", "4.4", "4.6"} {
		e := edit(version(b), "enlarge.ratio", ratio)
		e.Wait = 0
		send[server.Edited](b, "POST", "./edits", e)
		b.stop() // the run is under way
		b = serve(t, options(t, filepath.Dir(filepath.Dir(b.dir))), b.dir)
		if got := declared(b, "enlarge.ratio"); got != ratio {
			t.Fatalf("after stop %d the ratio is %s, want %s", n, got, ratio)
		}
		if got := get[server.VerdictSheet](b, "./verdict"); got.AsOf.Stale || got.Totals.Prints == 0 {
			t.Errorf("verdict = %+v", got)
		}
		if got := len(get[server.Shelf](b, "/api/builds").Recent); got != 1 {
			t.Errorf("%d builds are remembered", got)
		}
	}
}
