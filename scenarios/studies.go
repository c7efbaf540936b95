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
