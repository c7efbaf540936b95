// Package sweep flies one scenario many times with numbers and words changed.
//
//	study (which paths, which values, which cases) → trials by number → flights in parallel → rows
//
// A trial is known from its number alone, so that nothing is kept for rows to
// come, a study may be cut into shards, and a broken one resumed. Trials share
// nothing that changes: a row is the same whatever ran before or beside it.
//
// Rank asks the same of single changes, pairs and numbers moved a tenth; Doubt
// spreads the margins of one scenario by the doubts of its numbers. Draws is the one
// way in which numbers with doubts, and what goes together of them, become points;
// sweep/uncertainty draws so too.
//
// It leaves out searching for the best of anything: sweep/optimum does.
package sweep
