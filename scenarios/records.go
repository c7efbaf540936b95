package scenarios

// Gauges are those of both temperatures.
type Gauges struct {
	Coolant Gauge `mapstructure:"coolant" doc:"of the coolant"`
	Oil     Gauge `mapstructure:"oil" doc:"of the oil"`
}

// Gauge is what a gauge makes of the temperature at its sensor.
type Gauge struct {
	Bias  Quantity[Difference] `mapstructure:"bias" doc:"how much it reads too high" range:"-30 K..30 K" default:"0 K" source:"none known"`
	Lag   Quantity[Time]       `mapstructure:"lag" doc:"time constant with which it follows" range:"0 s..10 min" default:"0 s" source:"a sensor in the flow follows within seconds"`
	Noise Quantity[Difference] `mapstructure:"noise" doc:"standard deviation of a reading by hand, or of the mean over half a minute of a log, about what a true model can give" range:"0.01 K..20 K" default:"2 ddegF" source:"a needle between marks, engineering judgement"`
}

// Test is one flight record.
type Test struct {
	Name    string                `mapstructure:"name" doc:"its name" required:"true"`
	Date    string                `mapstructure:"date" doc:"day of the flight, YYYY-MM-DD"`
	Notes   string                `mapstructure:"notes" doc:"what was seen"`
	Set     map[string]string     `mapstructure:"set" doc:"paths that were different on this flight"`
	Log     string                `mapstructure:"log" doc:"CSV file of an engine monitor, beside the scenario"`
	Columns LogColumns            `mapstructure:"columns" doc:"what the columns of the log hold, each as HEADER [UNIT]"`
	Points  map[string]*TestPoint `mapstructure:"points" doc:"readings by hand, by name"`

	// Conditions that readings lack.
	Altitude Quantity[Length]      `mapstructure:"altitude" doc:"pressure altitude all through, where readings have none" range:"-400 m..15000 m"`
	Speed    Quantity[Speed]       `mapstructure:"speed" doc:"indicated airspeed all through, where readings have none" range:"0 m/s..130 m/s"`
	Outside  Quantity[Temperature] `mapstructure:"outside" doc:"outside air at the first reading, where readings have none; with altitude it changes as in the standard atmosphere" range:"-60 degC..60 degC"`
	Power    Quantity[Power]       `mapstructure:"power" doc:"brake power all through, where readings have none" range:"0 kW..1000 kW"`

	StartCoolant Quantity[Temperature] `mapstructure:"start_coolant" doc:"coolant and metal at the first reading; what the gauge shows there when not given" range:"-40 degC..150 degC"`
	StartOil     Quantity[Temperature] `mapstructure:"start_oil" doc:"oil at the first reading; what the gauge shows there when not given" range:"-40 degC..180 degC"`
}

// LogColumns are the columns of a log by what they hold, each as HEADER [UNIT].
type LogColumns struct {
	Time     string `mapstructure:"time" doc:"time; clock times and dates need no unit"`
	Altitude string `mapstructure:"altitude" doc:"pressure altitude"`
	Speed    string `mapstructure:"speed" doc:"indicated airspeed"`
	Outside  string `mapstructure:"outside" doc:"outside air temperature"`
	Power    string `mapstructure:"power" doc:"brake power"`
	Coolant  string `mapstructure:"coolant" doc:"coolant at its sensor"`
	Oil      string `mapstructure:"oil" doc:"oil at its sensor"`
	RPM      string `mapstructure:"rpm" doc:"speed of the crankshaft"`
	Spray    string `mapstructure:"spray" doc:"water sprayed on a core"`
}

// TestPoint is one reading by hand.
type TestPoint struct {
	Time     Quantity[Time]        `mapstructure:"time" doc:"since the start of the record" range:"0 s..24 h" required:"true"`
	Altitude Quantity[Length]      `mapstructure:"altitude" doc:"pressure altitude" range:"-400 m..15000 m"`
	Speed    Quantity[Speed]       `mapstructure:"speed" doc:"indicated airspeed" range:"0 m/s..130 m/s"`
	Outside  Quantity[Temperature] `mapstructure:"outside" doc:"outside air temperature" range:"-60 degC..60 degC"`
	Power    Quantity[Power]       `mapstructure:"power" doc:"brake power" range:"0 kW..1000 kW"`
	Coolant  Quantity[Temperature] `mapstructure:"coolant" doc:"coolant at its sensor" range:"-40 degC..200 degC"`
	Oil      Quantity[Temperature] `mapstructure:"oil" doc:"oil at its sensor" range:"-40 degC..220 degC"`
}

// Fit is the calibration of chosen paths on the flight records.
type Fit struct {
	Paths []string `mapstructure:"paths" doc:"the numbers to sharpen; each needs a doubt" required:"true"`
	Tests []string `mapstructure:"tests" doc:"names of records used; all when not given" refers:"tests"`
	Loss  string   `mapstructure:"loss" doc:"what readings far out count: their square, or less" words:"squares|huber|cauchy" default:"squares"`
}

// Next is a flight that could be flown next.
type Next struct {
	Name    string            `mapstructure:"name" doc:"its name" required:"true"`
	Title   string            `mapstructure:"title" doc:"one line for people"`
	Case    string            `mapstructure:"case" doc:"the case that is flown; the first when not given" refers:"cases"`
	Set     map[string]string `mapstructure:"set" doc:"paths that are different on this flight"`
	Caution string            `mapstructure:"caution" doc:"what to watch for"`
}

// Correlation says that the doubts of two numbers go together.
type Correlation struct {
	Name  string          `mapstructure:"name" doc:"its name" required:"true"`
	Of    string          `mapstructure:"of" doc:"path of one number" required:"true"`
	With  string          `mapstructure:"with" doc:"path of the other" required:"true"`
	Value Quantity[Ratio] `mapstructure:"value" doc:"coefficient of correlation" range:"-1..1" required:"true"`
}
