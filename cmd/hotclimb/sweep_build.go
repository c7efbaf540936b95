package main

import (
	"runtime/debug"
	"strings"
)

// buildOf is what, of how a program was built, may change the last digits of a
// row: its compiler, the processor it is for (some add and multiply in one
// rounding), and its commit, if the build knows it. Machines that fly shards of
// one sweep must agree in it.
func buildOf(info *debug.BuildInfo, ok bool) string {
	if !ok {
		return ""
	}
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
	}
	processor := settings["GOARCH"]
	words := []string{info.GoVersion, processor, settings["GO"+strings.ToUpper(processor)]}
	if info.Main.Version != "(devel)" {
		words = append(words, info.Main.Version)
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}
