package book_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"maps"
	"math"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/google/go-cmp/cmp"

	"scalewright/book"
	"scalewright/formats"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/solid"
	"scalewright/unit"
)

func TestWriteNamesEveryFile(t *testing.T) {
	r := finished(t)
	want := []string{"report.json", "parts.csv", "calendar.ics", "book.pdf"}
	for _, p := range r.Division.Pieces {
		want = append(want, "pieces/"+p.ID.String()+".stl", "pieces/"+p.ID.String()+".3mf")
	}
	for _, side := range []string{"inside", "outside"} {
		want = append(want, "test-slice/"+r.Slice.Seam+"."+side+".stl", "test-slice/"+r.Slice.Seam+"."+side+".3mf")
	}
	for _, c := range lane.Templates(r, unit.Metric) {
		want = append(want, "templates/"+c.Name+".svg", "templates/"+c.Name+".pdf")
	}
	slices.Sort(want)
	got := slices.Sorted(maps.Keys(written(t, r, options())))
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

// Every print file is a closed solid after its vertices are merged, holds the
// carved volume, stands on the platform and lies inside the printer; its
// placement brings it back to where it was carved.
func TestPrintFiles(t *testing.T) {
	r := finished(t)
	files := written(t, r, options())
	kinds := map[string]bool{}
	for i, piece := range r.Division.Pieces {
		id := piece.ID.String()
		kinds[string(piece.ID.Kind)] = true
		stl, err := formats.ReadSTL(bytes.NewReader(files["pieces/"+id+".stl"]), formats.Limits{})
		if err != nil {
			t.Fatalf("%s.stl: %v", id, err)
		}
		if faults := stl.Check(); faults != nil {
			t.Errorf("%s.stl has %d faults, first %v", id, len(faults), faults[0])
		}
		text := files["pieces/"+id+".3mf"]
		package3, err := formats.Read3MF(bytes.NewReader(text), int64(len(text)), formats.Limits{})
		if err != nil {
			t.Fatalf("%s.3mf: %v", id, err)
		}
		threemf, err := package3.Mesh(formats.Limits{})
		if err != nil {
			t.Fatalf("%s.3mf: %v", id, err)
		}
		// The two files hold the same solid: equal but for the order of summing.
		if a, b := stl.Volume(), threemf.Volume(); math.Abs(a-b) > 1e-9*b {
			t.Errorf("%s: STL holds %v mm³, 3MF %v", id, a, b)
		}
		// Rounding to 24 bits moves a vertex by at most 2^-24 of 250 mm: on
		// walls of 2.4 mm less than a part in 10^5 of the volume.
		if a, b := stl.Volume(), r.Carved[i].Volume; math.Abs(a-b) > 1e-5*b {
			t.Errorf("%s holds %v mm³, carved %v", id, a, b)
		}
		stands(t, r, i, stl)
	}
	for _, kind := range []string{"shell", "collar", "ring"} {
		if !kinds[kind] {
			t.Errorf("the test's build has no %s", kind)
		}
	}
}

func stands(t *testing.T, r job.Result, i int, m solid.Mesh) {
	t.Helper()
	id := r.Division.Pieces[i].ID.String()
	b := m.Bounds()
	printer, _ := r.Design.Shop.Printer(r.Prints[i].Printer)
	for k := range 3 {
		if b.Min[k] < 0 || b.Max[k] > float64(printer.Build[k]) {
			t.Errorf("%s reaches from %v to %v, %s builds %v", id, b.Min, b.Max, printer.ID, printer.Build)
		}
	}
	if b.Min[2] != 0 {
		t.Errorf("%s stands at z = %v", id, b.Min[2])
	}
	back, _ := r.Prints[i].Placement.Inverse()
	got, want := m.Transform(back).Bounds(), r.Carved[i].Solid.Bounds()
	for k := range 3 {
		if math.Abs(got.Min[k]-want.Min[k]) > 1e-4 || math.Abs(got.Max[k]-want.Max[k]) > 1e-4 {
			t.Errorf("%s goes back to %v, carved %v", id, got, want)
		}
	}
}

func TestPartsCSVAddsUp(t *testing.T) {
	r := finished(t)
	rows, err := csv.NewReader(bytes.NewReader(written(t, r, options())["parts.csv"])).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	var minutes, grams float64
	for _, row := range rows[1:] {
		m, errM := strconv.ParseFloat(row[column("minutes")], 64)
		g, errG := strconv.ParseFloat(row[column("mass_g")], 64)
		if errM != nil || errG != nil {
			t.Fatalf("row %v: %v %v", row, errM, errG)
		}
		minutes, grams = minutes+m, grams+g
	}
	if n := len(rows) - 1; n != r.Verdict.Prints {
		t.Errorf("%d rows, the verdict has %d prints", n, r.Verdict.Prints)
	}
	if math.Abs(minutes/60-r.Verdict.PrintHours) > 1e-9 {
		t.Errorf("minutes add up to %v h, the verdict says %v", minutes/60, r.Verdict.PrintHours)
	}
	if most := 0.0005 * float64(len(rows)); math.Abs(grams-float64(r.Verdict.Grams)) > most {
		t.Errorf("grams add up to %v, the verdict says %v", grams, r.Verdict.Grams)
	}
}

// The calendar reads back with all its events at their times, and keeps to RFC
// 5545, 3.1: lines of at most 75 octets, each ended by CRLF.
func TestCalendarReadsBack(t *testing.T) {
	r := finished(t)
	text := written(t, r, options())["calendar.ics"]
	for line := range bytes.SplitSeq(bytes.TrimSuffix(text, []byte("\r\n")), []byte("\r\n")) {
		if len(line) > 75 || bytes.ContainsAny(line, "\r\n") {
			t.Errorf("line of %d octets: %q", len(line), line)
		}
	}
	cal, err := ics.ParseCalendar(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	steps := map[string]bool{}
	start := time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC)
	for _, task := range r.Calendar.Tasks {
		for _, s := range task.Steps {
			steps[start.Add(time.Duration(s.From)*time.Minute).Format("20060102T150405")] = true
		}
	}
	ids := map[string]bool{}
	n := 0
	for _, e := range cal.Events() {
		at := e.GetProperty(ics.ComponentPropertyDtStart).Value
		if !steps[at] {
			t.Errorf("%s begins at %s, when nothing does", e.Id(), at)
		}
		if stamp := e.GetProperty(ics.ComponentPropertyDtstamp).Value; stamp != "20261125T000000Z" {
			t.Errorf("%s is stamped %s", e.Id(), stamp)
		}
		ids[e.Id()] = true
		n++
	}
	want := 0
	for _, task := range r.Calendar.Tasks {
		want += len(task.Steps)
	}
	if n != want || len(ids) != n {
		t.Errorf("%d events with %d ids, want %d", n, len(ids), want)
	}
}

// The same result and options give the same bytes at any number of cores.
func TestWriteRepeats(t *testing.T) {
	r := finished(t)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := written(t, r, options())
	runtime.GOMAXPROCS(8)
	eight := written(t, r, options())
	for _, name := range slices.Sorted(maps.Keys(one)) {
		if !bytes.Equal(one[name], eight[name]) {
			t.Errorf("%s differs", name)
		}
	}
}

type full struct{ after int }

func (f *full) Create(string) (io.WriteCloser, error) {
	if f.after--; f.after < 0 {
		return nil, errNoRoom
	}
	return &memoryFile{done: func([]byte) {}}, nil
}

var errNoRoom = errors.New("no space left on device")

func TestWriteSaysWhichFileFailed(t *testing.T) {
	r := finished(t)
	templates := 2 * len(lane.Templates(r, unit.Metric))
	pieces := 2 * len(r.Prints)
	for after, name := range map[int]string{
		0: "pieces/", pieces: "test-slice/", pieces + 4: "templates/",
		pieces + 4 + templates: "report.json", pieces + 7 + templates: "book.pdf",
	} {
		err := book.Write(t.Context(), &full{after}, r, options())
		if !errors.Is(err, errNoRoom) || !strings.Contains(err.Error(), name) {
			t.Errorf("after %d files: %v, want one about %s", after, err, name)
		}
	}
}
