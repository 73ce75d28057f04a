package build_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
)

const someTime = "2026-12-01T19:00:00+01:00"

func note(text string) model.Event {
	return model.Event{Kind: model.Remark, Time: someTime, Text: text}
}

func TestLog(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	if l := load(t, f); len(l.Events) != 0 {
		t.Errorf("a build without a log has events %v", l.Events)
	}
	measured := model.Event{Kind: model.Measured, Time: someTime, Printer: "heron", What: "bore", Asked: 110.2, Came: 109.97}
	if n, err := f.Append(note("first"), measured); n != 2 || err != nil {
		t.Fatalf("Append = %d, %v, want 2", n, err)
	}
	if n, err := f.Append(note("<third> & \u2028 so on")); n != 3 || err != nil {
		t.Fatalf("Append = %d, %v, want 3", n, err)
	}
	events := load(t, f).Events
	if len(events) != 3 || events[2].Text != "<third> & \u2028 so on" {
		t.Fatalf("events %+v", events)
	}
	measured.Number, measured.At = 2, finding.Place{File: build.LogFile, Path: "2"}
	if diff := cmp.Diff(measured, events[1]); diff != "" {
		t.Errorf("event (-want +got):\n%s", diff)
	}
	if got := load(t, f).Locate(events[2].At); got.Line != 3 {
		t.Errorf("event 3 stands at %v", got)
	}
}

func TestLogRefuses(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	for _, e := range []model.Event{{Kind: "lost", Time: someTime}, {Kind: model.Remark}, {Kind: model.Remark, Time: "today"}} {
		if _, err := f.Append(note("good"), e); err == nil {
			t.Errorf("Append(%+v) was accepted", e)
		}
	}
	if l := load(t, f); len(l.Events) != 0 {
		t.Errorf("a refused batch left %v", l.Events)
	}
}

// Every way to cut the log leaves whole events and a note; the next event is
// numbered as if the torn one had never been.
func TestLogTorn(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	for i := range 2 {
		if _, err := f.Append(note(fmt.Sprint(i))); err != nil {
			t.Fatal(err)
		}
	}
	whole := len(text(t, dir, build.LogFile))
	tail := text(t, dir, "history/log-tail")                  // as it is until the batch is acknowledged
	if _, err := f.Append(note("2"), note("3")); err != nil { // written together
		t.Fatal(err)
	}
	full := text(t, dir, build.LogFile)
	write(t, dir, "history/log-tail", tail)
	for cut := whole; cut < len(full); cut++ {
		write(t, dir, build.LogFile, full[:cut])
		l := load(t, f)
		if len(l.Events) != 2 {
			t.Fatalf("cut at %d: %d events, want 2", cut, len(l.Events))
		}
		if notes := l.Findings.Count(finding.Note); notes != 1 && cut > whole || notes != 0 && cut == whole {
			t.Fatalf("cut at %d: %d notes", cut, notes)
		}
	}
	write(t, dir, build.LogFile, full[:whole]+strings.Repeat("\x00", 50)+"\n")
	if n, err := f.Append(note("again")); n != 3 || err != nil {
		t.Fatalf("Append behind a torn line = %d, %v", n, err)
	}
	if l := load(t, f); len(l.Events) != 3 || len(l.Findings) != 0 {
		t.Errorf("after it: %d events, findings %v", len(l.Events), l.Findings)
	}
}

// Changing any byte of a line, or losing a line, is noticed at that line.
func TestLogDamaged(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	if _, err := f.Append(note("one"), note("two"), note("three"), note("four")); err != nil {
		t.Fatal(err)
	}
	full := text(t, dir, build.LogFile)
	lines := strings.SplitAfter(full, "\n")
	expect := func(damaged string, line int, why string) {
		t.Helper()
		write(t, dir, build.LogFile, damaged)
		_, err := f.Load()
		bad, ok := errors.AsType[*build.Unreadable](err)
		if !ok || len(bad.Findings) != 1 || bad.Findings[0].Code != "log-damaged" || bad.Locate(bad.Findings[0].At).Line != line {
			t.Errorf("%s: %v, want log-damaged at line %d", why, err, line)
		}
		if _, err := f.Append(note("five")); err == nil {
			t.Errorf("%s: the damaged log was written to", why)
		}
	}
	second := len(lines[0])
	for i := second; i < second+len(lines[1])-1; i++ {
		expect(full[:i]+string(full[i]^1)+full[i+1:], 2, fmt.Sprintf("byte %d", i))
	}
	expect(lines[0]+lines[2]+lines[3], 2, "a line lost")
	expect(lines[0]+lines[2]+lines[1]+lines[3], 2, "lines exchanged")
	expect(lines[1]+lines[2]+lines[3], 1, "the first lost")
}

func TestLogIsNotSharedWithOthers(t *testing.T) {
	dir := copyDemo(t)
	a, b := open(t, dir), open(t, dir)
	const each = 20
	done := make(chan error)
	for _, f := range []*build.Folder{a, b} {
		go func() {
			for range each {
				if _, err := f.Append(note("x")); err != nil {
					done <- err
					return
				}
			}
			done <- nil
		}()
	}
	for range 2 {
		if err := <-done; err != nil {
			t.Fatal(err)
		}
	}
	if n := len(load(t, a).Events); n != 2*each {
		t.Errorf("%d events of %d", n, 2*each)
	}
	if _, err := os.Stat(filepath.Join(dir, build.HistoryDir, "lock")); err != nil {
		t.Error(err)
	}
}

// Whole lines gone from the end, or the whole log, are noticed too; nothing is
// added behind them, and taking the record of the tail away lets the maker go on.
func TestLogCut(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	for i := range 3 {
		if _, err := f.Append(note(fmt.Sprint(i))); err != nil {
			t.Fatal(err)
		}
	}
	full := text(t, dir, build.LogFile)
	lines := strings.SplitAfter(full, "\n")
	for _, left := range []string{"", lines[0], lines[0] + lines[1]} {
		write(t, dir, build.LogFile, left)
		bad := mistakes(t, dir)
		if len(bad.Findings) != 1 || bad.Findings[0].Code != "log-cut" {
			t.Errorf("with %d bytes left: %v, want log-cut", len(left), bad)
		}
		if _, err := f.Append(note("more")); err == nil {
			t.Errorf("with %d bytes left, an event is added", len(left))
		}
	}
	if err := os.Remove(filepath.Join(dir, build.LogFile)); err != nil {
		t.Fatal(err)
	}
	if bad := mistakes(t, dir); len(bad.Findings) != 1 || bad.Findings[0].Code != "log-cut" {
		t.Errorf("without the log: %v, want log-cut", bad)
	}
	if err := os.Remove(filepath.Join(dir, "history", "log-tail")); err != nil {
		t.Fatal(err)
	}
	if l := load(t, f); len(l.Events) != 0 {
		t.Errorf("gone on with %v", l.Events)
	}
}
