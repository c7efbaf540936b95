// Package scenarios holds the scenario file: what may stand in it, how it is
// read, checked, changed and turned into a plant that sim can fly.
//
// A field declares its name, meaning, range and default once, in its tags:
//
//	mapstructure  the key in the file
//	doc           what it means, one line, for the schema and the help
//	range         least..greatest physical value, in any accepted unit
//	default       value used when the file has none, with its doubt
//	source        where that default comes from
//	words         the accepted words of a text field, separated by |
//	refers        sections whose names the text field may hold, separated by |
//	required      "true" when the file must have it
//	alt           group:member; the members of one group exclude each other
//	made          what a builder makes when changing it: an opening, a duct, a
//	              core, a pump, a spray or a setting
//	whole         "true" for a count of pieces
//	fixed         "true" for what is never changed once it is read: copies share
//	              it, and it has no paths
package scenarios

// Scenario is one scenario file, decoded: the aircraft, the day, the flight
// and the studies on them.
type Scenario struct {
	Title   string `mapstructure:"title" doc:"one line that names the job" required:"true"`
	Notes   string `mapstructure:"notes" doc:"anything worth keeping beside the numbers"`
	Display string `mapstructure:"display" doc:"units of the printed results" words:"us|si" default:"us"`

	Aircraft Aircraft `mapstructure:"aircraft" doc:"airframe and propeller" required:"true"`
	Engine   Engine   `mapstructure:"engine" doc:"power and the heat it makes" required:"true"`
	Coolant  Coolant  `mapstructure:"coolant" doc:"the coolant circuit and its limits" required:"true"`
	Oil      Oil      `mapstructure:"oil" doc:"the oil circuit and its limits" required:"true"`

	Inlets       map[string]*Inlet       `mapstructure:"inlets" doc:"openings that take air in" required:"true"`
	Exchangers   map[string]*Exchanger   `mapstructure:"exchangers" doc:"radiators, oil coolers and plate exchangers" required:"true"`
	Compartments map[string]*Compartment `mapstructure:"compartments" doc:"pockets of the cowl that share one pressure"`
	Exits        map[string]*Exit        `mapstructure:"exits" doc:"openings that let air out" required:"true"`
	Leaks        map[string]*Leak        `mapstructure:"leaks" doc:"gaps that bypass the cores or the exits"`
	Vents        map[string]*Vent        `mapstructure:"vents" doc:"cabin fresh-air intakes"`
	Spray        *Spray                  `mapstructure:"spray" doc:"water sprayed on a core"`

	Gauges Gauges `mapstructure:"gauges" doc:"what the gauges of both temperatures make of them; it counts where a flight is held against readings"`

	Day    Day    `mapstructure:"day" doc:"the air of the day" required:"true"`
	Flight Flight `mapstructure:"flight" doc:"legs flown one after the other" required:"true"`

	Cases   []*Case   `mapstructure:"cases" doc:"combinations of day, flight and settings that must all hold"`
	Changes []*Change `mapstructure:"changes" doc:"candidate modifications"`

	// Correlations of doubts, as a fit leaves them.
	Correlations []*Correlation `mapstructure:"correlations" doc:"doubts that go together, as a fit leaves them" fixed:"true"`

	Sweep *Sweep  `mapstructure:"sweep" doc:"the parameter sweep this file stands for"`
	Size  *Size   `mapstructure:"size" doc:"the openings to be sized"`
	Tests []*Test `mapstructure:"tests" doc:"flight records"`
	Fit   *Fit    `mapstructure:"fit" doc:"the paths that flight records shall sharpen"`
	Next  []*Next `mapstructure:"next" doc:"flights that could be flown next"`

	exchangerOrder []string          // names of the exchangers as the file has them
	served         map[string]string // what each exchanger serves in the first file
	filled         map[string]bool   // paths of the words that defaults filled
	where          positions         // where each path stands in the files; shared, never changed
	legs           []string          // names of the legs of all flights of the file; nil in a whole file
	embedded       bool              // the first file is a built-in one
	ofCase         string            // the case it is the effective scenario of, "" for a whole file
}
