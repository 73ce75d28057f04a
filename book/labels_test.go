package book_test

import (
	"bytes"
	"strings"
	"testing"

	"scalewright/book"
	"scalewright/job"
	"scalewright/model"
)

func released(labels ...string) job.Result {
	r := job.Result{Name: "Lantern"}
	for i, l := range labels {
		id := model.PieceID{Kind: model.Shell, Part: "body", From: string(rune('a' + i)), To: model.Nose}
		r.Division.Pieces = append(r.Division.Pieces, model.Piece{ID: id, Name: "body " + l})
		r.Facts.Made = append(r.Facts.Made, model.Made{Piece: id.String(), Label: l, Revision: 7})
	}
	return r
}

func TestLabels(t *testing.T) {
	many := make([]string, 22) // one more than a sheet holds
	for i := range many {
		many[i] = "B" + string(rune('a'+i))
	}
	for name, c := range map[string]struct {
		r     job.Result
		where string
		pages int
	}{
		"none":            {released(), "http://192.168.1.20:8220/b/lantern", 1},
		"two":             {released("A1", "A2"), "http://192.168.1.20:8220/b/lantern", 1},
		"without address": {released("A1"), "", 1},
		"a sheet and one": {released(many...), "http://[fe80::1]:8220/b/lantern", 2},
	} {
		var one, two bytes.Buffer
		if err := book.Labels(&one, c.r, book.Options{}, c.where); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := book.Labels(&two, c.r, book.Options{}, c.where); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Errorf("%s: not the same bytes twice, %v", name, err)
		}
		if got := strings.Count(one.String(), "/Type /Page\n"); got != c.pages {
			t.Errorf("%s: %d pages, want %d", name, got, c.pages)
		}
	}
}
