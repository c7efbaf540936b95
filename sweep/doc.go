// Package sweep flies one scenario many times with numbers and words changed.
//
//	study (which paths, which values, which cases) → trials by number → flights in parallel → rows
//
// A trial is known from its number alone, so that nothing is kept for rows to
// come, a study may be cut into shards, and a broken one resumed. Trials share
// nothing that changes: a row is the same whatever ran before or beside it.
//
// It leaves out what is asked of the rows: sweep/optimum searches them.
package sweep
