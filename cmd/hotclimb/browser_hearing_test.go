package main

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
)

// testHearing holds that a tab hears what the other tests must not have: otherwise
// they would be content with anything.
func testHearing(t *testing.T, browser context.Context) {
	const page = `<!doctype html><html lang=en><link rel=icon href="data:,"><title>bad</title>
<p>bad</p><script>console.error("an error"); throw new Error("a throw")</script>
<img alt="" src="http://127.0.0.1:1/foreign.png"><p style="color:red">inline</p>`
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'unsafe-inline'; img-src * data:")
		_, _ = io.WriteString(w, page)
	}))
	defer s.Close()
	p := openTab(t, browser, s.URL, desk)
	for _, text := range []string{"an error", "a throw", "net::ERR_", "issue: ContentSecurityPolicyIssue", "log: Applying inline style"} {
		p.expect(text)
	}
	if got := p.foreign(s.URL); len(got) != 1 || got[0] != "http://127.0.0.1:1/foreign.png" {
		t.Errorf("of requests to others was heard: %q", got)
	}
	p.asked = nil // judged here
}
