package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// brokenPlan is the yard's plan with its oven cost overstated and a load's
// profile set to none there is.
func brokenPlan(t *testing.T) string {
	t.Helper()
	text := content(t, yardPlanFile)
	text = strings.Replace(text, `"oven": 80.7`, `"oven": 99`, 1)
	file := filepath.Join(t.TempDir(), "broken.plan.json")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// A valid plan is said to be one, with its cost counted anew.
func TestCheck_Valid(t *testing.T) {
	code, stdout, stderr := blankwright("check", yardFile, yardPlanFile)
	if code != exitFine || stderr != "" {
		t.Errorf("exit %d, standard error %q", code, stderr)
	}
	golden(t, "check.txt", stdout)
}

// A broken plan exits with 1; each breach has a line with its rule, its place
// and its numbers, and the recount stands beside what the plan says.
func TestCheck_Broken(t *testing.T) {
	code, stdout, stderr := blankwright("check", yardFile, brokenPlan(t))
	if code != exitBroken || stderr != "" {
		t.Errorf("exit %d, standard error %q; want 1 and none", code, stderr)
	}
	lines := strings.Split(stdout, "\n")
	if !strings.HasPrefix(lines[0], "cost ") || !strings.Contains(lines[0], "80.7") || !strings.Contains(lines[0], "99") {
		t.Errorf("first line %q, want the cost's breach with 80.7 and 99", lines[0])
	}
	for _, want := range []string{"breach", "oven       80.70          99.00"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("%q is not in:\n%s", want, stdout)
		}
	}
}

// The JSON tells the same.
func TestCheck_JSON(t *testing.T) {
	code, stdout, _ := blankwright("check", "-json", yardFile, yardPlanFile)
	valid := decoded(t, stdout)
	if breaches, ok := valid["breaches"].([]any); code != exitFine || !ok || len(breaches) != 0 {
		t.Errorf("valid plan: exit %d, breaches %v; want 0 and an empty list", code, valid["breaches"])
	}
	if total := valid["cost"].(map[string]any)["total"]; total != 502.7 {
		t.Errorf("total %v, want 502.7", total)
	}
	code, stdout, _ = blankwright("check", "-json", yardFile, brokenPlan(t))
	broken, _ := decoded(t, stdout)["breaches"].([]any)
	if code != exitBroken || len(broken) == 0 {
		t.Fatalf("broken plan: exit %d, %d breaches; want 1 and some", code, len(broken))
	}
	if first := broken[0].(map[string]any); first["rule"] != "cost" || first["where"] == "" || first["message"] == "" {
		t.Errorf("first breach %v", first)
	}
}

// Either file may come from standard input.
func TestCheck_StandardInput(t *testing.T) {
	if code, _, stderr := blankwrightReading(content(t, yardFile), "check", "-", yardPlanFile); code != exitFine {
		t.Errorf("shop: exit %d, %s", code, stderr)
	}
	if code, _, stderr := blankwrightReading(content(t, yardPlanFile), "check", yardFile, "-"); code != exitFine {
		t.Errorf("plan: exit %d, %s", code, stderr)
	}
}
