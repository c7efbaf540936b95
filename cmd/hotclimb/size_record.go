package main

import (
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strings"

	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
)

// The result of size for programs. Names end in their unit: SI, with °C; those of
// values are the paths that vary, with the unit.
type (
	sizeRecord struct {
		headRecord
		Fits         bool            `json:"fits"`
		Minimise     string          `json:"minimise"`
		Factors      []factorRecord  `json:"factors"`
		Filed        designRecord    `json:"as_filed"`
		Least        designRecord    `json:"least"`
		Build        *buildRecord    `json:"to_build"`
		Limits       []limitRecord   `json:"limits"`
		Prices       []priceOfRecord `json:"prices"`
		AtBounds     []string        `json:"at_bounds"`
		Confirmation *confirmRecord  `json:"confirmation"`
		Cures        []cureRecord    `json:"cures"`
		Trade        []tradeRecord   `json:"trade,omitempty"`
		Chances      []chanceRecord  `json:"chances,omitempty"`
		Search       searchRecord    `json:"search"`
	}
	factorRecord struct {
		Path   string `json:"path"`
		Column string `json:"column"`
		Low    number `json:"low"`
		High   number `json:"high"`
	}
	designRecord struct {
		Values map[string]number  `json:"values"`
		Area   number             `json:"opening_area_m2"`
		Drag   number             `json:"mean_cooling_drag_W"`
		Cases  []designCaseRecord `json:"cases"`
	}
	designCaseRecord struct {
		Name          string   `json:"name"`
		CoolantMargin number   `json:"coolant_margin_K"`
		OilMargin     number   `json:"oil_margin_K"`
		BoilMargin    number   `json:"boil_margin_K"`
		DragPower     number   `json:"cooling_drag_W"`
		Reversed      []string `json:"reversed"`
	}
	buildRecord struct {
		Fits   bool          `json:"fits"`
		How    string        `json:"how"`
		Shapes []shapeRecord `json:"shapes"`
		designRecord
	}
	shapeRecord struct {
		Path     string `json:"path"`
		Width    number `json:"width_m"`
		Height   number `json:"height_m"`
		Diameter number `json:"diameter_m"`
	}
	limitRecord struct {
		Case   string `json:"case"`
		Limit  string `json:"limit"`
		Core   string `json:"core"`
		Needs  number `json:"needs_K"`
		Spread number `json:"spread_K"`
		Slack  number `json:"slack_K"`
	}
	priceOfRecord struct {
		Case       string            `json:"case"`
		Limit      string            `json:"limit"`
		Multiplier number            `json:"objective_share_per_K"`
		Step       number            `json:"step_K"`
		Fits       bool              `json:"fits"`
		Values     map[string]number `json:"values_change"`
		Area       number            `json:"opening_area_change_m2"`
		Drag       number            `json:"mean_cooling_drag_change_W"`
	}
	confirmRecord struct {
		Method     string            `json:"method"`
		Starts     int               `json:"starts"`
		Values     map[string]number `json:"values"`
		Difference number            `json:"objective_difference"`
		Improved   bool              `json:"improved"`
		Fits       bool              `json:"fits"`
	}
	cureRecord struct {
		Kind  string       `json:"kind"`
		Limit string       `json:"limit"`
		Case  string       `json:"case"`
		All   bool         `json:"all_cases"`
		Found bool         `json:"found"`
		Fits  bool         `json:"fits"`
		Moves []moveRecord `json:"moves"`
		Onto  string       `json:"spray_onto,omitempty"`
		Water number       `json:"water_kg"`
		Rest  []string     `json:"still_broken"`
	}
	moveRecord struct {
		Column string `json:"column"`
		From   number `json:"from"`
		To     number `json:"to"`
	}
	tradeRecord struct {
		Margin number `json:"margin_K"`
		designRecord
	}
	searchRecord struct {
		From       string `json:"from"`
		Iterations int    `json:"iterations"`
		Remainder  number `json:"kkt"`
		Rounds     int    `json:"doubt_rounds"`
		Moved      number `json:"doubt_moved_K"`
		Flights    int    `json:"flights"`
	}
)

