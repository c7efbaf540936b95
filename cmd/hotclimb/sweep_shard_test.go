package main

import (
	"errors"
	"fmt"
	"runtime/debug"
	"strings"
	"testing"

	"hotclimb/sweep"
)

func TestPart(t *testing.T) {
	const (
		slurm = "SLURM_ARRAY_TASK_"
		job   = "JOB_COMPLETION_INDEX="
	)
	tests := []struct {
		flag string
		env  string // KEY=VALUE ...
		want sweep.Shard
		says string // of the refusal
	}{
		{"", slurm + "ID=3", sweep.Shard{}, ""},
		{"0/1", "", sweep.Shard{Index: 0, Of: 1}, ""},
		{"7/8", slurm + "ID=1 " + job + "1", sweep.Shard{Index: 7, Of: 8}, ""},
		{"/8", slurm + "ID=7", sweep.Shard{Index: 7, Of: 8}, ""},
		{"/8", slurm + "ID=7 " + slurm + "MAX=7", sweep.Shard{Index: 7, Of: 8}, ""},
		{"/8", job + "0", sweep.Shard{Index: 0, Of: 8}, ""},
		{"/8", slurm + "ID=8", sweep.Shard{}, "numbered from 0 to 7"},
		{"/8", slurm + "ID=1 " + slurm + "MAX=8", sweep.Shard{}, "the array has a task 8"},
		{"/8", slurm + "ID=1 " + job + "1", sweep.Shard{}, "both"},
		{"/8", "", sweep.Shard{}, "neither"},
		{"8/8", "", sweep.Shard{}, "numbered from 0 to 7"},
		{"-1/8", "", sweep.Shard{}, "numbered from 0 to 7"},
		{"1/0", "", sweep.Shard{}, "write I/N"},
		{"1/x", "", sweep.Shard{}, "write I/N"},
		{"1", "", sweep.Shard{}, "write I/N"},
		{"array/2", "", sweep.Shard{}, "numbered from 0 to 1"},
		{"0/100001", "", sweep.Shard{}, "write I/N"},
		{"array", slurm + "ID=x " + slurm + "MIN=0 " + slurm + "MAX=1 " + slurm + "COUNT=2", sweep.Shard{}, "ID=x is no number"},
		{"array", slurm + "ID=1 " + slurm + "MAX=1 " + slurm + "COUNT=2", sweep.Shard{}, "MIN= is no number"},
		{"array", slurm + "ID=-1 " + slurm + "MIN=0 " + slurm + "MAX=1 " + slurm + "COUNT=2", sweep.Shard{}, "ID=-1 is no number"},
	}
	for _, test := range tests {
		checkPart(t, test.flag, test.env, test.want, test.says)
	}
}

// Tasks that lie evenly have the parts from 0 on, and no others.
func TestPartOfAnArray(t *testing.T) {
	for _, first := range []int{0, 1, 5} {
		for _, step := range []int{1, 3} {
			for n := range 6 {
				last := first + (n-1)*step
				env := fmt.Sprintf("SLURM_ARRAY_TASK_MIN=%d SLURM_ARRAY_TASK_MAX=%d SLURM_ARRAY_TASK_STEP=%d SLURM_ARRAY_TASK_COUNT=%d", first, max(last, 0), step, n)
				for task := range last + 3 {
					i, says := (task-first)/step, ""
					want := sweep.Shard{Index: i, Of: n}
					switch {
					case task < first || task > last || (task-first)%step != 0:
						want, says = sweep.Shard{}, "must lie evenly"
					case n == 1:
						want, says = sweep.Shard{}, "this array is one task"
					}
					checkPart(t, "array", fmt.Sprintf("%s SLURM_ARRAY_TASK_ID=%d", env, task), want, says)
				}
			}
		}
	}
	checkPart(t, "array", "SLURM_ARRAY_TASK_ID=1 SLURM_ARRAY_TASK_MIN=0 SLURM_ARRAY_TASK_MAX=3 SLURM_ARRAY_TASK_COUNT=3", sweep.Shard{}, "must lie evenly")
}

// checkPart reads --shard in an environment.
func checkPart(t *testing.T, flag, env string, want sweep.Shard, says string) {
	t.Helper()
	values := map[string]string{}
	for _, assignment := range strings.Fields(env) {
		key, value, _ := strings.Cut(assignment, "=")
		values[key] = value
	}
	f := sweepFlags{shard: flag}
	got, err := f.part(func(key string) string { return values[key] })
	if got != want || (err != nil) != (says != "") || err != nil && (!errors.As(err, new(badInput)) || !strings.Contains(err.Error(), says)) {
		t.Errorf("--shard %q with %s: %v, %v; want %v, %q", flag, env, got, err, want, says)
	}
}

func TestBuildOf(t *testing.T) {
	info := &debug.BuildInfo{GoVersion: "go1.26", Settings: []debug.BuildSetting{
		{Key: "GOARCH", Value: "arm64"}, {Key: "GOARM64", Value: "v8.0"}, {Key: "GOOS", Value: "linux"},
	}}
	info.Main.Version = "(devel)"
	if got := buildOf(info, true); got != "go1.26 arm64 v8.0" {
		t.Errorf("without a commit it says %q", got)
	}
	info.Main.Version = "v0.1.1-0.20260102030405-0123456789ab"
	if got := buildOf(info, true); got != "go1.26 arm64 v8.0 "+info.Main.Version {
		t.Errorf("with a commit it says %q", got)
	}
	if got := buildOf(nil, false); got != "" {
		t.Errorf("of nothing it says %q", got)
	}
}
