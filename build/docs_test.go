package build_test

import (
	"encoding/json"
	"strings"
	"testing"

	"scalewright/build"
)

// Every key that a file may hold is explained in docs/build-file.md.
func TestDocsNameEveryKey(t *testing.T) {
	page := text(t, "..", "docs/build-file.md")
	for file, schema := range build.Schemas() {
		var root any
		if err := json.Unmarshal(schema, &root); err != nil {
			t.Fatal(err)
		}
		for _, key := range keysOf(root, nil) {
			if !strings.Contains(page, "`"+key+"`") && !strings.Contains(page, "`"+key+": ") && !strings.Contains(page, "{"+key+": ") && !strings.Contains(page, ", "+key+": ") {
				t.Errorf("docs/build-file.md does not name the key %s of %s", key, file)
			}
		}
	}
}

func keysOf(v any, out []string) []string {
	switch v := v.(type) {
	case map[string]any:
		for name, below := range v {
			if properties, ok := below.(map[string]any); ok && name == "properties" {
				for key := range properties {
					out = append(out, key)
				}
			}
			out = keysOf(below, out)
		}
	case []any:
		for _, below := range v {
			out = keysOf(below, out)
		}
	}
	return out
}
