package bench

import (
	"net"
	"net/http"
	"strconv"
	"strings"
)

// policy lets a page load and ask only what comes from here, and run or style
// nothing that stands in it.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; " +
	"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard sets the headers of every answer and refuses requests that do not come
// from a page of this server: those for a foreign name, which a site may have
// pointed at this computer, and those of the pages of other sites.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-store")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		switch {
		case !loopback(r.Host):
			refuse(w, http.StatusForbidden, "This page is only served to the computer it runs on, by the name localhost or 127.0.0.1.")
		case foreign(r):
			refuse(w, http.StatusForbidden, "Only the page itself may ask this server.")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// loopback says that a host, with or without a port, is a name of this computer
// that nobody else can give out.
func loopback(host string) bool {
	name := host
	if h, port, err := net.SplitHostPort(host); err == nil {
		if _, err := strconv.ParseUint(port, 10, 16); err != nil {
			return false
		}
		name = h
		if strings.Contains(h, ":") != strings.HasPrefix(host, "[") {
			return false
		}
	} else if inner, ok := strings.CutPrefix(host, "["); ok {
		if name, ok = strings.CutSuffix(inner, "]"); !ok || !strings.Contains(name, ":") {
			return false
		}
	} else if strings.Contains(host, ":") {
		return false
	}
	return name == "127.0.0.1" || name == "::1" || strings.EqualFold(name, "localhost")
}

// foreign says that a request comes from a page of another site.
func foreign(r *http.Request) bool {
	origins, given := r.Header["Origin"]
	if given && (len(origins) != 1 || !strings.EqualFold(origins[0], "http://"+r.Host)) {
		return true
	}
	site := r.Header.Get("Sec-Fetch-Site")
	return r.Method != http.MethodGet && site != "" && site != "same-origin"
}
