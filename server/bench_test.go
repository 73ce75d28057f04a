package server_test

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"scalewright/server"
)

const evening = "2026-12-01T18:30:00+01:00"

// A piece from the day's list to printed, as a phone does it.
func TestAPieceAtTheBench(t *testing.T) {
	b := newBench(t)
	day := get[server.Today](b, "./today?date=2020-01-01")
	if len(day.Acts) == 0 || day.Date == "" || day.Care == "" || day.Sure == "" {
		t.Fatalf("today = %+v", day)
	}
	tonight := get[server.VerdictSheet](b, "./verdict").Tonight
	if tonight == nil {
		t.Fatal("nothing to print tonight")
	}
	page := get[server.PiecePage](b, "./pieces/"+tonight.Piece)
	if page.State != "planned" || len(page.Steps) == 0 || page.Care == "" {
		t.Errorf("page = %+v", page)
	}
	if page.Release == "" || slices.Contains(page.May, "released") {
		t.Errorf("an open part's piece may be released: %v, %q", page.May, page.Release)
	}
	b.refused(422, "POST", "./log", server.LogEntry{Kind: "released", Time: evening, Piece: tonight.Piece})

	settle := edit(version(b), "parts."+page.Part+".settled", "true")
	send[server.Edited](b, "POST", "./edits", settle)
	released := send[server.Logged](b, "POST", "./log", server.LogEntry{Kind: "released", Time: evening, Piece: tonight.Piece})
	if released.Label == "" {
		t.Fatalf("released = %+v", released)
	}
	page = get[server.PiecePage](b, "./pieces/"+released.Label)
	if page.State != "released" || page.Label != released.Label || len(page.Kept) != 3 || !slices.Contains(page.May, "started") {
		t.Errorf("after the release: %+v", page)
	}
	if status, text := b.raw("GET", "./file?path="+page.Kept[0], nil); status != 200 || len(text) == 0 {
		t.Errorf("%s = %d", page.Kept[0], status)
	}
	if status, text := b.raw("GET", "./labels", nil); status != 200 || !strings.HasPrefix(string(text), "%PDF-") {
		t.Errorf("labels = %d %.20s", status, text)
	}
	started := server.LogEntry{Kind: "started", Time: "2026-12-01T19:00:00+01:00", Piece: released.Label}
	first := send[server.Logged](b, "POST", "./log", started)
	again := send[server.Logged](b, "POST", "./log", started) // the phone never heard of the first
	if again.Number != first.Number || !again.Again || first.Again {
		t.Errorf("logged %+v, then %+v", first, again)
	}
	send[server.Logged](b, "POST", "./log", server.LogEntry{Kind: "printed", Time: "2026-12-02T07:00:00+01:00", Piece: released.Label, Minutes: 300, Grams: 120})
	send[server.Logged](b, "POST", "./log", server.LogEntry{Kind: "note", Time: "2026-12-02T07:05:00+01:00", Piece: released.Label, Text: "a string on the lip"})
	page = get[server.PiecePage](b, "./pieces/"+released.Label)
	if page.State != "printed" || len(page.Events) != 4 || !strings.Contains(page.Events[0].Says, "a string on the lip") || !strings.Contains(page.Events[1].Says, "5 h") {
		t.Errorf("at the end: %s, %+v", page.State, page.Events)
	}
	if got := get[server.Sizes](b, "./sizes"); got.Settled == "" || len(got.Candidates) != 0 {
		t.Errorf("sizes after a release: %+v", got)
	}
	b.refused(422, "POST", "./log", server.LogEntry{Kind: "withdrawn", Time: evening, Of: released.Number})
	send[server.Logged](b, "POST", "./log", server.LogEntry{Kind: "withdrawn", Time: "2026-12-02T08:00:00+01:00", Of: released.Number + 2})
	if got := get[server.PiecePage](b, "./pieces/"+released.Label).State; got != "printing" {
		t.Errorf("with the print taken back it is %s", got)
	}
}

