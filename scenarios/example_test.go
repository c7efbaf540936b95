package scenarios_test

import (
	"fmt"
	"strings"

	"hotclimb/scenarios"
)

// Every fault of a file comes at once, with its place.
func ExampleLoad() {
	_, err := scenarios.Load(scenarios.Source{Name: "mine.yaml", Text: []byte(`title: my tug
aircraft:
  mass: 1900
  wingarea: 180 ft^2
`)})
	faults, _ := err.(scenarios.Faults)
	for _, f := range faults[:3] {
		fmt.Println(f)
	}
	// Output:
	// mine.yaml:1:1: engine: is missing (power and the heat it makes)
	// mine.yaml:1:1: coolant: is missing (the coolant circuit and its limits)
	// mine.yaml:1:1: oil: is missing (the oil circuit and its limits)
}

// A path is compiled once and works on any copy of the scenario.
func ExampleScenario_Compile() {
	tug, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	elevation, err := tug.Compile("day.elevation")
	if err != nil {
		fmt.Println(err)
		return
	}
	high := tug.Clone()
	if err := elevation.SetText(high, "3000 ft ± 50 ft"); err != nil {
		fmt.Println(err)
	}
	fmt.Println(elevation.Text(high))
	_, err = tug.Compile("day.elevatoin")
	fmt.Println(err)
	// Output:
	// 3000 ± 50 ft
	// day.elevatoin: unknown path: there is no elevatoin (did you mean day.elevation?)
}

// With leaves the scenario alone and returns a changed copy.
func ExampleScenario_With() {
	tug, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	if _, err = tug.With([]scenarios.Setting{{Path: "oil.maximum", Text: "250"}}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// oil.maximum: 250 has no unit; temperature takes degF, degC, K
}

// Rewrite changes the lines that are concerned, and nothing else.
func ExampleRewrite() {
	file := scenarios.Starter()
	changed, err := scenarios.Rewrite(file, []scenarios.CaseSetting{
		{Setting: scenarios.Setting{Path: "inlets.cheek.area", Text: "15 in^2"}},
		{Setting: scenarios.Setting{Path: "day.temperature", Text: "104 degF"}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for line := range strings.Lines(string(changed)) {
		if !strings.Contains(string(file), line) {
			fmt.Print(line)
		}
	}
	// Output:
	//     area: 15 in^2
	//     # diameter: 4 in
	//   temperature: 104 degF           # or isa_offset: 20 K, or hot_day: part_23
}
