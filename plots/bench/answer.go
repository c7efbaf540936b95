package bench

import (
	"encoding/json"
	"net/http"
)

// refusal is the answer to a request that cannot be served.
type refusal struct {
	Error string `json:"error"`
}

// refuse answers with a status and a sentence.
func refuse(w http.ResponseWriter, status int, sentence string) {
	reply(w, status, refusal{sentence})
}

// reply answers with JSON.
func reply(w http.ResponseWriter, status int, value any) {
	text, err := json.Marshal(value)
	if err != nil {
		status, text = http.StatusInternalServerError, []byte(`{"error":"The answer could not be written."}`)
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(append(text, '\n')) // nobody is left to tell when it fails
}
