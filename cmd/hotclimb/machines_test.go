package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

const machines = "../../testdata/machines"

// manifest is what a document of kubernetes.yaml may say. A misspelled field is an
// error.
type manifest struct {
	APIVersion string `yaml:"apiVersion"`
	Kind       string
	Metadata   metadata
	Spec       struct {
		// Of a volume claim.
		AccessModes []string `yaml:"accessModes"`
		Resources   any
		// Of a job.
		CompletionMode       string `yaml:"completionMode"`
		Completions          int
		Parallelism          int
		BackoffLimit         int    `yaml:"backoffLimit"`
		BackoffLimitPerIndex int    `yaml:"backoffLimitPerIndex"`
		PodReplacementPolicy string `yaml:"podReplacementPolicy"`
		PodFailurePolicy     struct {
			Rules []failureRule
		} `yaml:"podFailurePolicy"`
		Template struct {
			Metadata metadata
			Spec     pod
		}
	}
}

type metadata struct {
	Name   string
	Labels map[string]string
}

type failureRule struct {
	Action      string
	OnExitCodes struct {
		ContainerName string `yaml:"containerName"`
		Operator      string
		Values        []int
	} `yaml:"onExitCodes"`
	OnPodConditions []struct{ Type, Status string } `yaml:"onPodConditions"`
}

type pod struct {
	RestartPolicy   string         `yaml:"restartPolicy"`
	Token           *bool          `yaml:"automountServiceAccountToken"`
	SecurityContext map[string]any `yaml:"securityContext"`
	Volumes         []struct {
		Name      string
		ConfigMap struct{ Name string } `yaml:"configMap"`
		Claim     struct {
			ClaimName string `yaml:"claimName"`
		} `yaml:"persistentVolumeClaim"`
	}
	InitContainers []container `yaml:"initContainers"`
	Containers     []container
}

type container struct {
	Name, Image     string
	Env             []struct{ Name, Value string }
	Args            []string
	Resources       struct{ Requests, Limits map[string]string }
	VolumeMounts    []mount        `yaml:"volumeMounts"`
	SecurityContext map[string]any `yaml:"securityContext"`
}

type mount struct {
	Name      string
	MountPath string `yaml:"mountPath"`
	ReadOnly  bool   `yaml:"readOnly"`
}

// readManifests reads kubernetes.yaml: the volume claim, the job that flies the
// shards and the one that joins them.
func readManifests(t *testing.T) (claim, fly, merge manifest) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(machines, "kubernetes.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	d := yaml.NewDecoder(bytes.NewReader(text))
	d.KnownFields(true)
	for _, m := range []*manifest{&claim, &fly, &merge} {
		if err := d.Decode(m); err != nil {
			t.Fatal(err)
		}
	}
	if err := d.Decode(new(manifest)); !errors.Is(err, io.EOF) {
		t.Fatalf("behind the three documents: %v", err)
	}
	return claim, fly, merge
}

// The job flies as many shards as it tells the program, tries again what may go
// well, and not what cannot.
func TestKubernetesJob(t *testing.T) {
	_, fly, merge := readManifests(t)
	spec, c := fly.Spec, fly.Spec.Template.Spec.Containers[0]
	if fly.APIVersion != "batch/v1" || fly.Kind != "Job" || spec.CompletionMode != "Indexed" || spec.BackoffLimitPerIndex < 1 {
		t.Errorf("it is no indexed job that tries again: %+v", fly)
	}
	if n := environment(c)["SHARDS"]; n != strconv.Itoa(spec.Completions) {
		t.Errorf("%d completions, and SHARDS is %s", spec.Completions, n)
	}
	if spec.Parallelism < 1 || spec.Parallelism > spec.Completions {
		t.Errorf("%d pods at a time for %d shards", spec.Parallelism, spec.Completions)
	}
	if spec.PodReplacementPolicy != "Failed" {
		t.Error("a pod may be replaced while it still writes")
	}
	rule := spec.PodFailurePolicy.Rules[0]
	if rule.Action != "FailIndex" || rule.OnExitCodes.ContainerName != c.Name || !reflect.DeepEqual(rule.OnExitCodes.Values, []int{exitBadInput}) {
		t.Errorf("bad input is not given up: %+v", rule)
	}
	rule = merge.Spec.PodFailurePolicy.Rules[0]
	if rule.Action != "FailJob" || !reflect.DeepEqual(rule.OnExitCodes.Values, []int{exitBadInput}) {
		t.Errorf("bad input of the merge is not given up: %+v", rule)
	}
}

