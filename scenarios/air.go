package scenarios

// Inlet is an opening that takes air in, with its duct up to the core faces.
// All cores fed from one inlet share the pressure behind its diffuser.
type Inlet struct {
	Kind string `mapstructure:"kind" doc:"what fills the numbers not given" words:"nose|spinner_slot|scoop|scoop_diverted|side|submerged" default:"nose"`

	Area     Quantity[Area]   `mapstructure:"area" doc:"throat area" range:"0 cm^2..1 m^2" alt:"opening:area" made:"opening"`
	Diameter Quantity[Length] `mapstructure:"diameter" doc:"of a round inlet" range:"0 cm..1 m" alt:"opening:round" made:"opening"`
	Width    Quantity[Length] `mapstructure:"width" doc:"of a rectangular inlet" range:"0 cm..2 m" alt:"opening:rectangle" made:"opening"`
	Height   Quantity[Length] `mapstructure:"height" doc:"of a rectangular inlet" range:"0 cm..2 m" alt:"opening:rectangle" made:"opening"`

	Recovery     Quantity[Ratio] `mapstructure:"recovery" doc:"total pressure at the throat over that of the stream, at full_flow_ratio and above" range:"0..1"`
	LowFlowLoss  Quantity[Ratio] `mapstructure:"low_flow_loss" doc:"recovery lost as the flow through the inlet falls to nothing" range:"0..1"`
	FullRatio    Quantity[Ratio] `mapstructure:"full_flow_ratio" doc:"ratio of inlet to flight speed from which the recovery is full" range:"0.05..2"`
	Lip          string          `mapstructure:"lip" doc:"shape of the lip" words:"rounded|sharp" default:"rounded"`
	LipLoss      Quantity[Ratio] `mapstructure:"lip_loss" doc:"entry loss when the inlet sucks faster than it flies, on the dynamic pressure of the difference" range:"0..2"`
	Slipstream   Quantity[Ratio] `mapstructure:"slipstream" doc:"share of the propeller disc pressure rise that reaches the inlet" range:"-0.3..1.2"`
	SpillageDrag Quantity[Ratio] `mapstructure:"spillage_drag" doc:"share of the pre-entry drag that the lip does not recover" range:"0..1"`
	DrawsBack    Quantity[Ratio] `mapstructure:"draws_back" doc:"share of its air that is hot exit air drawn back in" range:"0..0.9" default:"0" source:"none drawn back"`
	FairingArea  Quantity[Area]  `mapstructure:"fairing_area" doc:"frontal area of a scoop that stands proud of the body" range:"0 cm^2..2 m^2" default:"0 in^2" source:"flush"`
	FairingDrag  Quantity[Ratio] `mapstructure:"fairing_drag" doc:"drag coefficient of that fairing on its frontal area" range:"0..1.5" default:"0.10 ± 0.05" source:"from memory, low: 0.05 to 0.15"`

	Diffuser *Diffuser `mapstructure:"diffuser" doc:"widening duct from throat to core face; without one the air is dumped"`
}

// Diffuser is the duct that widens from an inlet throat to the core faces it
// feeds.
type Diffuser struct {
	Loss       Quantity[Ratio]  `mapstructure:"loss" doc:"total-pressure loss on the throat dynamic pressure" range:"0..2" alt:"shape:loss"`
	Angle      Quantity[Angle]  `mapstructure:"angle" doc:"full included angle of the walls" range:"1 deg..180 deg" alt:"shape:angle" made:"duct"`
	Length     Quantity[Length] `mapstructure:"length" doc:"length of the widening part" range:"0 cm..3 m" alt:"shape:length" made:"duct"`
	FaceArea   Quantity[Area]   `mapstructure:"face_area" doc:"area at its end; the core faces it feeds when not given" range:"0.1 cm^2..2 m^2"`
	Multiplier Quantity[Ratio]  `mapstructure:"multiplier" doc:"on the published loss; below one for a core close behind" range:"0.2..2" default:"1.0 ± 0.25" source:"handbooks differ by a quarter"`
}

// Compartment is a pocket of the cowl that shares one pressure.
type Compartment struct {
	BayHeatShare Quantity[Ratio]       `mapstructure:"bay_heat_share" doc:"share of the engine's bay heat that enters here" range:"0..1"`
	SkinLoss     Quantity[Conductance] `mapstructure:"skin_loss" doc:"conductance of its skin to the outside air" range:"0 W/K..500 W/K" default:"8 W/K ± 4 W/K" source:"engineering judgement: about 1 m^2 of thin skin"`
}

