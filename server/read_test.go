package server_test

import (
	"slices"
	"strings"
	"testing"

	"scalewright/server"
)

// Every question has an answer, and lists in it are lists.
func TestQuestions(t *testing.T) {
	b := newBench(t)
	for _, path := range []string{
		"/api/builds", ".", "./verdict", "./lanes", "./lanes/walls/table", "./readings", "./drawings/standing", "./drawings/days", "./drawings/sizes",
		"./handles", "./declaration", "./findings", "./log", "./today", "./calendar", "./pieces", "./sizes", "./reference", "./lights", "./solids", "./files",
		".?units=ft", "./verdict?units=ft", "./lanes?units=ft&open=walls,fits&width_mm=400",
	} {

		status, text := b.raw("GET", path, nil)
		if status != 200 {
			t.Errorf("GET %s = %d %s", path, status, text)
		}
		if strings.Contains(string(text), ":null") && !strings.Contains(string(text), `"station_mm":null`) {
			t.Errorf("GET %s holds a null: %.300s", path, text)
		}
	}
}

func TestBoard(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict") // waits for the first result
	board := get[server.Board](b, ".")
	if board.Name != "Spindle" || board.Empty || board.AsOf.Stale || len(board.Sheets) != 8 || len(board.Lanes) != 9 || board.Span.To <= board.Span.From {
		t.Errorf("board = %+v", board)
	}
	if k := slices.IndexFunc(board.Title, func(c server.TitleCell) bool { return c.ID == "build" }); k < 0 || board.Title[k].Value != "Spindle" {
		t.Errorf("title block = %+v", board.Title)
	}
}
