package main

import (
	"encoding/json"
	"strings"
	"testing"
)

// The ratios worth considering, as an object and as a table: the declared one is
// among them with what make would say of it.
func TestSizes(t *testing.T) {
	dir := started(t)
	status, said := say(t, "sizes", dir)
	if status != exitDone || !strings.Contains(said, "as declared") {
		t.Fatalf("exit status %d\n%s", status, said)
	}
	status, text := say(t, "sizes", "--json", dir)
	var out struct {
		Candidates []map[string]any `json:"candidates"`
	}
	if err := json.Unmarshal([]byte(text), &out); err != nil || status != exitDone {
		t.Fatalf("exit status %d, %v\n%s", status, err, text)
	}
	declared := false
	for _, c := range out.Candidates {
		for _, key := range []string{"ratio", "length_mm", "pieces", "hours", "bench_hours", "mass_g", "cost", "finish_p50", "finish_p90", "stock"} {
			if _, ok := c[key]; !ok {
				t.Errorf("a candidate has no %s: %v", key, c)
			}
		}
		declared = declared || c["because"] == "declared" && c["pieces"].(float64) > 0
	}
	if !declared || len(out.Candidates) < 3 {
		t.Errorf("candidates %v", out.Candidates)
	}
}
