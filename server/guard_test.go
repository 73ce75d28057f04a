package server_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"scalewright/build"
	"scalewright/server"
)

// request asks with headers of its own.
func (b *bench) request(method, path, body string, headers ...string) *http.Response {
	b.t.Helper()
	r, err := http.NewRequestWithContext(b.t.Context(), method, b.http.URL+b.path(path), strings.NewReader(body))
	if err != nil {
		b.t.Fatal(err)
	}
	for i := 0; i < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		r.Header.Set(headers[i], headers[i+1])
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	w, err := client.Do(r)
	if err != nil {
		b.t.Fatal(err)
	}
	b.t.Cleanup(func() { w.Body.Close() })
	return w
}

func TestForeignNamesAndPagesAreRefused(t *testing.T) {
	b := newBench(t)
	own := strings.TrimPrefix(b.http.URL, "http://")
	_, port, err := net.SplitHostPort(own)
	if err != nil {
		t.Fatal(err)
	}
	body := `{"base":"` + version(b) + `"}`
	for name, c := range map[string]struct {
		method  string
		headers []string
		want    int
	}{
		"own":                          {"GET", nil, 200},
		"own page":                     {"GET", []string{"Origin", "http://" + own, "Sec-Fetch-Site", "same-origin"}, 200},
		"a name made to mean us":       {"GET", []string{"Host", "evil.example:" + port}, 421},
		"the name without the port":    {"GET", []string{"Host", "127.0.0.1"}, 421},
		"another port's page":          {"GET", []string{"Origin", "http://127.0.0.1:1"}, 403},
		"another page":                 {"GET", []string{"Origin", "https://evil.example"}, 403},
		"a page without origin":        {"GET", []string{"Origin", "null"}, 403},
		"a picture on another page":    {"GET", []string{"Sec-Fetch-Site", "cross-site"}, 403},
		"an order of another page":     {"POST", []string{"Origin", "https://evil.example", "Content-Type", "application/json"}, 403},
		"an order from another site":   {"POST", []string{"Sec-Fetch-Site", "cross-site", "Content-Type", "application/json"}, 403},
		"an order of a page next door": {"POST", []string{"Sec-Fetch-Site", "same-site", "Content-Type", "application/json"}, 403},
		"a form, which needs no leave": {"POST", []string{"Origin", "http://" + own, "Content-Type", "text/plain"}, 415},
	} {
		path := "./declaration"
		if c.method == "POST" {
			path = "./undo"
		}
		if got := b.request(c.method, path, body, c.headers...); got.StatusCode != c.want {
			t.Errorf("%s: %d, want %d", name, got.StatusCode, c.want)
		}
	}
}

func TestAnswersSayWhatABrowserMayDo(t *testing.T) {
	b := newBench(t)
	for _, path := range []string{".", "/", "/openapi.json", "/api/nothing"} {
		h := b.request("GET", path, "").Header
		policy := h.Get("Content-Security-Policy")
		if policy == "" || strings.Contains(policy, "unsafe") || !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "frame-ancestors 'none'") {
			t.Errorf("%s: policy %q", path, policy)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: %v", path, h)
		}
	}
}

func TestTokenPairsABrowserOnce(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "builds", "spindle")
	if err := build.New(dir, "Spindle"); err != nil {
		t.Fatal(err)
	}
	o := options(t, home)
	o.Token = "0123456789abcdef"
	b := serve(t, o, dir)
	if got := b.request("GET", ".", "").StatusCode; got != 401 {
		t.Errorf("without a token: %d", got)
	}
	for _, wrong := range []string{"/pair", "/pair?token=", "/pair?token=0123456789abcdeX"} {
		if w := b.request("GET", wrong, ""); w.StatusCode != 401 || len(w.Cookies()) > 0 {
			t.Errorf("%s: %d, %d cookies", wrong, w.StatusCode, len(w.Cookies()))
		}
	}
	w := b.request("GET", "/pair?token="+o.Token+"&to=/b/"+b.id, "")
	if w.StatusCode != 200 || len(w.Cookies()) != 1 {
		t.Fatalf("pairing: %d, %d cookies", w.StatusCode, len(w.Cookies()))
	}
	c := w.Cookies()[0]
	if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || strings.Contains(c.Value, o.Token) {
		t.Errorf("cookie = %+v", c)
	}
	if got := b.request("GET", ".", "", "Cookie", c.Name+"="+c.Value).StatusCode; got != 200 {
		t.Errorf("paired: %d", got)
	}
	if got := b.request("GET", ".", "", "Cookie", c.Name+"="+c.Value[1:]+"0").StatusCode; got != 401 {
		t.Errorf("a cookie that is not ours: %d", got)
	}
	for _, to := range []string{"//evil.example/", "https://evil.example/", `/\evil.example`, "/\"><script>x</script>"} {
		text, err := io.ReadAll(b.request("GET", "/pair?token="+o.Token+"&to="+escape(to), "").Body)
		if err != nil || strings.Contains(string(text), "evil") || strings.Contains(string(text), "<script>") {
			t.Errorf("to %s: %s", to, text)
		}
	}
}

