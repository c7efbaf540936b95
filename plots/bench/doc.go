// Package bench serves the local page to play with one scenario: sliders, live
// temperatures, candidate changes, studies, downloads.
//
//	request → guard → edits → settings of cases → cases flown → figures as HTML and JSON
//
// The server keeps no state of its visitors: every request brings all edits, and
// the page holds them. What was flown is kept for a while, so that a state which
// comes again costs nothing. Numbers and faults are written as the commands write
// them, character by character.
//
// It is for one person at one computer: it answers to names of the loopback
// alone, and only to its own page. It leaves out users, passwords and any
// writing of files; starting and stopping it is up to its caller.
package bench
