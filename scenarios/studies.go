package scenarios

// Sweep is the parameter sweep a file stands for.
type Sweep struct {
	Vary   map[string]string `mapstructure:"vary" doc:"paths and what they take: LOW..HIGH:COUNT or a list separated by commas; LOW..HIGH when points are drawn" required:"true"`
	Cases  []string          `mapstructure:"cases" doc:"names of cases; all when not given" refers:"cases"`
	Design string            `mapstructure:"design" doc:"every combination of the values, or points drawn between them" words:"grid|latin_hypercube|sobol" default:"grid"`
	Points Quantity[Ratio]   `mapstructure:"points" doc:"how many points are drawn; the grid does not need it" range:"1..10000000" default:"256" source:"a power of two, as Sobol points want" whole:"true"`
	Seed   Quantity[Ratio]   `mapstructure:"seed" doc:"seed of drawn points" range:"0..1000000000" default:"1" source:"arbitrary" whole:"true"`
}

// Size is the search for the smallest openings.
type Size struct {
	Vary          map[string]string    `mapstructure:"vary" doc:"paths and their bounds: LOW..HIGH" required:"true"`
	Cases         []string             `mapstructure:"cases" doc:"names of cases that must hold; all when not given" refers:"cases"`
	Minimise      string               `mapstructure:"minimise" doc:"what shall be small" words:"opening_area|cooling_drag|weighted" default:"opening_area"`
	AreaShare     Quantity[Ratio]      `mapstructure:"area_share" doc:"weight of the opening area when weighted, each measured by that of the file; the rest is cooling drag" range:"0..1" default:"0.5" source:"both alike"`
	CoolantMargin Quantity[Difference] `mapstructure:"coolant_margin" doc:"margin kept to the coolant limit" range:"-50 K..80 K" default:"0 K" source:"the limit itself"`
	OilMargin     Quantity[Difference] `mapstructure:"oil_margin" doc:"margin kept to the oil limit" range:"-50 K..80 K" default:"0 K" source:"the limit itself"`
	BoilMargin    Quantity[Difference] `mapstructure:"boil_margin" doc:"margin kept to boiling" range:"0 K..80 K" default:"8 K" source:"engineering judgement: 8 to 10 K at the hot leg"`
	Doubt         Quantity[Ratio]      `mapstructure:"doubt" doc:"standard deviations kept on top" range:"0..5" default:"0" source:"none"`
	DoubtFrom     string               `mapstructure:"doubt_from" doc:"where those come from: the slope of a margin along every doubtful number, or flights with all of them drawn" words:"slopes|samples" default:"slopes"`
}

// Test is one flight record.
type Test struct {
	Name   string                `mapstructure:"name" doc:"its name" required:"true"`
	Date   string                `mapstructure:"date" doc:"day of the flight, YYYY-MM-DD"`
	Notes  string                `mapstructure:"notes" doc:"what was seen"`
	Set    map[string]string     `mapstructure:"set" doc:"paths that were different on this flight"`
	Log    string                `mapstructure:"log" doc:"CSV file of an engine monitor, beside the scenario"`
	Points map[string]*TestPoint `mapstructure:"points" doc:"readings by hand, by name"`
}

// TestPoint is one reading by hand.
type TestPoint struct {
	Time     Quantity[Time]        `mapstructure:"time" doc:"since the start of the record" range:"0 s..24 h" required:"true"`
	Altitude Quantity[Length]      `mapstructure:"altitude" doc:"pressure altitude" range:"-400 m..15000 m" required:"true"`
	Speed    Quantity[Speed]       `mapstructure:"speed" doc:"indicated airspeed" range:"0 m/s..130 m/s" required:"true"`
	Outside  Quantity[Temperature] `mapstructure:"outside" doc:"outside air temperature" range:"-60 degC..60 degC" required:"true"`
	Power    Quantity[Power]       `mapstructure:"power" doc:"brake power" range:"0 kW..1000 kW"`
	Coolant  Quantity[Temperature] `mapstructure:"coolant" doc:"coolant at its sensor" range:"-40 degC..200 degC"`
	Oil      Quantity[Temperature] `mapstructure:"oil" doc:"oil at its sensor" range:"-40 degC..220 degC"`
}

// Fit is the calibration of chosen paths on the flight records.
type Fit struct {
	Paths []string `mapstructure:"paths" doc:"the numbers to sharpen; each needs a doubt" required:"true"`
	Tests []string `mapstructure:"tests" doc:"names of records used; all when not given" refers:"tests"`
}