func escape(s string) string {
	return strings.NewReplacer("/", "%2F", `\`, "%5C", `"`, "%22", "<", "%3C", ">", "%3E", ":", "%3A").Replace(s)
}

// Nothing outside the build's folder is read, whatever the name or link; of the
// folder only what is meant to be handed out.
func TestFilesStayInside(t *testing.T) {
	b := newBench(t)
	secret := filepath.Join(filepath.Dir(b.dir), "secret.txt")
	for _, name := range []string{secret, filepath.Join(b.dir, "out", "good.csv"), filepath.Join(b.dir, "out", ".keep", "x"), filepath.Join(b.dir, "photos", "no.jpg")} {
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o777), os.WriteFile(name, []byte("secret"), 0o666)); err != nil {
			t.Fatal(err)
		}
	}
	for link, to := range map[string]string{"out/link.csv": secret, "out/up": "../..", "photos/link.jpg": secret, "made": filepath.Dir(secret)} {
		if err := os.Symlink(to, filepath.Join(b.dir, link)); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	if status, text := b.raw("GET", "./file?path=out/good.csv", nil); status != 200 || string(text) != "secret" {
		t.Fatalf("a good file: %d %s", status, text)
	}
	for _, path := range []string{
		"../secret.txt", "out/../../secret.txt", "out/link.csv", "out/up/secret.txt", "out/up/spindle/out/good.csv", "made/secret.txt",
		"build.yaml", "shop.yaml", "log.jsonl", "history/journal.jsonl", "out/.keep/x", "out/", "out", "", "/etc/passwd",
		"out//good.csv", "out/./good.csv", `out\..\..\secret.txt`, "out/good.csv%00", "out/%2e%2e/%2e%2e/secret.txt",
	} {
		if status, text := b.raw("GET", "./file?path="+path, nil); status == 200 || bytes.Contains(text, []byte("secret\n")) || string(text) == "secret" {
			t.Errorf("file %q = %d %s", path, status, text)
		}
	}
	for _, name := range []string{"link.jpg", "no.jpg", "..%2F..%2Fsecret.txt", "%2e%2e%2fbuild.yaml", ".hidden.jpg"} {
		if status, text := b.raw("GET", "./photos/"+name, nil); status == 200 || string(text) == "secret" {
			t.Errorf("photo %q = %d %s", name, status, text)
		}
	}
	before, err := os.ReadFile(secret)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"link.jpg", "..%2F..%2Fsecret.jpg", "a%2Fb.jpg", "x.exe", "x.svg", "con\x7f.jpg"} {
		if status, _ := b.raw("PUT", "./photos/"+strings.ReplaceAll(name, "\x7f", "%7F"), picture(t, 20, 10)); status == 200 {
			t.Errorf("PUT photo %q is taken", name)
		}
	}
	if after, err := os.ReadFile(secret); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file outside holds %q, %v", after, err)
	}
}

func picture(t *testing.T, width, height int) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, width, height))
	m.SetGray(1, 1, color.Gray{200})
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPhotographs(t *testing.T) {
	b := newBench(t)
	good := picture(t, 40, 30)
	put := send[server.PhotoPut](b, "PUT", "./photos/rocket.png", good)
	if put.File != "photos/rocket.png" || put.Width != 40 || put.Height != 30 || put.Kind != "png" {
		t.Errorf("put = %+v", put)
	}
	if status, text := b.raw("GET", "./photos/rocket.png", nil); status != 200 || !bytes.Equal(text, good) {
		t.Errorf("got back %d, %d bytes of %d", status, len(text), len(good))
	}
	if p := b.refused(422, "PUT", "./photos/page.png", []byte("<html>")); p.Do == "" {
		t.Errorf("a page as a photograph: %+v", p)
	}
	// A file of a few bytes that says it is 60,000 by 60,000: only its head is read.
	bomb := bytes.Clone(good)
	copy(bomb[16:], []byte{0, 0, 0xEA, 0x60, 0, 0, 0xEA, 0x60}) // PNG, 11.2.2: IHDR width, height
	crcOf(bomb)
	if p := b.refused(422, "PUT", "./photos/bomb.png", bomb); !strings.Contains(p.What, "60000") {
		t.Errorf("a bomb: %+v", p)
	}
	for path, long := range map[string]int{"./photos/huge.png": 65 << 20, "./edits": 2 << 20} {
		for _, told := range []bool{true, false} {
			if got := b.tooMuch(path, long, told); got != http.StatusRequestEntityTooLarge {
				t.Errorf("%d bytes to %s, told beforehand %v: %d", long, path, told, got)
			}
		}
	}
	names, err := os.ReadDir(filepath.Join(b.dir, "photos"))
	if err != nil || len(names) != 1 {
		t.Errorf("photos/ holds %v, %v; want the good one alone", names, err)
	}
}

