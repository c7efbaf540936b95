package main

import (
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// patience is how long work may take before progress is shown.
const patience = time.Second

// progress is a bar on standard error, or nothing.
type progress struct {
	box   *mpb.Progress
	bar   *mpb.Bar
	timer *time.Timer
}

// progress shows how much of some work is done, at what rate, and the time that
// is left, on a terminal, when the work takes longer than a second.
func (p *program) progress(what string, total int, never bool) *progress {
	if never || !p.err.terminal {
		return &progress{}
	}
	late := make(chan any)
	box := mpb.New(mpb.WithOutput(p.err.Writer), mpb.WithRenderDelay(late), mpb.WithWidth(p.err.width/2))
	bar := box.AddBar(0, // so that it does not complete by itself, but is taken away
		mpb.PrependDecorators(decor.Name(what+" "), decor.CountersNoUnit("%d of %d ")),
		mpb.AppendDecorators(decor.AverageSpeed(0, "%.0f/s, "), decor.AverageETA(decor.ET_STYLE_GO), decor.Name(" left")))
	bar.SetTotal(int64(total), false)
	return &progress{box, bar, time.AfterFunc(patience, func() { close(late) })}
}

// step says that one more part is done.
func (g *progress) step() {
	if g.bar != nil {
		g.bar.Increment()
	}
}

// end takes the bar away, whether the work is done or not.
func (g *progress) end() {
	if g.bar == nil {
		return
	}
	g.timer.Stop()
	g.bar.Abort(true)
	g.box.Wait()
}
