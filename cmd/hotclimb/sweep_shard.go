package main

import (
	"fmt"
	"strconv"
	"strings"

	"hotclimb/sweep"
)

// What the engines that start many machines tell a process of its part.
const (
	slurmTask = "SLURM_ARRAY_TASK_ID"
	slurmMin  = "SLURM_ARRAY_TASK_MIN"
	slurmMax  = "SLURM_ARRAY_TASK_MAX"
	slurmStep = "SLURM_ARRAY_TASK_STEP"
	slurmN    = "SLURM_ARRAY_TASK_COUNT"
	jobIndex  = "JOB_COMPLETION_INDEX" // of a Kubernetes Indexed Job
)

// wholeArray is the word of --shard for the place of a task in its Slurm array.
const wholeArray = "array"

// part reads --shard: I/N, or what the environment says in its place.
func (f *sweepFlags) part(env func(string) string) (sweep.Shard, error) {
	if f.shard == "" {
		return sweep.Shard{}, nil
	}
	if f.shard == wholeArray {
		return arrayPart(env)
	}
	index, count, ok := strings.Cut(f.shard, "/")
	of, err := strconv.Atoi(count)
	if !ok || err != nil || of < 1 || of > sweep.MostShards {
		return sweep.Shard{}, badInputf("--shard %q: write I/N, as in 0/8, or /N or array, with N from 1 to %d", f.shard, sweep.MostShards)
	}
	from := "--shard " + f.shard
	if index == "" {
		if index, from, err = taskIndex(of, env); err != nil {
			return sweep.Shard{}, err
		}
	}
	i, err := strconv.Atoi(index)
	if err != nil || i < 0 || i >= of {
		return sweep.Shard{}, badInputf("%s: the parts of %d are numbered from 0 to %d", from, of, of-1)
	}
	return sweep.Shard{Index: i, Of: of}, nil
}

// taskIndex is which of some parts the environment says, and the words in which
// it does.
func taskIndex(of int, env func(string) string) (index, from string, err error) {
	task, job := env(slurmTask), env(jobIndex)
	switch {
	case task != "" && job != "":
		return "", "", badInputf("--shard /%d: both %s=%s and %s=%s say which part; write I/N", of, slurmTask, task, jobIndex, job)
	case job != "":
		return job, jobIndex + "=" + job, nil
	case task == "":
		return "", "", badInputf("--shard /%d: neither %s nor %s says which part; write I/N", of, slurmTask, jobIndex)
	}
	// Tasks that have a part would fly it in vain.
	if last, err := strconv.Atoi(env(slurmMax)); err == nil && last >= of {
		return "", "", badInputf("--shard /%d: the array has a task %d, and the parts are numbered from 0 to %d; let it start at 0, or write --shard %s", of, last, of-1, wholeArray)
	}
	return task, slurmTask + "=" + task, nil
}

// arrayPart is the place of a task in its Slurm array, whose tasks may start at
// any number and lie a step apart.
func arrayPart(env func(string) string) (sweep.Shard, error) {
	if env(slurmTask) == "" {
		return sweep.Shard{}, badInputf("--shard %s: this is no task of a Slurm array, for %s is not set; write I/N", wholeArray, slurmTask)
	}
	if job := env(jobIndex); job != "" {
		return sweep.Shard{}, badInputf("--shard %s: %s=%s also says which part; write I/N", wholeArray, jobIndex, job)
	}
	a, err := readArray(env)
	if err != nil {
		return sweep.Shard{}, err
	}
	i := (a.task - a.first) / a.step
	switch {
	case a.n < 1 || a.n > sweep.MostShards || a.first+(a.n-1)*a.step != a.last || i < 0 || i >= a.n || a.first+i*a.step != a.task:
		return sweep.Shard{}, badInputf("--shard %s: the tasks of the array must lie evenly, as in 0-7 or 1-15:2, and these are %s; write I/N", wholeArray, a)
	case a.n == 1:
		return sweep.Shard{}, badInputf("--shard %s: this array is one task, %d; submit the whole array again, which flies only what is missing, or write I/N", wholeArray, a.task)
	}
	return sweep.Shard{Index: i, Of: a.n}, nil
}

// slurmArray is what Slurm tells a task of its array.
type slurmArray struct{ task, first, last, step, n int }

func (a slurmArray) String() string {
	return fmt.Sprintf("%d from %d to %d by %d", a.n, a.first, a.last, a.step)
}

// readArray reads what the environment says of a Slurm array.
func readArray(env func(string) string) (slurmArray, error) {
	a := slurmArray{step: 1}
	for _, v := range []struct {
		key string
		to  *int
	}{{slurmTask, &a.task}, {slurmMin, &a.first}, {slurmMax, &a.last}, {slurmN, &a.n}, {slurmStep, &a.step}} {
		text := env(v.key)
		if v.key == slurmStep && text == "" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || v.key == slurmStep && n == 0 {
			return a, badInputf("--shard %s: %s=%s is no number that Slurm gives; write I/N", wholeArray, v.key, text)
		}
		*v.to = n
	}
	return a, nil
}
