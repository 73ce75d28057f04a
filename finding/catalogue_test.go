package finding_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"scalewright/finding"
)

// Faults of files and photographs have no declaration that brings them, so
// these chapters may leave the example out.
var noExample = []string{"build", "measure", "book"}

func TestEntriesAreComplete(t *testing.T) {
	code := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	entries := finding.Entries()
	if len(entries) == 0 {
		t.Fatal("the catalogue is empty")
	}
	for _, e := range entries {
		if !code.MatchString(string(e.Code)) {
			t.Errorf("%s is no code", e.Code)
		}
		if !strings.HasSuffix(e.When, ".") || len(e.When) < 20 {
			t.Errorf("%s: when it occurs is no sentence: %q", e.Code, e.When)
		}
		if e.Do == "" && e.Severity > finding.Note {
			t.Errorf("%s does not say what to do", e.Code)
		}
		if e.Example == "" && !slices.Contains(noExample, e.Stage) {
			t.Errorf("%s has no example", e.Code)
		}
		for _, text := range []string{e.Says, e.Do} {
			if strings.HasSuffix(text, ".") || strings.Count(text, "{") != strings.Count(text, "}") {
				t.Errorf("%s: %q ends with a full stop or an open brace", e.Code, text)
			}
			for _, m := range regexp.MustCompile(`\{[^}]*\}`).FindAllString(text, -1) {
				if !regexp.MustCompile(`^\{[a-z][a-z0-9-]*\}$`).MatchString(m) {
					t.Errorf("%s: %s is no slot", e.Code, m)
				}
			}
		}
	}
	if !slices.IsSortedFunc(entries, func(a, b finding.Entry) int {
		return strings.Compare(a.Stage+" "+string(a.Code), b.Stage+" "+string(b.Code))
	}) {
		t.Error("entries are not sorted by stage and code")
	}
}

// Every code of the catalogue stands in the program, and every code that the
// program makes a finding of stands in the catalogue.
func TestCodesAreUsedAndKnown(t *testing.T) {
	known := map[string]bool{}
	for _, e := range finding.Entries() {
		known[string(e.Code)] = false
	}
	for path, file := range program(t) {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); n.Kind == token.STRING && err == nil {
					if _, is := known[text]; is {
						known[text] = true
					}
				}
			case *ast.CallExpr:
				if text, ok := codeOf(n); ok {
					if _, is := known[text]; !is {
						t.Errorf("%s makes a finding of %q, which has no text", path, text)
					}
				}
			}
			return true
		})
	}
	for code, used := range known {
		if !used {
			t.Errorf("nothing says %s", code)
		}
	}
}

// codeOf is the literal code of a call of finding.New or WithNote.
func codeOf(call *ast.CallExpr) (string, bool) {
	f, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || len(call.Args) != 3 {
		return "", false
	}
	pkg, _ := f.X.(*ast.Ident)
	if f.Sel.Name != "WithNote" && (f.Sel.Name != "New" || pkg == nil || pkg.Name != "finding") {
		return "", false
	}
	lit, ok := call.Args[0].(*ast.BasicLit)
	if !ok {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// program is every Go file of the repository but tests.
func program(t *testing.T) map[string]*ast.File {
	t.Helper()
	files := map[string]*ast.File{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != ".."):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, text, parser.SkipObjectResolution)
		files[path] = file
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
