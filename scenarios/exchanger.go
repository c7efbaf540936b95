package scenarios

// Exchanger is a radiator, an oil cooler or a plate exchanger.
type Exchanger struct {
	Serves   string          `mapstructure:"serves" doc:"the circuit it cools; changing this word moves the core to the other circuit" words:"coolant|oil" required:"true"`
	CooledBy string          `mapstructure:"cooled_by" doc:"air, or the cold coolant in a plate exchanger" words:"air|coolant" default:"air"`
	From     string          `mapstructure:"from" doc:"the inlet, compartment or exchanger its air comes from" refers:"inlets|compartments|exchangers"`
	Into     string          `mapstructure:"into" doc:"the compartment its air goes to, or the exit right behind it; of no account where another exchanger draws its air from this one" refers:"compartments|exits"`
	Liquid   string          `mapstructure:"liquid" doc:"how its liquid joins that of the exchanger before it in the same circuit" words:"series|parallel" default:"series"`
	Place    Quantity[Ratio] `mapstructure:"place" doc:"order in the circuit; the order of the file when not given" range:"1..99"`

	FaceArea  Quantity[Area]   `mapstructure:"face_area" doc:"frontal area of the core" range:"1 cm^2..3 m^2" alt:"face:area" made:"core"`
	Width     Quantity[Length] `mapstructure:"width" doc:"of the core face" range:"1 cm..3 m" alt:"face:rectangle" made:"core"`
	Height    Quantity[Length] `mapstructure:"height" doc:"of the core face" range:"1 cm..3 m" alt:"face:rectangle" made:"core"`
	OpenShare Quantity[Ratio]  `mapstructure:"open_share" doc:"share of the face not taped over or blocked" range:"0..1" default:"1" source:"nothing taped"`
	FreeShare Quantity[Ratio]  `mapstructure:"free_share" doc:"free over frontal area between the fins" range:"0.2..0.95" default:"0.75 ± 0.05" source:"louvered car cores, computed from two geometries"`

	Arrangement string `mapstructure:"arrangement" doc:"how the two streams cross" words:"both_unmixed|one_row|counterflow|parallel_flow"`

	Rating      *Rating          `mapstructure:"rating" doc:"a catalogue point" alt:"heat:rating"`
	Conductance *ConductancePair `mapstructure:"conductance" doc:"conductances of both sides with their exponents" alt:"heat:conductance"`
	Geometry    *Geometry        `mapstructure:"geometry" doc:"fins and tubes" alt:"heat:geometry"`

	Bench    map[string]*BenchPoint `mapstructure:"bench" doc:"measured pressure drops at sea-level standard air, by name" alt:"drop:bench"`
	PowerLaw *PowerLaw              `mapstructure:"power_law" doc:"pressure drop as a power of the flow" alt:"drop:power"`

	LiquidDrop     Quantity[Pressure]   `mapstructure:"liquid_drop" doc:"liquid pressure drop at liquid_drop_flow; shares the flow between parallel cores" range:"0 kPa..1000 kPa"`
	LiquidDropFlow Quantity[VolumeFlow] `mapstructure:"liquid_drop_flow" doc:"the liquid flow of that drop" range:"0.1 L/min..2000 L/min"`
	OtherLiquid    Quantity[Ratio]      `mapstructure:"other_liquid_factor" doc:"liquid-side conductance with coolant over that with oil, for a core rated with one and filled with the other" range:"1..40" default:"8 ± 3" source:"engineering judgement"`
	RatedWith      string               `mapstructure:"rated_with" doc:"the liquid its rating or conductance holds for; what it serves in the file when not given" words:"coolant|oil"`
}

// Rating is a catalogue point of an exchanger.
type Rating struct {
	Heat           Quantity[Power]      `mapstructure:"heat" doc:"heat moved" range:"0.1 kW..500 kW" required:"true" made:"core"`
	Difference     Quantity[Difference] `mapstructure:"temperature_difference" doc:"liquid entering less air entering" range:"1 K..200 K" required:"true"`
	AirFlow        Quantity[MassFlow]   `mapstructure:"air_flow" doc:"air flow; for a plate exchanger the coolant flow" range:"0.005 kg/s..50 kg/s" alt:"air:flow"`
	AirSpeed       Quantity[Speed]      `mapstructure:"air_speed" doc:"face speed of standard sea-level air" range:"0.5 m/s..60 m/s" alt:"air:speed"`
	LiquidFlow     Quantity[VolumeFlow] `mapstructure:"liquid_flow" doc:"liquid flow" range:"0.5 L/min..2000 L/min" required:"true"`
	AirShare       Quantity[Ratio]      `mapstructure:"air_share" doc:"share of the thermal resistance on the air side" range:"0.05..0.98"`
	AirExponent    Quantity[Ratio]      `mapstructure:"air_exponent" doc:"air-side conductance grows with air flow to this power" range:"0..1"`
	LiquidExponent Quantity[Ratio]      `mapstructure:"liquid_exponent" doc:"liquid-side conductance grows with liquid flow to this power" range:"0..1"`
}

