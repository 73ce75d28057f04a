package server

import (
	"io/fs"
	"net/http"
	"path"
	"strings"
)

// pageHandler serves the page's files. A path that is no file's is one of the page's
// own sheets and gets the index.
func pageHandler(page fs.FS) http.Handler {
	if page == nil {
		return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			refuse(w, http.StatusNotFound, "this program was built without its page (make page); what it answers is listed at /openapi.json")
		})
	}
	files := http.FileServerFS(page)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			refuse(w, http.StatusMethodNotAllowed, "only looked at")
			return
		}
		if strings.HasPrefix(r.URL.Path, "/api/") {
			refuse(w, http.StatusNotFound, "there is nothing under that name")
			return
		}
		name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
		if info, err := fs.Stat(page, name); err == nil && !info.IsDir() {
			if strings.HasPrefix(name, "assets/") { // their names hold what they are
				w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
			}
			files.ServeHTTP(w, r)
			return
		}
		if path.Ext(name) != "" {
			refuse(w, http.StatusNotFound, "there is nothing under that name")
			return
		}
		w.Header().Set("Cache-Control", "no-cache")
		http.ServeFileFS(w, r, page, "index.html")
	})
}
