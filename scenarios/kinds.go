package scenarios

// The kinds of quantity. Each is a zero-size type that only names its
// dimension; Number.Value of a Quantity of that kind is in the unit given here.
type (
	Ratio        struct{} // a bare number or a percentage, stored as the bare number
	Length       struct{} // m
	Area         struct{} // m^2
	Volume       struct{} // m^3
	Mass         struct{} // kg
	Speed        struct{} // m/s
	ClimbRate    struct{} // m/s
	Pressure     struct{} // Pa
	Temperature  struct{} // reading of a thermometer, °C
	Difference   struct{} // temperature difference, K
	Power        struct{} // W
	HeatCapacity struct{} // J/K
	Conductance  struct{} // W/K
	MassFlow     struct{} // kg/s
	VolumeFlow   struct{} // m^3/s
	Time         struct{} // s
	Angle        struct{} // rad
	Rotation     struct{} // rad/s; one rpm is 2π/60 rad/s
	FuelRate     struct{} // fuel per work, kg/J
	Energy       struct{} // energy per mass, J/kg
	Density      struct{} // kg/m^3
	SpecificHeat struct{} // J/(kg K)
	Conductivity struct{} // W/(m K)
	Viscosity    struct{} // dynamic, Pa s
)

func (Ratio) dimension() *Dimension        { return ratio }
func (Length) dimension() *Dimension       { return length }
func (Area) dimension() *Dimension         { return area }
func (Volume) dimension() *Dimension       { return volume }
func (Mass) dimension() *Dimension         { return mass }
func (Speed) dimension() *Dimension        { return speed }
func (ClimbRate) dimension() *Dimension    { return climbRate }
func (Pressure) dimension() *Dimension     { return pressure }
func (Temperature) dimension() *Dimension  { return temperature }
func (Difference) dimension() *Dimension   { return difference }
func (Power) dimension() *Dimension        { return power }
func (HeatCapacity) dimension() *Dimension { return heatCapacity }
func (Conductance) dimension() *Dimension  { return conductance }
func (MassFlow) dimension() *Dimension     { return massFlow }
func (VolumeFlow) dimension() *Dimension   { return volumeFlow }
func (Time) dimension() *Dimension         { return duration }
func (Angle) dimension() *Dimension        { return angle }
func (Rotation) dimension() *Dimension     { return rotation }
func (FuelRate) dimension() *Dimension     { return fuelRate }
func (Energy) dimension() *Dimension       { return massEnergy }
func (Density) dimension() *Dimension      { return density }
func (SpecificHeat) dimension() *Dimension { return specificHeat }
func (Conductivity) dimension() *Dimension { return conductivity }
func (Viscosity) dimension() *Dimension    { return viscosity }

// DimensionOf returns the dimension of a kind, as in DimensionOf[Area](). It
// is shared: do not change it.
func DimensionOf[K Kind]() *Dimension {
	var k K
	return k.dimension()
}

var (
	ratio = &Dimension{Name: "ratio", Accepts: []string{"a bare number", "%"}, powers: ofRatio}

	length     = &Dimension{"length", "m", "ft", "m", []string{"in", "ft", "mm", "cm", "m"}, ofLength, false}
	area       = &Dimension{"area", "m^2", "in^2", "cm^2", []string{"in^2", "ft^2", "cm^2", "m^2"}, ofArea, false}
	volume     = &Dimension{"volume", "m^3", "qt", "L", []string{"qt", "gal", "L", "cm^3"}, ofVolume, false}
	mass       = &Dimension{"mass", "kg", "lb", "kg", []string{"lb", "oz", "kg", "g"}, ofMass, false}
	duration   = &Dimension{"time", "s", "min", "min", []string{"s", "min", "h"}, ofTime, false}
	angle      = &Dimension{"angle", "rad", "deg", "deg", []string{"deg", "rad"}, ofAngle, false}
	rotation   = &Dimension{"rotation", "rad/s", "rpm", "rpm", []string{"rpm", "rad/s"}, ofRotation, false}
	speed      = &Dimension{"speed", "m/s", "mph", "km/h", []string{"mph", "kt", "km/h", "m/s"}, ofSpeed, false}
	climbRate  = &Dimension{"rate of climb", "m/s", "ft/min", "m/s", []string{"ft/min", "m/s"}, ofSpeed, false}
	massFlow   = &Dimension{"mass flow", "kg/s", "lb/min", "kg/s", []string{"lb/s", "lb/min", "kg/s"}, ofMassFlow, false}
	volumeFlow = &Dimension{"volume flow", "m^3/s", "gal/min", "L/min", []string{"gal/min", "ft^3/min", "L/min", "m^3/s"}, ofVolumeFlow, false}
	pressure   = &Dimension{"pressure", "Pa", "inH2O", "kPa", []string{"psi", "inH2O", "inHg", "Pa", "kPa", "bar"}, ofPressure, false}
	power      = &Dimension{"power", "W", "hp", "kW", []string{"hp", "kW", "W", "BTU/h"}, ofPower, false}
	density    = &Dimension{"density", "kg/m^3", "lb/ft^3", "kg/m^3", []string{"lb/ft^3", "kg/m^3", "kg/L"}, ofDensity, false}
	viscosity  = &Dimension{"viscosity", "Pa*s", "cP", "mPa*s", []string{"cP", "mPa*s", "Pa*s"}, ofViscosity, false}

	temperature = &Dimension{"temperature", "degC", "degF", "degC", []string{"degF", "degC", "K"}, ofTemperature, true}
	difference  = &Dimension{"temperature difference", "K", "ddegF", "K", []string{"ddegF", "ddegC", "K"}, ofTemperature, false}

	heatCapacity = &Dimension{"heat capacity", "J/K", "BTU/ddegF", "kJ/K", []string{"BTU/ddegF", "kJ/K", "J/K"}, ofHeatCapacity, false}
	conductance  = &Dimension{"conductance", "W/K", "BTU/h/ddegF", "W/K", []string{"BTU/h/ddegF", "W/K", "kW/K"}, ofConductance, false}
	fuelRate     = &Dimension{"fuel consumption", "kg/J", "lb/hp/h", "g/kWh", []string{"lb/hp/h", "g/kWh", "g/kW/h"}, ofFuelRate, false}
	massEnergy   = &Dimension{"energy per mass", "J/kg", "BTU/lb", "MJ/kg", []string{"BTU/lb", "MJ/kg", "kJ/kg"}, ofMassEnergy, false}
	specificHeat = &Dimension{"specific heat capacity", "J/kg/K", "BTU/lb/ddegF", "kJ/kg/K", []string{"BTU/lb/ddegF", "kJ/kg/K", "J/kg/K"}, ofSpecificHeat, false}
	conductivity = &Dimension{"thermal conductivity", "W/m/K", "BTU/h/ft/ddegF", "W/m/K", []string{"BTU/h/ft/ddegF", "W/m/K"}, ofConductivity, false}
)

// dimensions are the dimensions of all kinds; where two share their exponents,
// the first one names what a unit measures.
var dimensions = []*Dimension{
	ratio, length, area, volume, mass, duration, angle, rotation, speed, climbRate,
	massFlow, volumeFlow, pressure, power, density, viscosity, temperature, difference,
	heatCapacity, conductance, fuelRate, massEnergy, specificHeat, conductivity,
}
