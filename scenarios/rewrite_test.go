package scenarios

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// rewritten rewrites a file and checks that its cases are those of
// WithCaseSettings, and that rewriting it again changes nothing.
func rewritten(t rapid.TB, file string, list []CaseSetting) string {
	t.Helper()
	text, err := Rewrite([]byte(file), list)
	if err != nil {
		t.Fatal(err)
	}
	before, err := Load(Source{Text: []byte(file)})
	if err != nil {
		t.Fatal(err)
	}
	after, err := Load(Source{Text: text})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	sameCases(t, all(t, after), all(t, mustWith(t, before, list...)))
	again, err := Rewrite(text, list)
	if err != nil {
		t.Fatal(err)
	}
	if string(again) != string(text) {
		t.Errorf("written twice it differs:\n%s\nonce:\n%s", again, text)
	}
	return string(text)
}

// rewriteRows are settings of the scenario good, itself changed first, and what
// they do to the lines of its file: those that go, with -, and those that come,
// with +.
var rewriteRows = []struct {
	name   string
	change []string
	list   []CaseSetting
	want   string
}{
	{"a number", nil, []CaseSetting{{"", Setting{"oil.volume", "5 L"}}}, `
-  volume: 4 L
+  volume: 5 L
`},
	{"what is there", nil, []CaseSetting{{"", Setting{"oil.volume", "4 L"}}}, ``},
	{"what is there in quotes", []string{"  volume: 4 L", "  volume: '4 L'"}, []CaseSetting{{"", Setting{"oil.volume", "4 L"}}}, ``},
	{"the first line", []string{"title: a", "\ufefftitle: a"}, []CaseSetting{{"", Setting{"title", "mine"}}}, "\n-\ufefftitle: a pusher seaplane with two cores\n+\ufefftitle: mine\n"},
	{"a comment behind it", []string{"  volume: 4 L", "  volume:   4 L  # dry sump"}, []CaseSetting{{"", Setting{"oil.volume", "5 L"}}}, `
-  volume:   4 L  # dry sump
+  volume:   5 L  # dry sump
`},
	{"behind a doubt in braces", nil, []CaseSetting{{"", Setting{"exits.belly.area", "41 in^2 ± 2 in^2"}}}, `
-  belly: {from: bay, kind: flap, area: 40 in^2}
+  belly: {from: bay, kind: flap, area: 41 in^2 ± 2 in^2}
`},
	{"from rectangle to area", []string{"    width: 5 in\n", "    width: 5 in # tape\n"}, []CaseSetting{{"", Setting{"inlets.right.area", "21 in^2"}}}, `
-    width: 5 in # tape
-    height: 4 in
+    area: 21 in^2
+    # width: 5 in # tape
+    # height: 4 in
`},
	{"the same in braces", []string{"  right:\n    width: 5 in\n    height: 4 in\n", "  right: {width: 5 in, height: 4 in} # both\n"}, []CaseSetting{{"", Setting{"inlets.right.area", "21 in^2"}}}, `
-  right: {width: 5 in, height: 4 in} # both
+  right: {area: 21 in^2} # both
`},
	{"over lines in braces", []string{"  right:\n    width: 5 in\n    height: 4 in\n", "  right: {kind: nose, # a\n    width: 5 in  # b\n    , height: 4 in # c\n    }\n"}, []CaseSetting{{"", Setting{"inlets.right.area", "21 in^2"}}}, `
-    width: 5 in  # b
-    , height: 4 in # c
+    area: 21 in^2  # b
+     # c
`},
	{"a key that is not given", nil, []CaseSetting{{"", Setting{"coolant.cap_pressure", "15 psi"}}}, `
+  cap_pressure: 15 psi
`},
	{"a key in braces", nil, []CaseSetting{{"", Setting{"exits.slot.discharge", "0.6"}}, {"", Setting{"exits.slot.kind", "hole"}}}, `
-  slot: {area: 25 in^2}
+  slot: {area: 25 in^2, discharge: 0.6, kind: hole}
`},
	{"keys in empty braces", nil, []CaseSetting{{"", Setting{"compartments.bay.skin_loss", "5 W/K"}}, {"", Setting{"compartments.bay.bay_heat_share", "100 %"}}}, `
-  bay: {}
+  bay: {skin_loss: 5 W/K, bay_heat_share: 100 %}
`},
	{"sections that are missing", nil, []CaseSetting{{"", Setting{"gauges.oil.bias", "1 K"}}, {"", Setting{"gauges.coolant.lag", "5 s"}}}, `
+
+gauges:
+  oil:
+    bias: 1 K
+  coolant:
+    lag: 5 s
`},
	{"a word at the top", nil, []CaseSetting{{"", Setting{"display", "si"}}}, `
+display: si
`},
	{"a text that needs quotes", nil, []CaseSetting{{"", Setting{"title", "one: two # three"}}}, `
-title: a pusher seaplane with two cores
+title: "one: two # three"
`},
	{"a text that needs none", nil, []CaseSetting{{"", Setting{"notes", "Measured again, in May"}}}, `
-notes: "measured in the hangar: mostly"
+notes: "Measured again, in May"
`},
	{"a day of a case's own", nil, []CaseSetting{{"", Setting{"day.temperature", "90 degF"}}}, `
-  temperature: 95 degF
+  temperature: 90 degF
-    day: {isa_offset: 0 K}
+    day: {temperature: 90 degF}
`},
	{"one case", nil, []CaseSetting{{"taxi", Setting{"day.temperature", "90 degF"}}, {"taxi", Setting{"inlets.left.recovery", "0.5"}}}, `
-      inlets.left.recovery: 0.4
+      inlets.left.recovery: 0.5
+      day.temperature: 90 degF
`},
	{"a case without settings", nil, []CaseSetting{{"cool", Setting{"oil.volume", "5 L"}}, {"cool", Setting{"day.isa_offset", "3 K"}}}, `
-    day: {isa_offset: 0 K}
+    day: {isa_offset: 3 K}
+    set:
+      oil.volume: 5 L
`},
	{"a case in braces", []string{"  - name: cool\n    day: {isa_offset: 0 K}\n", "  - {name: cool}\n"}, []CaseSetting{{"cool", Setting{"oil.volume", "5 L"}}}, `
-  - {name: cool}
+  - {name: cool, set: {oil.volume: 5 L}}
`},
	{"every case, one with its own", nil, []CaseSetting{{"", Setting{"inlets.left.recovery", "0.5"}}}, `
+    recovery: 0.5
-      inlets.left.recovery: 0.4
+      inlets.left.recovery: 0.5
`},
	{"a case that gives what is excluded", []string{"      inlets.left.recovery: 0.4\n", "      day.isa_offset: 9 K  # hot\n      inlets.left.recovery: 0.4\n"}, []CaseSetting{{"", Setting{"day.temperature", "80 degF"}}}, `
-  temperature: 95 degF
+  temperature: 80 degF
-    day: {isa_offset: 0 K}
+    day: {temperature: 80 degF}
-      day.isa_offset: 9 K  # hot
+      day.temperature: 80 degF
+      # day.isa_offset: 9 K  # hot
`},
	{"a case that sets over its own day", []string{"    day: {isa_offset: 0 K}\n", "    day: {isa_offset: 0 K}\n    set: {day.temperature: 50 degF}\n"}, []CaseSetting{{"cool", Setting{"day.isa_offset", "3 K"}}}, `
-    set: {day.temperature: 50 degF}
+    set: {day.isa_offset: 3 K}
`},
	{"a leg", nil, []CaseSetting{{"", Setting{"flight.legs.hold.power", "9 hp"}}, {"", Setting{"flight.legs.climb.speed", "75 mph"}}}, `
-      speed: 70 mph
+      speed: 75 mph
-        - {name: hold, kind: taxi, throttle: 15 %, for: 10 min}
+        - {name: hold, kind: taxi, power: 9 hp, for: 10 min}
`},
	{"a leg that starts with it", []string{"    - name: climb\n      kind: climb\n      speed: 70 mph\n", "    - throttle: 90 %  # lean\n      name: climb\n      kind: climb\n      speed: 70 mph\n"}, []CaseSetting{{"cool", Setting{"flight.legs.climb.speed", "75 mph"}}, {"", Setting{"flight.legs.climb.power", "80 hp"}}}, `
-    - throttle: 90 %  # lean
+    - power: 80 hp
+      # throttle: 90 %  # lean
+    set:
+      flight.legs.climb.speed: 75 mph
`},
	{"a core on the other circuit", nil, []CaseSetting{{"", Setting{"exchangers.aux.serves", "oil"}}}, `
-    serves: coolant
+    serves: oil
+    rated_with: coolant
`},
	{"a path of the fit without a doubt", nil, []CaseSetting{{"", Setting{"aircraft.parasite_drag", "0.048"}}}, `
-  parasite_drag: 0.05 ± 0.005
+  parasite_drag: 0.048
-fit:
-  paths: [aircraft.parasite_drag]
-  tests: [june]
+# fit:
+#   paths: [aircraft.parasite_drag]
+#   tests: [june]
`},
	{"one of two paths of the fit", []string{"  paths: [aircraft.parasite_drag]", "  paths: [aircraft.parasite_drag, inlets.left.area]"}, []CaseSetting{{"", Setting{"inlets.left.area", "22 in^2"}}}, `
-    area: 20 in^2 ± 1 in^2
+    area: 22 in^2
-  paths: [aircraft.parasite_drag, inlets.left.area]
+  paths: [aircraft.parasite_drag]
`},
	{"a comment that goes on", []string{"  maximum: 235 degF\n", "  maximum: 235 degF  # as the maker\n                     # says\n"}, []CaseSetting{{"", Setting{"coolant.sensor", "engine_in"}}}, `
+  sensor: engine_in
`},
	{"texts over lines", []string{`notes: "measured in the hangar: mostly"`, "notes: |  # by hand\n  one\n\n  two # no comment\n", "  volume: 4 L", "  volume:\n    4\n    L"}, []CaseSetting{{"", Setting{"notes", "three"}}, {"", Setting{"oil.volume", "5 L"}}}, `
-notes: |  # by hand
-  one
-
-  two # no comment
+notes: three # by hand
-    4
-    L
+    5 L
`},
}

func TestRewrite(t *testing.T) {
	for _, row := range rewriteRows {
		t.Run(row.name, func(t *testing.T) {
			file := edited(t, row.change...)
			text := rewritten(t, file, row.list)
			if got := changedLines(file, text); got != strings.TrimPrefix(row.want, "\n") {
				t.Errorf("got\n%s", got)
			}
		})
	}
}
