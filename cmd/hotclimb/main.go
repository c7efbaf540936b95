// Command hotclimb flies the cooling of home-built aircraft with liquid-cooled
// engines through hot climbs: it reads a scenario, computes what coolant and
// oil do, and says how far both stay from their limits.
//
//	hotclimb init              writes a scenario to start from
//	hotclimb check FILE        lists every fault in it
//	hotclimb run FILE          flies it
//	hotclimb sweep FILE        flies it over ranges of its numbers
//	hotclimb rank FILE         compares single changes
//	hotclimb size FILE         finds the smallest openings that hold
//	hotclimb limits FILE       says up to which air temperature a climb holds
//	hotclimb correct FILE      corrects test flights to a hot day
//	hotclimb report FILE       writes what all studies find as a page to print
//	hotclimb serve FILE        serves it as a page to play with
//
// Standard output carries only the result; progress, warnings and errors go to
// standard error. The exit status is
//
//	0  done, and within limits (above a caution counts as within)
//	1  something failed, or a flight did not reach its end
//	2  bad input
//	3  a limit is exceeded, or no openings keep the limits
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	os.Exit(app(ctx, os.Args[1:], os.Stdout, os.Stderr))
}
