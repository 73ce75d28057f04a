package server

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"html"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
)

// cookieName holds the token in the browser.
const cookieName = "scalewright"

// policy lets the page load nothing but its own files: scripts and styles from here
// alone and never from inside the page's text; pictures also as data and blobs, for
// drawings hold some. Solids are turned by a script that needs neither eval nor
// workers.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// guard refuses who may not ask, and says on every answer what a browser may do
// with it.
func guard(o Options, next http.Handler) http.Handler {
	door := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "geolocation=(), microphone=(), camera=(self)")
		if !slices.Contains(o.Hosts, strings.ToLower(r.Host)) {
			refuse(w, http.StatusMisdirectedRequest, "this address is not served under that name")
			return
		}
		if !ownOrigin(r) {
			refuse(w, http.StatusForbidden, "another page may not ask here")
			return
		}
		if err := door.Check(r); err != nil {
			refuse(w, http.StatusForbidden, "another page may not ask here")
			return
		}
		if o.Token != "" {
			if r.URL.Path == "/pair" {
				pair(w, r, o.Token)
				return
			}
			if !paired(r, o.Token) {
				refuse(w, http.StatusUnauthorized, "this browser is not paired: scan the code that the program shows in its terminal, or open the address under it")
				return
			}
		}
		if strings.HasPrefix(r.URL.Path, "/api/") {
			h.Set("Cache-Control", "no-store")
		}
		if strings.HasSuffix(r.URL.Path, "/events") {
			// A stream lasts; each of its writes has a deadline of its own.
			line := http.NewResponseController(w)
			_ = line.SetReadDeadline(time.Time{}) // a test's recorder has none
			_ = line.SetWriteDeadline(time.Time{})
		}
		most := mostBody(r)
		if r.ContentLength > most { // before any of it is sent
			w.Header().Set("Connection", "close")
			refuse(w, http.StatusRequestEntityTooLarge, "that is more than is taken")
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// Bounds of what is taken in, in bytes.
const (
	mostEditBody  = 1 << 20
	mostPhotoBody = 64 << 20 // fifty megapixels as a good JPEG, with room
)

func mostBody(r *http.Request) int64 {
	if r.Method == http.MethodPut && strings.Contains(r.URL.Path, "/photos/") {
		return mostPhotoBody
	}
	return mostEditBody
}

// ownOrigin reports whether a request says it comes from our own page, or from no
// page at all.
func ownOrigin(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site == "cross-site" && strings.HasPrefix(r.URL.Path, "/api/") {
		return false
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && strings.EqualFold(u.Host, r.Host)
}

// cookieValue is what the browser keeps: not the token itself, so that a cookie that
// is seen pairs no other browser by the terminal's code.
func cookieValue(token string) string {
	sum := sha256.Sum256([]byte("scalewright cookie\x00" + token))
	return hex.EncodeToString(sum[:])
}

func paired(r *http.Request, token string) bool {
	c, err := r.Cookie(cookieName)
	return err == nil && subtle.ConstantTimeCompare([]byte(c.Value), []byte(cookieValue(token))) == 1
}

// pair gives the cookie to a browser that shows the token. It answers with a page
// and not with a redirection: a strict cookie is not sent on one that a scanner
// began.
func pair(w http.ResponseWriter, r *http.Request, token string) {
	sum := func(s string) []byte { h := sha256.Sum256([]byte(s)); return h[:] }
	if subtle.ConstantTimeCompare(sum(r.URL.Query().Get("token")), sum(token)) != 1 {
		refuse(w, http.StatusUnauthorized, "that is not the token of this run: scan the code again")
		return
	}
	http.SetCookie(w, &http.Cookie{
		Name: cookieName, Value: cookieValue(token), Path: "/", MaxAge: 30 * 24 * 3600,
		HttpOnly: true, SameSite: http.SameSiteStrictMode,
	})
	to := r.URL.Query().Get("to")
	if !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsAny(to, "\\\r\n") {
		to = "/"
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write([]byte("<!doctype html><meta charset=utf-8><title>Paired</title>" +
		`<meta http-equiv=refresh content="0; url=` + html.EscapeString(to) + `"><p><a href="` + html.EscapeString(to) + `">Paired. Go on.</a>`))
}

func refuse(w http.ResponseWriter, status int, what string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write([]byte("scalewright: " + what + "\n"))
}
