package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"blankwright/scheduler"
)

// The demo leaves a valid shop and plan, shows a day, and says that all of it
// is invented.
func TestDemo(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	s := newTrial(scheduler.Plan)
	if code := s.command("demo", "-data", folder, "-effort", "20"); code != exitFine {
		t.Fatalf("exit %d, %s", code, s.err.String())
	}
	stdout := s.out.String()
	shopFile, planFile := filepath.Join(folder, "tern-point.json"), filepath.Join(folder, "tern-point.plan.json")
	if code, stdout, stderr := blankwright("check", shopFile, planFile); code != exitFine {
		t.Errorf("check: exit %d\n%s%s", code, stdout, stderr)
	}
	_, queues, _ := blankwright("queues", shopFile, planFile)
	for what, want := range map[string]string{"the day": queues, "the shop": shopFile, "the plan": planFile, "the gap": "gap", "the word": "invented"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("%s is not in the output", what)
		}
	}
}

// The demo never writes over what is there.
func TestDemo_KeepsFiles(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "tern-point.plan.json")
	if err := os.WriteFile(file, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := blankwright("demo", "-data", folder)
	if code != exitBad || stdout != "" || !strings.Contains(stderr, "there already") {
		t.Errorf("exit %d, standard output %q, standard error %q", code, stdout, stderr)
	}
	if content(t, file) != "mine" || len(files(t, file)) != 1 {
		t.Errorf("files %v, want the one as it was", files(t, file))
	}
}