// Exit is an opening that lets air out of a compartment.
type Exit struct {
	From string `mapstructure:"from" doc:"the compartment it empties; not given when a core blows straight into it" refers:"compartments"`
	Kind string `mapstructure:"kind" doc:"what fills the numbers not given" words:"nozzle|hole|louvers|lip|flap|side" default:"hole"`

	Area   Quantity[Area]   `mapstructure:"area" doc:"free area, of all louvers together" range:"0 cm^2..2 m^2" alt:"opening:area" made:"opening"`
	Count  Quantity[Ratio]  `mapstructure:"count" doc:"number of equal openings" range:"0..200" alt:"opening:rectangle" made:"opening" whole:"true"`
	Width  Quantity[Length] `mapstructure:"width" doc:"of one opening" range:"0 cm..2 m" alt:"opening:rectangle" made:"opening"`
	Height Quantity[Length] `mapstructure:"height" doc:"of one opening" range:"0 cm..2 m" alt:"opening:rectangle" made:"opening"`

	Discharge       Quantity[Ratio]  `mapstructure:"discharge" doc:"discharge coefficient on the free area" range:"0.1..1"`
	PressureCoeff   Quantity[Ratio]  `mapstructure:"pressure_coefficient" doc:"outside pressure at the exit over the dynamic pressure" range:"-2..1"`
	FlapAngle       Quantity[Angle]  `mapstructure:"flap_angle" doc:"opening angle of a flap; fills its coefficients" range:"0 deg..45 deg" default:"15 deg" source:"usual climb setting" made:"setting"`
	JetAngle        Quantity[Angle]  `mapstructure:"jet_angle" doc:"angle of the jet to the flight path" range:"0 deg..120 deg"`
	JetLoss         Quantity[Ratio]  `mapstructure:"jet_loss" doc:"share of the pressure drop across the exit that is lost to the jet" range:"0..1"`
	Slipstream      Quantity[Ratio]  `mapstructure:"slipstream" doc:"share of the propeller disc pressure rise in the stream outside it" range:"-0.3..1.2"`
	Suction         Quantity[Ratio]  `mapstructure:"propeller_suction" doc:"suction of a propeller right behind the exit over its disc pressure rise" range:"0..1" default:"0" source:"no propeller behind it"`
	Rise            Quantity[Length] `mapstructure:"rise" doc:"height of the exit above the inlets; hot air standing in the cowl drives it" range:"-2 m..2 m" default:"0 in" source:"level with the inlets"`
	DragCoefficient Quantity[Ratio]  `mapstructure:"drag_coefficient" doc:"outside drag of flap, lip or louvers on drag_area" range:"0..2"`
	DragArea        Quantity[Area]   `mapstructure:"drag_area" doc:"area that drag_coefficient refers to; the free area when not given" range:"0 cm^2..2 m^2"`
}

// Leak is a gap between two places of the cowl, or to the outside.
type Leak struct {
	From      string          `mapstructure:"from" doc:"inlet or compartment it leaves" refers:"inlets|compartments" required:"true"`
	Into      string          `mapstructure:"into" doc:"inlet or compartment it enters, or outside" refers:"inlets|compartments|outside" required:"true"`
	Area      Quantity[Area]  `mapstructure:"area" doc:"area of the gap" range:"0 cm^2..1 m^2" required:"true" made:"duct"`
	Discharge Quantity[Ratio] `mapstructure:"discharge" doc:"discharge coefficient" range:"0.1..1" default:"0.6 ± 0.05" source:"sharp-edged gap, from memory, medium"`
}

// Vent is a cabin fresh-air intake behind an exit.
type Vent struct {
	Behind string          `mapstructure:"behind" doc:"the exit that lies ahead of it" refers:"exits" required:"true"`
	Share  Quantity[Ratio] `mapstructure:"share" doc:"share of exit air in what it takes in" range:"0..1" required:"true"`
}

// Spray is water sprayed on the face of one core.
type Spray struct {
	Onto     string                `mapstructure:"onto" doc:"the exchanger that is sprayed" refers:"exchangers" required:"true"`
	Tank     Quantity[Volume]      `mapstructure:"tank" doc:"water carried" range:"0 L..200 L" required:"true"`
	Rate     Quantity[VolumeFlow]  `mapstructure:"rate" doc:"flow while it runs" range:"0 L/min..20 L/min" required:"true" made:"spray"`
	Landing  Quantity[Ratio]       `mapstructure:"landing" doc:"share that lands on the hot fins" range:"0..1" default:"0.6 ± 0.15" source:"engineering judgement: 0.3 to 0.9"`
	Upstream Quantity[Ratio]       `mapstructure:"upstream" doc:"share that may evaporate before it lands" range:"0..1" default:"0.05 ± 0.02" source:"drops of 30 to 100 µm over 0.3 m, computed"`
	Water    Quantity[Temperature] `mapstructure:"water_temperature" doc:"of the water in the tank" range:"0 degC..60 degC" default:"25 degC" source:"shade temperature"`
	WetDrop  Quantity[Ratio]       `mapstructure:"wet_drop" doc:"pressure drop of the wet core over the dry one" range:"1..3" default:"1.2 ± 0.2" source:"engineering judgement: 1.0 to 2.2"`
	Leg      string                `mapstructure:"leg" doc:"the leg it runs in; every leg when not given"`
	Above    Quantity[Temperature] `mapstructure:"above" doc:"it starts when the temperature at the sensor of the sprayed circuit passes this" range:"0 degC..200 degC"`
	For      Quantity[Time]        `mapstructure:"for" doc:"it runs this long at most" range:"0 s..24 h"`
}
