package scenarios

// Aircraft is the airframe as far as speed, climb and drag need it.
type Aircraft struct {
	Mass           Quantity[Mass]  `mapstructure:"mass" doc:"take-off mass, with anything towed" range:"50 kg..20000 kg" required:"true"`
	WingArea       Quantity[Area]  `mapstructure:"wing_area" doc:"reference wing area" range:"1 m^2..200 m^2" required:"true"`
	AspectRatio    Quantity[Ratio] `mapstructure:"aspect_ratio" doc:"wing span squared over wing area" range:"1..40" required:"true"`
	SpanEfficiency Quantity[Ratio] `mapstructure:"span_efficiency" doc:"Oswald factor of the induced drag" range:"0.3..1.1" default:"0.75 ± 0.05" source:"light single, from memory, medium"`
	ParasiteDrag   Quantity[Ratio] `mapstructure:"parasite_drag" doc:"zero-lift drag coefficient on the wing area" range:"0.005..0.3" required:"true"`
	CoolingDrag    Quantity[Area]  `mapstructure:"cooling_drag_included" doc:"drag area of cooling that parasite_drag already holds, as when it was measured in flight" range:"0 m^2..1 m^2" default:"0 ft^2" source:"parasite_drag is taken free of cooling drag"`

	Propeller Propeller `mapstructure:"propeller" doc:"propeller" required:"true"`

	AirspeedError map[string]*AirspeedPoint `mapstructure:"airspeed_error" doc:"position error: calibrated speeds at indicated speeds"`
}

// Propeller turns engine power into thrust and blows on the inlets.
type Propeller struct {
	Diameter         Quantity[Length] `mapstructure:"diameter" doc:"diameter" range:"0.5 m..5 m" required:"true"`
	EfficiencyClimb  Quantity[Ratio]  `mapstructure:"efficiency_climb" doc:"thrust power over engine power in take-off and climb" range:"0.2..0.95" default:"0.72 ± 0.04" source:"light single, from memory, medium"`
	EfficiencyCruise Quantity[Ratio]  `mapstructure:"efficiency_cruise" doc:"the same in level flight and descent" range:"0.2..0.95" default:"0.80 ± 0.03" source:"light single, from memory, medium"`
	EfficiencyStatic Quantity[Ratio]  `mapstructure:"efficiency_static" doc:"ideal over actual power of the propeller standing still" range:"0.2..1" default:"0.70 ± 0.08" source:"engineering judgement"`
	Place            string           `mapstructure:"place" doc:"ahead of the cowl or behind it" words:"tractor|pusher" default:"tractor"`
}

// AirspeedPoint is one point of the position-error table.
type AirspeedPoint struct {
	Indicated  Quantity[Speed] `mapstructure:"indicated" doc:"speed on the gauge" range:"1 m/s..200 m/s" required:"true"`
	Calibrated Quantity[Speed] `mapstructure:"calibrated" doc:"speed with the position error taken out" range:"1 m/s..200 m/s" required:"true"`
}