// record is the result for programs.
func (z *sized) record() sizeRecord {
	r := sizeRecord{
		headRecord: z.head(), Fits: z.Fits, Minimise: z.Minimise, Filed: z.design(&z.Start), Least: z.design(&z.Best),
		Prices: []priceOfRecord{}, AtBounds: []string{}, Cures: []cureRecord{},
		Search: searchRecord{z.From, z.Iterations, number(z.KKT), z.Rounds, number(z.Moved), z.allFlights()},
	}
	for _, f := range z.Factors {
		r.Factors = append(r.Factors, factorRecord{f.Param.Path, f.Param.Column(), number(f.Lo), number(f.Hi)})
	}
	for i, l := range z.Limits {
		r.Limits = append(r.Limits, z.limitRecord(i, &l))
	}
	for _, h := range z.AtBound {
		r.AtBounds = append(r.AtBounds, z.Factors[h.Factor].Param.Path)
	}
	for i := range z.Prices {
		r.Prices = append(r.Prices, z.priceRecord(&z.Prices[i]))
	}
	if c := z.Confirmation; c != nil {
		r.Confirmation = &confirmRecord{"Nelder-Mead", c.Starts, z.values(c.X), number(c.Difference), c.Improved, c.Fits}
	}
	if b := z.Sized.Build; b != nil {
		r.Build = &buildRecord{Fits: b.Fits, How: b.How, Shapes: []shapeRecord{}, designRecord: z.design(&b.Design)}
		for i, piece := range b.Pieces {
			if s := piece.Shape; s.Diameter > 0 {
				r.Build.Shapes = append(r.Build.Shapes, shapeRecord{z.Factors[i].Param.Path, number(s.Width), number(s.Height), number(s.Diameter)})
			}
		}
	}
	for i := range z.Cures {
		r.Cures = append(r.Cures, z.cureRecord(&z.Cures[i]))
	}
	r.Chances = z.chanceRecords()
	for i := range z.trade {
		r.Trade = append(r.Trade, tradeRecord{number(z.trade[i].Margin), z.design(&z.trade[i].Design)})
	}
	return r
}

// limitRecord is limit i. That air goes forwards is no matter of kelvins.
func (z *sized) limitRecord(i int, l *optimum.Limit) limitRecord {
	r := limitRecord{z.Cases[l.Case].Name, l.Kind, l.Core, number(l.Needs), number(l.Spread), number(z.Slack(&z.Best, i))}
	if l.Kind == optimum.AirLimit {
		none := number(math.NaN())
		r.Needs, r.Spread, r.Slack = none, none, none
	}
	return r
}

// values are those of the factors by their columns.
func (z *sized) values(x []float64) map[string]number {
	list := map[string]number{}
	for i, v := range x {
		list[z.Factors[i].Param.Column()] = number(v)
	}
	return list
}

func (z *sized) design(d *optimum.Design) designRecord {
	r := designRecord{Values: z.values(d.X), Area: number(d.Area), Drag: number(d.Drag)}
	for k := range d.Flights {
		f := &d.Flights[k]
		r.Cases = append(r.Cases, designCaseRecord{
			z.Cases[k].Name, number(f.Circuits[sweep.Coolant].Margin), number(f.Circuits[sweep.Oil].Margin),
			number(f.BoilMargin), number(f.DragPower), append([]string{}, f.Reversed()...),
		})
	}
	return r
}

func (z *sized) priceRecord(c *optimum.Price) priceOfRecord {
	l := &z.Limits[c.Limit]
	r := priceOfRecord{
		Case: z.Cases[l.Case].Name, Limit: l.Kind, Multiplier: number(c.Multiplier), Step: number(c.Step), Fits: c.Fits,
		Area: number(c.Design.Area - z.Best.Area), Drag: number(c.Design.Drag - z.Best.Drag),
	}
	change := slices.Clone(c.Design.X)
	for i := range change {
		change[i] -= z.Best.X[i]
	}
	r.Values = z.values(change)
	return r
}

func (z *sized) cureRecord(c *optimum.Cure) cureRecord {
	r := cureRecord{c.Kind, z.limitName(c.Limit), z.Cases[c.Case].Name, c.All, c.Found, c.Fits, nil, c.Onto, number(c.Water), []string{}}
	for _, m := range c.Moves {
		r.Moves = append(r.Moves, moveRecord{m.Param.Column(), number(m.From), number(m.To)})
	}
	for _, i := range c.Rest {
		r.Rest = append(r.Rest, z.limitName(i))
	}
	return r
}

// writeJSON writes the result as one JSON object.
func (z *sized) writeJSON(w io.Writer) error { return writeIndented(w, z.record()) }

// writeCSV writes the designs as a table, one row per design and case.
func (z *sized) writeCSV(w io.Writer) error {
	r := z.record()
	header := []string{"design", "case"}
	for _, f := range r.Factors {
		header = append(header, f.Column)
	}
	header = append(header, "opening_area_m2", "mean_cooling_drag_W", "coolant_margin_K", "oil_margin_K", "boil_margin_K", "cooling_drag_W", "reversed")
	rows := slices.Concat([][]string{header}, z.rows("as_filed", &r.Filed), z.rows("least", &r.Least))
	if r.Build != nil {
		rows = append(rows, z.rows("to_build", &r.Build.designRecord)...)
	}
	for i := range r.Trade {
		rows = append(rows, z.rows("trade", &r.Trade[i].designRecord)...)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// rows are those of one design. As filed, a case may have numbers of its own.
func (z *sized) rows(name string, d *designRecord) [][]string {
	var rows [][]string
	for i, k := range d.Cases {
		row := []string{name, k.Name}
		for _, f := range z.Factors {
			v := d.Values[f.Param.Column()]
			if n, ok := f.Param.Get(z.Cases[i].Scenario); ok && name == "as_filed" {
				v = number(n.Value)
			}
			row = append(row, v.String())
		}
		rows = append(rows, append(row, d.Area.String(), d.Drag.String(), k.CoolantMargin.String(), k.OilMargin.String(),
			k.BoilMargin.String(), k.DragPower.String(), strings.Join(k.Reversed, " ")))
	}
	return rows
}
