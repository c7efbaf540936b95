package plots

// Table is numbers with their names, as a page shows them beside a chart.
type Table struct {
	Caption string     // what it holds, in a few words
	Words   int        // so many columns from the left hold words; the others numbers
	Header  []string   // of each column, with its unit: "margin °F"
	Rows    [][]string // as people read them
}
