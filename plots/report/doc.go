// Package report writes one HTML file that tells a builder what a scenario's
// studies found: the answer, drawings with their numbers, tables, the inputs as
// written and the cautions.
//
//	results → Report{Answer, Sections of Blocks, Cautions} → WriteHTML → one file
//
// The file opens from disk and asks for nothing: no script, no network, the
// style and the drawings are in it. It reads on a telephone and on a wide
// screen, in light and dark, prints on Letter and A4, and its headings,
// landmarks and tables serve people who hear it. The same report gives the same
// bytes. WriteBlocks writes a part of such a page for a page of its own.
//
// What it leaves out: computing results, choosing what to say, and times and
// places of its making.
package report
