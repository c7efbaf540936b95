package scenarios

// Day is the air of the day.
type Day struct {
	Elevation   Quantity[Length]      `mapstructure:"elevation" doc:"field elevation" range:"-400 m..5000 m" default:"0 ft" source:"sea level"`
	Temperature Quantity[Temperature] `mapstructure:"temperature" doc:"air temperature at the field" range:"-60 degC..60 degC" alt:"air:field"`
	Offset      Quantity[Difference]  `mapstructure:"isa_offset" doc:"warmer than the standard atmosphere by this much" range:"-60 K..45 K" alt:"air:offset"`
	HotDay      string                `mapstructure:"hot_day" doc:"the regulation's hot day" words:"part_23|cs_22" alt:"air:hot_day"`
	Humidity    Quantity[Ratio]       `mapstructure:"humidity" doc:"relative humidity at the field; it only counts for spray" range:"0..1" default:"40 %" source:"a dry summer afternoon, engineering judgement"`
	Wind        Quantity[Speed]       `mapstructure:"wind" doc:"headwind on the ground, negative from behind" range:"-30 m/s..30 m/s" default:"0 mph" source:"calm"`
}

// Flight is what is flown: a start and ordered legs.
type Flight struct {
	Start   string                `mapstructure:"start" doc:"starting temperatures: the outside air, also when nothing is given, or settled in the conditions of the first leg" words:"ambient|settled" alt:"start:word"`
	Coolant Quantity[Temperature] `mapstructure:"start_coolant" doc:"coolant and metal temperature at the start" range:"-40 degC..150 degC" alt:"start:given"`
	Oil     Quantity[Temperature] `mapstructure:"start_oil" doc:"oil temperature at the start" range:"-40 degC..180 degC" alt:"start:given"`
	Legs    []*Leg                `mapstructure:"legs" doc:"legs in the order flown" required:"true"`
}

// Leg is one part of a flight with one way to fly it.
type Leg struct {
	Name        string              `mapstructure:"name" doc:"its name in paths" required:"true"`
	Kind        string              `mapstructure:"kind" doc:"what is done" words:"idle|taxi|run_up|take_off|climb|level|descend|shut_down" required:"true"`
	Speed       Quantity[Speed]     `mapstructure:"speed" doc:"airspeed; over the ground for idle, taxi and run-up" range:"0 m/s..130 m/s"`
	SpeedKind   string              `mapstructure:"speed_kind" doc:"what that airspeed is" words:"indicated|calibrated|equivalent|true" default:"indicated"`
	Throttle    Quantity[Ratio]     `mapstructure:"throttle" doc:"share of the power available at this altitude" range:"0..1" alt:"power:throttle"`
	Power       Quantity[Power]     `mapstructure:"power" doc:"power, as far as it is available" range:"0 kW..1000 kW" alt:"power:power"`
	EngineSpeed Quantity[Rotation]  `mapstructure:"engine_speed" doc:"engine speed; with the cube root of power when not given" range:"0 rpm..20000 rpm"`
	Rate        Quantity[ClimbRate] `mapstructure:"rate_of_climb" doc:"prescribed; from excess power when not given" range:"-50 m/s..50 m/s"`
	ToAltitude  Quantity[Length]    `mapstructure:"to_altitude" doc:"ends at this altitude above the sea" range:"-400 m..15000 m"`
	For         Quantity[Time]      `mapstructure:"for" doc:"ends after this time" range:"1 s..24 h"`
	Until       string              `mapstructure:"until" doc:"ends when the metal and both ends of the coolant and of the oil change by less than 2 °F a minute" words:"settled"`
	AfterPeak   Quantity[Time]      `mapstructure:"after_peak" doc:"ends this long after the highest temperature of both" range:"1 s..2 h"`
}

// Case is a combination of day, flight and settings that must hold. Its day
// and its flight replace those of the file; its settings come on top.
type Case struct {
	Name   string            `mapstructure:"name" doc:"its name in results and for --case" required:"true"`
	Title  string            `mapstructure:"title" doc:"one line for people"`
	Day    *Day              `mapstructure:"day" doc:"replaces the day of the file"`
	Flight *Flight           `mapstructure:"flight" doc:"replaces the flight of the file"`
	Set    map[string]string `mapstructure:"set" doc:"paths and their values in this case"`
}

// Change is a candidate modification.
type Change struct {
	Name   string            `mapstructure:"name" doc:"its name" required:"true"`
	Title  string            `mapstructure:"title" doc:"one line for people"`
	Set    map[string]string `mapstructure:"set" doc:"paths and their new values" required:"true"`
	Weight Quantity[Mass]    `mapstructure:"weight" doc:"added, negative when taken out" range:"-200 kg..200 kg" default:"0 lb" source:"none"`
	Arm    Quantity[Length]  `mapstructure:"arm" doc:"of that weight, aft of the datum" range:"-20 m..20 m" default:"0 in" source:"at the datum"`
	Cost   Quantity[Ratio]   `mapstructure:"cost" doc:"money, in your own currency" range:"0..1000000" default:"0" source:"none"`
	Hours  Quantity[Ratio]   `mapstructure:"hours" doc:"hours of work" range:"0..10000" default:"0" source:"none"`
}
