package book_test

import (
	"bytes"
	"context"
	"io"
	"sync"
	"testing"
	"time"

	"scalewright/book"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// finial is a lantern's finial of our invention, typed, that has every kind of
// piece in it: shells cut by a low printer, a removable collar, core rings.
func finial() job.Input {
	o := model.Lines(0, 14, 20, 14, 20, 18, 40, 24, 90, 24, 100, 16, 130, 3, 130, 0)
	part := func(id string, from, to float64) model.DeclaredPart {
		return model.DeclaredPart{
			ID: id, At: finding.Place{File: "build.yaml", Path: "parts." + id},
			From: unit.Ref(from), To: unit.Ref(to), Wall: unit.Shop(2.4), Filament: "white",
		}
	}
	foot := part("foot", 0, 20)
	foot.Open = []string{model.Foot}
	printer := func(id, name string, side, high float64) model.Printer {
		return model.Printer{
			ID: id, Name: name, At: finding.Place{File: "shop.yaml", Path: "printers." + id},
			Build: [3]unit.Length{unit.Length(side), unit.Length(side), unit.Length(high)}, Margin: 5,
			Nozzle: 0.4, Layer: 0.3, Line: 0.45, Speed: 80, Accel: 1500, Flow: 12, WarmUp: 8,
			Calibrated: model.Calibration{Outer: unit.Value{X: 0.05, U: 0.05}, Bore: unit.Value{X: -0.25, U: 0.06}},
		}
	}
	return job.Input{
		Declared: model.Declared{
			Name: "Lantern finial", Revision: 3, Invented: "the finial and the shop are made up for this test",
			Reference: model.DeclaredReference{Outline: "outlines/finial.yaml"},
			Enlarge:   model.DeclaredEnlarge{Ratio: 4},
			Core:      &model.DeclaredCore{Stock: "pressure-50", From: unit.Ref(24), To: unit.Ref(95), Hold: model.Spaced},
			Parts:     []model.DeclaredPart{foot, part("bowl", 20, 100), part("tip", 100, 130)},
			Joints: []model.DeclaredJoint{
				{ID: "foot-bowl", Between: [2]string{"foot", "bowl"}, Kind: model.Collar, Removable: true},
			},
			Calendar: model.DeclaredCalendar{Start: "2026-11-30"},
			Shop: model.Shop{
				Currency:  "EUR",
				Printers:  []model.Printer{printer("heron", "Heron", 230, 180), printer("wren", "Wren", 160, 150)},
				Filaments: []model.Filament{{ID: "white", Name: "white", Material: "PLA", Spool: 1000, Price: 22}},
				People: []model.Person{{
					ID: "maker", Name: "the maker",
					Hours: []model.OpenTime{{From: 1110, To: 1290}, {From: 1440 + 1110, To: 1440 + 1290}, {From: 5*1440 + 600, To: 5*1440 + 1080}},
				}},
			},
		},
		Outlines: map[string]model.DeclaredOutline{"outlines/finial.yaml": {Path: o, DoubtMM: 0.05}},
		Seed:     1,
	}
}

// made is the finial's result, derived once for all tests.
var made = sync.OnceValues(func() (job.Result, error) { return job.Run(context.Background(), finial()) })

func finished(t testing.TB) job.Result {
	t.Helper()
	r, err := made()
	if err != nil {
		t.Fatal(err)
	}
	if r.Blocked() {
		t.Fatalf("the finial is blocked: %v", r.Findings)
	}
	return r
}

func options() book.Options {
	return book.Options{
		Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Locate: func(p finding.Place) finding.Position {
			return finding.Position{File: p.File, Line: 7, Column: 3}
		},
	}
}

// memory is a Writer that keeps files by name.
type memory map[string][]byte

type memoryFile struct {
	bytes.Buffer
	done func([]byte)
}

func (f *memoryFile) Close() error { f.done(f.Bytes()); return nil }

func (m memory) Create(name string) (io.WriteCloser, error) {
	return &memoryFile{done: func(b []byte) { m[name] = b }}, nil
}

func written(t testing.TB, r job.Result, o book.Options) memory {
	t.Helper()
	m := memory{}
	if err := book.Write(t.Context(), m, r, o); err != nil {
		t.Fatal(err)
	}
	return m
}
