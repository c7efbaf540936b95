package main

import (
	"os"
	"runtime/debug"

	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

// swept is a sweep: what is flown and where its rows are.
type swept struct {
	origin   // what is swept stands in the section sweep
	study    *sweep.Study
	plan     sweep.Plan
	manifest sweep.Manifest
	folder   string // of the rows; "" when they are not kept
	there    int    // rows that were there before
}

// prepare loads a scenario and makes the study that it or the flags describe.
func (f *sweepFlags) prepare(file string) (*swept, error) {
	sc, cases, err := f.load(file)
	if err != nil {
		return nil, err
	}
	vary, err := f.section(file, sc)
	if err != nil {
		return nil, err
	}
	cases = only(cases, sc.Sweep.Cases)
	if _, err := build(cases); err != nil {
		return nil, err
	}
	s := &swept{origin: originOf(sc, cases), study: &sweep.Study{Cases: cases, Workers: f.workers}}
	if s.plan.Shard, err = f.part(os.Getenv); err != nil {
		return nil, err
	}
	if err := s.design(vary); err != nil {
		return nil, err
	}
	if f.doubt {
		if err := s.drawDoubt(f); err != nil {
			return nil, err
		}
	}
	s.describe()
	return s, nil
}

// section makes the section sweep of a scenario what the flags say, and returns
// its paths in order: that of the flags, or else sorted.
func (f *sweepFlags) section(file string, sc *scenarios.Scenario) ([]scenarios.Setting, error) {
	given, err := f.ranges()
	if err != nil {
		return nil, err
	}
	if sc.Sweep == nil && len(given) == 0 {
		return nil, badInputf("%s has no section sweep: write one, or say what varies, as in --vary \"day.temperature=85 degF..105 degF:5\"", file)
	}
	if sc.Sweep == nil {
		sc.Sweep = &scenarios.Sweep{}
		sc.Refill()
	}
	own := sc.Sweep
	if len(given) > 0 {
		own.Vary = map[string]string{}
		for _, v := range given {
			own.Vary[v.Path] = v.Text
		}
	} else {
		given = scenarios.Settings(own.Vary)
	}
	if len(f.cases) > 0 {
		own.Cases = f.cases
	}
	if f.designGiven {
		own.Design = f.design.word
	}
	return given, f.draw(own)
}

// draw sets how points are drawn.
func (f *sweepFlags) draw(own *scenarios.Sweep) error {
	if f.pointsGiven {
		if own.Design == sweep.GridDesign {
			return badInputf("--points %d: a grid has no points to draw; add --design %s or %s", f.points, sweep.LatinDesign, sweep.SobolDesign)
		}
		if f.points < 1 {
			return badInputf("--points %d: must be 1 or more", f.points)
		}
		setWhole(&own.Points, float64(f.points))
	}
	if f.seedGiven {
		setWhole(&own.Seed, float64(f.seed))
	}
	return nil
}

// setWhole sets a whole number of a scenario.
func setWhole(q *scenarios.Quantity[scenarios.Ratio], value float64) {
	q.Number = scenarios.Number{Value: value, Written: true, Known: true}
}

// ranges reads --vary.
func (f *sweepFlags) ranges() ([]scenarios.Setting, error) {
	list := make([]scenarios.Setting, len(f.vary))
	for i, text := range f.vary {
		s, err := scenarios.ParseSetting(text)
		if err != nil {
			return nil, badInputf("--vary %q: write PATH=RANGE, as in day.temperature=85 degF..105 degF:5", text)
		}
		list[i] = s
	}
	return list, nil
}

// design makes the designs of the study.
func (s *swept) design(vary []scenarios.Setting) error {
	own := s.scenario.Sweep
	for _, v := range vary {
		f, err := sweep.FactorOf(s.study.Cases, v)
		if err != nil {
			return badInput{err}
		}
		s.study.Factors = append(s.study.Factors, f)
	}
	if err := sweep.CheckFactors(s.study.Cases, s.study.Factors); err != nil {
		return badInput{err}
	}
	d, err := sweep.NewDesigns(own.Design, s.study.Factors, int(own.Points.Value), uint64(own.Seed.Value))
	if err != nil {
		return badInput{err}
	}
	s.study.Designs = d
	return nil
}

// drawDoubt makes every row draw its doubtful numbers. Some case must have one.
func (s *swept) drawDoubt(f *sweepFlags) error {
	for _, k := range s.study.Cases {
		if _, err := doubtful(k.Name, k.Scenario); err != nil {
			return err
		}
	}
	uncertainty.DrawRows(s.study, f.drawing(uint64(s.scenario.Sweep.Seed.Value)))
	return nil
}

// describe fills in the manifest.
func (s *swept) describe() {
	own := s.scenario.Sweep
	m := s.study.Manifest()
	h := s.head()
	m.Tool, m.Build, m.Scenario = h.Tool, buildOf(debug.ReadBuildInfo()), h.Scenario
	m.Design = own.Design
	if m.Design != sweep.GridDesign {
		m.Points, m.Seed = int(own.Points.Value), uint64(own.Seed.Value)
	}
	if s.plan.Shard.Of > 0 {
		m.Shard = &s.plan.Shard
	}
	s.manifest = m
}

// eachRow hands over the rows in the folder, in order.
func (s *swept) eachRow(take taker) error {
	return asBadInput(sweep.EachRow(s.folder, &s.manifest, func(_ int, cells []string) error { return take(cells) }))
}

// writeFiles writes what belongs to the rows into their folder.
func (s *swept) writeFiles(f *sweepFlags) error {
	if err := writeAll(s.folder, append(logsOf(s.scenario), asRun(s.scenario))); err != nil {
		return err
	}
	if f.parquet {
		if err := sweep.WriteParquet(s.folder, &s.manifest); err != nil {
			return asBadInput(err)
		}
	}
	return s.writeCharts()
}
