package main

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"scalewright/build"
	"scalewright/finding"
)

// heard is what a program writes while it runs.
type heard struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (h *heard) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.b.Write(p)
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.b.String()
}

// serving starts the command and waits until it says where.
func serving(t *testing.T, args ...string) (link string, stop func() int) {
	t.Helper()
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "config"))
	ctx, cancel := context.WithCancel(t.Context())
	var said heard
	status := make(chan int, 1)
	go func() { status <- run(ctx, append([]string{"serve"}, args...), &said, &said) }()
	tick := time.NewTicker(5 * time.Millisecond)
	defer tick.Stop()
	for late := time.After(2 * time.Minute); ; {
		if found := regexp.MustCompile(`http://[^\s]+`).FindString(said.String()); found != "" {
			return found, func() int { cancel(); return <-status }
		}
		select {
		case <-tick.C:
		case s := <-status:
			t.Fatalf("serve ended with %d: %s", s, said.String())
		case <-late:
			t.Fatalf("serve says no address: %s", said.String())
		}
	}
}

func TestServe(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "lantern")
	if err := build.New(dir, "Lantern"); err != nil {
		t.Fatal(err)
	}
	link, stop := serving(t, dir)
	host, rest, _ := strings.Cut(strings.TrimPrefix(link, "http://"), "/")
	if name, _, err := net.SplitHostPort(host); err != nil || name != "127.0.0.1" {
		t.Errorf("it is served at %s", link)
	}
	id := strings.TrimPrefix(rest, "b/")
	w, err := http.Get("http://" + host + "/api/builds/" + id + "/verdict")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(w.Body)
	w.Body.Close()
	if err != nil || w.StatusCode != 200 || !strings.Contains(string(text), "it can be made") {
		t.Errorf("verdict = %d %s, %v", w.StatusCode, text, err)
	}
	if got := stop(); got != exitDone {
		t.Errorf("asked to end, it ended with %d", got)
	}
	if _, err := http.Get("http://" + host + "/"); err == nil {
		t.Error("it still answers")
	}
}

// Another address asks for the token that is shown, of which each run has its own.
func TestServeOnAnotherAddress(t *testing.T) {
	link, stop := serving(t, "--listen", "0.0.0.0:0")
	defer stop()
	if !strings.Contains(link, "/pair?") || !strings.Contains(link, "token=") {
		t.Fatalf("link = %s", link)
	}
	at, _, _ := strings.Cut(link, "/pair")
	ask := func(link string) int {
		t.Helper()
		w, err := http.Get(link)
		if err != nil {
			t.Skipf("this machine does not reach its own address: %v", err)
		}
		w.Body.Close()
		return w.StatusCode
	}
	if got := ask(at + "/api/builds"); got != http.StatusUnauthorized {
		t.Errorf("without the token: %d", got)
	}
	if got := ask(link); got != http.StatusOK {
		t.Errorf("with it: %d", got)
	}
	if a, b := newToken(), newToken(); a == b || len(a) != 32 {
		t.Errorf("tokens %s and %s", a, b)
	}
}

func TestServeRefuses(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	for _, args := range [][]string{{t.TempDir()}, {"--listen", "nowhere"}, {filepath.Join(t.TempDir(), "none")}} {
		var said bytes.Buffer
		if got := run(t.Context(), append([]string{"serve"}, args...), &said, &said); got != exitUnread || !strings.Contains(said.String(), "do: ") {
			t.Errorf("serve %v = %d %s", args, got, said.String())
		}
	}
}

// The code for the terminal has its margin on every side, and is square as letters are
// twice as high as wide.
func TestTerminalCode(t *testing.T) {
	code, err := terminalCode("http://192.168.1.20:8220/pair?to=%2F&token=0123456789abcdef0123456789abcdef")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for line := range strings.Lines(code) {
		lines = append(lines, regexp.MustCompile("\x1b\\[[0-9;]*m|\n").ReplaceAllString(line, ""))
	}
	wide := len([]rune(lines[0]))
	if high := 2 * len(lines); high < wide || high > wide+1 {
		t.Errorf("%d modules wide, %d high", wide, high)
	}
	for i, line := range lines {
		letters := []rune(line)
		if len(letters) != wide || strings.TrimSpace(string(letters[:quietZone])+string(letters[wide-quietZone:])) != "" {
			t.Errorf("line %d is %q", i, line)
		}
	}
	if strings.TrimSpace(lines[0]+lines[1]) != "" || strings.TrimSpace(lines[2]) == "" {
		t.Error("the margin above is not four modules")
	}
}

func TestHosts(t *testing.T) {
	for address, want := range map[string][]string{
		"127.0.0.1":    {"localhost:8220", "127.0.0.1:8220"},
		"192.168.1.20": {"192.168.1.20:8220"},
		"::1":          {"localhost:8220", "[::1]:8220"},
	} {
		if got := hostsOf(&net.TCPAddr{IP: net.ParseIP(address), Port: 8220}); !slices.Equal(got, want) {
			t.Errorf("hosts of %s = %v, want %v", address, got, want)
		}
	}
	if got := outward([]string{"localhost:1", "127.0.0.1:1", "10.0.0.7:1"}); got != "10.0.0.7:1" {
		t.Errorf("outward = %s", got)
	}
}

func TestUndoAndRedo(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "lantern")
	if err := build.New(dir, "Lantern"); err != nil {
		t.Fatal(err)
	}
	does := func(want int, words string, args ...string) {
		t.Helper()
		var said bytes.Buffer
		if got := run(t.Context(), args, &said, &said); got != want || !strings.Contains(said.String(), words) {
			t.Errorf("%v = %d %s, want %d and %q", args, got, said.String(), want, words)
		}
	}
	does(exitUnread, "nothing left", "undo", dir)
	f, err := build.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Set(l.Revision, finding.Place{File: build.BuildFile, Path: "enlarge.ratio"}, "3.5"); err != nil {
		t.Fatal(err)
	}
	f.Close()
	does(exitDone, "ratio of enlarge is taken back", "undo", dir)
	does(exitDone, "ratio of enlarge is done again", "redo", dir)
	does(exitUnread, "nothing left", "redo", dir)
}