// ConductancePair gives both sides of a core directly.
type ConductancePair struct {
	Air            Quantity[Conductance] `mapstructure:"air" doc:"air-side conductance at air_flow" range:"1 W/K..100 kW/K" required:"true" made:"core"`
	AirFlow        Quantity[MassFlow]    `mapstructure:"air_flow" doc:"its air flow; for a plate exchanger the coolant flow" range:"0.005 kg/s..50 kg/s" required:"true"`
	AirExponent    Quantity[Ratio]       `mapstructure:"air_exponent" doc:"it grows with air flow to this power" range:"0..1"`
	Liquid         Quantity[Conductance] `mapstructure:"liquid" doc:"liquid-side conductance at liquid_flow" range:"1 W/K..200 kW/K" required:"true" made:"core"`
	LiquidFlow     Quantity[VolumeFlow]  `mapstructure:"liquid_flow" doc:"its liquid flow" range:"0.5 L/min..2000 L/min" required:"true"`
	LiquidExponent Quantity[Ratio]       `mapstructure:"liquid_exponent" doc:"it grows with liquid flow to this power" range:"0..1"`
}

// Geometry is the fin and tube geometry of a core; its conductances and its
// pressure drop come from published correlations.
type Geometry struct {
	Fin          string                 `mapstructure:"fin" doc:"kind of fin" words:"louvered|offset_strip" required:"true"`
	Depth        Quantity[Length]       `mapstructure:"depth" doc:"depth of the core in the air direction" range:"5 mm..300 mm" required:"true" made:"core"`
	FinPitch     Quantity[Length]       `mapstructure:"fin_pitch" doc:"distance between fins; the free spacing for offset strips" range:"0.3 mm..10 mm" required:"true"`
	FinHeight    Quantity[Length]       `mapstructure:"fin_height" doc:"fin height between the tubes" range:"1 mm..30 mm" required:"true"`
	FinThickness Quantity[Length]       `mapstructure:"fin_thickness" doc:"fin thickness" range:"0.02 mm..1 mm" required:"true"`
	FinMaterial  Quantity[Conductivity] `mapstructure:"fin_conductivity" doc:"thermal conductivity of the fin" range:"10 W/m/K..420 W/m/K" default:"180 W/m/K" source:"aluminium fin stock, engineering judgement"`
	LouverPitch  Quantity[Length]       `mapstructure:"louver_pitch" doc:"louver pitch, or strip length of offset strips" range:"0.3 mm..20 mm" required:"true"`
	LouverLength Quantity[Length]       `mapstructure:"louver_length" doc:"louver length; louvered fins only" range:"0.5 mm..30 mm"`
	LouverAngle  Quantity[Angle]        `mapstructure:"louver_angle" doc:"louver angle; louvered fins only" range:"5 deg..45 deg"`
	TubeHeight   Quantity[Length]       `mapstructure:"tube_height" doc:"outer thickness of a tube across the air" range:"0.5 mm..20 mm" required:"true"`
	TubeWall     Quantity[Length]       `mapstructure:"tube_wall" doc:"wall thickness of a tube" range:"0.05 mm..3 mm" default:"0.3 mm" source:"brazed aluminium, engineering judgement"`
	TubeRows     Quantity[Ratio]        `mapstructure:"tube_rows" doc:"tubes behind each other in the air direction" range:"1..8" default:"1" source:"one row"`
	TubeLength   Quantity[Length]       `mapstructure:"tube_length" doc:"length of a tube; the width of the core when not given" range:"1 cm..3 m"`
	LiquidPasses Quantity[Ratio]        `mapstructure:"liquid_passes" doc:"times the liquid crosses the core" range:"1..8" default:"1" source:"single pass"`
}

// BenchPoint is one measured point of air-side pressure drop.
type BenchPoint struct {
	Speed Quantity[Speed]    `mapstructure:"speed" doc:"face speed" range:"0.5 m/s..60 m/s" required:"true"`
	Drop  Quantity[Pressure] `mapstructure:"drop" doc:"pressure drop" range:"0.1 Pa..20 kPa" required:"true"`
}

// PowerLaw is a pressure drop that grows as a power of the mass flow.
type PowerLaw struct {
	Speed    Quantity[Speed]    `mapstructure:"speed" doc:"face speed of standard sea-level air" range:"0.5 m/s..60 m/s" required:"true"`
	Drop     Quantity[Pressure] `mapstructure:"drop" doc:"pressure drop there" range:"0.1 Pa..20 kPa" required:"true"`
	Exponent Quantity[Ratio]    `mapstructure:"exponent" doc:"density times drop grows with mass flow to this power" range:"1..2" default:"1.7 ± 0.1" source:"plain or louvered cores, from memory, medium: 1.5 to 1.8"`
}
