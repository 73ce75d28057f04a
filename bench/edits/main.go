// Command edits measures what a maker waits for on the page: from letting go of a
// dimension of the demo to all lanes served anew, each as it is announced, over HTTP on this machine, the edit
// written to disk on the way. Medians of five, each with another value, so that nothing
// was worked out before.
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"scalewright/bench/machine"
	"scalewright/build"
	"scalewright/examples"
	"scalewright/server"
)

const (
	runs      = 5
	goalPlain = 150.0  // ms, of edits that touch no mesh
	goalMesh  = 1500.0 // of edits that do
)

// dragged is an edit made over and over: the place, and its text by the run.
type dragged struct {
	name string
	file string
	path string
	text func(run int) string
	mesh bool
}

var edits = []dragged{
	{"the build's name", build.BuildFile, "name", func(n int) string { return fmt.Sprintf("Rocket %d", n) }, false},
	{"first day of work", build.BuildFile, "calendar.start", func(n int) string { return fmt.Sprintf("2026-12-%02d", n+1) }, false},
	{"coats of clear", build.BuildFile, "finish.clear_coats", func(n int) string { return fmt.Sprint(n % 4) }, false},
	{"lamps of the strip", build.BuildFile, "components.glow.pixels", func(n int) string { return fmt.Sprint(14 - n) }, false},
	{"swing of a show", build.BuildFile, "shows.idle.period_s", func(n int) string { return fmt.Sprint(5 + n) }, false},
	{"money for an hour", build.ShopFile, "hour_price", func(n int) string { return fmt.Sprint(10 + n) }, false},
	{"wall of the nose", build.BuildFile, "parts.nose.wall", func(n int) string { return fmt.Sprintf("2.%d mm", 5+n) }, true},
	{"end of the core", build.BuildFile, "core.to", func(n int) string { return fmt.Sprintf("%d ref", 175+n) }, true},
	{"place of the hatch", build.BuildFile, "openings.hatch.at", func(n int) string { return fmt.Sprintf("%d ref", 81+n) }, true},
	{"thickness of the fins", build.BuildFile, "parts.fin.thick", func(n int) string { return fmt.Sprintf("2.%d ref", 5+n) }, true},
	{"wall of the body", build.BuildFile, "parts.body.wall", func(n int) string { return fmt.Sprintf("2.%d mm", 5+n) }, true},
	{"the enlargement", build.BuildFile, "enlarge.ratio", func(n int) string { return fmt.Sprintf("6.%d", 1+n) }, true},
}

func main() {
	if err := measure(); err != nil {
		fmt.Fprintln(os.Stderr, "bench edits:", err)
		os.Exit(1)
	}
}

// page is a browser that has the demo open.
type page struct {
	at string // of the build's questions
}