// Engine is the heat source.
type Engine struct {
	Preset string `mapstructure:"preset" doc:"kind of engine that fills what is not given" words:"automotive|rotary|turbo_diesel" default:"automotive"`

	RatedPower       Quantity[Power]        `mapstructure:"rated_power" doc:"power at full throttle, sea level, standard day" range:"5 kW..1000 kW" required:"true"`
	RatedSpeed       Quantity[Rotation]     `mapstructure:"rated_speed" doc:"engine speed at rated power" range:"500 rpm..20000 rpm" required:"true"`
	Aspiration       string                 `mapstructure:"aspiration" doc:"how power falls with altitude" words:"natural|boosted"`
	CriticalAltitude Quantity[Length]       `mapstructure:"critical_altitude" doc:"up to here a boosted engine holds its power" range:"0 m..15000 m"`
	FuelConsumption  Quantity[FuelRate]     `mapstructure:"fuel_consumption" doc:"fuel per brake power at rated power" range:"150 g/kWh..600 g/kWh"`
	FuelEnergy       Quantity[Energy]       `mapstructure:"fuel_energy" doc:"lower heating value of the fuel" range:"20 MJ/kg..50 MJ/kg"`
	HeatBasis        string                 `mapstructure:"heat_basis" doc:"what the heat ratios refer to" words:"brake_power|fuel_energy" default:"brake_power"`
	HeatToCoolant    Quantity[Ratio]        `mapstructure:"heat_to_coolant" doc:"heat into the coolant jackets over the heat basis, at rated power" range:"0.02..2"`
	HeatToOil        Quantity[Ratio]        `mapstructure:"heat_to_oil" doc:"heat made in the oil over the heat basis, at rated power" range:"0..1"`
	HeatToBay        Quantity[Ratio]        `mapstructure:"heat_to_bay" doc:"exhaust and other heat that the cowl air takes directly" range:"0..0.5"`
	PartLoadExponent Quantity[Ratio]        `mapstructure:"part_load_exponent" doc:"heat falls with fuel flow to this power" range:"0.3..1.2"`
	IdleFuel         Quantity[Ratio]        `mapstructure:"idle_fuel" doc:"fuel flow at no power over that at rated power" range:"0..0.4"`
	MetalHeat        Quantity[HeatCapacity] `mapstructure:"metal_heat_capacity" doc:"heat capacity of the metal that warms with the coolant" range:"2 kJ/K..500 kJ/K"`
	MetalToCoolant   Quantity[Conductance]  `mapstructure:"metal_to_coolant" doc:"conductance from metal to coolant at rated pump flow" range:"0.1 kW/K..50 kW/K"`
	MetalToCoolantN  Quantity[Ratio]        `mapstructure:"metal_to_coolant_exponent" doc:"it grows with coolant flow to this power" range:"0..1"`
	MetalToOil       Quantity[Conductance]  `mapstructure:"metal_to_oil" doc:"conductance from metal to oil at rated pump flow" range:"0 kW/K..10 kW/K"`
	MetalToOilN      Quantity[Ratio]        `mapstructure:"metal_to_oil_exponent" doc:"it grows with oil flow to this power" range:"0..1"`
	MetalToBay       Quantity[Conductance]  `mapstructure:"metal_to_bay" doc:"conductance from the outside of the engine to the cowl air" range:"0 W/K..500 W/K"`
}

// Coolant is the coolant circuit.
type Coolant struct {
	Mixture    string          `mapstructure:"mixture" doc:"what is in the circuit" words:"ethylene_glycol|propylene_glycol|water|constant" default:"ethylene_glycol"`
	Strength   Quantity[Ratio] `mapstructure:"strength" doc:"share of glycol" range:"0..0.6" default:"50 %" source:"the usual half and half"`
	StrengthBy string          `mapstructure:"strength_by" doc:"what the share counts" words:"volume|mass" default:"volume"`
	Constant   *ConstantFluid  `mapstructure:"constant" doc:"properties, when mixture is constant"`

	Volume     Quantity[Volume]     `mapstructure:"volume" doc:"coolant in the whole circuit" range:"0.3 L..100 L" required:"true"`
	HotShare   Quantity[Ratio]      `mapstructure:"hot_share" doc:"share of it on the hot side, from the jackets to the cores" range:"0.05..0.95" default:"0.5 ± 0.1" source:"engineering judgement"`
	PumpFlow   Quantity[VolumeFlow] `mapstructure:"pump_flow" doc:"flow at rated engine speed" range:"1 L/min..2000 L/min" required:"true" made:"pump"`
	Pump       string               `mapstructure:"pump" doc:"what drives the pump" words:"mechanical|electric" default:"mechanical"`
	Thermostat *Thermostat          `mapstructure:"thermostat" doc:"thermostat; without one the cores always get the full flow"`

	CapPressure Quantity[Pressure]    `mapstructure:"cap_pressure" doc:"relief pressure of the cap above the outside air" range:"0 kPa..300 kPa" default:"13 psi ± 1 psi" source:"common car cap of 0.9 bar"`
	Caution     Quantity[Temperature] `mapstructure:"caution" doc:"start of the caution band" range:"0 degC..200 degC"`
	Maximum     Quantity[Temperature] `mapstructure:"maximum" doc:"highest allowed temperature at the sensor" range:"40 degC..200 degC" required:"true"`
	Sensor      string                `mapstructure:"sensor" doc:"where the gauge measures" words:"engine_out|engine_in" default:"engine_out"`
}

