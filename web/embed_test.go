package web

import (
	"testing"
	"testing/fstest"
)

func TestAProgramWithoutItsPageKnowsIt(t *testing.T) {
	cases := map[string]struct {
		files fstest.MapFS
		want  bool
	}{
		"built":         {fstest.MapFS{"dist/index.html": {}, "dist/README": {}}, true},
		"the README":    {fstest.MapFS{"dist/README": {}}, false},
		"nothing":       {fstest.MapFS{}, false},
		"a folder only": {fstest.MapFS{"dist/assets/index.html": {}}, false},
	}
	for name, c := range cases {
		files, ok := page(c.files)
		if ok != c.want || (files != nil) != c.want {
			t.Errorf("page(%s) = %v, %v, want %v", name, files, ok, c.want)
		}
	}
}
