package report_test

import (
	"fmt"
	"os"
	"strings"

	"hotclimb/plots"
	"hotclimb/plots/report"
	"hotclimb/sim"
)

func ExampleReport_WriteHTML() {
	r := report.Report{
		Title: "Glider tug", Status: sim.Caution, Answer: []string{"The tow leaves 1.9 °F to the coolant limit."},
		Sections: []report.Section{{Title: "Openings", Blocks: []report.Block{report.Text("As filed.")}}},
		Cautions: []string{"Prove every change by flight test."},
		Tool:     "hotclimb", Version: "1.0",
	}
	var page strings.Builder
	if err := r.WriteHTML(&page); err != nil {
		fmt.Println(err)
		return
	}
	_, body, _ := strings.Cut(page.String(), "<header>\n")
	head, _, _ := strings.Cut(body, "</section>")
	fmt.Print(head)
	// Output:
	// <p class="kind">Cooling report</p>
	// <h1>Glider tug</h1>
	// <p class="status caution">caution</p>
	// </header>
	// <main>
	// <section id="answer" class="answer" aria-label="Answer" tabindex="-1">
	// <p>The tow leaves 1.9 °F to the coolant limit.</p>
	// <p class="mind">These are estimates: prove them by flight test. <a href="#cautions">Read the cautions</a> before you cut or fly.</p>
}

func ExampleWriteBlocks() {
	err := report.WriteBlocks(os.Stdout,
		report.Heading("Openings"),
		report.List("Aft ring: 80 to 90.8 in²", "Left inlet: 70 to 61.2 in²"),
		report.Numbers(plots.Table{Caption: "Sizes", Words: 1, Header: []string{"opening", "in²"}, Rows: [][]string{{"aft_ring", "90.76"}}}),
	)
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// <h3>Openings</h3>
	// <ul>
	// <li>Aft ring: 80 to 90.8 in²</li>
	// <li>Left inlet: 70 to 61.2 in²</li>
	// </ul>
	// <div class="wide" tabindex="0" role="group" aria-label="Table: Sizes">
	// <table>
	// <caption>Sizes</caption>
	// <thead>
	// <tr><th scope="col">opening</th><th scope="col" class="number">in²</th></tr>
	// </thead>
	// <tbody>
	// <tr><th scope="row">aft_ring</th><td class="number">90.76</td></tr>
	// </tbody>
	// </table>
	// </div>
}
