package sim

// Settings control a run; the zero value works.
type Settings struct {
	Sample float64 // interval of the trajectory [s]; 0: no trajectory
	RelTol float64 // relative error allowed per step, absolute ones in proportion [-]; 0: DefaultRelTol
	Method Method  // formula; zero: Stiff

	// Readings are times at which both sensors are read, from 0 on and rising [s].
	Readings []float64
}

// Method names the integration formula of a run.
type Method int

const (
	Stiff    Method = iota // Rosenbrock of Kaps and Rentrop, order 4
	Explicit               // Dormand–Prince, order 5, for cross-checks
	LStable                // Rodas, order 4, for cross-checks
)

// DefaultRelTol keeps the peaks of the built-in flights within 0.01 K of
// tightly integrated ones (see the tests).
const DefaultRelTol = 1.5e-3

// Status says how a run stands to its limits.
type Status string

const (
	WithinLimits Status = "within limits"
	Caution      Status = "caution"
	OverLimit    Status = "over limit"
)

// Peak is the highest value of a temperature that has limits.
type Peak struct {
	Channel  string
	Value    float64 // [°C]
	Time     float64 // [s]
	Altitude float64 // [m]
	Caution  float64 // [°C]
	Limit    float64 // [°C]
	Margin   float64 // limit less value [K]

	Exceeded    bool    // the limit was passed
	TimeToLimit float64 // first time at the limit, when Exceeded [s]
}

// ExchangerState is what an exchanger does at one moment.
type ExchangerState struct {
	Name     string
	Serves   string  // "coolant" or "oil"
	AirFlow  float64 // forward positive [kg/s]
	Heat     float64 // out of its liquid [W]
	Reversed bool    // air goes through it backwards
}

// Event is something that happened at a located time.
type Event struct {
	Time     float64 // [s]
	Altitude float64 // [m]
	Leg      string
	What     string
}

// LegSpan is the time one leg took.
type LegSpan struct {
	Name       string
	Start, End float64 // [s]
	Stalled    bool    // slower than an aircraft of this mass and wing can fly
}

// Result is what a run gives.
type Result struct {
	Status Status
	Peaks  []Peak // of the coolant and the oil at their sensors
	Legs   []LegSpan

	Incomplete string // the first leg that did not reach its end, "" when all did

	Events []Event

	BoilMargin     float64 // least margin of the hot coolant to boiling [K]
	EnergyResidual float64 // |heat in − out − stored| / heat in [-]
	MassResidual   float64 // largest unbalanced share of the cowl air [-]
	WaterUsed      float64 // spray water [kg]

	// At the moment of the least margin:
	Worst      Snapshot
	Exchangers []ExchangerState
	Air        AirState

	Trajectory  *Trajectory  // nil without Settings.Sample
	Readings    [2][]float64 // of the coolant and the oil at Settings.Readings, as far as the flight goes [°C]
	Steps       int
	Evaluations int
	Warnings    []string
}

// Snapshot is the flight at one moment.
type Snapshot struct {
	Time            float64 // [s]
	Altitude        float64 // [m]
	Outside         float64 // [°C]
	TrueAirspeed    float64 // [m/s]
	Ram             float64 // dynamic pressure of the air met; below 0 if from behind [Pa]
	Power           float64 // [W]
	RateOfClimb     float64 // [m/s]
	EngineHeat      float64 // given off by the engine: to metal, oil and cowl air [W]
	IntoCoolant     float64 // of the engine into the coolant [W]
	IntoOil         float64 // of the engine into the oil [W]
	CoolantHeat     float64 // out of the coolant [W]
	OilHeat         float64 // out of the oil [W]
	CoolingDrag     float64 // [N]
	InternalDrag    float64 // [N]
	SpillageDrag    float64 // [N]
	ExternalDrag    float64 // [N]
	DragPower       float64 // cooling drag times speed [W]
	CostPower       float64 // engine power that carries it [W]
	CostSpeed       float64 // level speed it takes [m/s]
	CostRateOfClimb float64 // climb it takes [m/s]
}

// Channel is one quantity over the run.
type Channel struct {
	Name   string // ends in its unit
	Unit   string
	Doc    string
	Values []float64
}

// Trajectory is a run sampled in time.
type Trajectory struct {
	Channels []Channel // the first is time
}

// Find returns the channel of that name, or nil.
func (t *Trajectory) Find(name string) *Channel {
	for i := range t.Channels {
		if t.Channels[i].Name == name {
			return &t.Channels[i]
		}
	}
	return nil
}