func TestWhatCannotBeLogged(t *testing.T) {
	b := newBench(t)
	for name, e := range map[string]server.LogEntry{
		"no piece":           {Kind: "started"},
		"empty note":         {Kind: "note", Text: "  "},
		"unknown work":       {Kind: "done", Task: "saw.nothing"},
		"no such printer":    {Kind: "measured", Printer: "nobody", What: "bore", Asked: "40 mm", Came: "39.8 mm"},
		"a reading far off":  {Kind: "measured", Printer: "first", What: "bore", Asked: "40 mm", Came: "30 mm"},
		"a reading of words": {Kind: "measured", Printer: "first", What: "bore", Asked: "wide", Came: "39.8 mm"},
		"no event":           {Kind: "withdrawn", Of: 99},
	} {
		e.Time = evening
		if p := b.refused(422, "POST", "./log", e); p.Do == "" {
			t.Errorf("%s: %+v does not say what to do", name, p)
		}
	}
	b.refused(404, "POST", "./log", server.LogEntry{Kind: "started", Time: evening, Piece: "nobody"})
	b.refused(404, "POST", "./log", server.LogEntry{Kind: "photo", Time: evening, Text: "photos/none.jpg"})
	b.refused(422, "POST", "./log", server.LogEntry{Kind: "note", Time: "yesterday", Text: "x"})
	if got := get[server.LogList](b, "./log").Events; len(got) != 0 {
		t.Errorf("the log holds %+v", got)
	}
}

func TestDoneAndMeasuredAreLogged(t *testing.T) {
	b := newBench(t)
	var work string
	for _, task := range get[server.Plan](b, "./calendar").Tasks {
		if task.Kind != "print" {
			work = task.ID
		}
	}
	send[server.Logged](b, "POST", "./log", server.LogEntry{Kind: "done", Time: evening, Task: work, Minutes: 20})
	for _, task := range get[server.Plan](b, "./calendar").Tasks {
		if task.ID == work {
			t.Errorf("%s is planned although it is done", work)
		}
	}
	send[server.Logged](b, "POST", "./log", server.LogEntry{Kind: "measured", Time: evening, Printer: "first", What: "bore", Asked: "40 mm", Came: "39.8 mm"})
	events := get[server.LogList](b, "./log").Events
	if len(events) != 2 || !strings.Contains(events[0].Says, "39.8 mm for 40 mm") || !strings.Contains(events[1].Says, work) {
		t.Errorf("the log says %+v", events)
	}
}

func TestMake(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	s := b.listen()
	if got := send[server.Files](b, "POST", "./make", map[string]string{"units": "mm"}); !got.Making {
		t.Errorf("make = %+v", got)
	}
	if data, _ := s.until("made"); strings.Contains(data, "trouble") {
		t.Fatalf("made = %s", data)
	}
	all := get[server.Files](b, "./files")
	if !all.Made || all.Making || all.Stale {
		t.Errorf("files = %+v", all)
	}
	for _, want := range []string{"out/book.pdf", "out/report.json", "out/parts.csv", "out/calendar.ics"} {
		k := slices.IndexFunc(all.Files, func(f server.FileLine) bool { return f.Path == want })
		if k < 0 {
			t.Errorf("%s was not made", want)
			continue
		}
		if status, text := b.raw("GET", "./file?path="+want, nil); status != 200 || int64(len(text)) != all.Files[k].Bytes {
			t.Errorf("%s = %d, %d bytes of %d", want, status, len(text), all.Files[k].Bytes)
		}
	}
	for _, p := range get[server.PieceList](b, "./pieces").Pieces {
		if status, _ := b.raw("GET", "./file?path="+url.QueryEscape(p.File), nil); status != 200 {
			t.Errorf("print file %s = %d", p.File, status)
		}
	}
}

// A mesh as the page gets it is the piece: closed, as large as its span.
func TestSolids(t *testing.T) {
	b := newBench(t)
	all := get[server.Solids](b, "./solids")
	if len(all.Pieces) == 0 {
		t.Fatal("nothing can be turned")
	}
	moved := 0
	for _, p := range all.Pieces {
		if p.Apart != ([3]float64{}) {
			moved++
		}
	}
	if moved < len(all.Pieces)-1 {
		t.Errorf("pulled apart, %d of %d pieces move", moved, len(all.Pieces))
	}
	for _, p := range all.Pieces {
		status, data := b.raw("GET", "./solids/"+p.ID, nil)
		if status != 200 || string(data[:4]) != "SWM1" {
			t.Fatalf("%s = %d", p.ID, status)
		}
		m := readMesh(t, data)
		if len(m.triangles) != p.Triangles {
			t.Errorf("%s: %d triangles, told %d", p.ID, len(m.triangles), p.Triangles)
		}
		edges := map[[2]uint32]int{}
		for _, tri := range m.triangles {
			for k := range 3 {
				edges[[2]uint32{tri[k], tri[(k+1)%3]}]++
			}
		}
		for e, n := range edges {
			if n != 1 || edges[[2]uint32{e[1], e[0]}] != 1 {
				t.Fatalf("%s: edge %v is there %d times", p.ID, e, n)
			}
		}
		low, high := m.stations()
		if low < p.Span.From-0.02 || high > p.Span.To+0.02 { // hundredths, single precision
			t.Errorf("%s reaches from %v to %v, told %+v", p.ID, low, high, p.Span)
		}
	}
}
