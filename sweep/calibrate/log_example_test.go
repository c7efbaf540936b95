package calibrate_test

import (
	"fmt"
	"strings"

	"hotclimb/sweep/calibrate"
)

// A record of a climb has a spike and an empty cell. The first of the highest
// temperatures is corrected to the hot days of both regulations.
func ExampleReadLog() {
	file := `# climb, belly exit as built
Time;Pressure altitude;OAT;Coolant
min:s;ft;°F;°F
0:00;5300;71,0;201,6
0:10;5400;70,5;202,4
0:20;5500;70,0;203,0
0:30;5600;69,6;288,0
0:40;5700;69,2;203,0
0:50;5800;68,8;
`
	l, err := calibrate.ReadLog(strings.NewReader(file), "climb.csv", calibrate.ColumnMap{
		calibrate.Time:     {Header: "Time"},
		calibrate.Altitude: {Header: "Pressure altitude", Unit: "ft"},
		calibrate.Outside:  {Header: "OAT", Unit: "°F"},
		calibrate.Coolant:  {Header: "Coolant", Unit: "°F"},
	}, calibrate.LogSettings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%+v\n", l.Count)
	for _, f := range l.Faults {
		fmt.Println(f.Error())
	}
	last, _ := l.Value(calibrate.Coolant, 4)
	fmt.Printf("%.1f °F at %.0f s\n", 1.8*last+32, l.Time(4))
	// Output:
	// {Lines:9 Leading:3 Blank:0 Rows:6 Used:6 Skipped:0}
	// climb.csv: line 7: Coolant: goes from 203 °F to 288 °F in 10 s, but not for long
	// climb.csv: line 9: Coolant: no reading
	// 203.0 °F at 40 s
}
