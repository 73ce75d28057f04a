package book_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/book"
	"scalewright/finding"
	"scalewright/job"
)

var update = flag.Bool("update", false, "rewrite golden files")

// keys lists every path of keys in a JSON value with its type, lists as [].
func keys(path string, v any, into map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for k, w := range v {
			if path == "findings[].args" {
				continue // named by the catalogue
			}
			keys(strings.TrimPrefix(path+"."+k, "."), w, into)
		}
		if len(v) == 0 || path == "findings[].args" {
			into[path+" object"] = true
		}
	case []any:
		for _, w := range v {
			keys(path+"[]", w, into)
		}
		if len(v) == 0 {
			into[path+"[] none here"] = true
		}
	default:
		into[fmt.Sprintf("%s %T", path, v)] = true
	}
}

// The report's keys are a contract: a change here is a change for every reader.
func TestReportKeys(t *testing.T) {
	found := map[string]bool{}
	results := []job.Result{finished(t)}
	for _, r := range forms(t) {
		results = append(results, r)
	}
	for _, r := range results {
		var v any
		if err := json.Unmarshal(written(t, r, options())["report.json"], &v); err != nil {
			t.Fatal(err)
		}
		keys("", v, found)
	}
	got := strings.Join(slices.Sorted(maps.Keys(found)), "\n") + "\n"
	const golden = "testdata/report-keys.golden"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("keys (-want +got):\n%s", diff)
	}
}

// What was blocked before there was anything has a report with empty lists.
func TestReportOfABlockedBuild(t *testing.T) {
	r := job.Result{Name: "Finial", Findings: finding.List{
		finding.New("outline-runs-back", finding.Place{File: "outlines/finial.yaml", Path: "path"}, finding.Args{
			"at": finding.Size(12.34),
		}).About("foot").AtStation(12.34),
	}}
	var out bytes.Buffer
	if err := book.ReportJSON(&out, r, options()); err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(out.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"parts", "pieces", "seams", "seats", "fits", "cuts"} {
		if list, ok := v[k].([]any); !ok || len(list) != 0 {
			t.Errorf("%s is %v, want an empty list", k, v[k])
		}
	}
	if v["blocked"] != true {
		t.Errorf("blocked is %v", v["blocked"])
	}
	first := v["findings"].([]any)[0].(map[string]any)
	want := map[string]any{"file": "outlines/finial.yaml", "line": 7.0, "column": 3.0}
	if diff := cmp.Diff(want, first["at"]); diff != "" {
		t.Errorf("at (-want +got):\n%s", diff)
	}
	want = map[string]any{"at_mm": 12.34}
	if diff := cmp.Diff(want, first["args"]); diff != "" {
		t.Errorf("args (-want +got):\n%s", diff)
	}
	if first["severity"] != "blocker" || first["station_mm"] != 12.34 || first["part"] != "foot" {
		t.Errorf("finding %v", first)
	}
	if want := "the outline runs back along the axis at station 12.3 mm"; first["message"] != want {
		t.Errorf("message %q, want %q", first["message"], want)
	}
	if pages := book.Pages(r, options()); len(pages) != 2 {
		t.Errorf("its book has %d pages, want the verdict and the notes", len(pages))
	}
}
