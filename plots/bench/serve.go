package bench

import (
	"net/http"
	"time"
)

// Server is an HTTP server for the handler with limits that keep slow or silent
// visitors from costing anything. Its address, and what it logs, are up to the
// caller. Studies extend the time for their answer as they go.
func Server(handler http.Handler) *http.Server {
	return &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    16 << 10,
	}
}
