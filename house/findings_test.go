package house_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/finding"
)

var update = flag.Bool("update", false, "rewrite docs/findings.md")

// docs/findings.md is the catalogue, a section a stage.
func TestFindingsPageIsTheCatalogue(t *testing.T) {
	var b strings.Builder
	b.WriteString("# Findings\n\nMade from `finding/text/en` by `go test ./house -update`; change it there.\n")
	stage := ""
	for _, e := range finding.Entries() {
		if e.Stage != stage {
			stage = e.Stage
			fmt.Fprintf(&b, "\n## %s\n", stage)
		}
		fmt.Fprintf(&b, "\n### %s (%s)\n\n%s\n\n> %s\n", e.Code, e.Severity, e.When, e.Says)
		if e.Do != "" {
			fmt.Fprintf(&b, ">\n> do: %s\n", e.Do)
		}
		if e.Rule != "" {
			fmt.Fprintf(&b, "\nRule: %s.\n", strings.TrimSuffix(e.Rule, "."))
		}
		if e.Example != "" {
			fmt.Fprintf(&b, "\nExample: `%s`\n", e.Example)
		}
	}
	const page = "../docs/findings.md"
	if *update {
		if err := os.WriteFile(page, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(b.String(), string(have)); diff != "" {
		t.Errorf("docs/findings.md is not the catalogue; run go test ./house -update (-want +got):\n%s", diff)
	}
}