// Oil is the oil circuit.
type Oil struct {
	Grade    string         `mapstructure:"grade" doc:"viscosity grade, table_a5 for the textbook oil, or constant; the viscosity only counts where oil flows turbulent in a core of given geometry" words:"sae_30|10w_40|15w_50|20w_50|sae_50|table_a5|constant" default:"15w_50"`
	Constant *ConstantFluid `mapstructure:"constant" doc:"properties, when grade is constant"`

	Volume     Quantity[Volume]     `mapstructure:"volume" doc:"oil in the whole circuit" range:"0.3 L..60 L" required:"true"`
	HotShare   Quantity[Ratio]      `mapstructure:"hot_share" doc:"share of it in the sump and up to the coolers" range:"0.05..0.95" default:"0.75 ± 0.1" source:"engineering judgement"`
	PumpFlow   Quantity[VolumeFlow] `mapstructure:"pump_flow" doc:"flow to the coolers at rated engine speed" range:"0.5 L/min..500 L/min" required:"true" made:"pump"`
	Thermostat *Thermostat          `mapstructure:"thermostat" doc:"cooler thermostat; without one the coolers always get the full flow"`

	Caution Quantity[Temperature] `mapstructure:"caution" doc:"start of the caution band" range:"0 degC..220 degC"`
	Maximum Quantity[Temperature] `mapstructure:"maximum" doc:"highest allowed temperature at the sensor" range:"40 degC..220 degC" required:"true"`
	Sensor  string                `mapstructure:"sensor" doc:"where the gauge measures: in the sump, or where the oil returns to the engine after the coolers" words:"sump|return" default:"sump"`
}

// ConstantFluid is a liquid whose properties do not change with temperature.
type ConstantFluid struct {
	Density      Quantity[Density]      `mapstructure:"density" doc:"density" range:"500 kg/m^3..2000 kg/m^3" required:"true"`
	HeatCapacity Quantity[SpecificHeat] `mapstructure:"heat_capacity" doc:"specific heat capacity" range:"500 J/kg/K..6000 J/kg/K" required:"true"`
	Conductivity Quantity[Conductivity] `mapstructure:"conductivity" doc:"thermal conductivity" range:"0.02 W/m/K..2 W/m/K" default:"0.4 W/m/K" source:"half-and-half glycol at 80 °C, Melinder 2010; only core geometry uses it"`
	Viscosity    Quantity[Viscosity]    `mapstructure:"viscosity" doc:"dynamic viscosity" range:"0.05 mPa*s..10000 mPa*s" default:"1 mPa*s" source:"half-and-half glycol at 80 °C, Melinder 2010; only core geometry uses it"`
}

// Thermostat sends liquid past the cores until it is warm.
type Thermostat struct {
	Opens   Quantity[Temperature] `mapstructure:"opens" doc:"starts to open" range:"0 degC..150 degC" required:"true"`
	Full    Quantity[Temperature] `mapstructure:"full" doc:"fully open" range:"0 degC..170 degC" required:"true"`
	Closing Quantity[Difference]  `mapstructure:"closing_lag" doc:"the closing curve lies this much lower" range:"0 K..20 K" default:"4 K ± 2 K" source:"workshop manuals: 1 to 7 K"`
	Leak    Quantity[Ratio]       `mapstructure:"leak" doc:"share that passes when closed" range:"0..0.5" default:"0.02 ± 0.01" source:"from memory, medium: 1 to 3 %"`
	Lag     Quantity[Time]        `mapstructure:"lag" doc:"time constant of the wax" range:"1 s..120 s" default:"15 s ± 5 s" source:"from memory, medium: 10 to 30 s"`
}