// Pods share the volume, run one image as nobody in particular, and write nowhere
// else.
func TestKubernetesPods(t *testing.T) {
	claim, fly, merge := readManifests(t)
	if claim.Kind != "PersistentVolumeClaim" || !reflect.DeepEqual(claim.Spec.AccessModes, []string{"ReadWriteMany"}) {
		t.Errorf("the volume is not shared: %+v", claim)
	}
	first := fly.Spec.Template.Spec
	for _, job := range []manifest{fly, merge} {
		p := job.Spec.Template.Spec
		if p.RestartPolicy != "Never" || p.SecurityContext["runAsNonRoot"] != true || p.Token == nil || *p.Token {
			t.Errorf("%s: %+v", job.Metadata.Name, p)
		}
		if !reflect.DeepEqual(p.Volumes, first.Volumes) || p.Volumes[1].Claim.ClaimName != claim.Metadata.Name {
			t.Errorf("%s has other volumes", job.Metadata.Name)
		}
		if !reflect.DeepEqual(job.Metadata.Labels, job.Spec.Template.Metadata.Labels) {
			t.Errorf("%s and its pods have different labels", job.Metadata.Name)
		}
		for _, c := range append(p.InitContainers, p.Containers...) {
			s := c.SecurityContext
			if c.Image != first.Containers[0].Image || s["readOnlyRootFilesystem"] != true || s["allowPrivilegeEscalation"] != false {
				t.Errorf("%s of %s: %+v", c.Name, job.Metadata.Name, c)
			}
			if !reflect.DeepEqual(c.Resources, first.Containers[0].Resources) || c.Resources.Limits["memory"] == "" {
				t.Errorf("%s of %s: resources %v", c.Name, job.Metadata.Name, c.Resources)
			}
		}
	}
}

// What the pods run, run here one after the other: the shards joined are the bytes
// of the sweep in one.
func TestKubernetesCommands(t *testing.T) {
	_, fly, merge := readManifests(t)
	volumes := map[string]string{"scenario": t.TempDir(), "sweep": t.TempDir()}
	small, err := os.ReadFile(filepath.Join(scripts, "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := append(small, "sweep: {vary: {exits.belly.area: '40 in^2..60 in^2:9'}}\n"...)
	if err := os.WriteFile(filepath.Join(volumes["scenario"], "scenario.yaml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	for i := range fly.Spec.Completions {
		runContainer(t, fly.Spec.Template.Spec.Containers[0], volumes, jobIndex+"="+strconv.Itoa(i))
	}
	p := merge.Spec.Template.Spec
	for _, c := range append(p.InitContainers, p.Containers...) {
		runContainer(t, c, volumes)
	}
	whole := filepath.Join(t.TempDir(), "whole")
	run(t, exec.Command(name, "sweep", filepath.Join(volumes["scenario"], "scenario.yaml"), "--out", whole))
	for _, file := range []string{"sweep.csv", "sweep.json", "scenario.yaml", "sensitivity.svg"} {
		sameBytes(t, filepath.Join(whole, file), filepath.Join(volumes["sweep"], "swept", file))
	}
}

// environment is what a container is told.
func environment(c container) map[string]string {
	env := map[string]string{}
	for _, v := range c.Env {
		env[v.Name] = v.Value
	}
	return env
}

// reference is how arguments refer to the environment.
var reference = regexp.MustCompile(`\$\((\w+)\)`)

// runContainer runs what a container does, with nothing in its environment but
// what the manifest and the job say, and folders in place of its volumes.
func runContainer(t *testing.T, c container, volumes map[string]string, more ...string) {
	t.Helper()
	env := environment(c)
	for _, v := range more {
		key, value, _ := strings.Cut(v, "=")
		env[key] = value
	}
	cmd := exec.Command(name)
	for key, value := range env {
		cmd.Env = append(cmd.Env, key+"="+value)
	}
	for _, arg := range c.Args {
		arg = reference.ReplaceAllStringFunc(arg, func(ref string) string {
			value, ok := env[reference.FindStringSubmatch(ref)[1]]
			if !ok {
				t.Errorf("nothing tells %s what %s is", c.Name, ref)
			}
			return value
		})
		for _, m := range c.VolumeMounts {
			if m.ReadOnly && strings.HasPrefix(arg, "--out="+m.MountPath) {
				t.Errorf("%s cannot write to %s", c.Name, arg)
			}
			arg = strings.Replace(arg, m.MountPath+"/", volumes[m.Name]+"/", 1)
		}
		cmd.Args = append(cmd.Args, arg)
	}
	run(t, cmd)
}

// run runs a command that must succeed.
func run(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v: %v\n%s", cmd.Args, err, out)
	}
}
