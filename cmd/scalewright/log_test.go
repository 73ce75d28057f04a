package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/build"
)

// started is a new build's folder.
func started(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "lantern")
	if err := build.New(dir, "lantern"); err != nil {
		t.Fatal(err)
	}
	return dir
}

func say(t *testing.T, args ...string) (int, string) {
	t.Helper()
	var said bytes.Buffer
	status := run(t.Context(), args, &said, &said)
	return status, said.String()
}

// What nobody means is refused at the door, with what to do, and the log stays
// as it was.
func TestLogRefuses(t *testing.T) {
	dir := started(t)
	for _, c := range []struct{ name, args, says string }{
		{"a core of a metre", "measured|core|1 m", "not the diameter"},
		{"a slipped point", "measured|first|outer|40 mm|400.1 mm", "further off"},
		{"a wild bore", "measured|first|bore|40 mm|30 mm", "further off"},
		{"of the reference", "measured|core|6.3 ref", "caliper"},
		{"no unit", "measured|core|25", "no unit"},
		{"unknown printer", "measured|frist|bore|40 mm|39.8 mm", "did you mean first"},
		{"grams of nothing", "printed|base.foot.nose|--grams=NaN", "g is not"},
		{"less than no grams", "printed|base.foot.nose|--grams=-3", "g is not"},
		{"years of printing", "printed|base.foot.nose|--minutes=999999999", "minutes is not"},
		{"work nobody has", "done|nonsense", "no work"},
		{"a photo that is not there", "photo|nofile.jpg", "no file"},
		{"an empty note", "note| ", "takes one thing"},
		{"money without end", "spent|1e308", "not an amount"},
		{"an event that is not there", "withdrawn|7", "no event"},
		{"a piece that is not there", "printed|base.foot.noze", "did you mean"},
	} {
		status, said := say(t, append([]string{"log", dir}, strings.Split(c.args, "|")...)...)
		if status != exitUnread || !strings.Contains(said, c.says) || !strings.Contains(said, "do: ") {
			t.Errorf("%s: exit status %d, said %q", c.name, status, said)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, build.LogFile)); err == nil {
		t.Error("something was logged")
	}
}

// A wrong reading can be taken back; a release cannot.
func TestWithdrawn(t *testing.T) {
	dir := started(t)
	must := func(args ...string) {
		t.Helper()
		if status, said := say(t, args...); status != exitDone {
			t.Fatalf("%v: exit status %d\n%s", args, status, said)
		}
	}
	_, before := say(t, "check", "--json", dir)
	must("log", dir, "measured", "first", "bore", "40 mm", "38.5 mm")
	if _, after := say(t, "check", "--json", dir); after == before {
		t.Error("a reading changed nothing")
	}
	must("log", dir, "withdrawn", "1")
	if _, after := say(t, "check", "--json", dir); after != before {
		t.Errorf("after taking it back:\n%s\nwant\n%s", after, before)
	}
	text, err := os.ReadFile(filepath.Join(dir, build.BuildFile))
	if err != nil {
		t.Fatal(err)
	}
	settled := strings.Replace(string(text), "  base:\n", "  base:\n    settled: true\n", 1)
	if err := os.WriteFile(filepath.Join(dir, build.BuildFile), []byte(settled), 0o644); err != nil {
		t.Fatal(err)
	}
	must("log", dir, "released", "base.foot.nose")
	must("log", dir, "printed", "a1", "--minutes", "800")
	if status, said := say(t, "log", dir, "withdrawn", "3"); status != exitUnread || !strings.Contains(said, "fact") {
		t.Errorf("taking a release back: exit status %d, said %q", status, said)
	}
}

// A blocked build says what blocks it, whatever is asked of it.
func TestLogOnABlockedBuild(t *testing.T) {
	dir := started(t)
	text, err := os.ReadFile(filepath.Join(dir, build.BuildFile))
	if err != nil {
		t.Fatal(err)
	}
	spaced := strings.Replace(string(text), "hold: bored", "hold: spaced", 1)
	if spaced == string(text) {
		t.Fatal("the new build is not bored")
	}
	if err := os.WriteFile(filepath.Join(dir, build.BuildFile), []byte(spaced), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"log", dir, "printed", "base.foot.nose"},
		{"log", dir, "done", "saw.core"},
		{"log", dir, "released", "base.foot.nose"},
		{"today", dir},
		{"make", dir},
		{"check", dir},
	} {
		status, said := say(t, args...)
		if status != exitBlocked || !strings.Contains(said, ": blocker ") || strings.Contains(said, "-0.") {
			t.Errorf("%v: exit status %d, said %q", args, status, said)
		}
	}
}

// Scripts get the mistakes of form as an object too.
func TestCheckJSONOfUnreadable(t *testing.T) {
	dir := started(t)
	if err := os.WriteFile(filepath.Join(dir, build.BuildFile), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	var out, talk bytes.Buffer
	if status := run(t.Context(), []string{"check", "--json", dir}, &out, &talk); status != exitUnread {
		t.Errorf("exit status %d", status)
	}
	if !strings.Contains(out.String(), `"code": "missing-key"`) {
		t.Errorf("printed %q", out.String())
	}
}

// Money that came back is a figure below zero.
func TestLogBelowZero(t *testing.T) {
	if status, said := say(t, "log", started(t), "spent", "--text", "a spool taken back", "--", "-22.5"); status != exitDone {
		t.Errorf("exit status %d, said %q", status, said)
	}
}
