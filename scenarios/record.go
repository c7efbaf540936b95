package scenarios

import (
	"io"
	"os"
	"path/filepath"
	"slices"
)

// TestNames are the names of the flight records in the order of the file.
func (sc *Scenario) TestNames() []string {
	names := make([]string, len(sc.Tests))
	for i, t := range sc.Tests {
		names[i] = t.Name
	}
	return names
}

// AsFlown returns the aircraft as it was on a flight record: the scenario
// without its cases and studies, with some settings and, on top of them, what
// was different on that flight. Settings whose paths only a case has are passed
// over. The day and the flight are those of the file, not of the record. The
// error is a Faults.
func (sc *Scenario) AsFlown(t *Test, settings []Setting) (*Scenario, error) {
	c := sc.bare()
	own := slices.DeleteFunc(slices.Clone(settings), func(s Setting) bool {
		_, err := c.Compile(s.Path)
		return err != nil
	})
	own = append(own, Settings(t.Set)...)
	if err := c.apply(own).err(); err != nil {
		return nil, err
	}
	c.Refill()
	if err := c.checkSet(own).err(); err != nil {
		return nil, err
	}
	return c, nil
}

// LogFile is where the log of a flight record lies: beside the file that names
// it. That of a built-in scenario lies in no folder; OpenLog knows.
func (sc *Scenario) LogFile(t *Test) string {
	if filepath.IsAbs(t.Log) {
		return t.Log
	}
	return filepath.Join(filepath.Dir(sc.logAt(t).file), t.Log)
}

// OpenLog opens the log of a flight record. That of a test which was added to the
// files lies where the program runs.
func (sc *Scenario) OpenLog(t *Test) (io.ReadCloser, error) {
	if at := sc.logAt(t); sc.embedded && at.file != "" && at.rank == 0 {
		return builtin.Open(t.Log)
	}
	return os.Open(sc.LogFile(t))
}

// logAt is where the log of a flight record is named.
func (sc *Scenario) logAt(t *Test) position { return sc.where[join(join("tests", t.Name), "log")] }

// LogFault is a fault of a flight record, where its log is named.
func (sc *Scenario) LogFault(t *Test, message, hint string) Fault {
	return sc.where.fault(join(join("tests", t.Name), "log"), message, hint)
}