// tooMuch sends so many bytes, whose number is told beforehand or not, and gives the
// answer's status. A server that closes the line before it took all has refused too.
func (b *bench) tooMuch(path string, long int, told bool) int {
	b.t.Helper()
	method, kind := "PUT", "application/octet-stream"
	if strings.HasSuffix(path, "edits") {
		method, kind = "POST", "application/json"
	}
	r, err := http.NewRequestWithContext(b.t.Context(), method, b.http.URL+b.path(path), io.LimitReader(zeros{}, int64(long)))
	if err != nil {
		b.t.Fatal(err)
	}
	r.Header.Set("Content-Type", kind)
	if told {
		r.ContentLength = int64(long)
		r.Header.Set("Expect", "100-continue")
	}
	w, err := http.DefaultClient.Do(r) // it waits for leave to send, unlike a test's own
	if err != nil && !told {
		return http.StatusRequestEntityTooLarge
	}
	if err != nil {
		b.t.Fatal(err)
	}
	w.Body.Close()
	return w.StatusCode
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// An upload that is cut off leaves what was there, and nothing beside it.
func TestATornUploadChangesNothing(t *testing.T) {
	b := newBench(t)
	good := picture(t, 40, 30)
	send[server.PhotoPut](b, "PUT", "./photos/rocket.png", good)
	line, err := net.Dial("tcp", b.http.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	head := "PUT " + b.path("./photos/rocket.png") + " HTTP/1.1\r\nHost: " + b.http.Listener.Addr().String() +
		"\r\nContent-Type: application/octet-stream\r\nContent-Length: 100000\r\n\r\n"
	if _, err := io.WriteString(line, head+string(good[:20])); err != nil {
		t.Fatal(err)
	}
	if err := line.(*net.TCPConn).CloseWrite(); err != nil {
		t.Fatal(err)
	}
	answer, err := io.ReadAll(line) // until the server gives up on it
	if err != nil || bytes.HasPrefix(answer, []byte("HTTP/1.1 200")) {
		t.Errorf("answered %.60s, %v", answer, err)
	}
	line.Close()
	if _, text := b.raw("GET", "./photos/rocket.png", nil); !bytes.Equal(text, good) {
		t.Error("the photograph that was there is gone")
	}
	if names, err := os.ReadDir(filepath.Join(b.dir, "photos")); err != nil || len(names) != 1 {
		t.Errorf("photos/ holds %v, %v", names, err)
	}
}

func TestPageFiles(t *testing.T) {
	home := t.TempDir()
	o := options(t, home)
	o.Page = fstest.MapFS{
		"index.html":          {Data: []byte("<!doctype html>page")},
		"assets/app-1a2b.js":  {Data: []byte("let x")},
		"assets/app-1a2b.css": {Data: []byte("a{}")},
	}
	dir := filepath.Join(home, "builds", "spindle")
	if err := build.New(dir, "Spindle"); err != nil {
		t.Fatal(err)
	}
	b := serve(t, o, dir)
	for path, want := range map[string]string{
		"/": "page", "/b/" + b.id + "/sheet": "page", "/assets/app-1a2b.js": "let x", "/index.html": "",
	} {
		w := b.request("GET", path, "")
		text, err := io.ReadAll(w.Body)
		if err != nil || !strings.Contains(string(text), want) || w.StatusCode >= 400 {
			t.Errorf("GET %s = %d %q, %v", path, w.StatusCode, text, err)
		}
	}
	if w := b.request("GET", "/assets/app-1a2b.js", ""); !strings.Contains(w.Header.Get("Content-Type"), "javascript") || !strings.Contains(w.Header.Get("Cache-Control"), "immutable") {
		t.Errorf("a script is %v", w.Header)
	}
	for _, path := range []string{"/assets/none.js", "/../secret.txt", "/api/none"} {
		if got := b.request("GET", path, "").StatusCode; got != 404 && got != http.StatusTemporaryRedirect { // a path with dots is led to one without
			t.Errorf("GET %s = %d", path, got)
		}
	}
	if got := b.request("POST", "/", "").StatusCode; got != 405 {
		t.Errorf("POST / = %d", got)
	}
}

// Heads and bodies that never come do not hold the server.
func TestSlowRequestsEnd(t *testing.T) {
	b := newBench(t)
	limits := b.server.HTTP()
	if limits.ReadHeaderTimeout <= 0 || limits.ReadTimeout <= 0 || limits.WriteTimeout <= 0 || limits.IdleTimeout <= 0 || limits.MaxHeaderBytes <= 0 {
		t.Errorf("limits = %+v", limits)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	limits.ReadHeaderTimeout = 50 * time.Millisecond
	go func() { _ = limits.Serve(l) }()
	defer limits.Close()
	line, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer line.Close()
	if _, err := io.WriteString(line, "GET / HTTP/1.1\r\nHost: "); err != nil {
		t.Fatal(err)
	}
	if err := line.SetReadDeadline(time.Now().Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadAll(line); err != nil {
		t.Errorf("the line is still open: %v", err)
	}
}
