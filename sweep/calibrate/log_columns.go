package calibrate

import (
	"strings"

	"hotclimb/scenarios"
)

// ParseColumn reads HEADER [UNIT]: the last brackets, at the end of the text, hold
// the unit. A header that ends in brackets of its own has them twice, as in
// OAT [F] [degF], or has empty ones behind it when it has no unit.
func ParseColumn(text string) Column {
	text = strings.TrimSpace(text)
	open := strings.LastIndexByte(text, '[')
	if open < 0 || !strings.HasSuffix(text, "]") {
		return Column{Header: text}
	}
	return Column{strings.TrimSpace(text[:open]), strings.TrimSpace(text[open+1 : len(text)-1])}
}

// String writes a column so that ParseColumn finds it again.
func (c Column) String() string {
	if c.Unit == "" && !strings.HasSuffix(c.Header, "]") {
		return c.Header
	}
	return c.Header + " [" + c.Unit + "]"
}

// ColumnsOf are the columns of a flight record in a scenario file; none when it
// says nothing of them.
func ColumnsOf(c scenarios.LogColumns) ColumnMap {
	m := ColumnMap{}
	for q, text := range textsOf(&c) {
		if *text != "" {
			m[q] = ParseColumn(*text)
		}
	}
	return m
}

// Texts are the columns as a scenario file has them.
func (m ColumnMap) Texts() scenarios.LogColumns {
	var c scenarios.LogColumns
	for q, text := range textsOf(&c) {
		if column, ok := m[q]; ok {
			*text = column.String()
		}
	}
	return c
}

// textsOf are the columns in a scenario file by what they hold.
func textsOf(c *scenarios.LogColumns) map[Quantity]*string {
	return map[Quantity]*string{
		Time: &c.Time, Altitude: &c.Altitude, Speed: &c.Speed, Outside: &c.Outside, Power: &c.Power,
		Coolant: &c.Coolant, Oil: &c.Oil, RPM: &c.RPM, Spray: &c.Spray,
	}
}
