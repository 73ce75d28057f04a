package server_test

import (
	"bufio"
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"scalewright/server"
)

// stream is a stream of events as a browser hears it.
type stream struct {
	b    *bench
	next chan [2]string // name and data; closed at the end
}

// listen opens a stream and hears its first event.
func (b *bench) listen() *stream {
	b.t.Helper()
	r, err := http.NewRequestWithContext(b.t.Context(), "GET", b.http.URL+b.path("./events"), nil)
	if err != nil {
		b.t.Fatal(err)
	}
	w, err := b.http.Client().Do(r)
	if err != nil {
		b.t.Fatal(err)
	}
	b.t.Cleanup(func() { w.Body.Close() })
	if kind := w.Header.Get("Content-Type"); w.StatusCode != 200 || kind != "text/event-stream" {
		b.t.Fatalf("events = %d %s", w.StatusCode, kind)
	}
	s := &stream{b, make(chan [2]string, 1000)}
	go func() {
		defer close(s.next)
		lines := bufio.NewScanner(w.Body)
		lines.Buffer(nil, 1<<20)
		name := ""
		for lines.Scan() {
			if n, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				name = n
			}
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				s.next <- [2]string{name, data}
			}
		}
	}()
	s.until("state")
	return s
}

// until waits for an event of that name, and counts what came before.
func (s *stream) until(name string) (data string, before map[string]int) {
	s.b.t.Helper()
	before = map[string]int{}
	for late := time.After(2 * time.Minute); ; {
		select {
		case e, open := <-s.next:
			if !open {
				s.b.t.Fatalf("the stream ended before %s came", name)
			}
			if e[0] == name {
				return e[1], before
			}
			before[e[0]]++
		case <-late:
			s.b.t.Fatalf("no event %s; %v came", name, before)
		}
	}
}

// An edit is heard by every window, then the lanes as they come, then what follows.
func TestEvents(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	one, two := b.listen(), b.listen()
	e := edit(version(b), "enlarge.ratio", "4.7")
	e.Wait = 0
	done := send[server.Edited](b, "POST", "./edits", e)
	for _, s := range []*stream{one, two} {
		var state server.StateEvent
		data, _ := s.until("state")
		if err := json.Unmarshal([]byte(data), &state); err != nil || state.Why != "edit" || state.Name != done.Name || !state.AsOf.Stale {
			t.Errorf("state = %s, %v", data, err)
		}
		var derived server.DerivedEvent
		data, before := s.until("derived")
		if err := json.Unmarshal([]byte(data), &derived); err != nil || derived.AsOf.State != done.AsOf.State || derived.Consequences == nil {
			t.Errorf("derived = %s, %v", data, err)
		}
		if before["stage"] < 4 {
			t.Errorf("%v came before derived, want the stages that bring lanes", before)
		}
	}
}

// Ten edits in a row: only the last is derived to the end, and what it shows is right.
func TestAnEditCancelsTheRunBefore(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	s := b.listen()
	var last server.Edited
	for _, ratio := range []string{"4.1", "4.2", "4.3", "4.4", "4.5", "4.6", "4.7", "4.8", "4.9", "5"} {
		e := edit(version(b), "enlarge.ratio", ratio)
		e.Wait = 0
		last = send[server.Edited](b, "POST", "./edits", e)
	}
	var derived server.DerivedEvent
	for derived.AsOf.State != last.AsOf.State {
		data, _ := s.until("derived")
		derived = server.DerivedEvent{}
		if err := json.Unmarshal([]byte(data), &derived); err != nil {
			t.Fatal(err)
		}
	}
	board := get[server.Board](b, ".")
	if board.Ratio != 5 || board.AsOf.Stale || board.Run.Running {
		t.Errorf("board: ratio %v, %+v, %+v", board.Ratio, board.AsOf, board.Run)
	}
}

// A stream outlives the limits of time that other requests have.
func TestStreamsLast(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	short := b.restartedWith(1500 * time.Millisecond)
	s := short.listen()
	e := edit(version(short), "enlarge.ratio", "4.7")
	e.Wait = 0
	<-time.After(3 * time.Second)
	send[server.Edited](short, "POST", "./edits", e)
	s.until("derived")
}

// A server that stops ends its streams, so that a page knows at once.
func TestStopEndsStreams(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	s := b.listen()
	b.server.Close()
	for range s.next { // until it is closed
	}
}