func measure() error {
	home, err := os.MkdirTemp("", "bench-edits-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(home)
	dir := filepath.Join(home, "demo")
	if err := build.Copy(dir, examples.Demo()); err != nil {
		return err
	}
	h := httptest.NewUnstartedServer(nil)
	s := server.New(server.Options{Hosts: []string{h.Listener.Addr().String()}, Folder: home, Now: time.Now})
	h.Config.Handler = s.Handler()
	h.Start()
	defer h.Close()
	defer s.Close()
	began := time.Now()
	id, err := s.Open(dir)
	if err != nil {
		return err
	}
	p := page{h.URL + "/api/builds/" + id}
	var sheet server.LaneSheet
	if err := p.ask("GET", "/lanes?lanes=elevation", nil, &sheet); err != nil {
		return err
	}
	first := time.Since(began)
	var verdict server.VerdictSheet
	if err := p.ask("GET", "/verdict", nil, &verdict); err != nil {
		return err
	}
	fmt.Printf("%s, median of %d, ms\n", machine.String(), runs)
	fmt.Printf("opened for the first time: elevation after %d, all after %d\n", first.Milliseconds(), time.Since(began).Milliseconds())
	fmt.Printf("%-24s %10s %10s %10s %10s   %s\n", "edit", "elevation", "all lanes", "worst", "derived", "goal")
	for _, d := range edits {
		if err := p.drag(d); err != nil {
			return fmt.Errorf("%s: %w", d.name, err)
		}
	}
	return nil
}

// drag makes an edit, run by run, and fetches its lanes as they are announced, as the
// page does.
func (p page) drag(d dragged) error {
	var elevation, served, derived []float64
	for n := range runs {
		one, err := p.once(d, n)
		if err != nil {
			return err
		}
		elevation, served, derived = append(elevation, one[0]), append(served, one[1]), append(derived, one[2])
	}
	goal := goalPlain
	if d.mesh {
		goal = goalMesh
	}
	fmt.Printf("%-24s %10.0f %10.0f %10.0f %10.0f   %.0f\n", d.name, machine.Median(elevation), machine.Median(served), slices.Max(served), machine.Median(derived), goal)
	return nil
}

// once is the time to the elevation, to all lanes and to the last word.
func (p page) once(d dragged, n int) (out [3]float64, err error) {
	var now server.Declaration
	if err := p.ask("GET", "/declaration", nil, &now); err != nil {
		return out, err
	}
	events, err := p.listen()
	if err != nil {
		return out, err
	}
	defer events.Close()
	edit := server.Edit{Base: now.AsOf.Version, Changes: []server.Change{
		{Op: "put", At: server.Place{File: d.file, Path: d.path}, Text: d.text(n)},
	}}
	began := time.Now()
	var edited server.Edited
	if err := p.ask("POST", "/edits", edit, &edited); err != nil {
		return out, err
	}
	fresh := map[string]bool{}
	for lines := bufio.NewScanner(events); lines.Scan(); {
		data, ok := strings.CutPrefix(lines.Text(), "data: ")
		if !ok {
			continue
		}
		var event struct {
			AsOf  server.AsOf `json:"as_of"`
			Lanes []string    `json:"lanes"`
			Last  *float64    `json:"seconds"`
		}
		if err := json.Unmarshal([]byte(data), &event); err != nil {
			return out, err
		}
		if event.AsOf.State != edited.AsOf.State || event.Lanes == nil && event.Last == nil {
			continue
		}
		if event.Last != nil {
			out[2] = ms(began)
		}
		query := "/lanes?open=elevation,pieces,walls,fits&width_mm=300"
		if event.Lanes != nil {
			query += "&lanes=" + strings.Join(event.Lanes, ",")
		}
		var sheet server.LaneSheet
		if err := p.ask("GET", query, nil, &sheet); err != nil {
			return out, err
		}
		for _, l := range sheet.Lanes {
			if l.AsOf.State == edited.AsOf.State && !l.AsOf.Stale && !fresh[l.ID] {
				fresh[l.ID] = true
				if l.ID == "elevation" {
					out[0] = ms(began)
				}
				if len(fresh) == allLanes {
					out[1] = ms(began)
				}
			}
		}
		if event.Last != nil {
			break
		}
	}
	if len(fresh) < allLanes {
		return out, fmt.Errorf("only %d lanes came", len(fresh))
	}
	return out, nil
}

// allLanes of the page.
const allLanes = 9

// listen opens the stream of events.
func (p page) listen() (io.ReadCloser, error) {
	w, err := http.Get(p.at + "/events")
	if err != nil {
		return nil, err
	}
	return w.Body, nil
}

func ms(since time.Time) float64 { return float64(time.Since(since).Microseconds()) / 1000 }

func (p page) ask(method, path string, body, out any) error {
	var in io.Reader
	if body != nil {
		text, err := json.Marshal(body)
		if err != nil {
			return err
		}
		in = bytes.NewReader(text)
	}
	r, err := http.NewRequest(method, p.at+path, in)
	if err != nil {
		return err
	}
	r.Header.Set("Content-Type", "application/json")
	w, err := http.DefaultClient.Do(r)
	if err != nil {
		return err
	}
	defer w.Body.Close()
	text, err := io.ReadAll(w.Body)
	if err != nil {
		return err
	}
	if w.StatusCode != http.StatusOK {
		return fmt.Errorf("%s %s: %d %s", method, path, w.StatusCode, text)
	}
	return json.Unmarshal(text, out)
}
