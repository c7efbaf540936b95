package scenarios

import _ "embed"

//go:embed starter.yaml
var starter []byte

// Starter returns the commented scenario that a new user starts from.
func Starter() []byte { return append([]byte(nil), starter...) }
