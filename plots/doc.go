// Package plots draws what runs and studies give as charts for people: SVG that
// prints and is read aloud, PNG and PDF. The chain is
//
//	sim.Result → checked numbers in the reader's units → panels → Figure → SVG, PNG
//
// and for studies of many runs
//
//	margins over paths → checked numbers in the reader's units → sheet → Figure
//
// History draws one run over time; Sensitivity, Contour, Tornado and Front draw
// margins over one path each, over two, by changes, and against drag. Cowl draws
// where the air and the heat of one moment go. LimitsCard sets the limits of a
// climb on one page. History and Sensitivity take bands of doubt.
//
// What flights show and teach: Parity and Residuals set readings against the
// model, Differences configurations against a baseline, Posterior numbers
// before and after a fit; Shares draws where the doubt of margins comes from,
// and DoubtLeft what further flights would leave of it.
//
// Charts are for the screen and for paper in black and white: every line has
// its own dashes besides its colour, text is at least 9 pt at the printed
// width of 7.5 in, and no legend covers data. Numbers that are not finite are
// refused before anything is drawn. The same result gives the same SVG bytes.
//
// Figure.Data gives what each chart shows as tables in words and numbers, long
// lists thinned so that they are read: the ends, the peaks and the marked designs
// stay.
//
// What it leaves out: zooming and any computing of results.
package plots
