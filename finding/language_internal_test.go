package finding

import (
	"testing"
	"testing/fstest"
)

// A language is a folder; what it does not say is said in English.
func TestLanguages(t *testing.T) {
	entry := func(says string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte(says)}
	}
	all := readTexts(fstest.MapFS{
		"text/en/fit.yaml": entry("binds: {severity: caution, says: it binds}\nloose: {severity: note, says: it is loose}\n"),
		"text/de/fit.yaml": entry("binds: {severity: caution, says: es klemmt}\n"),
	})
	for _, c := range []struct{ language, code, want string }{
		{"en", "binds", "it binds"},
		{"de", "binds", "es klemmt"},
		{"de", "loose", "it is loose"},
		{"", "binds", "it binds"},
		{"eo", "binds", "it binds"},
	} {
		if got := inLanguage(all, c.language, Code(c.code)).Says; got != c.want {
			t.Errorf("%s in %q says %q, want %q", c.code, c.language, got, c.want)
		}
	}
}
